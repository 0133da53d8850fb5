using System.Collections.Immutable;
using Seamwright.Core.Units;

namespace Seamwright.Core.Calibration;

/// <summary>How an instrument is calibrated. All limits are proposed defaults.</summary>
public sealed record CalibrationSettings
{
    public static readonly CalibrationSettings Default = new();

    /// <summary>Shortest note that is used, 0.05 to 2 s. Default 0.2 s: its pitch is known to about a cent.</summary>
    public Seconds ShortestNote { get; init; } = new(0.2);

    /// <summary>Smallest change that is written, 0 to 20 cents; it must also lie clearly outside the 90 % interval. Default 3 cents, well below
    /// what is just heard (musicians about 10 cents, Arndt, Schlemmer and van der Meer, Exp. Brain Res. 238).</summary>
    public Cents LeastChange { get; init; } = new(3);

    /// <summary>A note further than this from the others of its kind is named and counts little, 5 to 60 cents. Default 15 cents.</summary>
    public Cents Outlier { get; init; } = new(15);

    /// <summary>Largest spread of notes of one kind about their middle (root mean square), 8 to 60 cents. Default 18 cents: a player who misses by
    /// 12 is still read, notes thrown anywhere within 60 cents of theirs are not.</summary>
    public Cents LargestSpread { get; init; } = new(18);

    /// <summary>Effective length of the open horn, slide closed, where it was measured; 50 to 1000 cm. Null: as the instrument says.</summary>
    public Centimetres? MeasuredLength { get; init; }

    /// <summary>How far out the player's seventh position is, where it was measured with a ruler; 10 to 150 cm.</summary>
    public Centimetres? MeasuredSeventh { get; init; }

    /// <summary>Every setting out of its range.</summary>
    public ImmutableArray<Problem> Validate()
    {
        var problems = ImmutableArray.CreateBuilder<Problem>();
        Check(nameof(ShortestNote), ShortestNote.Value, 0.05, 2, "s");
        Check(nameof(LeastChange), LeastChange.Value, 0, 20, "cents");
        Check(nameof(Outlier), Outlier.Value, 5, 60, "cents");
        Check(nameof(LargestSpread), LargestSpread.Value, 8, 60, "cents");
        Check(nameof(MeasuredLength), MeasuredLength?.Value ?? 100, 50, 1000, "cm");
        Check(nameof(MeasuredSeventh), MeasuredSeventh?.Value ?? 100, 10, 150, "cm");
        if (MeasuredLength is not null && MeasuredSeventh is not null)
            problems.Add(new("calibration.MeasuredSeventh", "stands beside MeasuredLength.", "Give one of the two: each fixes the other.", Severity.Error));
        return problems.ToImmutable();

        void Check(string name, double value, double least, double most, string unit)
        {
            if (!(value >= least && value <= most))
                problems.Add(new($"calibration.{name}", $"is {value} {unit}.", $"It must be {least} to {most} {unit}.", Severity.Error));
        }
    }
}
