using Seamwright.Core.Diagnosis;
using Seamwright.Core.Instruments;
using Seamwright.Core.Listening;
using Seamwright.Core.Listening.Free;
using Seamwright.Core.Planning;
using Seamwright.Core.Sound;
using Seamwright.Core.Units;
using Seamwright.Tests.Planning;
using Seamwright.TestSound;

namespace Seamwright.Tests.Listening;

/// <summary>What is heard where no part is known, against sound whose truth is known exactly.</summary>
public class FreeListenerTests
{
    private static readonly Instrument Bass = Catalogue.Find("bass-independent")!;

    [Theory]
    [InlineData("Bb1:2 C2:2~ D2:2~ C2:2", 0)]
    [InlineData("E2:1~ F2:1~ G2:1~ F2:1~ E2:2' C2:1~ E2:1~ G2:2", 0)]
    [InlineData("Bb2:1~ C3:1~ D3:1~ Eb3:1~ F3:2~ D3:1~ Bb2:1~ F2:2", 25)]
    [InlineData("F3:1~ G3:1~ A3:1~ Bb3:1~ A3:1/2~ G3:1/2~ F3:2", 0)]
    [InlineData("F3:1~ F3:1~ F3:1~ F3:2 F3:1/2 F3:1/2 F3:2", 0)]
    [InlineData("Bb3:1~ C4:1~ D4:1~ Eb4:1~ F4:2' F4:1/2~ D4:1/2~ Bb3:1", 20)]
    [InlineData("Bb4:1~ C5:1~ D5:1~ C5:1~ F5:2", 0)]
    public void Every_note_is_found_in_place_and_named(string notes, double vibrato)
    {
        var plan = Planner.Plan(TestLines.Of(notes, 84), Bass).Value;
        var take = SimpleSource.Render(plan, Playing.Clean(plan), new SimpleSourceSettings { Vibrato = new(vibrato) });
        var (heard, measured) = FreeListener.Listen(new Recording(take.Samples, take.Rate), Bass);
        Assert.Equal(plan.Notes.Select(n => n.Note.Pitch.Midi), heard.Notes.Select(n => n.Note.Pitch.Midi));
        foreach (var (n, t) in measured.Notes.Zip(take.Truth.Notes))
        {
            Assert.InRange(n.Onset!.Value.Value - t.Onset!.Value.Value, -0.05, 0.05);
            Assert.InRange(n.Offset!.Value.Value - t.Offset!.Value.Value, -0.06, 0.06);
        }
    }

    [Fact]
    public void Of_260_notes_in_every_register_99_in_100_are_found_within_50_ms()
    {
        var (found, all, extra) = (0, 0, 0);
        foreach (var (notes, seed) in Wanderings())
        {
            var plan = Planner.Plan(TestLines.Of(notes, 112), Bass).Value;
            var take = SimpleSource.Render(plan, Playing.Clean(plan), new SimpleSourceSettings { Rate = new(16_000), Room = new(-50), Seed = seed });
            var heard = FreeListener.Listen(new Recording(take.Samples, take.Rate), Bass);
            all += plan.Notes.Length;
            extra += Math.Max(0, heard.Take.Notes.Length - plan.Notes.Length);
            found += plan.Notes.Count(n => take.Truth.Notes[n.Note.Index].Onset is { } onset
                && heard.Take.Notes.Any(h => h.Pitch.Midi == n.Note.Pitch.Midi && Math.Abs(h.Onset!.Value.Value - onset.Value) <= 0.05));
        }

        Assert.True(all >= 260);
        Assert.True(found >= 0.99 * all, $"{found} of {all}");
        Assert.True(extra <= 0.01 * all, $"{extra} too many");
    }

    [Theory]
    [InlineData(-35)]
    [InlineData(-10)]
    [InlineData(17)]
    [InlineData(40)]
    public void The_players_tuning_is_read_from_the_notes(double cents)
    {
        var heard = Play("Bb2:1~ C3:1~ D3:1~ Eb3:1~ F3:1~ D3:1~ Bb2:2", cents);
        Assert.InRange(heard.Plan.Instrument.A4.Above(Hertz.A440).Value, cents - 2, cents + 2);
        Assert.All(heard.Take.Notes, n => Assert.InRange(n.Cents!.Value.Value, -5, 5));
    }

