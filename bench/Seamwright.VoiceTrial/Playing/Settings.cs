using Seamwright.Core.Instruments;
using Seamwright.Core.Planning;
using Seamwright.Core.Units;

namespace Seamwright.VoiceTrial.Playing;

/// <summary>The setting a plan takes for a lone note.</summary>
internal static class Settings
{
    /// <summary>On the first of the tenor with F attachment and the independent bass that reaches the pitch.</summary>
    public static (Instrument Instrument, SlideSetting Setting)? For(Pitch pitch)
    {
        foreach (var id in (ReadOnlySpan<string>)["tenor-f", "bass-independent"])
        {
            var instrument = Catalogue.Find(id)!;
            var cost = new CostModel(instrument, new Player(), CostWeights.NaturalFirst);
            if (instrument.SettingsFor(pitch).OrderBy(s => cost.OfNote(pitch, s)).FirstOrDefault() is { } best) return (instrument, best);
        }

        return null;
    }
}
