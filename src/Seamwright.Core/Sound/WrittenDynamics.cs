using System.Collections.Immutable;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Sound;

/// <summary>How loud each note is to be by the dynamics of the score.</summary>
/// <remarks>Mezzo-forte is the ordinary level; pianissimo lies 12 dB below it and fortissimo 9 above, as the timbre's three dynamics were taken
/// (<see cref="Timbre"/>), the others in even steps between: proposed. Under a hairpin each note has the level of its own middle, on a
/// straight line to the mark that follows, or by one step where none does. Accents with a letter (sf, fz) change no level.</remarks>
public static class WrittenDynamics
{
    private const double Softest = -16, Loudest = 13.5, Step = 4;

    /// <summary>One for each note of the plan, same order, dB against an ordinary note; 0 before the first mark.</summary>
    public static ImmutableArray<Decibels> Of(Plan plan)
    {
        var reading = new Reading(plan.Line.Hairpins);
        return [.. plan.Notes.Select((n, i) => new Decibels(reading.Level(n.Note, plan.Notes.AsSpan()[(i + 1)..])))];
    }

    /// <summary>Of a mark such as <c>mf</c>; null for one that says nothing of the level.</summary>
    internal static double? Of(string mark) => mark switch
    {
        "mf" => 0,
        "mp" => -4,
        "fp" => -8,
        ['p', ..] when mark.All(c => c == 'p') => Math.Max(Softest, -4 - (4 * mark.Length)),
        ['f', ..] when mark.All(c => c == 'f') => Math.Min(Loudest, 4.5 * mark.Length),
        _ => null,
    };

    /// <summary>Goes from note to note and knows what is in force.</summary>
    private sealed class Reading(ImmutableArray<PlayedHairpin> hairpins)
    {
        private readonly Dictionary<string, double> inForce = [];
        private string mark = "";
        private double level;
        private int pass = 1;
        private (PlayedHairpin Pin, double From, double To)? swelling;

        public double Level(PlayedNote note, ReadOnlySpan<PlannedNote> later)
        {
            if (swelling is { } over && note.Start >= over.Pin.End) (level, swelling) = (over.To, null);

            // Back on a repeat: what a hairpin left behind is not yet so there.
            var id = note.NoteIds.IsDefaultOrEmpty ? "" : note.NoteIds[0];
            if (note.Pass != pass && inForce.TryGetValue(id, out var then)) (level, swelling) = (then, null);
            pass = note.Pass;
            if (note.Dynamic != mark) (mark, level, swelling) = (note.Dynamic, Of(note.Dynamic) ?? level, null);
            inForce.TryAdd(id, level);
            if (hairpins.LastOrDefault(h => h.Start <= note.Start && note.Start < h.End) is not { } pin) return level;
            swelling ??= (pin, level, Target(pin, later));
            var middle = (note.Start + (note.Length / 2) - pin.Start).ToDouble() / (pin.End - pin.Start).ToDouble();
            return swelling.Value.From + ((swelling.Value.To - swelling.Value.From) * Math.Min(1, middle));
        }

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
