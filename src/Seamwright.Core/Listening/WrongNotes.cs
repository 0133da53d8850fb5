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

    // Frames: what is played in a note's place joins the next one as closely.
    private const int MostApart = 20, MostLapped = 4;

    // Of more at an end than these it is not told what they stand for.
    private const int MostAtAnEnd = 2;

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

    /// <summary>The notes, each missing one with the tone that is heard in its place: between two that were found, and one alone at an end of the part.</summary>
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

        if (notes.Count(n => n.Found) > 1) NameEnds(plan, named, found);
        return named.ToImmutable();
    }

    // At an end the two notes beside it tell the time: a tone that joins them counts where both it and the missing note last mostly as long as the other. Of two
    // that are missing both must be named: one alone may as well be a stumble before a beginning further on.
    private static void NameEnds(Plan plan, ImmutableArray<HeardNote>.Builder notes, FoundAttempt found)
    {
        var (first, last) = (found.First, found.Last);
        NameEnd(plan, notes, found, [.. Enumerable.Range(0, first).Reverse()], (first, Array.FindIndex(found.Stretches, first + 1, s => s is not null)), found.Stretches[first]!.Value.From);
        NameEnd(plan, notes, found, [.. Enumerable.Range(last + 1, found.Stretches.Length - last - 1)], (Array.FindLastIndex(found.Stretches, last - 1, s => s is not null), last), found.Stretches[last]!.Value.To);
    }

    private static bool Joins(int end, int begin) => begin - end is >= -MostLapped and <= MostApart;

    private static void NameEnd(Plan plan, ImmutableArray<HeardNote>.Builder notes, FoundAttempt found, int[] missing, (int A, int B) beside, int seam)
    {
        if (missing.Length is 0 or > MostAtAnEnd || beside.A < 0 || beside.B < 0) return;
        var (a, b) = ((beside.A, found.Stretches[beside.A]!.Value.From), (beside.B, found.Stretches[beside.B]!.Value.From));
        var isBefore = missing[0] < beside.A;
        var whole = found.Tones.Where(t => t.Weight > WholeTone).ToList();
        var tones = new List<Tone>();
        foreach (var note in missing)
        {
            var planned = plan.Notes[note].Note;
            var (from, to) = (At(plan, planned.StartTime.Value, a, b), At(plan, planned.EndTime.Value, a, b));
            var joining = isBefore ? whole.LastOrDefault(t => Joins(t.To, seam)) : whole.Find(t => Joins(seam, t.From));
            if (joining.Weight <= WholeTone || Overlap(joining, from, to) < LeastShare * Math.Max(to - from, joining.To - joining.From)) return;
            tones.Add(joining);
            seam = isBefore ? joining.From : joining.To;
        }

        for (var i = 0; i < missing.Length; i++) Called(notes, missing[i], tones[i], found);
    }

    // A note between two that were found begins where its time in the line falls between theirs.
    private static double Begin(Plan plan, int note, (int Note, int Frame) before, (int Note, int Frame) after) => At(plan, plan.Notes[note].Note.StartTime.Value, before, after);

    private static double At(Plan plan, double planned, (int Note, int Frame) before, (int Note, int Frame) after)
    {
        double Planned(int i) => plan.Notes[i].Note.StartTime.Value;
        return before.Frame + ((after.Frame - before.Frame) * (planned - Planned(before.Note)) / Math.Max(1e-6, Planned(after.Note) - Planned(before.Note)));
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
            Called(notes, i, heard.Tone, found);
            tones.RemoveRange(0, heard.Place + 1);
        }
    }

    private static void Called(ImmutableArray<HeardNote>.Builder notes, int note, Tone tone, FoundAttempt found)
    {
        var midi = (int)Math.Round(tone.Pitch - found.Semitones);
        if (midi != notes[note].Pitch.Midi) notes[note] = notes[note] with { Instead = Pitch.FromMidi(midi) };
    }

    private static double Overlap(Tone tone, double from, double to) => Math.Min(tone.To, to) - Math.Max(tone.From, from);
}
