using System.Collections.Immutable;
using Seamwright.Core.Planning;
using Seamwright.GroundTruth.Truth;

namespace Seamwright.GroundTruth.Making;

/// <summary>Takes of a voice that is bent and whose level is set: phrase by phrase, one held note each.</summary>
internal sealed class BentTakes(IVoice voice)
{
    private const double LeadIn = 0.4, Tail = 0.5, FloorDb = -100, OrdinaryDb = -26, OnsetDb = 20, Settled = 0.38;

    public MadeTake Make(TakeOrder order, Plan plan, Random random)
    {
        var count = plan.Notes.Length;
        var sheet = new Sheet(
            [.. plan.Notes.Select(n => Math.Log2(n.Note.Pitch.Frequency(plan.Instrument.A4).Value) + (Math.Clamp(ChangePlays.Normal(random, 8), -30, 30) / 1200))],
            [.. Enumerable.Range(0, count).Select(_ => Math.Clamp(ChangePlays.Normal(random, 1.5), -4, 4))],
            [.. plan.Notes.Select(n => LeadIn + (n.Note.StartTime.Value / order.TempoRatio))],
            [.. plan.Notes.Select(n => LeadIn + (n.Note.EndTime.Value / order.TempoRatio))]);
        var length = sheet.Ends[^1] + Tail;
        var canvas = new Canvas(length, voice.Rate, FloorDb);
        var (notes, moves) = (new TruthNote[count], new List<PitchMove>());
        for (var first = 0; first < count;)
        {
            var last = first;
            while (last < count - 1 && plan.Changes[last].Kind != ChangeKind.Breath) last++;
            Phrase(plan, sheet, first, last, order, random, canvas, notes, moves);
            if (last < count - 1) moves.Add(new(last, "none", sheet.Starts[last + 1], sheet.Starts[last + 1], sheet.Starts[last + 1], null, false));
            first = last + 1;
        }

        var curves = canvas.Curves();
        return new MadeTake(canvas.Samples, voice.Rate, TruthMaker.Of(order, plan, [.. notes], [.. moves], curves), curves);
    }

    private void Phrase(Plan plan, Sheet sheet, int first, int last, TakeOrder order, Random random, Canvas canvas, TruthNote[] notes, List<PitchMove> into)
    {
        var (begin, end) = (sheet.Starts[first], Math.Max(sheet.Ends[last], sheet.Starts[last] + 0.2));
        if (last < sheet.Starts.Length - 1) end = Math.Min(end, sheet.Starts[last + 1] - 0.12);
        var gain = new BentGain(OrdinaryDb + sheet.Levels[first], end - begin);
        var moves = new List<BentMove>();
        for (var i = first; i < last; i++)
        {
            var change = plan.Changes[i];
            var play = ChangePlays.Draw(change, sheet.Ends[i] - sheet.Starts[i], sheet.Ends[i + 1] - sheet.Starts[i + 1], random);
            var move = BentMove.Of(plan, change, play, sheet.Log2[i], sheet.Log2[i + 1], sheet.Starts[i + 1] - begin);
            var earliest = moves.Count > 0 ? moves[^1].End + 0.02 : Settled;
            move = move with { Start = Math.Max(earliest, move.Start) };
            if (i == first) play = play with { DipOffset = Math.Max(play.DipOffset, Settled + play.DipWidth + (play.Gap / 2) - move.Centre) };
            moves.Add(move);
            gain.Add(play, move.Centre, sheet.Levels[i + 1] - sheet.Levels[i]);
        }

        var sound = voice.Render(t => Pitch(moves, sheet.Log2[first], t), end - begin + 0.1);
        canvas.Add(sound, begin, gain);
        for (var i = first; i <= last; i++) notes[i] = NoteOf(plan, sheet, i, OrdinaryDb);
        notes[first] = notes[first] with { Onset = begin + OnsetIn(sound) };
        notes[last] = notes[last] with { Offset = end };
        into.AddRange(moves.Select(m => new PitchMove(m.Index, m.Shape, begin + m.Start, begin + m.End, begin + m.Centre, null, m.Shape is "arm" or "cosine" && OnOnePartial(plan, m.Index))));
    }

    private static bool OnOnePartial(Plan plan, int change) =>
        plan.Notes[change].Setting is { } a && plan.Notes[change + 1].Setting is { } b && a.Partial == b.Partial && a.Side.Id == b.Side.Id;

    private static double Pitch(List<BentMove> moves, double first, double t)
    {
        var move = moves.FindLast(m => m.Start <= t);
        return move is null ? first : move.At(t);
    }

    private static TruthNote NoteOf(Plan plan, Sheet sheet, int i, double ordinary) => new()
    {
        Index = i,
        Midi = plan.Notes[i].Note.Pitch.Midi,
        Onset = sheet.Starts[i],
        Offset = sheet.Ends[i],
        Hertz = Math.Round(Math.Pow(2, sheet.Log2[i]), 6),
        Cents = Math.Round(1200 * (sheet.Log2[i] - Math.Log2(plan.Notes[i].Note.Pitch.Frequency(plan.Instrument.A4).Value)), 4),
        LevelDb = Math.Round(ordinary + sheet.Levels[i], 4),
    };

    private static double OnsetIn(PhraseSound sound) =>
        Math.Round(Math.Max(0, Array.FindIndex(sound.LevelDb, l => l >= -OnsetDb)) * Curves.Step, 6);

    // Notes as they are to sound: pitch, level, beginning and end, one each.
    private sealed record Sheet(ImmutableArray<double> Log2, ImmutableArray<double> Levels, ImmutableArray<double> Starts, ImmutableArray<double> Ends);
}
