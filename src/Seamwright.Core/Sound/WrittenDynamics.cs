using System.Collections.Immutable;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Sound;

/// <summary>How loud each note is to be by the dynamics of the score.</summary>
/// <remarks>Mezzo-forte is the ordinary level; pianissimo lies 12 dB below it and fortissimo 9 above, as the timbre's three dynamics were taken
/// (<see cref="Timbre"/>), the others in even steps between: proposed. Under a hairpin the level goes straight, in dB over played time, to the mark
/// that follows, or by one step where none does, within a note as from note to note. A forte-piano begins at its forte and falls to its piano
/// (<see cref="ForteTime"/>, <see cref="FallTime"/>). Accents with a letter alone (sf, fz) change no level.</remarks>
public static class WrittenDynamics
{
    private const double Softest = -16, Loudest = 13.5, Step = 4, Forte = 4.5;

    /// <summary>So long the forte of a forte-piano lasts, never more than a quarter of the note: proposed.</summary>
    public static readonly Seconds ForteTime = new(0.15);

    /// <summary>So long it falls, never more than a quarter of the note: proposed.</summary>
    public static readonly Seconds FallTime = new(0.25);

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
        private int pass = 1;
        private (PlayedHairpin Pin, double From, double To)? swelling;

        public LevelLine Line(PlayedNote note, ReadOnlySpan<PlannedNote> later)
        {
            if (swelling is { } over && note.Start >= over.Pin.End) (level, swelling) = (over.To, null);

            // Back on a repeat: what a hairpin left behind is not yet so there.
            var id = note.NoteIds.IsDefaultOrEmpty ? "" : note.NoteIds[0];
            if (note.Pass != pass && inForce.TryGetValue(id, out var then)) (level, swelling) = (then, null);
            pass = note.Pass;
            var points = ImmutableArray.CreateBuilder<LevelPoint>();
            if (note.Dynamic != mark)
            {
                (mark, level, swelling) = (note.Dynamic, Of(note.Dynamic) ?? level, null);
                if (FortePiano(mark) is { } accented) Accent(points, note, Fortes(accented.Fortes));
            }

            inForce.TryAdd(id, level);
            foreach (var pin in line.Hairpins)
            {
                if (pin.Start < note.End && note.Start < pin.End) Swell(points, note, pin, later);
            }

            return points.Count == 0 ? LevelLine.Steady(new(level)) : new(points.ToImmutable());
        }

        private void Accent(ImmutableArray<LevelPoint>.Builder points, PlayedNote note, double loud)
        {
            var forte = new Seconds(Math.Min(ForteTime.Value, note.Duration.Value / 4));
            var fall = new Seconds(Math.Min(FallTime.Value, note.Duration.Value / 4));
            points.Add(new(forte, new(loud)));
            points.Add(new(forte + fall, new(level)));
        }

        private void Swell(ImmutableArray<LevelPoint>.Builder points, PlayedNote note, PlayedHairpin pin, ReadOnlySpan<PlannedNote> later)
        {
            swelling ??= (pin, level, Target(pin, later));
            var (from, to) = (swelling.Value.From, swelling.Value.To);
            Point(pin.Start > note.Start ? pin.Start : note.Start);
            Point(pin.End < note.End ? pin.End : note.End);
            if (pin.End < note.End) (level, swelling) = (to, null);

            void Point(Beats place)
            {
                var after = line.Tempo.Between(note.Start, place);
                if (points.Count > 0 && points[^1].After > after) after = points[^1].After;
                points.Add(new(after, new(from + ((to - from) * Share(pin, place)))));
            }
        }

        private double Share(PlayedHairpin pin, Beats place) =>
            Math.Clamp(line.Tempo.Between(pin.Start, place).Value / Math.Max(line.Tempo.Between(pin.Start, pin.End).Value, 1e-9), 0, 1);

        private double Target(PlayedHairpin pin, ReadOnlySpan<PlannedNote> later)
        {
            foreach (var next in later)
            {
                if (next.Note.Start < pin.End) continue;
                if (next.Note.Dynamic != mark && Of(next.Note.Dynamic) is { } written && written > level == pin.Rises) return written;
                break;
            }

            return pin.Rises ? Math.Min(Loudest, level + Step) : Math.Max(Softest, level - Step);
        }
    }
}
