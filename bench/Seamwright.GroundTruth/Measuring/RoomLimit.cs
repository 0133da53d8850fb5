using System.Globalization;
using System.Text.RegularExpressions;
using Seamwright.Core.Diagnosis;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Units;
using Seamwright.GroundTruth.Truth;

namespace Seamwright.GroundTruth.Measuring;

/// <summary>What a room leaves open to an ear that knows everything but the phases in which tone and tail meet.</summary>
/// <remarks>The truth is judged by the program's own rules, every figure exact but for the intervals that random phases force (Kuttruff, Room Acoustics,
/// chapter 3; <see cref="FilledDip"/>): the room's time and share as they were made, the dip's own shape, and as many partials as bear the note's level.
/// What is then open no ear could tell from this one recording. Ways, onsets and the finding of the room cost nothing here, so that it is a limit from below.</remarks>
internal static partial class RoomLimit
{
    private const double Least = 1, Hidden = 20, Touch = 10, LaterThan = 0.04;

    /// <summary>Changes that stay open; empty where the take is in no room.</summary>
    /// <param name="truth">Of the take.</param>
    /// <param name="plan">What was asked.</param>
    /// <param name="recording">In the room.</param>
    public static HashSet<int> Of(TruthFile truth, Plan plan, Recording recording)
    {
        if (Made().Match(truth.ConditionDetail) is not { Success: true } made) return [];
        var (seconds, below) = (double.Parse(made.Groups[1].ValueSpan, CultureInfo.InvariantCulture), double.Parse(made.Groups[2].ValueSpan, CultureInfo.InvariantCulture));
        var tail = Math.Pow(10, -below / 10);
        var room = new Decay(seconds, tail / (1 + tail)) { IsHeardInside = true };
        var ear = new LiveEar(recording.Rate);
        ear.Push(recording.Samples.Span);
        var samples = ear.Finish().Samples;
        var take = TruthTake.Of(truth, plan);
        var partials = truth.Notes.Select(n => ToneReader.PartialsOf(new SteadyNote(n.Onset + ((n.Offset - n.Onset) / 4), n.Offset - ((n.Offset - n.Onset) / 4), n.Hertz, n.LevelDb), samples)).ToArray();
        var changes = take.Changes.Select(c => c.Dip is null ? c : InRoom(c, room, partials[plan.Changes[c.Index].FromNote], partials[plan.Changes[c.Index].ToNote]));
        var judged = Diagnostician.Judge(take with { Changes = [.. changes] }, plan);
        return [.. judged.Changes.Where(c => c.Verdicts.Contains(Verdict.CannotTell)).Select(c => c.Index)];
    }

    private static HeardChange InRoom(HeardChange c, Decay room, double before, double after)
    {
        var later = room.Share / (1 - room.Share) * Math.Pow(10, -6 * LaterThan / room.Seconds60);
        var sway = Bounding.NinetyPercent * 20 / Math.Log(10) * Math.Sqrt(later / 2 / after);
        var over = c.Overshoot?.Value ?? 0;
        c = c with { Doubts = [Doubt.Reverberation], OvershootBounds = new(new(Math.Max(0, over - sway)), new(over + sway)) };
        if (c.Dip!.Value.Value < Least || c.DipWidth is not { } width) return c;
        var isBeside = c.DipCentre is { } d && c.GlideCentre is { } g && Math.Abs((d - g).Value) > width.Value;
        var (low, high) = new FilledDip(room, before, width.Value, isBeside).Around(c.Dip.Value.Value);
        return c with
        {
            DipBounds = new(new(low), new(high)),
            EarDipBounds = new(new(Math.Min(low, c.EarDip!.Value.Value)), new(Math.Max(high, c.EarDip.Value.Value))),
            EarGapInterval = Times(low, high, Hidden, width, c.EarGap!.Value),
            Below10Interval = Times(low, high, Touch, width, c.Below10!.Value),
        };
    }

    // Raised cosines of that width at half depth, so far down or deeper for so long.
    private static (Seconds Low, Seconds High) Times(double low, double high, double limit, Seconds width, Seconds truth)
    {
        Seconds Down(double depth) => depth <= limit ? Seconds.Zero : new(2 * width.Value / Math.PI * Math.Acos((2 * limit / depth) - 1));
        var (shortest, longest) = (Down(low), Down(high));
        return (shortest.Value < truth.Value ? shortest : truth, longest.Value > truth.Value ? longest : truth);
    }

    [GeneratedRegex(@"RT60 ([\d.]+) s, direct sound ([\d.]+) dB")]
    private static partial Regex Made();
}
