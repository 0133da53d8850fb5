using System.Collections.Immutable;

namespace Seamwright.Core.Planning;

/// <summary>What the planner counts as work or risk. A plan's cost is the sum over its notes and changes; smaller is better.</summary>
/// <remarks>One unit is about what a player gives to avoid one extra ordinary slide move of ten centimetres. All defaults are proposed ones.</remarks>
public sealed record CostWeights
{
    /// <summary>Per 10 cm of slide travel. Default 0.5.</summary>
    public double Travel { get; init; } = 0.5;

    /// <summary>Times the square of peak arm speed over the player's fastest, so that hurry costs more than distance. Default 3.</summary>
    public double Hurry { get; init; } = 3;

    /// <summary>For a move against the direction of the move just before it (no breath between). Default 0.2.</summary>
    public double Reversal { get; init; } = 0.2;

    /// <summary>For a joined change whose slide would be heard. Default 1.8.</summary>
    public double Smear { get; init; } = 1.8;

    /// <summary>For each valve that moves between two notes. Default 0.8.</summary>
    public double ValveMove { get; init; } = 0.8;

    /// <summary>For each valve held down under a note (more tube, duller tone). Default 0.5.</summary>
    public double ValveHeld { get; init; } = 0.5;

    /// <summary>Per 10 cents that the slide cannot correct. Default 0.3.</summary>
    public double Residual { get; init; } = 0.3;

    /// <summary>Per 10 cents that the slide must correct away from the plain position. Default 0.2.</summary>
    public double Correction { get; init; } = 0.2;

    /// <summary>Times the square of open-horn positions beyond fourth. Default 0.35: sixth costs 1.4, seventh 3.15.</summary>
    public double FarPosition { get; init; } = 0.35;

    /// <summary>For a note not in its usual setting. Default 1.4.</summary>
    public double Unusual { get; init; } = 1.4;

    /// <summary>For a pedal note with a valve down. Default 1.5.</summary>
    public double ValvePedal { get; init; } = 1.5;

    /// <summary>For a written glissando that does not stay on one partial and one tube. Default 20.</summary>
    public double BrokenGlissando { get; init; } = 20;

    /// <summary>Natural slurs first: an alternate is taken where it lets slurs separate by themselves. The default.</summary>
    public static readonly CostWeights NaturalFirst = new();

    /// <summary>The quietest arm: short ways, few turns.</summary>
    public static readonly CostWeights QuietArm = new() { Travel = 1.6, Hurry = 6, Reversal = 0.5, Smear = 0.3, Unusual = 0.7, ValveMove = 0.6 };

    /// <summary>The positions of the chart, unless there is no time to reach them.</summary>
    public static readonly CostWeights PlainPositions = new() { Travel = 0.2, Hurry = 1.5, Reversal = 0, Smear = 0.3, Unusual = 5 };

    /// <summary>The presets by the names the command line uses.</summary>
    public static readonly ImmutableDictionary<string, CostWeights> Presets = ImmutableDictionary.CreateRange(
        new Dictionary<string, CostWeights> { ["natural-first"] = NaturalFirst, ["quiet-arm"] = QuietArm, ["plain-positions"] = PlainPositions });

    /// <summary>Every weight that is negative or not a number.</summary>
    public ImmutableArray<Problem> Validate()
    {
        (string Name, double Value)[] all =
        [
            (nameof(Travel), Travel), (nameof(Hurry), Hurry), (nameof(Reversal), Reversal), (nameof(Smear), Smear),
            (nameof(ValveMove), ValveMove), (nameof(ValveHeld), ValveHeld), (nameof(Residual), Residual),
            (nameof(Correction), Correction), (nameof(FarPosition), FarPosition), (nameof(Unusual), Unusual),
            (nameof(ValvePedal), ValvePedal), (nameof(BrokenGlissando), BrokenGlissando),
        ];
        return [.. all.Where(w => !(w.Value is >= 0 and <= 1e6))
            .Select(w => new Problem($"weights.{w.Name}", $"is {w.Value}.", "A weight is 0 or more, at most 1,000,000.", Severity.Error))];
    }
}
