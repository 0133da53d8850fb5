using System.Collections.Immutable;

namespace Seamwright.GroundTruth.Measuring;

/// <summary>Which conditions stand side by side.</summary>
internal static class Conditions
{
    /// <summary>Four columns a table, so that it fits 80 characters.</summary>
    public static readonly ImmutableArray<(string Title, ImmutableArray<(string Name, ImmutableArray<string> Conditions)> Columns)> Tables =
    [
        ("Clean, and with pink noise", [("clean", ["clean"]), ("40 dB", ["noise40"]), ("30 dB", ["noise30"]), ("20 dB", ["noise20"])]),
        ("Rooms, codecs at 64 kbit/s, nothing above 2.5 kHz", [("reverb .4", ["reverb0.4"]), ("reverb .8", ["reverb0.8"]), ("codec", ["mp3", "opus"]), ("lowpass", ["lowpass"])]),
        ("Small rooms", [("room .3", ["reverb0.3"]), ("room .2", ["reverb0.2"])]),
        ("Mains hum 10 dB below the notes", [("50 Hz", ["hum50"]), ("60 Hz", ["hum60"])]),
    ];
}
