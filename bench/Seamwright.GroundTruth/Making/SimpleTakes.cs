using System.Collections.Immutable;
using Seamwright.Core.Planning;
using Seamwright.Core.Sound;
using Seamwright.Core.Units;
using Seamwright.GroundTruth.Truth;
using Seamwright.TestSound;

namespace Seamwright.GroundTruth.Making;

/// <summary>Takes of the program's own source: pitch follows the arm through the instrument, partials break, nothing else moves.</summary>
internal static class SimpleTakes
{
    public static MadeTake Make(TakeOrder order, Plan plan, Random random)
    {
        var plays = plan.Changes.Select(c => c.Kind == ChangeKind.Breath ? new ChangePlay()
            : ChangePlays.Draw(c, plan.Notes[c.FromNote].Note.Duration.Value, plan.Notes[c.ToNote].Note.Duration.Value, random)).ToArray();
        for (var i = 0; i < plays.Length; i++)
            if (plan.Changes[i].Kind == ChangeKind.NaturalSlur && random.NextDouble() < 0.08) plays[i] = plays[i] with { Crack = 0.05 + (0.05 * random.NextDouble()), Gap = 0 };
        var performance = new Performance
        {
            Changes = [.. plan.Changes.Select((c, i) => Execution(plan, c, plays[i]))],
            Cents = [.. plan.Notes.Select(_ => new Cents(Math.Clamp(ChangePlays.Normal(random, 8), -30, 30)))],
            Levels = [.. plan.Notes.Select(_ => new Decibels(Math.Clamp(ChangePlays.Normal(random, 1.5), -4, 4)))],
            TempoRatio = order.TempoRatio,
        };
        var settings = new SimpleSourceSettings
        {
            Seed = (uint)random.Next(),
            Level = new(-26),
            Vibrato = new(random.NextDouble() < 0.2 ? 8 + (14 * random.NextDouble()) : 0),
            Air = new(-46 + (12 * random.NextDouble())),
        };
        var take = SimpleSource.Render(plan, performance, settings);
        var paths = new Paths(plan, performance, settings.Vibrato, settings.VibratoRate);
        var curves = CurvesOf(paths, settings);
        return new MadeTake(take.Samples.ToArray(), take.Rate.Value, TruthOf(order, plan, take.Truth, paths, curves), curves);
    }

    private static ChangeExecution Execution(Plan plan, NoteChange change, ChangePlay play)
    {
        if (change.Kind == ChangeKind.Breath)
        {
            var written = plan.Notes[change.ToNote].Note.StartTime - plan.Notes[change.FromNote].Note.EndTime;
            return new ChangeExecution { Rest = new(Math.Max(0.15, written.Value)) };
        }

        var move = play.Glide is { } glide ? ChangeExecution.MoveFor(new(glide)) : change.SlideMotion == SlideMotion.Still ? Seconds.Zero : new Seconds(0.16);
        return new ChangeExecution
        {
            Move = move,
            Centre = new(play.Lead),
            BreakAt = play.BreakAt,
            Break = new(play.Jump),
            Dip = new(play.Dip),
            DipWidth = new(play.DipWidth),
            DipOffset = new(play.DipOffset),
            Gap = new(play.Gap),
            Bump = new(play.Bump),
            Crack = play.Crack > 0 ? new Crack(WrongPartial(plan, change), new(play.Crack)) : null,
        };
    }

    private static int WrongPartial(Plan plan, NoteChange change)
    {
        var (from, to) = (plan.Notes[change.FromNote].Setting!.Partial, plan.Notes[change.ToNote].Setting!.Partial);
        var above = to + 1 == from ? to + 2 : to + 1;
        return above <= plan.Instrument.HighestPartial ? above : Math.Max(1, to - 1);
    }

    private static Curves CurvesOf(Paths paths, SimpleSourceSettings settings)
    {
        var count = (int)(paths.Duration / Curves.Step) + 1;
        var (pitch, level) = (new double[count], new double[count]);
        for (var i = 0; i < count; i++)
        {
            pitch[i] = paths.Pitch.PitchAt(i * Curves.Step);
            level[i] = settings.Level.Value + paths.Level.At(i * Curves.Step);
        }

        return new Curves(pitch, level);
    }

    private static TruthFile TruthOf(TakeOrder order, Plan plan, TakeTruth told, Paths paths, Curves curves)
    {
        ImmutableArray<TruthNote> notes = [.. told.Notes.Select((n, i) => new TruthNote
        {
            Index = i,
            Midi = n.Pitch.Midi,
            Onset = n.Onset!.Value.Value,
            Offset = n.Offset!.Value.Value,
            Hertz = (plan.Notes[i].Note.Pitch.Frequency(plan.Instrument.A4) + n.Cents!.Value).Value,
            Cents = n.Cents.Value.Value,
            LevelDb = n.Level!.Value.Value,
        })];
        var changes = paths.Passages.ToArray().Select((p, i) => new PitchMove(
            i, Shape(p, paths.IsParted(i)), p.Start, p.End, paths.Boundary(i), p.Crack is null ? null : Math.Pow(2, p.At(p.CrackMiddle)), p.OnOnePartial));
        return Agreeing(TruthMaker.Of(order, plan, notes, [.. changes], curves), told);
    }

    // The source reads its own truth off its paths: two readings of one thing must agree.
    private static TruthFile Agreeing(TruthFile truth, TakeTruth told)
    {
        foreach (var (ours, its) in truth.Changes.Zip(told.Changes).Where(p => p.First.Kind != "breath"))
        {
            Near(ours.Glide10to90Ms, its.Glide?.Milliseconds, 0.3);
            Near(1000 * ours.GlideCentre, its.GlideCentre?.Milliseconds, 0.3);
            Near(ours.DipDb, its.Dip?.Value, 0.1);
            Near(ours.DipWidthMs, its.DipWidth?.Milliseconds, 0.5);
            Near(ours.GapMs, its.Gap?.Milliseconds, 0.5);

            void Near(double? a, double? b, double most)
            {
                if (a is { } x && b is { } y && Math.Abs(x - y) > most)
                    throw new InvalidOperationException($"{truth.Name}, change {ours.Index}: the source says {y:0.00} and its curves {x:0.00}.");
            }
        }

        return truth;
    }

    private static string Shape(Passage p, bool parted) => parted ? "none" : p.OnOnePartial ? "arm" : p.Execution.Move.Value == 0 ? "jump" : "arm-and-jump";
}
