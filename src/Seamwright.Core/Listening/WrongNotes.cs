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

    // A note that fills less of its time, while another tone fills at least half of it, is a scrap of that one's way.
    private const double MostOfScrap = 0.35, LeastBeside = 0.5;

    /// <summary>The pass without notes that were found only where the pitch passes them on its way to or from a wrong one.</summary>
    /// <param name="found">Its own stretches are changed.</param>
    /// <param name="plan">What was asked.</param>
    public static FoundAttempt WithoutScraps(FoundAttempt found, Plan plan)
    {
        for (var i = 1; i + 1 < found.Stretches.Length; i++)
        {
            if (found.Stretches[i] is not { } scrap || found.Stretches[i - 1] is not { } a || found.Stretches[i + 1] is not { } b) continue;
            var from = Begin(plan, i, (i - 1, a.From), (i + 1, b.From));
            if (scrap.To - scrap.From >= MostOfScrap * (b.From - from)) continue;
            var wanted = plan.Notes[i].Note.Pitch.Midi + found.Semitones;
            if (Between(found, a, b).Exists(t => Math.Abs(t.Pitch - wanted) > 0.5 && Overlap(t, from, b.From) >= LeastBeside * (b.From - from))) found.Stretches[i] = null;
        }

        return found;
    }

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

    // A note between two that were found begins where its time in the line falls between theirs.
    private static double Begin(Plan plan, int note, (int Note, int Frame) before, (int Note, int Frame) after)
    {
        double Planned(int i) => plan.Notes[i].Note.StartTime.Value;
        return before.Frame + ((after.Frame - before.Frame) * (Planned(note) - Planned(before.Note)) / Math.Max(1e-6, Planned(after.Note) - Planned(before.Note)));
    }

    private static List<Tone> Between(FoundAttempt found, Stretch a, Stretch b) =>
        [.. found.Tones.Where(t => t.Weight > WholeTone && t.From >= a.From && t.To <= b.To && Overlap(t, a.To, b.From) > (t.To - t.From) / 2.0)];

    private static void Name(Plan plan, ImmutableArray<HeardNote>.Builder notes, FoundAttempt found, int before, int after)
    {
        if (found.Stretches[before] is not { } a || found.Stretches[after] is not { } b) return;
        var tones = Between(found, a, b);
        for (var i = before + 1; i < after; i++)
        {
            var (from, to) = (Begin(plan, i, (before, a.From), (after, b.From)), Begin(plan, i + 1, (before, a.From), (after, b.From)));
            var heard = tones.Select((t, k) => (Tone: t, Place: k, Inside: Overlap(t, from, to))).Where(t => t.Inside >= LeastShare * (to - from)).OrderByDescending(t => t.Inside).FirstOrDefault();
            if (heard.Inside <= 0) continue;
            var midi = (int)Math.Round(heard.Tone.Pitch - found.Semitones);
            if (midi != notes[i].Pitch.Midi) notes[i] = notes[i] with { Instead = Pitch.FromMidi(midi) };
            tones.RemoveRange(0, heard.Place + 1);
        }
    }

    private static double Overlap(Tone tone, double from, double to) => Math.Min(tone.To, to) - Math.Max(tone.From, from);
}
