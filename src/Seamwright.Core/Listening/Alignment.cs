using Seamwright.Core.Planning;

namespace Seamwright.Core.Listening;

/// <summary>Where a planned note lies in the recording, in frames of the rough track.</summary>
/// <param name="From">First frame.</param>
/// <param name="To">Frame after the last.</param>
internal readonly record struct Stretch(int From, int To);

/// <summary>Lays the planned notes along the recording.</summary>
/// <remarks>One cheapest path over (note, boundary) pairs, not greedy: a frame of a note costs by how far its pitch is off, a frame
/// between notes costs if something sounds there, an interval between two beginnings costs by how far it is from the player's
/// tempo, a note may be left out for a fixed price. Costs are in frames of plain mismatch.</remarks>
internal sealed class Alignment
{
    private const double LeaveOut = 16;
    private const double TempoWeight = 14;
    private const double Unexplained = 0.35;
    private const int MostLeftOut = 6;

    private readonly RoughTrack track;
    private readonly Boundary[] places;
    private readonly Plan plan;
    private readonly double hop;
    private readonly double tolerance;
    private readonly Dictionary<int, double[]> noteCosts = [];
    private readonly double[] otherCosts;
    private readonly double[] dipSums;

    private Alignment(RoughTrack track, Plan plan, double hop, double offsetCents, double tolerance)
    {
        this.track = track;
        this.plan = plan;
        this.hop = hop;
        this.tolerance = tolerance;
        places = Boundaries.Find(track);
        foreach (var midi in plan.Notes.Select(n => n.Note.Pitch.Midi).Distinct())
            noteCosts[midi] = Sums(i => NoteFrame(i, midi, offsetCents));
        otherCosts = Sums(OtherFrame);
        dipSums = new double[places.Length + 1];
        for (var b = 0; b < places.Length; b++)
            dipSums[b + 1] = dipSums[b] + Math.Max(0, Math.Min(12, places[b].DipDb) - 1);
    }

    /// <summary>One entry for each note: null where it was not found.</summary>
    public static Stretch?[] Of(RoughTrack track, Plan plan, double hop, double offsetCents, double tolerance)
    {
        var alignment = new Alignment(track, plan, hop, offsetCents, tolerance);
        var ratio = alignment.FirstGuess();
        Stretch?[] found = [];
        for (var pass = 0; pass < 3; pass++)
        {
            found = alignment.Cheapest(ratio);
            var again = alignment.RatioOf(found) ?? ratio;
            if (Math.Abs(Math.Log(again / ratio)) < 0.03) break;
            ratio = again;
        }

        for (var i = 0; i < found.Length; i++)
        {
            if (found[i] is { } s && !alignment.Sounds(s, i, offsetCents)) found[i] = null;
        }

        return found;
    }

    /// <summary>Seconds of the take to a second of the plan, from the notes found; null below three.</summary>
    public static double? Ratio(IReadOnlyList<(double Planned, double Heard)> onsets)
    {
        if (onsets.Count < 2) return null;
        var ratios = new List<double>();
        for (var i = 0; i < onsets.Count; i++)
        {
            for (var k = i + 1; k < Math.Min(onsets.Count, i + 9); k++)
            {
                var planned = onsets[k].Planned - onsets[i].Planned;
                if (planned > 0) ratios.Add((onsets[k].Heard - onsets[i].Heard) / planned);
            }
        }

        ratios.Sort();
        return ratios.Count == 0 ? null : ratios[ratios.Count / 2];
    }

    private double FirstGuess()
    {
        var first = Array.FindIndex(track.Hz, h => h > 0);
        var last = Array.FindLastIndex(track.Hz, h => h > 0);
        var planned = plan.Notes[^1].Note.EndTime.Value - plan.Notes[0].Note.StartTime.Value;
        if (first < 0 || planned <= 0) return 1;
        return Math.Clamp((last - first + 1) * hop / planned, 0.7, 1.45);
    }

    private double? RatioOf(Stretch?[] found)
    {
        var onsets = new List<(double, double)>();
        for (var i = 0; i < found.Length; i++)
        {
            if (found[i] is { } s) onsets.Add((plan.Notes[i].Note.StartTime.Value, s.From * hop));
        }

        return Ratio(onsets);
    }

    private bool Sounds(Stretch s, int note, double offset)
    {
        var wanted = Octaves(plan.Notes[note].Note.Pitch.Midi, offset);
        var right = 0;
        for (var i = s.From; i < s.To; i++)
        {
            if (PitchCost(i, wanted) < 0.9) right++;
        }

        return right * 2 >= s.To - s.From && right * hop >= 0.03;
    }

    private double[] Sums(Func<int, double> cost)
    {
        var sums = new double[track.Count + 1];
        for (var i = 0; i < track.Count; i++) sums[i + 1] = sums[i] + cost(i);
        return sums;
    }

    private double NoteFrame(int i, int midi, double offset)
    {
        if (track.Silent[i]) return 0.7;
        return track.Hz[i] <= 0 ? 0.4 : PitchCost(i, Octaves(midi, offset));
    }

    private double OtherFrame(int i)
    {
        if (track.Silent[i]) return 0.02;
        return track.Hz[i] <= 0 ? 0.3 : 0.8;
    }

