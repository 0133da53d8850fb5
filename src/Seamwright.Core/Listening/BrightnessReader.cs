using System.Collections.Immutable;
using Seamwright.Core.Planning;

namespace Seamwright.Core.Listening;

/// <summary>How bright long tones are from frame to frame.</summary>
internal static class BrightnessReader
{
    private const double Hop = LiveEar.Hop;
    private const double Window = 0.06;
    private const float Periodic = 0.8f;

    /// <summary>One for each frame of the track, null outside the tones an exercise wants compared and where no pitch is heard; empty where it wants none.</summary>
    public static ImmutableArray<double?> Of(RoughTrack track, SampleStore samples, ImmutableArray<HeardNote> notes, Plan plan)
    {
        var tones = LongTone.Of(plan).ToList();
        if (!tones.Exists(t => t.Touched) || !tones.Exists(t => !t.Touched)) return [];
        var found = new double?[track.Count];
        foreach (var tone in tones)
        {
            var heard = notes[tone.First..(tone.Last + 1)];
            if (heard.FirstOrDefault(n => n.Onset is not null)?.Onset is not { } from || heard.LastOrDefault(n => n.Offset is not null)?.Offset is not { } to) continue;
            for (var i = Math.Max(0, (int)(from.Value / Hop)); i <= Math.Min(track.Count - 1, (int)(to.Value / Hop)); i++)
            {
                if (track.Hz[i] > 0 && track.Strength[i] >= Periodic) found[i] = ToneReader.BrightnessAt(samples, i * Hop, Window, track.Hz[i]);
            }
        }

        return ImmutableArray.Create(found);
    }
}
