using System.Collections.Immutable;
using Seamwright.Core;
using Seamwright.Core.Diagnosis;
using Seamwright.Core.Instruments;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Sound;
using Seamwright.Core.Units;
using Seamwright.Tests.Planning;
using Seamwright.TestSound;
using DiagnosisOfTake = Seamwright.Core.Diagnosis.Diagnosis;

namespace Seamwright.Tests.Diagnoses;

/// <summary>A take and a diagnosis made from a performance whose every figure is known, without any ears.</summary>
internal sealed record InventedTake(Plan Plan, Take Take, DiagnosisOfTake Diagnosis)
{
    /// <summary>Two phrases with one fault of each kind, one note that was not found and one change nobody can tell.</summary>
    public static InventedTake WithEveryFault(int times = 1)
    {
        var phrase = "Bb2:2~ C3:1~ D3:1~ F3:2~ Eb3:1~ D3:1~ C3:2' Bb3:1~ A3:1~ G3:1/2~ F3:1/2~ Eb3:1~ D3:1~ F3:1~ C3:1~ Bb2:3'";
        var line = TestLines.Of(string.Join(' ', Enumerable.Repeat(phrase, times)), 90);
        var plan = Planner.Plan(line with { Title = "Evening walk" }, Catalogue.Find("tenor-straight")!, new PlanSettings { Weights = CostWeights.PlainPositions }).Value;
        Fault[] order = [Fault.Smeared, Fault.None, Fault.LateTongue, Fault.HardTongue, Fault.None, Fault.NoTongue, Fault.None, Fault.EarlyTongue, Fault.StoppedAir, Fault.None, Fault.Cracked, Fault.OutOfTune];
        var faults = plan.Changes.ToDictionary(c => c.Index, c => c.Kind == ChangeKind.Breath ? Fault.None : order[c.Index % order.Length]);
        return Of(plan, faults, lost: 14);
    }

    /// <summary>Everything clean.</summary>
    public static InventedTake Clean()
    {
        var plan = Planner.Plan(TestLines.Of("Bb2:2~ C3:2~ D3:2~ Bb2:2"), Catalogue.Default).Value;
        return Of(plan, plan.Changes.ToDictionary(c => c.Index, _ => Fault.None), lost: -1);
    }

    /// <summary>Every quantity there is, 14 cents flat, a wrong note, two attempts, stray sound and a room; the first change asks for a slow slide.</summary>
    public static InventedTake WithEverythingMeasured()
    {
        var faulty = WithEveryFault();
        var plan = faulty.Plan with { Changes = faulty.Plan.Changes.SetItem(0, faulty.Plan.Changes[0] with { Intent = ChangeIntent.SlowSlide }) };
        var notes = faulty.Take.Notes.Select(n => n.Found ? Measured(n with { Cents = n.Cents - new Cents(14) }, plan) : n with { Instead = Pitch.FromMidi(n.Pitch.Midi + 2) }).ToImmutableArray();
        var changes = faulty.Take.Changes.Select(c => c.Found ? Measured(c) : c).ToImmutableArray();
        var first = new Attempt
        {
            Start = new(1.2),
            End = new(4.9),
            Notes = [.. notes.Select(n => n.Index < 5 ? n : new HeardNote { Index = n.Index, Pitch = n.Pitch, Found = false })],
            Changes = [.. changes.Select(c => c.Index < 4 ? c : new HeardChange { Index = c.Index, Found = false })],
            Transposition = -12,
            TempoRatio = 0.9,
        };
        var take = faulty.Take with
        {
            Notes = notes,
            Changes = changes,
            Attempts = [first, new Attempt { Start = new(75.3), End = new(101.25), Notes = notes, Changes = changes, TempoRatio = 1.02 }],
            Unmatched = [new(new(0), new(1.1), UnmatchedKind.Noise), new(new(6), new(74.2), UnmatchedKind.Tones)],
            Damage = [new(new(110), new(110.14))],
            Room = new RoomSound(new(-71), new(48), new(0.4), 0.00012) { EchoDelay = new(0.061), EchoLevel = new(-8) },
        };
        return new(plan, take, Diagnostician.Judge(take, plan) with { TonePairs = [SofterUnderTheTouches] });
    }