    [Theory]
    [InlineData("G3:1~ A3:1~ Bb3:1~ C4:1", 2, -50)]
    [InlineData("C4:1~ Bb3:1~ A3:1~ G3:1", 2, 50)]
    [InlineData("Bb2:1~ C3:1~ Db3:1~ Eb3:1", 2, -55)]
    public void A_held_note_half_a_semitone_from_its_neighbour_is_a_note(string notes, int off, double cents)
    {
        var plan = Planner.Plan(TestLines.Of(notes, 84), Catalogue.Default).Value;
        var take = SimpleSource.Render(plan, Playing.Clean(plan) with { Cents = [.. plan.Notes.Select((_, i) => new Cents(i == off ? cents : 0))] });
        var (asHeard, heard) = FreeListener.Listen(new Recording(take.Samples, take.Rate), Catalogue.Default);
        var tuning = asHeard.Instrument.A4.Above(Hertz.A440).Value;
        Assert.Equal(plan.Notes.Length, heard.Notes.Length);
        Assert.All(plan.Notes.Zip(heard.Notes), n => Assert.Equal(
            (100.0 * n.First.Note.Pitch.Midi) + (n.First.Note.Index == off ? cents : 0), (100.0 * n.Second.Pitch.Midi) + n.Second.Cents!.Value.Value + tuning, 8.0));
    }

    [Theory] // Held notes that tremble by 8 cents every 0.3 s, as a real tone does, a semitone apart: a slide does not turn back.
    [InlineData("Bb2:2~ B2:2~ C3:2~ Db3:2~ D3:2")]
    [InlineData("D3:2~ Db3:2~ C3:2~ B2:2~ Bb2:2")]
    public void Held_notes_that_tremble_in_a_slow_scale_are_no_steps_of_a_slide(string notes)
    {
        var plan = Planner.Plan(TestLines.Of(notes, 150), Catalogue.Default).Value;
        var take = SimpleSource.Render(plan, Playing.Clean(plan), new SimpleSourceSettings { Rate = new(16_000) });
        foreach (var phase in (double[])[0, 1.6, 3.1, 4.7])
        {
            var heard = FreeListener.Listen(new Recording(Trembling(take.Samples.Span, 8, 0.32, phase), take.Rate), Catalogue.Default);
            Assert.Equal(plan.Notes.Select(n => n.Note.Pitch.Midi), heard.Plan.Notes.Select(n => n.Note.Pitch.Midi));
        }
    }

    [Theory]
    [InlineData(30, 0.04)]
    [InlineData(-35, 0.1)]
    public void A_quick_correction_in_a_held_note_makes_no_new_one(double cents, double seconds)
    {
        const int Rate = 16_000;
        var (sound, phase) = (new float[2 * Rate], 0.0);
        for (var i = 0; i < sound.Length; i++)
        {
            var t = (double)i / Rate;
            phase += 2 * Math.PI * 233.08 * Math.Pow(2, cents / 1200 * Math.Clamp((0.9 - t) / seconds, 0, 1)) / Rate;
            sound[i] = t is < 0.3 or > 1.7 ? 0 : (float)(0.1 * (Math.Sin(phase) + Math.Sin(2 * phase) + (0.5 * Math.Sin(3 * phase))));
        }

        Assert.Single(FreeListener.Listen(new Recording(sound, new SampleRate(Rate)), Catalogue.Default).Take.Notes);
    }

    private static float[] Trembling(ReadOnlySpan<float> sound, double cents, double seconds, double phase)
    {
        var (swung, at) = (new List<float>(sound.Length), 0.0);
        while (at < sound.Length - 2)
        {
            var i = (int)at;
            swung.Add((float)(sound[i] + ((at - i) * (sound[i + 1] - sound[i]))));
            var turn = phase + (2 * Math.PI * swung.Count / (16_000 * seconds));
            at += Math.Pow(2, cents / 1200 * (Math.Sin(turn) + (0.3 * Math.Sin(2 * turn))));
        }

        return [.. swung];
    }

