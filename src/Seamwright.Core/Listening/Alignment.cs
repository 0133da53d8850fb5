using Seamwright.Core.Planning;

namespace Seamwright.Core.Listening;

/// <summary>Where a planned note lies in the recording, in frames of the rough track.</summary>
/// <param name="From">First frame.</param>
/// <param name="To">Frame after the last.</param>
internal readonly record struct Stretch(int From, int To);

/// <summary>Lays the notes of one pass along its part of the recording.</summary>
/// <remarks>One cheapest path over (note, boundary) pairs near the pass's anchors, not greedy: a frame of a note costs by how far its
/// pitch is off, a frame between notes costs if something sounds there, an interval between two beginnings costs by how far it is
/// from the player's tempo there, a note may be left out for a fixed price. Costs are in frames of plain mismatch. The band around the
/// anchors makes it linear in the pass.</remarks>
internal sealed class Alignment
{
    private const double LeaveOut = 16;
    private const double TempoWeight = 14;
    private const double MostTempo = 12;
    private const double Unexplained = 0.35;
    private const int MostLeftOut = 6;
    private const double Found = 0.9;
    private const double ShortestFound = 0.03;
    private const double LongestHeld = 15;
    private const double Jump = 10;
    private const double JumpWithin = 0.08;

    private readonly Sounding sound;
    private readonly Plan plan;
    private readonly Pass pass;
    private readonly PassBand band;
    private readonly Boundary[] places;
    private readonly double tolerance;
    private readonly Dictionary<int, double[]> noteCosts = [];
    private readonly double[] otherCosts;
    private readonly double[] dipSums;
    private TempoCurve tempo;

    private Alignment(Sounding sound, Plan plan, Pass pass, PassBand band, Boundary[] places, double tolerance)
    {
        (this.sound, this.plan, this.pass, this.band, this.places, this.tolerance) = (sound, plan, pass, band, places, tolerance);
        tempo = band.Tempo;
        for (var i = band.FirstNote; i <= band.LastNote; i++)
        {
            var midi = plan.Notes[i].Note.Pitch.Midi;
            if (!noteCosts.ContainsKey(midi)) noteCosts[midi] = Sums(f => NoteFrame(f, midi + pass.Key.Semitones));
        }

        otherCosts = Sums(OtherFrame);
        dipSums = new double[places.Length + 1];
        for (var b = 0; b < places.Length; b++)
            dipSums[b + 1] = dipSums[b] + Math.Max(0, Math.Min(12, places[b].DipDb) - 1);
    }

    /// <summary>Steps weighed so far: what the search costs, whatever the machine.</summary>
    public long Steps { get; private set; }

    /// <summary>One entry for each note of the plan: null where it was not found.</summary>
    /// <param name="sound">The recording.</param>
    /// <param name="plan">The part.</param>
    /// <param name="pass">What is to be refined.</param>
    /// <param name="band">Where its notes may lie.</param>
    /// <param name="places">Boundaries within the band's region, its ends included.</param>
    /// <param name="tolerance">Cents a note may be off.</param>
    /// <param name="steps">Steps weighed.</param>
    public static Stretch?[] Of(Sounding sound, Plan plan, Pass pass, PassBand band, Boundary[] places, double tolerance, out long steps)
    {
        var alignment = new Alignment(sound, plan, pass, band, places, tolerance);
        var found = alignment.Cheapest();
        if (found.Count(f => f is not null) > 1)
        {
            alignment.tempo = new(plan, Onsets(found, sound.Hop), band.Tempo.At(pass.First));
            found = alignment.Cheapest();
        }

        for (var i = 0; i < found.Length; i++)
        {
            if (found[i] is not { } s) continue;
            s = alignment.Trimmed(s);
            found[i] = alignment.Sounds(s, i) ? s : null;
        }

        steps = alignment.Steps;
        return found;
    }

    /// <summary>Seconds of the take to a second of the plan, from the notes found; null below two.</summary>
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

    /// <summary>The notes found and the seconds at which they begin.</summary>
    public static List<(int Note, double Time)> Onsets(Stretch?[] found, double hop) =>
        [.. Enumerable.Range(0, found.Length).Where(i => found[i] is not null).Select(i => (i, found[i]!.Value.From * hop))];

    private bool Sounds(Stretch s, int note)
    {
        var right = 0;
        for (var i = s.From; i < s.To; i++)
        {
            if (PitchCost(i, plan.Notes[note].Note.Pitch.Midi + pass.Key.Semitones) < Found) right++;
        }

        return right * 2 >= s.To - s.From && right * sound.Hop >= ShortestFound;
    }

    // The same pitch may have sounded far more softly before the note, or go on so after it: a jump in level parts them.
    private Stretch Trimmed(Stretch s)
    {
        var levels = sound.Db.AsSpan(s.From, s.To - s.From).ToArray();
        Array.Sort(levels);
        var soft = levels[(int)(0.9 * (levels.Length - 1))] - Jump;
        var (from, to) = (s.From, s.To);
        while (from < to - 1 && sound.Db[from] < soft) from++;
        while (to > from + 1 && sound.Db[to - 1] < soft) to--;
        return new(Jumps(from, -1, s.From) ? from : s.From, Jumps(to - 1, 1, s.To - 1) ? to : s.To);
    }

    private bool Jumps(int inside, int outward, int end)
    {
        var reach = sound.Frames(JumpWithin);
        if (Math.Abs(end - inside) <= reach) return false;
        return sound.Db[inside - (outward * reach / 2)] - sound.Db[inside + (outward * reach / 2)] >= Jump;
    }

    // Over the region's frames: sums[place − From].
    private double[] Sums(Func<int, double> cost)
    {
        var sums = new double[band.To - band.From + 1];
        for (var i = band.From; i < band.To; i++) sums[i - band.From + 1] = sums[i - band.From] + cost(i);
        return sums;
    }

