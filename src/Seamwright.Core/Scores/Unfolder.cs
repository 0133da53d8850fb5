using Seamwright.Core.Units;

namespace Seamwright.Core.Scores;

/// <summary>From the sheet to one line as it is played.</summary>
/// <remarks><para>Repeats, endings and jumps as <see cref="Road"/> says.</para>
/// <para>Ties are joined where the notes follow one another in playing as they do on the sheet, and into a later ending; a tie
/// that a repeat cuts ends there.</para>
/// <para>Grace notes: a single one without a stroke is long and falls on the beat: it takes its written value, at most half of its
/// main note (common practice, after C. P. E. Bach's rule). Slashed ones and groups are quick and come before the beat: each takes
/// its written value, at most <see cref="UnfoldSettings.QuickGrace"/>, together at most half of the note or rest before; at the
/// very beginning they take it from their main note.</para>
/// <para>A fermata adds <see cref="UnfoldSettings.FermataShare"/> of the note's time at its end.</para>
/// <para>Tempo and dynamics follow the played order; going back restores what the sheet has in force there. A tempo that is asked
/// for becomes the first one and scales all later ones with it.</para></remarks>
public static class Unfolder
{
    /// <summary>Plays a part.</summary>
    /// <param name="part">As it stands on the sheet.</param>
    /// <param name="title">The line's title.</param>
    /// <param name="quartersPerMinute">The first tempo, 1 to 1000; null for the sheet's own.</param>
    /// <param name="settings">Null for <see cref="UnfoldSettings.Default"/>.</param>
    /// <returns>A line of at least one note, or an error.</returns>
    public static Outcome<Line> Play(Part part, string title, double? quartersPerMinute = null, UnfoldSettings? settings = null)
    {
        var used = settings ?? UnfoldSettings.Default;
        var problems = used.Validate().ToList();
        if (quartersPerMinute is not (null or (>= 1 and <= 1000)))
            problems.Add(new Problem("tempo", $"{quartersPerMinute} quarter notes a minute cannot be played.", "Give 1 to 1000.", Severity.Error));
        if (!part.Notes.Any())
            problems.Add(new Problem(part.Name, "There are no notes to play.", "Choose another part.", Severity.Error));
        if (problems.Count > 0) return Outcome<Line>.Failed(problems);

        var road = Road.Walk(part, used.MostBars);
        problems.AddRange(road.Problems.Distinct());
        var passage = PlayedPassage.Along(part, road.Steps);
        if (passage.Notes.Count == 0)
            return Outcome<Line>.Failed([.. problems, new Problem(part.Name, "The way through the repeats meets no note.", "Check the repeat signs and jumps.", Severity.Error)]);
        GraceNotes.GiveTime(passage.Notes, used.QuickGrace);
        passage.Notes.RemoveAll(n => n.Length <= Beats.Zero);
        var tempo = PlayedTempo.Of(passage, quartersPerMinute, used, part.Name, problems);
        return Outcome<Line>.Of(
            new Line { Title = title, Notes = [.. passage.Notes.Select((n, i) => Finished(n, i, tempo))], Tempo = tempo, Bars = [.. passage.Bars], Chords = [.. passage.Chords], Hairpins = [.. passage.Hairpins], Dynamics = [.. passage.Dynamics] }, problems);
    }

    private static PlayedNote Finished(SoundingNote n, int index, TempoMap tempo)
    {
        var start = tempo.At(n.Start);
        return new PlayedNote
        {
            Index = index,
            NoteIds = [.. n.Ids],
            Bar = n.Bar,
            Beat = n.Beat,
            Pass = n.Pass,
            Pitch = n.First.Pitch,
            Start = n.Start,
            Length = n.Length,
            StartTime = start,
            Duration = tempo.At(n.Start + n.Length) - start,
            Articulations = n.First.Articulations,
            SlurredToNext = n.Slurred,
            GlissandoToNext = n.Glissando,
            BreathAfter = n.BreathAfter,
            Dynamic = n.Dynamic,
            IsGrace = n.IsGrace,
            Asked = n.First.Asked,
            Setting = n.First.Setting,
        };
    }
}