    private static double Octaves(int midi, double offset) => Math.Log2(440) + ((midi - 69 + (offset / 100)) / 12);

    private double PitchCost(int i, double wanted)
    {
        var cost = ByDistance(1200 * Math.Abs(Math.Log2(Math.Max(track.Hz[i], 1)) - wanted));
        if (cost < 1) return cost;
        foreach (var c in track.At(i))
        {
            // The path may have taken an octave or a twelfth; the note itself must then be nearly as strong.
            if (c.Strength >= 0.9f * track.Strength[i] && ByDistance(1200 * Math.Abs(Math.Log2(c.Hz) - wanted)) < 0.5) return 0.6;
        }

        return cost;
    }

    private double ByDistance(double cents) => cents <= tolerance ? 0.3 * cents / tolerance : Math.Min(2, 0.3 + ((cents - tolerance) / 30));

    private Stretch?[] Cheapest(double ratio)
    {
        var (notes, count) = (plan.Notes.Length, places.Length);
        var cost = new double[notes, count];
        var from = new (int Note, int Place, int End)[notes, count];
        var last = (Cost: notes * LeaveOut + otherCosts[^1], Note: -1, Place: -1, End: -1);
        for (var i = 0; i < notes; i++)
        {
            for (var b = 0; b < count; b++)
            {
                cost[i, b] = i <= MostLeftOut ? (i * LeaveOut) + otherCosts[places[b].Frame] : double.PositiveInfinity;
                from[i, b] = (-1, -1, -1);
            }
        }

        for (var i = 0; i < notes; i++)
        {
            for (var b = 0; b < count - 1; b++)
            {
                if (double.IsPositiveInfinity(cost[i, b])) continue;
                Spread(i, b, ratio, cost, from, ref last);
            }
        }

        return Back(from, last, notes);
    }

    private void Spread(int i, int b, double ratio, double[,] cost, (int, int, int)[,] from, ref (double Cost, int Note, int Place, int End) last)
    {
        var note = plan.Notes[i].Note;
        var mine = noteCosts[note.Pitch.Midi];
        var longest = places[b].Frame + (int)(Math.Max(8 * note.Duration.Value * ratio, 3) / hop);
        var (bestEnd, bestCost) = (-1, double.PositiveInfinity);
        for (var c = b + 1; c < places.Length && places[c].Frame <= longest; c++)
        {
            // Whatever lies between the note's end and the next beginning belongs to neither.
            var own = cost[i, b] + mine[places[c].Frame] - mine[places[b].Frame] + (Unexplained * (dipSums[c] - dipSums[b + 1]))
                + Lasts(note.Duration.Value * ratio, (places[c].Frame - places[b].Frame) * hop) - otherCosts[places[c].Frame];
            if (own < bestCost) (bestEnd, bestCost) = (c, own);
            var here = bestCost + otherCosts[places[c].Frame];
            Reach(i, b, c, bestEnd, here, ratio, cost, from);
            var rest = own + otherCosts[^1] + ((plan.Notes.Length - 1 - i) * LeaveOut);
            if (rest < last.Cost) last = (rest, i, b, c);
        }
    }

    private void Reach(int i, int b, int c, int end, double here, double ratio, double[,] cost, (int, int, int)[,] from)
    {
        for (var k = i + 1; k < Math.Min(plan.Notes.Length, i + 2 + MostLeftOut); k++)
        {
            var between = (plan.Notes[k].Note.StartTime.Value - plan.Notes[i].Note.StartTime.Value) * ratio;
            var total = here + ((k - i - 1) * LeaveOut) + Begins(i, k, places[c], end == c)
                + Square(Math.Log((places[c].Frame - places[b].Frame) * hop / Math.Max(between, 0.01)), TempoWeight);
            if (total >= cost[k, c]) continue;
            cost[k, c] = total;
            from[k, c] = (i, b, end);
        }
    }

    // A note that fills less than a third of its time, or more than all of it, is suspicious; staccato is not.
    private static double Lasts(double expected, double heard)
    {
        var ratio = heard / Math.Max(expected, 0.01);
        return ratio switch
        {
            < 0.3 => Square(Math.Log(ratio / 0.3), 10),
            > 1.4 => Square(Math.Log(ratio / 1.4), 4),
            _ => 0,
        };
    }

    private double Begins(int i, int k, Boundary place, bool joined)
    {
        if (!joined) return 0;
        var same = plan.Notes[i].Note.Pitch.Midi == plan.Notes[k].Note.Pitch.Midi;
        return same ? Math.Max(0, 8 - (2.5 * place.DipDb)) : place.PitchMoves ? 0 : 2;
    }

    private static double Square(double x, double weight) => weight * x * x;

    private Stretch?[] Back((int Note, int Place, int End)[,] from, (double Cost, int Note, int Place, int End) last, int notes)
    {
        var found = new Stretch?[notes];
        var (note, place, end) = (last.Note, last.Place, last.End);
        while (note >= 0)
        {
            found[note] = new(places[place].Frame, places[end].Frame);
            (note, place, end) = from[note, place];
        }

        return found;
    }
}
