using System.Collections.Immutable;
using Seamwright.Core.Instruments;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Planning;

/// <summary>The settings each note may use: what the instrument offers, the player reaches, and bans and locks leave.</summary>
internal static class Candidates
{
    /// <summary>One list for each note, empty where the note cannot be played; adds a problem for each of those and for each lock in vain.</summary>
    public static ImmutableArray<ImmutableArray<SlideSetting>> For(Line line, Instrument instrument, PlanSettings wish, List<Problem> problems)
    {
        problems.AddRange(wish.Bans.Where(p => p.Side is not null and not "*" && !p.Exists(instrument)).Distinct()
            .Select(p => new Problem($"'{p}'", $"{instrument.Id} has no such valve.", Valves(instrument), Severity.Error)));
        var byPitch = new Dictionary<int, ImmutableArray<SlideSetting>>();
        var locks = LocksByNote(line, instrument, wish, problems);
        var lists = ImmutableArray.CreateBuilder<ImmutableArray<SlideSetting>>(line.Notes.Length);
        foreach (var note in line.Notes)
        {
            var list = locks.TryGetValue(note.Index, out var pattern) ? Locked(note, pattern) : Allowed(note);
            lists.Add(list);
        }

        return lists.MoveToImmutable();

        ImmutableArray<SlideSetting> Allowed(PlayedNote note)
        {
            if (!byPitch.TryGetValue(note.Pitch.Midi, out var list))
            {
                list = byPitch[note.Pitch.Midi] = [.. Reachable(instrument, wish.Player, note.Pitch).Where(s => !wish.Bans.Any(b => b.Matches(s)))];
            }

            if (list.IsEmpty) problems.Add(Unreachable(note, instrument, wish));
            return list;
        }

        ImmutableArray<SlideSetting> Locked(PlayedNote note, SettingPattern pattern)
        {
            var all = instrument.SettingsFor(note.Pitch);
            ImmutableArray<SlideSetting> list = [.. all.Where(pattern.Matches)];
            if (list.IsEmpty) problems.Add(LockInVain(note, pattern, instrument, all));
            return list;
        }
    }

    private static string Valves(Instrument instrument) => instrument.Sides.Length == 1
        ? "It has none."
        : $"It has: {string.Join(", ", instrument.Sides.Skip(1).Select(s => s.Label))}.";

    // A quarter of a position beyond the named one still counts as it: who reaches sixth reaches a flat sixth.
    /// <summary>Settings of a pitch that a player's arm and rules allow.</summary>
    internal static IEnumerable<SlideSetting> Reachable(Instrument instrument, Player player, Pitch pitch) =>
        instrument.SettingsFor(pitch)
            .Where(s => player.ValvesAllowed || s.Valves.IsEmpty)
            .Where(s => player.FurthestPosition is not { } furthest || s.Position <= furthest + 0.25);

    private static Dictionary<int, SettingPattern> LocksByNote(Line line, Instrument instrument, PlanSettings wish, List<Problem> problems)
    {
        var byNote = new Dictionary<int, SettingPattern>();
        var locked = new HashSet<int>();
        var others = 0;
        foreach (var note in line.Notes.Where(n => n.Setting.Length > 0))
        {
            if (SettingPattern.TryParse(note.Setting, out var pattern) && Reachable(instrument, wish.Player, note.Pitch).Any(pattern.Matches)) byNote[note.Index] = pattern;
            else others++;
        }

        if (others > 0) problems.Add(new Problem("the part", $"prescribes {others} slide settings that {instrument.Id} or this player does not have.", "They are chosen anew; name the instrument the exercise was made for to keep them."));
        foreach (var l in wish.Locks)
        {
            if (l.NoteIndex < 0 || l.NoteIndex >= line.Notes.Length)
                problems.Add(new Problem($"lock {l.NoteIndex}={l.Pattern}", $"there is no note {l.NoteIndex}.", $"Notes are numbered 0 to {line.Notes.Length - 1} in played order.", Severity.Error));
            else if (!locked.Add(l.NoteIndex))
                problems.Add(new Problem($"lock {l.NoteIndex}={l.Pattern}", "the note is locked twice.", "Keep one lock a note.", Severity.Error));
            else byNote[l.NoteIndex] = l.Pattern;
        }

        return byNote;
    }

    private static Problem LockInVain(PlayedNote note, SettingPattern pattern, Instrument instrument, ImmutableArray<SlideSetting> all)
    {
        var offers = all.IsEmpty ? "It has no setting at all." : $"It has: {string.Join(", ", all.Select(s => $"{s.Label} (partial {s.Partial})"))}.";
        return new Problem($"bar {note.Bar}, beat {note.Beat.ToDouble():0.##}", $"note {note.Index}, {note.Pitch}, cannot be played as {pattern} on {instrument.Id}.", offers, Severity.Error);
    }

    private static Problem Unreachable(PlayedNote note, Instrument instrument, PlanSettings wish)
    {
        var where = $"bar {note.Bar}, beat {note.Beat.ToDouble():0.##}";
        var all = instrument.SettingsFor(note.Pitch);
        if (!all.IsEmpty)
            return new Problem(where, $"{note.Pitch} needs {string.Join(" or ", all.Select(s => s.Label))}, which this player may not use.", "Allow a further position or a valve, or leave the note out.");
        var (low, high) = instrument.Range();
        return new Problem(where, $"{note.Pitch} cannot be played on {instrument.Id} (it reaches {low} to {high}{(note.Pitch < high && note.Pitch > low ? ", with gaps" : "")}).", "Choose another instrument or octave.");
    }
}