    private double Other(int place) => otherCosts[places[place].Frame - band.From];

    private double NoteFrame(int i, double wanted)
    {
        if (sound.Silent[i]) return 0.7;
        return float.IsNaN(sound.Pitch[i]) ? 0.4 : PitchCost(i, wanted);
    }

    private double OtherFrame(int i)
    {
        if (sound.Silent[i]) return 0.02;
        return float.IsNaN(sound.Pitch[i]) ? 0.3 : 0.8;
    }

    private double PitchCost(int i, double wanted)
    {
        var cost = float.IsNaN(sound.Pitch[i]) ? 2 : ByDistance(100 * Math.Abs(sound.Pitch[i] - wanted));

        // The path may have taken an octave or a twelfth.
        return cost >= 1 && sound.AlsoSounds(i, wanted) ? 0.6 : cost;
    }

    private double ByDistance(double cents) => cents <= tolerance ? 0.3 * cents / tolerance : Math.Min(2, 0.3 + ((cents - tolerance) / 30));

    // A cell for each note and each place in its window.
    private struct Cell
    {
        public double Cost;
        public int Note;
        public int Place;
        public int End;
    }

    private Stretch?[] Cheapest()
    {
        var rows = new Cell[band.LastNote - band.FirstNote + 1][];
        var last = new Cell { Cost = double.PositiveInfinity, Note = -1 };
        for (var i = band.FirstNote; i <= band.LastNote; i++) rows[i - band.FirstNote] = FirstCells(i);
        for (var i = band.FirstNote; i <= band.LastNote; i++)
        {
            var (from, to) = band.Window(i);
            for (var b = from; b < Math.Min(to, places.Length - 1); b++)
            {
                if (!double.IsPositiveInfinity(rows[i - band.FirstNote][b - from].Cost)) Spread(i, b, rows, ref last);
            }
        }

        return Back(rows, last);
    }

    private Cell[] FirstCells(int i)
    {
        var (from, to) = band.Window(i);
        var cells = new Cell[Math.Max(0, to - from)];
        var missed = LeftOut(band.FirstNote - 1, i);
        for (var b = from; b < to; b++)
            cells[b - from] = new() { Cost = missed <= MostLeftOut ? (missed * LeaveOut) + Other(b) : double.PositiveInfinity, Note = -1 };
        return cells;
    }

    // Notes strictly between two, of those the pass was seen to reach: the others may be missing for nothing.
    private int LeftOut(int a, int b) => Math.Max(0, Math.Min(b, pass.Last + 1) - Math.Max(a + 1, pass.First));

    private void Spread(int i, int b, Cell[][] rows, ref Cell last)
    {
        var mine = noteCosts[plan.Notes[i].Note.Pitch.Midi];
        var (cost, start) = (rows[i - band.FirstNote][b - band.Window(i).From].Cost, places[b].Frame);
        var longest = Math.Min(start + sound.Frames(Math.Max(8 * tempo.Lasting(i), LongestHeld)), places[Math.Min(band.LatestEnd(i), places.Length - 1)].Frame);
        var (bestEnd, bestCost) = (-1, double.PositiveInfinity);
        for (var c = b + 1; c < places.Length && places[c].Frame <= longest; c++)
        {
            // Whatever lies between the note's end and the next beginning belongs to neither.
            var own = cost + mine[places[c].Frame - band.From] - mine[start - band.From] + (Unexplained * (dipSums[c] - dipSums[b + 1]))
                + Lasts(tempo.Lasting(i), (places[c].Frame - start) * sound.Hop) - Other(c);
            if (own < bestCost) (bestEnd, bestCost) = (c, own);
            Reach(i, b, c, bestEnd, bestCost + Other(c), rows);
            var rest = own + otherCosts[^1] + (LeftOut(i, band.LastNote + 1) * LeaveOut);
            if (rest < last.Cost) last = new() { Cost = rest, Note = i, Place = b, End = c };
        }
    }

    private void Reach(int i, int b, int c, int end, double here, Cell[][] rows)
    {
        for (var k = i + 1; k <= Math.Min(band.LastNote, i + 1 + MostLeftOut); k++)
        {
            Steps++;
            var (from, to) = band.Window(k);
            if (c < from) break;
            if (c >= to) continue;
            var total = here + (LeftOut(i, k) * LeaveOut) + Begins(i, k, places[c], end == c)
                + Math.Min(MostTempo, Square(Math.Log((places[c].Frame - places[b].Frame) * sound.Hop / Math.Max(tempo.Between(i, k), 0.01)), TempoWeight));
            ref var cell = ref rows[k - band.FirstNote][c - from];
            if (total < cell.Cost) cell = new() { Cost = total, Note = i, Place = b, End = end };
        }
    }

    // A note that fills less than a third of its time, or more than all of it, is suspicious; staccato is not.
    private static double Lasts(double expected, double heard)
    {
        var ratio = heard / Math.Max(expected, 0.01);
        return ratio switch
        {
            < 0.3 => Square(Math.Log(ratio / 0.3), 10),
            > 1.4 => Math.Min(MostTempo, Square(Math.Log(ratio / 1.4), 4)),
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

    private Stretch?[] Back(Cell[][] rows, Cell last)
    {
        var found = new Stretch?[plan.Notes.Length];
        var (note, place, end) = (last.Note, last.Place, last.End);
        while (note >= 0)
        {
            found[note] = new(places[place].Frame, places[end].Frame);
            var cell = rows[note - band.FirstNote][place - band.Window(note).From];
            (note, place, end) = (cell.Note, cell.Place, cell.End);
        }

        return found;
    }
}
