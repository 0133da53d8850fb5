using System.Collections.Immutable;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Sound;

/// <summary>How loud each note is to be by the dynamics of the score.</summary>
/// <remarks>Mezzo-forte is the ordinary level; pianissimo lies 12 dB below it and fortissimo 9 above, as the timbre's three dynamics were taken
/// (<see cref="Timbre"/>), the others in even steps between: proposed. Under a hairpin the level goes straight, in dB over played time, to the mark
/// that follows, or by one step where none does, within a note as from note to note. A forte-piano begins at its forte and falls to its piano
/// (<see cref="ForteTime"/>, <see cref="FallTime"/>), each time it is written. A mark under a held note, as over a tie, is reached from there on. Accents with a letter alone (sf, fz) change no level.</remarks>
public static class WrittenDynamics
{
    private const double Softest = -16, Loudest = 13.5, Step = 4, Forte = 4.5;

    /// <summary>So long the forte of a forte-piano lasts: proposed. It and the fall never take more than half of what is left of the note.</summary>
    public static readonly Seconds ForteTime = new(0.15);

    /// <summary>So long it falls, and any mark under a held note takes to be reached: proposed.</summary>
    public static readonly Seconds FallTime = new(0.25);

    // A forte within a held note is reached so soon.
    private static readonly Seconds RiseTime = new(0.04);

    /// <summary>One line for each note of the plan, same order, against an ordinary note; 0 dB before the first mark.</summary>
    public static ImmutableArray<LevelLine> Of(Plan plan)
    {
        var reading = new Reading(plan.Line);
        return [.. plan.Notes.Select((n, i) => reading.Line(n.Note, plan.Notes.AsSpan()[(i + 1)..]))];
    }

    /// <summary>Of a mark such as <c>mf</c>; null for one that says nothing of the level. Of a forte-piano, what it falls to.</summary>
    internal static double? Of(string mark) => mark switch
    {
        "mf" => 0,
        "mp" => -4,
        ['p', ..] when mark.All(c => c == 'p') => Piano(mark.Length),
        ['f', ..] when mark.All(c => c == 'f') => Fortes(mark.Length),
        _ when FortePiano(mark) is var (_, pianos) => Piano(pianos),
        _ => null,
    };

    // fp, ffp, sfp, sfzp, sfpp and their like: first loud, then soft.
    private static (int Fortes, int Pianos)? FortePiano(string mark)
    {
        var body = mark.StartsWith('s') ? mark[1..] : mark;
        var fortes = body.TakeWhile(c => c == 'f').Count();
        var rest = body[fortes..].TrimStart('z');
        return fortes > 0 && rest.Length > 0 && rest.All(c => c == 'p') ? (fortes, rest.Length) : null;
    }

    private static double Piano(int letters) => Math.Max(Softest, -4 - (4 * letters));

    private static double Fortes(int letters) => Math.Min(Loudest, Forte * letters);

    /// <summary>Goes from note to note and knows what is in force.</summary>
    private sealed class Reading(Line line)
    {
        private readonly Dictionary<string, double> inForce = [];
        private string mark = "";
        private double level;
        private int pass = 1, met;
        private (PlayedHairpin Pin, double From, double To)? swelling;

        public LevelLine Line(PlayedNote note, ReadOnlySpan<PlannedNote> later)
        {
            if (swelling is { } over && note.Start >= over.Pin.End) (level, swelling) = (over.To, null);

            // Back on a repeat: what a hairpin left behind is not yet so there.
            var id = note.NoteIds.IsDefaultOrEmpty ? "" : note.NoteIds[0];
            if (note.Pass != pass && inForce.TryGetValue(id, out var then)) (mark, level, swelling) = (note.Dynamic, then, null);
            pass = note.Pass;
            var points = new Points(note, line.Tempo);
            var stated = false;
            for (; met < line.Dynamics.Length && line.Dynamics[met].At <= note.Start; met++) stated = true;
            if (stated || note.Dynamic != mark) Take(note.Dynamic, note.Start, points, stated || line.Dynamics.IsEmpty);
            inForce.TryAdd(id, level);
            foreach (var pin in line.Hairpins.Where(p => p.Start < note.End && note.Start < p.End))
            {
                TakeHeld(note, pin.Start, points);
                Swell(points, note, pin, later);
            }

            TakeHeld(note, note.End, points);
            return points.Line(level);
        }