    [Fact]
    public void One_pitch_alone_says_nothing_of_the_tuning()
    {
        var heard = Play("Bb2:2 Bb2:2", 20);
        Assert.Equal(440, heard.Plan.Instrument.A4.Value);
        Assert.Contains(heard.Take.Problems, p => p.What.Contains("tuned to"));
    }

    [Theory]
    [InlineData(Fault.StoppedAir, Verdict.AirStopped)]
    [InlineData(Fault.Smeared, Verdict.Smear)]
    [InlineData(Fault.HardTongue, Verdict.Bump)]
    [InlineData(Fault.Cracked, Verdict.Cracked)]
    [InlineData(Fault.LateTongue, Verdict.TongueLate)]
    [InlineData(Fault.EarlyTongue, Verdict.TongueEarly)]
    public void What_needs_no_part_is_judged(Fault fault, Verdict verdict)
    {
        // D3 to C3 lies on one partial, so the glide shows the arm.
        var plan = Planner.Plan(TestLines.Of("Bb2:2~ D3:2~ C3:2~ F3:2", 72), Catalogue.Find("tenor-straight")!).Value;
        var take = SimpleSource.Render(plan, Playing.WithFaults(plan, new Dictionary<int, Fault> { [1] = fault }));
        var heard = FreeListener.Listen(new Recording(take.Samples, take.Rate), plan.Instrument);
        var judged = Diagnostician.Judge(heard.Take, heard.Plan);
        Assert.True(judged.Changes[1].Verdicts.Contains(verdict), $"{heard.Plan.Changes[1].Kind}: {string.Join("; ", judged.Changes[1].Findings)} {heard.Take.Changes[1]}");
        Assert.All([judged.Changes[0], judged.Changes[2]], c => Assert.Equal([Verdict.Clean], c.Verdicts));
    }

    [Fact]
    public void No_verdict_is_given_that_only_a_part_could_give()
    {
        var plan = Planner.Plan(TestLines.Of("F2:1~ G2:1~ A2:1~ Bb2:1~ C3:1~ D3:1~ Eb3:1~ F3:2", 100), Catalogue.Default).Value;
        var faults = plan.Changes.ToDictionary(c => c.Index, _ => Fault.NoTongue);
        var take = SimpleSource.Render(plan, Playing.WithFaults(plan, faults) with { TempoRatio = 0.8 });
        var heard = FreeListener.Listen(new Recording(take.Samples, take.Rate), Catalogue.Default);
        var judged = Diagnostician.Judge(heard.Take, heard.Plan);
        Assert.DoesNotContain(judged.Changes.SelectMany(c => c.Verdicts), v => v is Verdict.NoTongue or Verdict.Slid or Verdict.Broke or Verdict.TongueHeard);
        Assert.Contains(judged.Changes, c => c.Verdicts.Contains(Verdict.Smear));
        Assert.Null(judged.Summary.TempoRatio);
        Assert.All(judged.Notes, n => Assert.Null(n.SlideCorrection));
    }

    [Fact]
    public void The_measurements_are_those_that_the_part_would_give()
    {
        var plan = Planner.Plan(TestLines.Of("Bb2:1~ C3:1~ D3:1~ Eb3:1~ F3:2", 84), Catalogue.Default).Value;
        var take = SimpleSource.Render(plan, Playing.Clean(plan));
        var recording = new Recording(take.Samples, take.Rate);
        var (asked, free) = (Listener.Listen(recording, plan), FreeListener.Listen(recording, Catalogue.Default).Take);
        foreach (var (a, f) in asked.Changes.Zip(free.Changes))
        {
            Assert.InRange((f.Glide!.Value - a.Glide!.Value).Milliseconds, -5, 5);
            Assert.InRange(f.Dip!.Value.Value - a.Dip!.Value.Value, -1, 1);
        }

        Assert.Equal(asked.Track.Frames.Length, free.Track.Frames.Length);
        var pairs = asked.Track.Frames.Zip(free.Track.Frames, (x, y) => (First: x, Second: y)).Select((p, i) => (p.First, p.Second, At: i * asked.Track.Hop.Value)).Where(p => p.First.Pitch is not null).ToList();
        bool Agree((Frame First, Frame Second, double At) p) => p.Second.Pitch is { } f && Math.Abs(f.Above(p.First.Pitch!.Value).Value) <= 5;

        // In the breaks themselves, mostly noise for a period, the way comes out as it was begun; everywhere else the two are one.
        bool InBreak((Frame First, Frame Second, double At) p) => asked.Changes.Any(c => c.Break is not null && Math.Abs(p.At - asked.Notes[c.Index + 1].Onset!.Value.Value) < 0.04);
        var (inside, outside) = (pairs.Where(InBreak).ToList(), pairs.Where(p => !InBreak(p)).ToList());
        Assert.All(outside, p => Assert.True(Agree(p), $"{p.At:0.000}: {p.First.Pitch} and {p.Second.Pitch}"));
        Assert.True(inside.Count(Agree) >= 0.7 * inside.Count, $"{inside.Count(Agree)} of {inside.Count} frames in breaks");
    }

