namespace Seamwright.Core.Scores.Assembling;

/// <summary>Takes back ties that lead to no note of the same pitch.</summary>
internal static class Ties
{
    public static void Check(List<Bar> bars, RawPart part, ProblemLog log)
    {
        ScoreEvent? after = null;
        for (var b = bars.Count - 1; b >= 0; b--)
        {
            var builder = bars[b].Events.ToBuilder();
            for (var i = builder.Count - 1; i >= 0; i--)
            {
                if (builder[i] is Note { TieToNext: true } note && !Leads(note, after))
                {
                    builder[i] = note with { TieToNext = false };
                    log.Note(Places.Of(part.Name, part.Bars[b], note.Offset), "A tie leads to no note of the same pitch and is left out.");
                }

                after = builder[i];
            }

            bars[b] = bars[b] with { Events = builder.ToImmutable() };
        }
    }

    private static bool Leads(Note note, ScoreEvent? after) => after is Note { Grace: Grace.None } next && next.Pitch == note.Pitch && note.Grace == Grace.None;
}