    private static TonePair SofterUnderTheTouches => new(new LongTone(0, 0, false), new LongTone(1, 3, true), new AirComparison
    {
        Level = new(new(-2.4), new(new(-3.3), new(-1.4))),
        Pitch = new(new(-1), new(new(-2), new(0))),
        BrightnessPercent = new(-4, new(-9, 2)),
        Findings = [new(Verdict.AirChanged, "level 1.4 to 3.3 dB; unchanged within 1 dB")],
        Sentence = "With the touches the tone became 2.4 dB softer (-3.3 to -1.4): blow as if the tongue were not there.",
    });

    /// <summary>The same line three times, judged by the rules: with every fault, a bar of it, and with fewer faults but more wrong partials.</summary>
    public static InventedTake ThreeAttempts()
    {
        var first = WithEveryFault();
        var faults = first.Plan.Changes.ToDictionary(c => c.Index, c => c.Index is 1 or 3 or 4 or 5 ? Fault.Cracked : c.Index == 2 ? Fault.LateTongue : Fault.None);
        var last = Of(first.Plan, faults, lost: -1);
        var (notes, changes) = (first.Take.Notes, first.Take.Changes);
        var bar = new Attempt
        {
            Start = new(40),
            End = new(44),
            Notes = [.. notes.Select(n => n.Index < 3 ? n : new HeardNote { Index = n.Index, Pitch = n.Pitch, Found = false })],
            Changes = [.. changes.Select(c => c.Index < 2 ? c : new HeardChange { Index = c.Index, Found = false })],
            TempoRatio = 0.8,
        };
        var take = last.Take with
        {
            Attempts = [new() { Start = new(1), End = new(30), Notes = notes, Changes = changes }, bar, new() { Start = new(50), End = new(80), Notes = last.Take.Notes, Changes = last.Take.Changes }],
            Problems = [],
        };
        return new(first.Plan, take, Diagnostician.Judge(take, first.Plan));
    }

    /// <summary>The same judgements, every figure with an interval and every glide with an arm.</summary>
    public InventedTake WithIntervals() => this with
    {
        Take = Take with
        {
            Notes = [.. Take.Notes.Select(n => n.Found ? Measured(n, Plan) : n)],
            Changes = [.. Take.Changes.Select(c => c.Found ? Measured(c) : c)],
        },
    };

    private static HeardNote Measured(HeardNote n, Plan plan) => n with
    {
        CentsBounds = new(n.Cents!.Value - new Cents(2), n.Cents.Value + new Cents(2)),
        Drift = new(n.Index == 4 ? -18 : 3),
        DriftBounds = n.Index == 4 ? new(new(-20), new(-16)) : new(new(1), new(5)),
        Vibrato = n.Index == 3 ? new Vibrato(new(5.5), new(18)) : null,
        Brightness = 3.214,
        ToneToNoise = new(41),
        PlayedSetting = n.Index == 7 ? plan.Notes[7].Alternatives[0].Setting : null,
    };

    private static HeardChange Measured(HeardChange c) => c with
    {
        AudibleGlide = c.Glide,
        GlideBounds = Around(c.Glide, 0.004),
        GlideCentreBounds = Around(c.GlideCentre, 0.002),
        AudibleGlideBounds = Around(c.Glide, c.Index == 7 ? 0.045 : 0.005),
        DipBounds = c.Dip is { } d ? new(d - new Decibels(0.6), d + new Decibels(0.6)) : null,
        DipWidthBounds = Around(c.DipWidth, 0.003),
        DipCentreBounds = Around(c.DipCentre, 0.002),
        TongueOffsetBounds = Around(c.TongueOffset, 0.004),
        EarDip = c.Dip,
        Below10 = c.Dip is { Value: > 10 } ? 0.6 * c.DipWidth : null,
        Below10Interval = c.DipWidth is { } width ? (0.5 * width, 0.7 * width) : null,
        EarGap = c.Gap,
        GapBounds = Around(c.Gap, 0.004),
        OvershootBounds = c.Overshoot is { } o ? new(o - new Decibels(0.4), o + new Decibels(0.4)) : null,
        Doubts = c.Index == 7 ? [Doubt.Reverberation, Doubt.LowNote] : [],
        Resolution = new(0.0172),
        Broke = c.GlideSemitones is null,
        Break = c.GlideSemitones is null && c.GlideCentre is { } centre ? new PartialBreak(centre, 4.6) : null,
        Arm = c.GlideSemitones is null ? null : new HeardArm
        {
            Start = c.GlideCentre!.Value - new Seconds(0.2),
            End = c.GlideCentre.Value + new Seconds(0.12),
            DurationBounds = new(new(0.3), new(0.34)),
            From = new(0),
            To = new(18.04),
            PeakSpeed = 1.06,
            PeakSpeedBounds = new(1, 1.13),
            Lead = new(-0.16),
            Crept = c.Index == 3,
        },
    };

