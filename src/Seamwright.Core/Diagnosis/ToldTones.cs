using Seamwright.Core.Listening;
using Seamwright.Core.Planning;

namespace Seamwright.Core.Diagnosis;

/// <summary>A stretch of a take whose tones are told as notes that the part does not have.</summary>
/// <param name="From">Seconds in the file.</param>
/// <param name="To">Seconds in the file.</param>
internal readonly record struct ToldTones(double From, double To)
{
    // A wrong first or last note has a neighbour at one side only: held twice as long as written it is still that note.
    private const double MostStretched = 2;

    /// <summary>All of them.</summary>
    public static List<ToldTones> Of(Take take, Diagnosis diagnosis, Plan plan)
    {
        var added = plan.Changes.Where(c => diagnosis.Changes[c.Index].Verdicts.Contains(Verdict.AddedNote)).Select(c => Between(take, plan, c.FromNote, c.ToNote));
        var wrong = take.Notes.Where(n => n.Instead is not null).Select(n => Between(take, plan, Neighbour(take, n.Index, -1), Neighbour(take, n.Index, 1)));
        return [.. added.Concat(wrong).OfType<ToldTones>()];
    }

    /// <summary>Whether the longer part of a stretch lies within.</summary>
    public bool Holds(UnmatchedStretch stretch) =>
        2 * (Math.Min(To, stretch.End.Value) - Math.Max(From, stretch.Start.Value)) > stretch.End.Value - stretch.Start.Value;

    // Where a note has taken over the other's sound, its bounds lie within it: so from the first one's beginning to the second one's end.
    private static ToldTones? Between(Take take, Plan plan, int? first, int? second)
    {
        var pace = MostStretched / (take.TempoRatio ?? 1);
        var (from, to) = (first is { } a ? take.Notes[a].Onset?.Value : null, second is { } b ? take.Notes[b].Offset?.Value : null);
        from ??= second is { } s && take.Notes[s].Onset is { } on ? on.Value - (pace * (plan.Notes[s].Note.StartTime - plan.Notes[0].Note.StartTime).Value) : null;
        to ??= first is { } f && take.Notes[f].Offset is { } off ? off.Value + (pace * (plan.Notes[^1].Note.StartTime + plan.Notes[^1].Note.Duration - plan.Notes[f].Note.StartTime).Value) : null;
        return from is { } x && to is { } y && y > x ? new(x, y) : null;
    }

    // The next note that was found.
    private static int? Neighbour(Take take, int note, int step)
    {
        for (var i = note + step; i >= 0 && i < take.Notes.Length; i += step)
        {
            if (take.Notes[i].Found) return i;
        }

        return null;
    }
}
