using System.Collections.Immutable;
using Seamwright.Core.Planning;
using Seamwright.Core.Units;

namespace Seamwright.Core.Listening;

/// <summary>Names what was played where a note that was asked for is missing.</summary>
internal static class WrongNotes
{
    // A tone counts that looks like a note and fills so much of the missing one's time (proposed defaults).
    private const float WholeTone = 0.35f;
    private const double LeastShare = 0.4;

    /// <summary>The notes, each missing one between two that were found with the tone that is heard in its place.</summary>
    /// <param name="plan">What was asked.</param>
    /// <param name="notes">As measured.</param>
    /// <param name="found">Where they lie, and the tones there.</param>
    public static ImmutableArray<HeardNote> Added(Plan plan, ImmutableArray<HeardNote> notes, FoundAttempt found)
    {
        var named = notes.ToBuilder();
        for (var i = 1; i < notes.Length; i++)
        {
            if (notes[i].Found || !notes[i - 1].Found) continue;
            var end = i;
            while (end < notes.Length && !notes[end].Found) end++;
            if (end < notes.Length) Name(plan, named, found, i - 1, end);
            i = end;
        }

        return named.ToImmutable();
    }

    // The notes between two that were found begin where their time in the line falls between those two.
    private static void Name(Plan plan, ImmutableArray<HeardNote>.Builder notes, FoundAttempt found, int before, int after)
    {
        if (found.Stretches[before] is not { } a || found.Stretches[after] is not { } b) return;
        double Planned(int note) => plan.Notes[note].Note.StartTime.Value;
        double Begin(int note) => a.From + ((b.From - a.From) * (Planned(note) - Planned(before)) / Math.Max(1e-6, Planned(after) - Planned(before)));
        var tones = found.Tones.Where(t => t.Weight > WholeTone && t.From >= a.From && t.To <= b.To && Overlap(t, a.To, b.From) > (t.To - t.From) / 2.0).ToList();
        for (var i = before + 1; i < after; i++)
        {
            var (from, to) = (Begin(i), Begin(i + 1));
            var heard = tones.Select((t, k) => (Tone: t, Place: k, Inside: Overlap(t, from, to))).Where(t => t.Inside >= LeastShare * (to - from)).OrderByDescending(t => t.Inside).FirstOrDefault();
            if (heard.Inside <= 0) continue;
            var midi = (int)Math.Round(heard.Tone.Pitch - found.Semitones);
            if (midi != notes[i].Pitch.Midi) notes[i] = notes[i] with { Instead = Pitch.FromMidi(midi) };
            tones.RemoveRange(0, heard.Place + 1);
        }
    }

    private static double Overlap(Tone tone, double from, double to) => Math.Min(tone.To, to) - Math.Max(tone.From, from);
}
