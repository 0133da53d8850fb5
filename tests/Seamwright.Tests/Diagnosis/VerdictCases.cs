using System.Collections.Immutable;
using Seamwright.Core.Diagnosis;
using Seamwright.Core.Instruments;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;
using Seamwright.Tests.Planning;
using DiagnosisOfTake = Seamwright.Core.Diagnosis.Diagnosis;

namespace Seamwright.Tests.Diagnoses;

/// <summary>One change between two notes with invented figures, judged.</summary>
internal static class VerdictCases
{
    /// <summary>Two semitones on the fourth partial, first to third position: a soft tongue.</summary>
    public const string OnOnePartial = "Bb3:2~ Ab3:2";

    /// <summary>Third to fourth partial in first position: a natural slur.</summary>
    public const string AcrossPartials = "F3:2~ Bb3:2";

    /// <summary>One pitch twice.</summary>
    public const string OnePitch = "Bb3:2~ Bb3:2";

    public static Plan PlanOf(string notes, ChangeIntent? intent = null)
    {
        var plan = Planner.Plan(TestLines.Of(notes), Catalogue.Find("tenor-straight")!, new PlanSettings { Weights = CostWeights.PlainPositions }).Value;
        return plan with { Changes = [.. plan.Changes.Select(c => c with { Intent = intent })] };
    }

    /// <summary>A change as a fine player makes it: a dip of 10 dB for 40 ms, a glide of 80 ms of which 40 are heard.</summary>
    public static HeardChange Fine() => Touched(10) with { Glide = Ms(80), AudibleGlide = Ms(40), GlideSemitones = -2, GlideCentre = new(2), Overshoot = new(0) };

    /// <summary>A dip and nothing else.</summary>
    public static HeardChange Touched(double dip) => new()
    {
        Index = 0,
        Found = true,
        Dip = new(dip),
        EarDip = new(dip),
        DipWidth = Ms(40),
        DipCentre = new(2),
        Below10 = Ms(0),
        Gap = Ms(0),
        EarGap = Ms(0),
    };

    public static ChangeJudgement Judge(HeardChange heard, string notes = OnOnePartial, ChangeIntent? intent = null) => Whole(heard, PlanOf(notes, intent)).Changes[0];

    public static DiagnosisOfTake Whole(HeardChange heard, Plan plan, Func<HeardNote, HeardNote>? note = null) =>
        Diagnostician.Judge(TakeOf([heard], plan, note), plan);

    public static Take TakeOf(ImmutableArray<HeardChange> changes, Plan plan, Func<HeardNote, HeardNote>? note = null)
    {
        HeardNote Heard(int i) => new() { Index = i, Pitch = plan.Notes[i].Note.Pitch, Found = true, Onset = new(2 * i), Offset = new((2 * i) + 2), Cents = new(0), Level = new(-20) };
        return new Take
        {
            Notes = [.. plan.Notes.Select((_, i) => (note ?? (n => n))(Heard(i)))],
            Changes = changes,
            Track = new Track { Start = new(0), Hop = new(0.005), Frames = [] },
            TempoRatio = 1,
        };
    }

    public static Seconds Ms(double ms) => Seconds.FromMilliseconds(ms);

    public static Bounds<Seconds> MsBounds(double low, double high) => new(Ms(low), Ms(high));

    public static Bounds<Decibels> DbBounds(double low, double high) => new(new(low), new(high));
}