    [Theory]
    [InlineData(0.7)]
    [InlineData(1.4)]
    [InlineData(2.6)]
    public void A_glissando_is_one_long_slide_and_no_staircase(double seconds)
    {
        var plan = Planner.Plan(TestLines.Of("F3:4g C3:4", 60), Catalogue.Find("tenor-straight")!).Value;
        var performance = Playing.Clean(plan) with { Changes = [new ChangeExecution { Move = new(seconds), Centre = new(-seconds / 2) }] };
        var take = SimpleSource.Render(plan, performance);
        var heard = FreeListener.Listen(new Recording(take.Samples, take.Rate), plan.Instrument);
        Assert.Equal(["F3", "C3"], heard.Plan.Notes.Select(n => n.Note.Pitch.ToString()));
        Assert.Equal(ChangeKind.Glissando, heard.Plan.Changes[0].Kind);
        Assert.InRange((heard.Take.Changes[0].Glide!.Value - take.Truth.Changes[0].Glide!.Value).Milliseconds, -40, 40);
        Assert.Equal([Verdict.Clean], Diagnostician.Judge(heard.Take, heard.Plan).Changes[0].Verdicts);
    }

    [Fact]
    public void Short_cut_notes_are_not_judged_as_legato()
    {
        var plan = Planner.Plan(TestLines.Of("F3:1. G3:1. A3:1. Bb3:1. A3:1. G3:1. F3:1.", 120), Catalogue.Default).Value;
        var performance = Playing.Clean(plan) with { Changes = [.. plan.Changes.Select(_ => new ChangeExecution { Gap = new(0.08) })] };
        var take = SimpleSource.Render(plan, performance);
        var heard = FreeListener.Listen(new Recording(take.Samples, take.Rate), Catalogue.Default);
        Assert.All(heard.Plan.Changes, c => Assert.Equal(ChangeKind.Tongued, c.Kind));
        Assert.DoesNotContain(Diagnostician.Judge(heard.Take, heard.Plan).Changes, c => c.Verdicts.Contains(Verdict.AirStopped));
    }

    private static FreeTake Play(string notes, double cents)
    {
        var plan = Planner.Plan(TestLines.Of(notes, 84), Catalogue.Default).Value;
        var performance = Playing.Clean(plan) with { Cents = [.. plan.Notes.Select(_ => new Cents(cents))] };
        var take = SimpleSource.Render(plan, performance);
        return FreeListener.Listen(new Recording(take.Samples, take.Rate), Catalogue.Default);
    }

    // Lines that wander through a register by leaps of at most a fifth.
    private static IEnumerable<(string Notes, uint Seed)> Wanderings()
    {
        foreach (var (low, high) in ((int, int)[])[(34, 46), (40, 53), (46, 60), (53, 67), (60, 74)])
        {
            for (var take = 0u; take < 2; take++)
            {
                var random = new Random((low * 10) + (int)take);
                var (at, words) = (random.Next(low, high), new List<string>());
                for (var i = 0; i < 26; i++)
                {
                    words.Add($"{Pitch.FromMidi(at)}:{(random.Next(3) == 0 ? "1/2" : "1")}{(i % 9 == 8 ? "'" : "~")}");
                    var before = at;
                    while (at == before) at = Math.Clamp(at + random.Next(-7, 8), low, high);
                }

                yield return (string.Join(' ', words), take + 1);
            }
        }
    }
}
