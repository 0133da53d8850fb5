using Seamwright.Core.Planning;
using Seamwright.Core.Units;

namespace Seamwright.Core.Sound;

/// <summary>A trombone that obeys slide, lips, tongue and air.</summary>
/// <remarks>Resonances from the instrument's own formula at the slide's travel; which of them sounds, how it speaks and how one gives
/// way to another from <see cref="AirColumn"/>; what it sounds like from <see cref="Timbre"/>.</remarks>
public static class Voice
{
    // A deeper fall than this below its own level is where a note begins and ends.
    private const double EdgeReach = 0.15;

    /// <summary>A performance to read from.</summary>
    /// <param name="plan">Notes without a setting stay silent.</param>
    /// <param name="performance">One execution for each change, one figure for each note.</param>
    /// <param name="settings">Default <see cref="VoiceSettings.Default"/>.</param>
    /// <exception cref="ArgumentException">The performance does not fit the plan, or a setting is out of range.</exception>
    public static RunningVoice Open(Plan plan, Performance performance, VoiceSettings? settings = null)
    {
        var used = settings ?? VoiceSettings.Default;
        performance.Check(plan);
        if (used.Validate() is { IsEmpty: false } problems) throw new ArgumentException(string.Join(" ", problems), nameof(settings));
        return new RunningVoice(plan, performance, used);
    }

    /// <summary>The whole performance, and what is true of it.</summary>
    /// <inheritdoc cref="Open"/>
    public static SoundedTake Render(Plan plan, Performance performance, VoiceSettings? settings = null)
    {
        var used = settings ?? VoiceSettings.Default;
        var stream = Open(plan, performance, used);
        stream.Curve = new ToneCurve(stream.Step, stream.Step, Rush.Of(used));
        var samples = new float[stream.Length];
        stream.Read(samples);
        return new SoundedTake(samples, used.Rate, TruthOf(plan, stream.Paths, stream.Curve, used));
    }

    private static TakeTruth TruthOf(Plan plan, Paths paths, ToneCurve curve, VoiceSettings settings)
    {
        var changes = plan.Changes.Select(c => new ChangeTruth { Index = c.Index }).ToArray();
        for (var i = 0; i < paths.Passages.Length; i++)
        {
            var passage = paths.Passages[i];
            if (passage.ToNote != passage.FromNote + 1) continue;
            var (from, to) = paths.Level.About(i);
            changes[passage.FromNote] = CurveTruth.Of(curve, passage, paths.WindowOf(i), from, to);
        }

        var notes = plan.Notes.Select(n => new NoteTruth { Index = n.Note.Index, Pitch = n.Note.Pitch }).ToArray();
        for (var i = 0; i < paths.Sounding.Length; i++)
        {
            var index = paths.Sounding[i];
            notes[index] = NoteOf(plan, paths, curve, i, changes, settings);
        }

        return new TakeTruth { Notes = [.. notes], Changes = [.. changes] };
    }

    private static NoteTruth NoteOf(Plan plan, Paths paths, ToneCurve curve, int i, ChangeTruth[] changes, VoiceSettings settings)
    {
        var planned = plan.Notes[paths.Sounding[i]];
        var (asked, until) = paths.NoteEdges(i);
        var onset = i > 0 && Joined(i - 1) is { } begin ? begin : CurveTruth.Crossing(curve, asked, EdgeReach, paths.Level.OfNote(i, asked) - LevelShape.EdgeDb, rising: true);
        var offset = i < paths.Passages.Length && Joined(i) is { } end ? end : CurveTruth.Crossing(curve, until, EdgeReach, paths.Level.OfNote(i, until) - LevelShape.EdgeDb, rising: false);
        return new NoteTruth
        {
            Index = planned.Note.Index,
            Pitch = planned.Note.Pitch,
            Onset = new(onset),
            Offset = new(offset),
            Level = new(settings.Level.Value + paths.Level.OfNote(i, (onset + offset) / 2)),
            Cents = new Hertz(Math.Pow(2, curve.PitchOf(paths.Pitch.HeldAt((onset + offset) / 2)))).Above(planned.Note.Pitch.Frequency(plan.Instrument.A4)),
        };

        // Where one note passes into the other without a silence between.
        double? Joined(int passage)
        {
            var p = paths.Passages[passage];
            if (p.Execution.Rest.Value > 0 || p.Execution.Gap.Value > 0) return null;
            var truth = p.ToNote == p.FromNote + 1 ? changes[p.FromNote] : null;
            return truth?.GlideCentre?.Value ?? truth?.DipCentre?.Value ?? paths.Boundary(passage);
        }
    }
}
