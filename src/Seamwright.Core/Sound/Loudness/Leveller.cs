namespace Seamwright.Core.Sound.Loudness;

/// <summary>Brings a whole piece to one loudness without letting a peak through.</summary>
public static class Leveller
{
    /// <summary>Measures the piece, finds gain and limiting, and measures the result again.</summary>
    /// <param name="piece">Run through several times from its beginning: twice where a gain will do, up to nine times with the limiter.</param>
    /// <param name="settings">Default <see cref="LevellingSettings.Default"/>.</param>
    /// <param name="cancel">Ends it with an <see cref="OperationCanceledException"/>.</param>
    /// <returns>The levelled piece, at its beginning. Its true peak, as measured, is never above the ceiling; where its loudness is
    /// not the target, a remark says what was reached and why.</returns>
    /// <exception cref="ArgumentException">A setting is out of range, or a sample is no finite number.</exception>
    public static LevelledSound Level(SoundFeed piece, LevellingSettings? settings = null, CancellationToken cancel = default)
    {
        var used = settings ?? LevellingSettings.Default;
        if (used.Validate() is { IsEmpty: false } problems) throw new ArgumentException(string.Join(" ", problems), nameof(settings));
        return new Levelling(piece, used, LoudnessMeter.Measure(piece, cancel), cancel).Run();
    }

    private sealed class Levelling(SoundFeed piece, LevellingSettings settings, LoudnessReading before, CancellationToken cancel)
    {
        private const int MostTrials = 8;

        // Rounding of samples to floats must not lift a peak over the ceiling.
        private const double Breath = 0.001;

        // What the limiter leaves beneath the ceiling at first, dB.
        private double margin = 0.02;

        public LevelledSound Run()
        {
            if (before.Integrated is not { } loudness || before.Peak is not { } peak) return Unmeasured();
            var room = settings.Ceiling.Value - peak.Value - Breath;
            var most = room + settings.MostReduction.Value;
            var gain = Math.Min(settings.Target.Value - loudness.Value, most);
            var trial = Try(gain, gain > room);
            for (var i = 1; i < MostTrials && !Holds(trial, most); i++)
            {
                if (Over(trial) is > 0 and var over) margin += over + Breath;
                gain = Math.Min(gain + Missing(trial), most);
                trial = Try(gain, gain > room);
            }

            // Without the limiter nothing can lift a peak.
            if (Over(trial) > 0) trial = Try(Math.Min(gain, room), limits: false);
            return trial with { Remarks = [.. Remarks(trial)] };
        }

        private double Missing(LevelledSound trial) => trial.After.Integrated is { } reached ? settings.Target.Value - reached.Value : 0;

        private double Over(LevelledSound trial) => trial.After.Peak is { } peak ? peak.Value - settings.Ceiling.Value : 0;

        private bool Holds(LevelledSound trial, double most) =>
            Over(trial) <= 0 && (Math.Abs(Missing(trial)) <= settings.Tolerance.Value / 2 || (Missing(trial) > 0 && trial.Gain.Value >= most));

        private LevelledSound Try(double gain, bool limits)
        {
            var ceiling = limits ? Amplitude(settings.Ceiling.Value - margin) : (double?)null;
            var feed = new LevelledFeed(piece, Amplitude(gain), ceiling, settings);
            var after = LoudnessMeter.Measure(feed, cancel);
            var reduction = feed.Reduction;
            feed.Restart();
            return new LevelledSound { Sound = feed, Before = before, After = after, Gain = new(gain), Reduction = reduction, Remarks = [] };
        }

        // Nothing to level by: only a peak that would clip is taken down.
        private LevelledSound Unmeasured()
        {
            var gain = before.Peak is { } peak ? Math.Min(0, settings.Ceiling.Value - peak.Value - Breath) : 0;
            var trial = Try(gain, limits: false);
            return trial with { Remarks = [new Problem("loudness", "cannot be measured: nothing of 0.4 s or longer lies above -70 LUFS.", "The level is left as it is.", Severity.Note)] };
        }

        private IEnumerable<Problem> Remarks(LevelledSound trial)
        {
            if (trial.Reduction.Value > 0.05)
                yield return new Problem("peaks", $"were pressed down by up to {trial.Reduction}, to stay below {settings.Ceiling}.", "", Severity.Note);
            if (Math.Abs(Missing(trial)) > settings.Tolerance.Value)
                yield return new Problem("loudness", $"is {trial.After.Integrated} and not {settings.Target}: the peaks would have to be pressed down by more than {settings.MostReduction}.", "Play it back louder: nothing of it is lost.", Severity.Note);
        }

        private static double Amplitude(double db) => Math.Pow(10, db / 20);
    }
}
