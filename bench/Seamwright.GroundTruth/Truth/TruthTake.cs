using System.Collections.Immutable;
using Seamwright.Core.Diagnosis;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Units;

namespace Seamwright.GroundTruth.Truth;

/// <summary>The truth in a listener's words, so that the program's own rules say which verdicts it implies.</summary>
internal static class TruthTake
{
    /// <summary>A take without any doubt in it.</summary>
    /// <param name="truth">Of the take.</param>
    /// <param name="plan">What was asked.</param>
    /// <param name="nudge">Levels in dB that dips are made deeper by, for finding verdicts that hang on a hair.</param>
    /// <param name="stretch">What every time is multiplied by, for the same.</param>
    public static Take Of(TruthFile truth, Plan plan, double nudge = 0, double stretch = 1) => new()
    {
        Notes = [.. truth.Notes.Select(n => new HeardNote
        {
            Index = n.Index,
            Pitch = plan.Notes[n.Index].Note.Pitch,
            Found = true,
            Onset = new(n.Onset),
            Offset = new(n.Offset),
            Cents = new(n.Cents),
            Level = new(n.LevelDb),
        })],
        Changes = [.. truth.Changes.Select(c => Heard(c, nudge, stretch))],
        Track = new Track { Start = Seconds.Zero, Hop = new(0.005), Frames = [] },
        TempoRatio = truth.TempoRatio,
    };

    /// <summary>The verdicts on every change.</summary>
    public static ImmutableArray<ImmutableHashSet<Verdict>> Verdicts(TruthFile truth, Plan plan, double nudge = 0, double stretch = 1) =>
        [.. Diagnostician.Judge(Of(truth, plan, nudge, stretch), plan).Changes.Select(c => c.Verdicts.ToImmutableHashSet())];

    private static HeardChange Heard(TruthChange c, double nudge, double stretch)
    {
        if (c.Kind == "breath") return new HeardChange { Index = c.Index, Found = true, Gap = Seconds.Zero };
        var deeper = c.DipDb is null ? 0 : nudge;
        return new HeardChange
        {
            Index = c.Index,
            Found = true,
            Glide = Ms(c.Glide10to90Ms, stretch),
            GlideCentre = c.GlideCentre is { } g ? new Seconds(g) : null,
            GlideSemitones = c.GlideSemitones,
            AudibleGlide = Ms(c.Ear.AudibleGlideMs, stretch),
            Dip = new((c.DipDb ?? 0) + deeper),
            DipWidth = Ms(c.DipWidthMs, 1),
            DipCentre = c.GlideCentre is { } centre && c.TongueOffsetMs is { } off ? new Seconds(centre + (off * stretch / 1000)) : c.DipCentre is { } d ? new Seconds(d) : null,
            Below10 = Ms(c.Ear.Below10Ms, stretch),
            Gap = Ms(c.GapMs ?? 0, stretch),
            EarDip = new(c.Ear.DipDb + deeper),
            EarGap = Ms(c.Ear.GapMs, stretch),
            Overshoot = new((c.OvershootDb ?? 0) + (c.OvershootDb is null ? 0 : nudge / 2)),
            SlideBefore = Slide(c.SlideBefore, stretch),
            SlideAfter = Slide(c.SlideAfter, stretch),
            CaughtPitch = c.CaughtHertz is { } hz ? new Hertz(hz) : null,
        };
    }

    private static HeardSlide? Slide(TruthSlide? slide, double stretch) => slide is { } s ? new(Ms(s.AudibleMs, stretch)!.Value, new(Ms(s.AudibleMs, stretch)!.Value, Ms(s.AudibleMs, stretch)!.Value), s.Semitones) : null;

    private static Seconds? Ms(double? ms, double stretch) => ms is { } value ? new Seconds(value * stretch / 1000) : null;
}
