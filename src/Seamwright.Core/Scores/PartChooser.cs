using Seamwright.Core.Instruments;
using Seamwright.Core.Units;

namespace Seamwright.Core.Scores;

/// <summary>Picks the one line of a score that is to be played.</summary>
public static class PartChooser
{
    /// <summary>Chooses by id, name or 1-based number, and by voice; without them, the line that fits the instrument best.</summary>
    /// <remarks>Fit is the share of notes the instrument can play, then the number of notes, then the order in the score.
    /// Wherever there was a choice, a <see cref="Severity.Note"/> says what was chosen and why.</remarks>
    /// <param name="score">What was read.</param>
    /// <param name="instrument">Whose range counts.</param>
    /// <param name="partId">Id, name (case does not matter) or number of the part; null for any.</param>
    /// <param name="voice">The voice as its file names it; null for any.</param>
    /// <returns>A part with at least one note, or an error that lists what there is.</returns>
    public static Outcome<Part> Choose(Score score, Instrument instrument, string? partId = null, string? voice = null)
    {
        var named = partId is null ? [.. score.Parts] : Named(score, partId.Trim());
        if (named.Count == 0)
            return Outcome<Part>.Failed("score", $"There is no part '{partId}'.", $"The parts are {List(score.Parts)}.");
        var voiced = voice is null ? named : named.FindAll(p => p.Voice == voice.Trim());
        if (voiced.Count == 0)
            return Outcome<Part>.Failed(named[0].Name, $"There is no voice '{voice}'.", $"Its voices are {string.Join(", ", named.Select(p => p.Voice).Distinct())}.");
        var playable = Playable(instrument);
        var ranked = voiced.Where(p => p.Notes.Any()).Select(p => new Fit(p, p.Notes.Count(), p.Notes.Count(n => playable.Contains(n.Pitch.Midi))))
            .OrderByDescending(f => f.Share).ThenByDescending(f => f.Notes).ToList();
        if (ranked.Count == 0)
            return Outcome<Part>.Failed(named[0].Name, "There are no notes to play.", score.Parts.Any(p => p.Notes.Any()) ? $"Parts with notes are {List(score.Parts.Where(p => p.Notes.Any()))}." : "The whole score holds rests only.");
        return Outcome<Part>.Of(ranked[0].Part, Said(ranked, instrument));
    }

    /// <summary>Of a score's problems, those that do not concern some other part only.</summary>
    /// <param name="problems">What reading the score said.</param>
    /// <param name="score">The score.</param>
    /// <param name="part">The part that is used.</param>
    public static IEnumerable<Problem> About(IEnumerable<Problem> problems, Score score, Part part)
    {
        var others = score.Parts.Select(p => p.Name).Where(n => n != part.Name).Distinct().ToList();
        return problems.Where(p => !others.Exists(n => p.Where == n || p.Where.StartsWith(n + ", ", StringComparison.Ordinal)));
    }

    private sealed record Fit(Part Part, int Notes, int InRange)
    {
        public double Share => InRange / (double)Notes;
    }

    private static List<Part> Named(Score score, string wanted)
    {
        var byId = score.Parts.Where(p => p.Id == wanted).ToList();
        if (byId.Count > 0) return byId;
        var byName = score.Parts.Where(p => string.Equals(p.Name, wanted, StringComparison.OrdinalIgnoreCase)).ToList();
        if (byName.Count > 0) return byName;
        var ids = score.Parts.Select(p => p.Id).Distinct().ToList();
        return int.TryParse(wanted, out var number) && number >= 1 && number <= ids.Count
            ? [.. score.Parts.Where(p => p.Id == ids[number - 1])] : [];
    }

    private static HashSet<int> Playable(Instrument instrument) =>
        [.. Enumerable.Range(0, 128).Where(m => !instrument.SettingsFor(Pitch.FromMidi(m)).IsEmpty)];

    private static List<Problem> Said(List<Fit> ranked, Instrument instrument)
    {
        if (ranked.Count == 1) return [];
        const int Shown = 5;
        var best = ranked[0];
        var others = ranked.Skip(1).Take(Shown).Select(f => $"{Label(f.Part, ranked)} ({f.Share:0 %} of {f.Notes})");
        var more = ranked.Count - 1 > Shown ? $" and {ranked.Count - 1 - Shown} more" : "";
        var what = $"Chose {Label(best.Part, ranked)}: {best.Share:0 %} of its {best.Notes} notes can be played on the {instrument.Name}. "
            + $"The others: {string.Join(", ", others)}{more}.";
        return [new Problem("score", what, "Name another part or voice to play that one.", Severity.Note)];
    }

    private static string Label(Part part, List<Fit> all) =>
        all.Count(f => f.Part.Id == part.Id) > 1 ? $"{part.Name} ({part.Id}), voice {part.Voice}" : $"{part.Name} ({part.Id})";

    private static string List(IEnumerable<Part> parts)
    {
        const int Shown = 20;
        var distinct = parts.DistinctBy(p => p.Id).ToList();
        var more = distinct.Count > Shown ? $" and {distinct.Count - Shown} more" : "";
        return string.Join(", ", distinct.Take(Shown).Select(p => p.Name == p.Id ? p.Id : $"{p.Name} ({p.Id})")) + more;
    }
}
