using System.Collections.Immutable;
using System.Diagnostics;
using NWaves.FeatureExtractors;
using NWaves.FeatureExtractors.Options;
using Seamwright.Core.Listening;

namespace Seamwright.GroundTruth.Peers;

/// <summary>The autocorrelation tracker of NWaves.</summary>
internal static class AutocorrelationPeer
{
    private const int Window = 2048;

    public static PeerRun Run(IReadOnlyList<Recording> recordings)
    {
        Track(recordings[0]);
        var process = Process.GetCurrentProcess();
        var before = process.TotalProcessorTime;
        ImmutableArray<PeerTrack> tracks = [.. recordings.Select(Track)];
        process.Refresh();
        return new PeerRun($"autocorrelation (NWaves, {Window})", tracks, (process.TotalProcessorTime - before).TotalSeconds);
    }

    private static PeerTrack Track(Recording recording)
    {
        var rate = recording.Rate.Value;
        var hop = (int)(0.005 * rate);
        var extractor = new PitchExtractor(new PitchOptions
        {
            SamplingRate = rate,
            FrameDuration = Window / (double)rate,
            HopDuration = hop / (double)rate,
            LowFrequency = 50,
            HighFrequency = 800,
        });
        var found = extractor.ComputeFrom(recording.Samples.ToArray());
        return new PeerTrack(Window / 2.0 / rate, hop / (double)rate, [.. found.Select(f => (double)f[0])]);
    }
}