        // Marks under the note while it is held, as over a tie.
        private void TakeHeld(PlayedNote note, Beats before, Points points)
        {
            for (; met < line.Dynamics.Length && line.Dynamics[met].At is var at && at < note.End && at <= before; met++)
            {
                if (swelling is { } over && at >= over.Pin.End) (level, swelling) = (over.To, null);
                points.Add(at, Seconds.Zero, level);
                Take(line.Dynamics[met].Mark, at, points, true);
                points.Add(at, FallTime, level);
            }
        }

        private void Take(string written, Beats at, Points points, bool stated)
        {
            (mark, level, swelling) = (written, Of(written) ?? level, null);
            if (!stated || FortePiano(written) is not { } accented) return;
            points.Add(at, at > points.Note.Start ? RiseTime : Seconds.Zero, Fortes(accented.Fortes));
            points.Add(at, ForteTime, Fortes(accented.Fortes));
            points.Add(at, ForteTime + FallTime, level);
        }

        private void Swell(Points points, PlayedNote note, PlayedHairpin pin, ReadOnlySpan<PlannedNote> later)
        {
            swelling ??= (pin, level, Target(pin, later));
            var (from, to) = (swelling.Value.From, swelling.Value.To);
            Point(pin.Start > note.Start ? pin.Start : note.Start);
            Point(pin.End < note.End ? pin.End : note.End);
            if (pin.End < note.End) (level, swelling) = (to, null);

            void Point(Beats place) => points.Add(place, Seconds.Zero, from + ((to - from) * Share(pin, place)));
        }

        private double Share(PlayedHairpin pin, Beats place) =>
            Math.Clamp(line.Tempo.Between(pin.Start, place).Value / Math.Max(line.Tempo.Between(pin.Start, pin.End).Value, 1e-9), 0, 1);

        // The mark that stands where the hairpin ends, or at the first note from there on.
        private double Target(PlayedHairpin pin, ReadOnlySpan<PlannedNote> later)
        {
            var next = pin.End;
            foreach (var note in later)
            {
                if (note.Note.Start < pin.End) continue;
                next = note.Note.Start;
                break;
            }

            foreach (var after in line.Dynamics)
            {
                if (after.At >= pin.End && after.At <= next && Of(after.Mark) is { } written && written > level == pin.Rises) return written;
            }

            return pin.Rises ? Math.Min(Loudest, level + Step) : Math.Max(Softest, level - Step);
        }
    }

    /// <summary>The bends of one note's level, times ascending.</summary>
    private sealed class Points(PlayedNote note, TempoMap tempo)
    {
        private readonly ImmutableArray<LevelPoint>.Builder points = ImmutableArray.CreateBuilder<LevelPoint>();

        public PlayedNote Note => note;

        /// <summary>A level so long after a place; sooner where forte and fall would not fit into half of what is left of the note.</summary>
        public void Add(Beats place, Seconds later, double db)
        {
            var at = tempo.Between(note.Start, place).Value;
            var end = Math.Max(at, note.Duration.Value);
            var whole = (ForteTime + FallTime).Value;
            var after = at + Math.Min(later.Value, later.Value / whole * (end - at) / 2);
            if (points.Count > 0) after = Math.Max(after, points[^1].After.Value);
            points.Add(new(new(after), new(db)));
        }

        /// <summary>The line through them; steady where there are none.</summary>
        public LevelLine Line(double level) => points.Count == 0 ? LevelLine.Steady(new(level)) : new(points.ToImmutable());
    }
}