    private static Bounds<Seconds>? Around(Seconds? x, double reach) => x is { } v ? new(new(v.Value - reach), new(v.Value + reach)) : null;

    /// <summary>A performance of a plan with some faults.</summary>
    /// <param name="plan">What was asked.</param>
    /// <param name="faults">One for each change.</param>
    /// <param name="lost">A note that is not found; −1 for none.</param>
    public static InventedTake Of(Plan plan, Dictionary<int, Fault> faults, int lost)
    {
        // A tongue so hard that the air stops as well.
        var performance = Playing.WithFaults(plan, faults);
        performance = performance with { Changes = [.. performance.Changes.Select((c, i) => faults.GetValueOrDefault(i) == Fault.HardTongue ? Playing.Of(plan, plan.Changes[i], Fault.HardTongue, 27) : c)] };
        var truth = SimpleSource.Render(plan, performance).Truth;
        var notes = truth.Notes.Select(n => n.Index == lost ? Lost(n) : Heard(n)).ToImmutableArray();
        var changes = truth.Changes.Select(c => c.Index == lost || c.Index == lost - 1 ? new HeardChange { Index = c.Index, Found = false } : Heard(c)).ToImmutableArray();
        var take = new Take
        {
            Notes = notes,
            Changes = changes,
            Track = TrackOf(truth),
            TempoRatio = 1.02,
            Problems = lost < 0 ? [] : [new Problem("take.wav", "is overloaded in 2 places, the first at 3.10 s.", "Lower the recording level.")],
        };
        return new(plan, take, DiagnosisOf(plan, take, faults));
    }

    private static HeardNote Heard(NoteTruth n) =>
        new() { Index = n.Index, Pitch = n.Pitch, Found = true, Onset = n.Onset, Offset = n.Offset, Cents = n.Cents, Level = n.Level };

    private static HeardNote Lost(NoteTruth n) => new() { Index = n.Index, Pitch = n.Pitch, Found = false };

    private static HeardChange Heard(ChangeTruth c) => new()
    {
        Index = c.Index,
        Found = true,
        Glide = c.Glide,
        GlideCentre = c.GlideCentre,
        GlideSemitones = c.GlideSemitones,
        Dip = c.Dip,
        DipWidth = c.DipWidth,
        DipCentre = c.DipCentre,
        Gap = c.Gap,
        Overshoot = c.Overshoot,
        CaughtPitch = c.Caught,
        CaughtFor = c.Caught is null ? null : Seconds.FromMilliseconds(80),
    };

    private static DiagnosisOfTake DiagnosisOf(Plan plan, Take take, Dictionary<int, Fault> faults)
    {
        var changes = plan.Changes.Select(c => Judged(c, take.Changes[c.Index], faults[c.Index])).ToImmutableArray();
        var notes = take.Notes.Select(n => Judged(n)).ToImmutableArray();
        var work = changes.Where(c => c.Weight > 0).OrderByDescending(c => c.Weight).Take(3).Select(c => c.Advice);
        return new DiagnosisOfTake
        {
            Notes = notes,
            Changes = changes,
            IsRecognised = take.Notes.Any(n => n.Found),
            Settings = VerdictSettings.Default,
            Summary = new DiagnosisSummary
            {
                NotesAsked = notes.Length,
                NotesFound = take.Notes.Count(n => n.Found),
                ChangeCounts = Counts(changes.SelectMany(c => c.Verdicts)),
                NoteCounts = Counts(notes.SelectMany(n => n.Verdicts)),
                WorkOnFirst = [.. work],
                Tuning = new(1.5),
                TempoRatio = take.TempoRatio,
                Overall = $"{take.Notes.Count(n => n.Found)} of {notes.Length} notes were found, in tune but for one, 2 % faster than planned.",
            },
        };
    }

    private static ImmutableSortedDictionary<Verdict, int> Counts(IEnumerable<Verdict> verdicts) =>
        verdicts.GroupBy(v => v).ToImmutableSortedDictionary(g => g.Key, g => g.Count());

