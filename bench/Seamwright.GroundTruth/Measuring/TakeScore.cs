using System.Collections.Immutable;

namespace Seamwright.GroundTruth.Measuring;

/// <summary>How one take was heard. Plain counts and pairs, so that takes can be pooled in any way.</summary>
internal sealed record TakeScore
{
    public required string Name { get; init; }

    public required string Source { get; init; }

    public required string Condition { get; init; }

    public required double Seconds { get; init; }

    /// <summary>Processor time of the whole call.</summary>
    public required double Cost { get; init; }

    public required FrameCounts Stable { get; init; }

    /// <summary>Within 30 ms of a glide.</summary>
    public required FrameCounts Moving { get; init; }

    /// <summary>Frames of notes below B♭2, stable and moving.</summary>
    public required FrameCounts Low { get; init; }

    public ImmutableArray<NoteScore> Notes { get; init; } = [];

    public ImmutableArray<QuantityScore> Quantities { get; init; } = [];

    public ImmutableArray<VerdictScore> Verdicts { get; init; } = [];

    public ImmutableArray<BoundScore> Limits { get; init; } = [];
}

/// <summary>Frames of 5 ms that sound (less than 25 dB below their note).</summary>
/// <param name="Total">All of them; one without a pitch counts as wrong.</param>
/// <param name="In50">Within 50 cents.</param>
/// <param name="In25">Within 25 cents.</param>
/// <param name="In10">Within 10 cents.</param>
/// <param name="Octave">Within 50 cents of an octave, a twelfth or two octaves off.</param>
internal readonly record struct FrameCounts(int Total, int In50, int In25, int In10, int Octave)
{
    public static FrameCounts operator +(FrameCounts a, FrameCounts b) =>
        new(a.Total + b.Total, a.In50 + b.In50, a.In25 + b.In25, a.In10 + b.In10, a.Octave + b.Octave);

    /// <summary>One more frame.</summary>
    /// <param name="hz">Heard; null where no pitch.</param>
    /// <param name="truth">Hz.</param>
    public FrameCounts With(double? hz, double truth)
    {
        if (hz is not > 0) return this with { Total = Total + 1 };
        var signed = 1200 * Math.Log2(hz.Value / truth);
        var off = Math.Abs(signed);
        var octave = Math.Abs(off - 1200) <= 50 || Math.Abs(off - 1902) <= 50 || Math.Abs(off - 2400) <= 50;
        return new(Total + 1, In50 + (off <= 50 ? 1 : 0), In25 + (off <= 25 ? 1 : 0), In10 + (off <= 10 ? 1 : 0), Octave + (octave ? 1 : 0));
    }
}

/// <summary>One note.</summary>
/// <param name="Time">True onset, s.</param>
/// <param name="Midi">As written.</param>
/// <param name="Found">Whether it was.</param>
/// <param name="OnsetMs">Heard minus true; null where not found.</param>
/// <param name="Cents">Heard minus true; null where not found.</param>
/// <param name="LevelDb">Heard minus true; null where not found.</param>
internal sealed record NoteScore(double Time, int Midi, bool Found, double? OnsetMs, double? Cents, double? LevelDb);

/// <summary>One figure of one change.</summary>
/// <param name="Take">Its take.</param>
/// <param name="Change">Its index.</param>
/// <param name="Time">Where.</param>
/// <param name="Kind">Of the change.</param>
/// <param name="LowMidi">The lower of the two notes.</param>
/// <param name="Quantity">A name of <see cref="Quantity"/>.</param>
/// <param name="Asked">Truth.</param>
/// <param name="Heard">Null where nothing was told.</param>
/// <param name="Low">Lower end of the 90 % interval; null where none was given.</param>
/// <param name="High">Upper end.</param>
internal sealed record QuantityScore(
    string Take, int Change, double Time, string Kind, int LowMidi, string Quantity, double Asked, double? Heard, double? Low, double? High)
{
    public double? Error => Heard - Asked;

    public bool? Covered => Low is { } l && High is { } h ? l <= Asked && Asked <= h : null;
}

/// <summary>Names of the figures. Times in ms, levels in dB.</summary>
internal static class Quantity
{
    public const string Glide = "glide", Jump = "jump", GlideCentre = "glideCentre", Dip = "dip", DipWidth = "dipWidth", DipCentre = "dipCentre",
        TongueOffset = "tongueOffset", Gap = "gap", Overshoot = "overshoot", AudibleGlide = "audibleGlide", SlideBeside = "slideBeside";

    public static readonly ImmutableArray<string> All = [Glide, Jump, GlideCentre, Dip, DipWidth, DipCentre, TongueOffset, Gap, Overshoot, AudibleGlide, SlideBeside];
}

/// <summary>The verdicts on one change.</summary>
/// <param name="Take">Its take.</param>
/// <param name="Change">Its index.</param>
/// <param name="Time">Where.</param>
/// <param name="Kind">Of the change.</param>
/// <param name="LowMidi">The lower of the two notes.</param>
/// <param name="Truth">What the rules say to the truth.</param>
/// <param name="Heard">What they say to what was heard.</param>
/// <param name="Hair">Verdicts that the truth itself would lose or gain if its levels were 1 dB or its times 8 % different.</param>
internal sealed record VerdictScore(
    string Take, int Change, double Time, string Kind, int LowMidi, ImmutableArray<string> Truth, ImmutableArray<string> Heard, ImmutableArray<string> Hair)
{
    /// <summary>Whether random phases alone leave it open (<see cref="RoomLimit"/>); null where the take is in no room.</summary>
    public bool? OpenByPhases { get; init; }
}

/// <summary>A low note's pitch beside what physics allows.</summary>
/// <param name="Midi">As written.</param>
/// <param name="SnrDb">Of the added noise.</param>
/// <param name="FrameCents">Root mean square error of its steady frames.</param>
/// <param name="NoteCents">Error of the note's own figure.</param>
/// <param name="BoundTwoPeriods">Least standard deviation in two periods, cents.</param>
/// <param name="BoundNote">Least standard deviation over the whole steady note, cents.</param>
internal sealed record BoundScore(int Midi, double SnrDb, double FrameCents, double? NoteCents, double BoundTwoPeriods, double BoundNote);
