using System.Collections.Immutable;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Diagnosis;

/// <summary>What every account of a take looks up in its three parts.</summary>
internal static class TakeParts
{
    /// <summary>Refuses parts that do not belong together.</summary>
    public static void Check(Take take, Diagnosis diagnosis, Plan plan)
    {
        if (take.Notes.Length != plan.Notes.Length || diagnosis.Notes.Length != plan.Notes.Length)
            throw new ArgumentException($"The plan has {plan.Notes.Length} notes, the take {take.Notes.Length}, the diagnosis {diagnosis.Notes.Length}.");
        if (take.Changes.Length != plan.Changes.Length || diagnosis.Changes.Length != plan.Changes.Length)
            throw new ArgumentException($"The plan has {plan.Changes.Length} changes, the take {take.Changes.Length}, the diagnosis {diagnosis.Changes.Length}.");
    }

    /// <summary>When a change happened: middle of the glide, else of the dip, else where the notes meet; null where nothing was found.</summary>
    public static double? TimeOf(Take take, NoteChange change)
    {
        var heard = take.Changes[change.Index];
        HeardNote from = take.Notes[change.FromNote], to = take.Notes[change.ToNote];
        if ((heard.GlideCentre ?? heard.DipCentre) is { } centre) return centre.Value;
        return from.Offset is { } off && to.Onset is { } on ? (off.Value + on.Value) / 2 : (to.Onset ?? from.Offset)?.Value;
    }

    /// <summary><c>bar 3, beat 2</c> of the note a change leads to; <c>at 0:03.2</c> where no part is known.</summary>
    public static string PlaceOf(Plan plan, NoteChange change) => PlaceOf(plan, plan.Notes[change.ToNote].Note);

    /// <summary>As the other, of a note.</summary>
    public static string PlaceOf(Plan plan, PlayedNote note) => plan.Line.FromRecording
        ? $"at {Attempts.Clock(note.StartTime.Value)}"
        : $"bar {note.Bar}, beat {BeatWords(note.Beat)}{PassWords(note.Pass)}";

    /// <summary><c>bar 3</c>; <c>at 0:03.2</c> where no part is known.</summary>
    public static string BarOf(Plan plan, PlayedNote note) => plan.Line.FromRecording ? PlaceOf(plan, note) : $"bar {note.Bar}";

    /// <summary>The first columns of a row of text: bar and beat, or the time in the file.</summary>
    public static string RowOf(Plan plan, PlayedNote note) => plan.Line.FromRecording
        ? $"  {Attempts.Clock(note.StartTime.Value),10}"
        : $"  {Cut(note.Bar, 4),4} {Cut(BeatWords(note.Beat), 5),5}";

    /// <summary><c> (2nd time)</c> on a repeat, empty the first time.</summary>
    public static string PassWords(int pass) => pass switch
    {
        <= 1 => "",
        2 => " (2nd time)",
        3 => " (3rd time)",
        _ => $" ({pass}th time)",
    };

    /// <summary><c>2½</c>: a place in a bar as a player counts it.</summary>
    public static string BeatWords(Beats beat)
    {
        var whole = (int)Math.Floor(beat.ToDouble());
        var rest = beat - new Beats(whole, 1);
        return rest == Beats.Zero ? $"{whole}" : whole + rest.ToString() switch
        {
            "1/2" => "½",
            "1/4" => "¼",
            "3/4" => "¾",
            "1/3" => "⅓",
            "2/3" => "⅔",
            var other => $" {other}",
        };
    }

    private static string Cut(string text, int length) => text.Length <= length ? text : text[..length];

    /// <summary>The finding that matters most: the worst in the order fault, watch, unknown, clean; the first of equals.</summary>
    public static Verdict Worst(IEnumerable<Finding> findings) => findings.Select(f => f.Verdict).MaxBy(v => v.Weight());

    /// <summary>Each verdict once, as a reader is told: what is open beside something sure is told among what could not be told, not as a verdict.</summary>
    public static ImmutableArray<Verdict> Shown(ImmutableArray<Verdict> verdicts)
    {
        var sure = verdicts.Any(v => v.Gravity() is Gravity.Fault or Gravity.Watch);
        return [.. verdicts.Where(v => !sure || v != Verdict.CannotTell).Distinct()];
    }

    /// <summary>Whether there is anything to say.</summary>
    public static bool IsTroubled(IEnumerable<Finding> findings) => findings.Any(f => f.Verdict != Verdict.Clean);
}