    private static ChangeJudgement Judged(NoteChange planned, HeardChange heard, Fault fault)
    {
        Finding[] findings = !heard.Found
            ? [new(Verdict.CannotTell, "one of the two notes was not found")]
            : fault switch
            {
                Fault.Smeared => [new(Verdict.Smear, "167 ms of glide are heard, the limit is 80 ms"), new(Verdict.NoTongue, "a soft touch was asked for, the level dips 2 dB")],
                Fault.NoTongue => [new(Verdict.SmearPossible, "66 ms of glide are heard, possible from 50 ms")],
                Fault.LateTongue => [new(Verdict.TongueLate, "the tongue comes 90 ms after the arm, the limit is 60 ms")],
                Fault.EarlyTongue => [new(Verdict.TongueEarly, "the tongue comes 90 ms before the arm, the limit is 60 ms")],
                Fault.HardTongue => [new(Verdict.TooHard, "the level falls 27 dB, the limit is 20 dB"), new(Verdict.Bump, "the new note bursts 6 dB, the limit is 3 dB")],
                Fault.StoppedAir => [new(Verdict.AirStopped, "70 ms more than 20 dB down, the limit is 10 ms")],
                Fault.Cracked => [new(Verdict.Cracked, "another partial sounds for 80 ms")],
                _ => [new(Verdict.Clean, "")],
            };
        var troubled = findings[0].Verdict is not (Verdict.Clean or Verdict.CannotTell);
        return new ChangeJudgement
        {
            Index = planned.Index,
            Kind = planned.Kind,
            Findings = [.. findings],
            Advice = troubled ? $"Change {planned.Index + 1}: {findings[0].Basis}; play it three times slowly & listen." : "",
            Weight = troubled ? 10 - ((int)findings[0].Verdict * 0.1) : 0,
        };
    }

    private static NoteJudgement Judged(HeardNote note)
    {
        var off = Math.Abs(note.Cents?.Value ?? 0) > 25;
        Finding finding = !note.Found ? new(Verdict.CannotTell, "it was not found") : off ? new(Verdict.OutOfTune, $"{note.Cents!.Value.Value:+0} cents, the limit is 25") : new(Verdict.Clean, "");
        return new NoteJudgement
        {
            Index = note.Index,
            Findings = [finding],
            Advice = off ? "Sharp: let the slide out." : "",
            Intonation = note.Found ? off ? Intonation.Out : Intonation.Good : null,
            SlideCorrection = note.Found ? new((note.Cents?.Value ?? 0) / 11) : null,
        };
    }

    // What ears that hear the truth would have seen: frames of 5 ms.
    private static Track TrackOf(TakeTruth truth)
    {
        var played = truth.Notes.Where(n => n.Onset is not null).ToList();
        var end = played[^1].Offset!.Value.Value + 0.5;
        var frames = Enumerable.Range(0, (int)(end / 0.005)).Select(i => FrameAt(truth, played, i * 0.005)).ToImmutableArray();
        return new Track { Start = new(0), Hop = new(0.005), Frames = frames };
    }

    private static Frame FrameAt(TakeTruth truth, List<NoteTruth> played, double t)
    {
        var note = played.LastOrDefault(n => n.Onset!.Value.Value <= t);
        if (note is null || t > note.Offset!.Value.Value) return new(null, new(-70), 0);
        var level = note.Level!.Value.Value;
        foreach (var c in truth.Changes.Where(c => c.DipCentre is { } d && Math.Abs(d.Value - t) < c.DipWidth!.Value.Value))
            level -= c.Dip!.Value.Value * (1 + Math.Cos(Math.PI * (t - c.DipCentre!.Value.Value) / c.DipWidth!.Value.Value)) / 2;
        return new(new Hertz(440 * Math.Pow(2, (MidiAt(truth, note, t) - 69) / 12)), new(level), 1);
    }

    private static double MidiAt(TakeTruth truth, NoteTruth note, double t)
    {
        foreach (var c in truth.Changes.Where(c => c.GlideCentre is not null))
        {
            var share = ((t - c.GlideCentre!.Value.Value) / c.Glide!.Value.Value * 0.8) + 0.5;
            if (share is <= 0 or >= 1) continue;
            double a = Midi(truth.Notes[c.Index]), b = Midi(truth.Notes[c.Index + 1]);
            return a + ((b - a) * share);
        }

        return Midi(note);
    }

    private static double Midi(NoteTruth n) => n.Pitch.Midi + (n.Cents!.Value.Value / 100);
}
