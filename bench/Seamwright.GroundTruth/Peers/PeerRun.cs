using System.Collections.Immutable;

namespace Seamwright.GroundTruth.Peers;

/// <summary>One tracker's answer for one take: Hz at steady times, 0 where it hears none.</summary>
/// <param name="Start">Time of the first figure.</param>
/// <param name="Hop">Between two.</param>
/// <param name="Hz">Figures.</param>
internal sealed record PeerTrack(double Start, double Hop, ImmutableArray<double> Hz)
{
    /// <summary>The nearest figure.</summary>
    public double? At(double time)
    {
        var i = (int)Math.Round((time - Start) / Hop);
        return i >= 0 && i < Hz.Length && Hz[i] > 0 ? Hz[i] : null;
    }
}

/// <summary>One tracker over all takes.</summary>
/// <param name="Name">With its window.</param>
/// <param name="Tracks">One for each take, same order.</param>
/// <param name="Cost">Seconds of processor time.</param>
/// <param name="IsOurs">Whether this is the listener under test.</param>
internal sealed record PeerRun(string Name, ImmutableArray<PeerTrack> Tracks, double Cost, bool IsOurs = false);
