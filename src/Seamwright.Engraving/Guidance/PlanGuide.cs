using System.Collections.Immutable;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;

namespace Seamwright.Engraving.Guidance;

/// <summary>A plan, which follows the music as it is played, laid back onto the sheet's own notes.</summary>
internal static class PlanGuide
{
    private const int TouchesShown = 4;

    /// <summary>What to print at each sheet note that has something.</summary>
    public static ImmutableDictionary<string, NoteGuide> Of(Part part, Plan? plan, SheetOptions options)
    {
        if (plan is null) return ImmutableDictionary<string, NoteGuide>.Empty;
        var guides = new Dictionary<string, NoteGuide>(StringComparer.Ordinal);
        if (options.ShowPositions) AddPositions(plan, guides);
        if (options.ShowChanges)
        {
            AddChanges(part, plan, PlainText.Short(options.Syllable, 8), guides);
            AddImagined(part, PlainText.Short(options.Syllable, 8), guides);
        }

        return guides.ToImmutableDictionary(StringComparer.Ordinal);
    }

    private static void AddPositions(Plan plan, Dictionary<string, NoteGuide> guides)
    {
        foreach (var passes in plan.Notes.Where(n => !n.Note.NoteIds.IsDefaultOrEmpty).GroupBy(n => n.Note.NoteIds[0], StringComparer.Ordinal))
        {
            var labels = passes.OrderBy(n => n.Note.Pass).Select(n => PositionPrint.Of(n.Setting)).ToList();
            guides[passes.Key] = NoteGuide.Empty with
            {
                Position = labels[0],
                LaterPositions = [.. labels.Skip(1).Distinct().Where(l => l != labels[0])],
            };
        }
    }

    private static void AddChanges(Part part, Plan plan, string syllable, Dictionary<string, NoteGuide> guides)
    {
        var joined = WithoutSilence(part);
        var touches = 0;
        foreach (var change in FirstPasses(plan))
        {
            var (from, to) = (plan.Notes[change.FromNote].Note.NoteIds[^1], plan.Notes[change.ToNote].Note.NoteIds[0]);
            if (change.Kind == ChangeKind.Breath)
            {
                touches = 0;
                if (joined.Contains((from, to))) guides[from] = At(from) with { BreathAfter = true };
                continue;
            }

            // Many light touches are alike: the first few say how.
            touches = change.Intent == ChangeIntent.TouchedTone ? touches + 1 : 0;
            if (touches > 0) guides[to] = At(to) with { Position = null, LaterPositions = [] };
            if (touches > TouchesShown) continue;
            guides[to] = At(to) with
            {
                Marks = MarksOf(change),
                Syllable = change.Kind == ChangeKind.SoftTongue ? syllable : "",
            };
        }

        foreach (var id in TouchedOnlyLater(plan)) guides[id] = At(id) with { Syllable = $"[{syllable}]" };

        NoteGuide At(string id) => guides.GetValueOrDefault(id) ?? NoteGuide.Empty;
    }

    // What is only imagined is in no plan: the held note itself asks for it.
    private static void AddImagined(Part part, string syllable, Dictionary<string, NoteGuide> guides)
    {
        var held = false;
        foreach (var note in part.Notes.Where(n => n.Grace == Grace.None))
        {
            if (held || note.Asked == ChangeIntent.ImaginedTongue)
                guides[note.Id] = (guides.GetValueOrDefault(note.Id) ?? NoteGuide.Empty) with { Marks = [], Syllable = $"({syllable})", OnEveryBeat = true };
            held = note.TieToNext && (held || note.Asked == ChangeIntent.ImaginedTongue);
        }
    }

    /// <summary>Changes into notes that are met for the first time: of what a repeat does differently only the tongue is printed.</summary>
    private static IEnumerable<NoteChange> FirstPasses(Plan plan)
    {
        var seen = new HashSet<string>(StringComparer.Ordinal);
        return plan.Changes
            .Where(c => IsNote(c.FromNote) && IsNote(c.ToNote))
            .OrderBy(c => plan.Notes[c.ToNote].Note.Pass).ThenBy(c => c.Index)
            .Where(c => plan.Notes[c.ToNote].Note.Pass == 1 && seen.Add(plan.Notes[c.ToNote].Note.NoteIds[0]));

        bool IsNote(int i) => i >= 0 && i < plan.Notes.Length && !plan.Notes[i].Note.NoteIds.IsDefaultOrEmpty;
    }

    // A repeat may be played in other settings; where only then the slide would be heard, the pupil must know.
    private static List<string> TouchedOnlyLater(Plan plan)
    {
        var soft = plan.Changes.Where(c => c.Kind == ChangeKind.SoftTongue && !plan.Notes[c.ToNote].Note.NoteIds.IsDefaultOrEmpty)
            .Select(c => plan.Notes[c.ToNote].Note).ToList();
        var first = soft.Where(n => n.Pass == 1).Select(n => n.NoteIds[0]).ToHashSet(StringComparer.Ordinal);
        return [.. soft.Where(n => n.Pass > 1).Select(n => n.NoteIds[0]).Distinct().Where(id => !first.Contains(id))];
    }

    private static ImmutableArray<SheetMark> MarksOf(NoteChange change)
    {
        SheetMark? kind = change.Kind switch
        {
            ChangeKind.NaturalSlur => SheetMark.NaturalSlur,
            ChangeKind.ValveSlur => SheetMark.ValveSlur,
            ChangeKind.SoftTongue => SheetMark.SoftTongue,
            ChangeKind.Glissando when change.Intent == ChangeIntent.FastSlide => change.PitchMotion == PitchMotion.Down ? SheetMark.FastSlideDown : SheetMark.FastSlideUp,
            ChangeKind.Glissando => change.PitchMotion == PitchMotion.Down ? SheetMark.GlissandoDown : SheetMark.GlissandoUp,
            _ => null,
        };
        IEnumerable<SheetMark> marks = kind is { } k ? [k] : [];
        return [.. change.Plausible ? marks : marks.Append(SheetMark.TooFast)];
    }

    /// <summary>Neighbouring notes with neither a rest nor a printed breath mark between them.</summary>
    private static HashSet<(string From, string To)> WithoutSilence(Part part)
    {
        var events = part.Bars.SelectMany(b => b.Events).ToList();
        var pairs = events.Zip(events.Skip(1), (a, b) => (From: a as Note, To: b as Note));
        return [.. pairs.Where(p => p is { From.BreathAfter: false, To: not null }).Select(p => (p.From!.Id, p.To!.Id))];
    }
}
