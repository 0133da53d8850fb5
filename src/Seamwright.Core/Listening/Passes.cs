using Seamwright.Core.Planning;

namespace Seamwright.Core.Listening;

/// <summary>A planned note tied to a stretch of the recording.</summary>
/// <param name="Note">Index in the plan.</param>
/// <param name="From">First frame.</param>
/// <param name="To">Frame after the last.</param>
internal readonly record struct Anchor(int Note, int From, int To);

/// <summary>One pass at the line as the tones show it: rough, to be refined.</summary>
/// <param name="Key">How it is played against what is written.</param>
/// <param name="Anchors">In order of time and of the line, at least one.</param>
internal sealed record Pass(Key Key, IReadOnlyList<Anchor> Anchors)
{
    public int First => Anchors[0].Note;

    public int Last => Anchors[^1].Note;

    public int Start => Anchors[0].From;

    public int End => Anchors[^1].To;
}

/// <summary>Explains a recording's tones by passes at the line, each from any note on, in one of a few keys, and by nothing.</summary>
/// <remarks>One cheapest path, linear in the recording: after each tone the player stands at a note of the line in a key, or outside
/// it. A tone may carry on the note, be the next one or one further on, be a wrong or an added one, or begin the line anew: cheapest
/// from its beginning, be it with a wrong note, then from a bar's, dearest from anywhere. Each state keeps the tempo of its own path, so that drift and rubato
/// cost little and leaps much (greedy in the tempo, as score followers are). A full tone left unexplained costs <see cref="Outside"/>;
/// all other prices are set against that one and are proposed defaults.</remarks>
internal sealed class PassFinder
{
    private const double Outside = 6;
    private const double Added = 7.2;
    private const double Wrong = 2;
    private const double FirstLeftOut = 6;
    private const double NextLeftOut = 3;
    private const double Merged = 1.5;
    private const int MostLeftOut = 6;
    private const double FromTheTop = 4;
    private const double FromABar = 10;
    private const double FromAnywhere = 15;
    private const double LeastBegin = 2;
    private const double AfterABreath = -2;
    private const double Breath = 0.4;
    private const double AfterAPause = -5;
    private const double Pause = 1.5;
    private const double BackToTheNote = 6;
    private const double Ahead = 8;
    private const double Transposed = 5;
    private const double OtherOctave = 3;
    private const double PitchWeight = 1.5;
    private const double PitchEdge = 0.15;
    private const double TempoWeight = 4;
    private const double FirstTempoWeight = 1.5;
    private const double MostTempo = 6;
    private const double Follow = 0.4;
    private const double LongWait = 3;
    private const float WholeTone = 0.5f;

    private const byte None = 0, IsAdded = 1, GoesOn = 2, IsWrong = 3, Begins = 4, BeginsWrong = 5, Moves = 5;

    private readonly List<Tone> tones;
    private readonly Plan plan;
    private readonly List<Key> keys;
    private readonly double hop;
    private readonly double tolerance;
    private readonly int notes;
    private readonly int states;
    private readonly double[] starts;
    private readonly byte[] back;
    private readonly int[] bestBefore;
    private readonly int[] outsideBefore;
    private Row now;
    private Row before;

    private PassFinder(List<Tone> tones, Plan plan, List<Key> keys, double hop, double tolerance)
    {
        (this.tones, this.plan, this.keys, this.hop, this.tolerance) = (tones, plan, keys, hop, tolerance);
        notes = plan.Notes.Length;
        states = notes * keys.Count;
        starts = [.. plan.Notes.Select((n, i) => i == 0 ? FromTheTop : n.Note.Bar != plan.Notes[i - 1].Note.Bar ? FromABar : FromAnywhere)];
        back = new byte[tones.Count * states];
        bestBefore = new int[tones.Count];
        outsideBefore = new int[tones.Count];
        (now, before) = (new(states), new(states));
    }

    /// <summary>Steps weighed so far: what the search costs, whatever the machine.</summary>
    public long Steps { get; private set; }

    /// <summary>In order of time.</summary>
    /// <param name="tones">Of the whole recording.</param>
    /// <param name="plan">The part.</param>
    /// <param name="keys">At least one.</param>
    /// <param name="hop">Seconds between frames.</param>
    /// <param name="tolerance">Cents a note may be off.</param>
    /// <param name="steps">Steps weighed.</param>
    public static List<Pass> Of(List<Tone> tones, Plan plan, List<Key> keys, double hop, double tolerance, out long steps)
    {
        var finder = new PassFinder(tones, plan, keys, hop, tolerance / 100);
        var (state, _) = finder.Forward();
        steps = finder.Steps;
        return finder.Back(state);
    }

    // What stands before each tone: cost, tempo and the latest note's beginning of every state, and the cost of standing outside.
    private sealed class Row(int states)
    {
        public double[] Cost { get; } = new double[states];

        public float[] Tempo { get; } = new float[states];

        public int[] Onset { get; } = new int[states];

        public byte[] Known { get; } = new byte[states];

        /// <summary>Whether a whole tone that was not asked for has sounded since the note.</summary>
        public bool[] Strayed { get; } = new bool[states];

        public double Out { get; set; }

        public int Left { get; set; } = -1;
    }

    private (int State, double Cost) Forward()
    {
        now.Cost.AsSpan().Fill(double.PositiveInfinity);
        for (var j = 0; j < tones.Count; j++)
        {
            (now, before) = (before, now);
            Step(j);
        }

        return Best(now);
    }

    private void Step(int j)
    {
        var tone = tones[j];
        var (best, cost) = Best(before);
        bestBefore[j] = best;
        outsideBefore[j] = best;
        now.Out = cost + (Outside * tone.Weight);
        now.Left = best < 0 ? before.Left : best;
        var silence = j == 0 ? Pause : (tone.From - tones[j - 1].To) * hop;
        var pause = silence >= Pause ? AfterAPause : silence >= Breath ? AfterABreath : 0;
        for (var k = 0; k < keys.Count; k++)
        {
            for (var i = 0; i < notes; i++) Weigh(j, tone, k, i, best < 0 ? before.Left : best, cost, pause);
        }
    }

    private void Weigh(int j, in Tone tone, int k, int i, int left, double bestCost, double pause)
    {
        var s = (k * notes) + i;
        now.Cost[s] = double.PositiveInfinity;
        Steps++;
        if (before.Cost[s] < double.PositiveInfinity) Take(j, s, s, before.Cost[s] + (Added * tone.Weight), IsAdded, tone, false);
        var pitch = PitchCost(tone, plan.Notes[i].Note.Pitch.Midi + keys[k].Semitones);
        if (pitch >= Outside)
        {
            if (i > 0 && before.Cost[s - 1] < double.PositiveInfinity && !tone.GoesOn)
                Take(j, s, s - 1, before.Cost[s - 1] + FirstLeftOut + (Wrong * tone.Weight) + TempoCost(s - 1, i - 1, i, tone), IsWrong, tone, true);
            if (i == 0 && keys[k].Transposition == 0) Begin(j, s, bestCost + Math.Max(LeastBegin, FromTheTop + pause) + FirstLeftOut + (Wrong * tone.Weight), BeginsWrong, tone);
            return;
        }

        pitch *= tone.Weight;
        if (before.Cost[s] < double.PositiveInfinity) Take(j, s, s, before.Cost[s] + pitch + Continued(tone, j) + (before.Strayed[s] ? BackToTheNote : 0), GoesOn, tone, false);
        Advance(j, tone, s, i, pitch);
        var begin = bestCost + pitch + Math.Max(LeastBegin, starts[i] + pause) + (keys[k].Transposition == 0 ? 0 : Transposed) + (IsAhead(left, s) ? Ahead : 0);
        Begin(j, s, begin, Begins, tone);
    }

    private void Begin(int j, int s, double cost, byte how, in Tone tone)
    {
        if (cost >= now.Cost[s]) return;
        Take(j, s, s, cost, how, tone, true);
        (now.Tempo[s], now.Known[s]) = (0, 0);
    }

    private void Advance(int j, in Tone tone, int s, int i, double pitch)
    {
        var skipped = 0.0;
        for (var step = 1; step <= Math.Min(i, MostLeftOut + 1); step++)
        {
            Steps++;
            var from = s - step;
            if (step > 1) skipped += IsMerged(i - step + 1) ? Merged : step == 2 ? FirstLeftOut : NextLeftOut;
            if (before.Cost[from] + skipped + pitch >= now.Cost[s]) continue;
            var total = before.Cost[from] + skipped + pitch + TempoCost(from, i - step, i, tone) + Retouched(tone, i - step, i);
            if (total < now.Cost[s]) Take(j, s, from, total, (byte)(Moves + step), tone, true);
        }
    }

    private void Take(int j, int s, int from, double cost, byte how, in Tone tone, bool begins)
    {
        if (cost >= now.Cost[s]) return;
        now.Cost[s] = cost;
        back[(j * states) + s] = how;
        now.Onset[s] = begins ? tone.From : before.Onset[from];
        (now.Tempo[s], now.Known[s]) = (before.Tempo[from], before.Known[from]);
        now.Strayed[s] = how == IsAdded && (before.Strayed[from] || tone.Weight > WholeTone);
        if (!begins || how is Begins or BeginsWrong) return;
        var (heard, planned) = Spans(from, from % notes, s % notes, tone);
        var log = (float)Math.Clamp(Math.Log(heard / planned), -1.2, 1.2);
        now.Tempo[s] = before.Known[from] == 0 ? log : before.Tempo[from] + (float)Math.Clamp(Follow * (log - before.Tempo[from]), -0.2, 0.2);
        now.Known[s] = 1;
    }

    private (double Heard, double Planned) Spans(int state, int a, int b, in Tone tone) =>
        (Math.Max(hop, (tone.From - before.Onset[state]) * hop), Math.Max(0.02, plan.Notes[b].Note.StartTime.Value - plan.Notes[a].Note.StartTime.Value));

    private double TempoCost(int state, int a, int b, in Tone tone)
    {
        var (heard, planned) = Spans(state, a, b, tone);
        var known = before.Known[state] > 0;
        var off = Math.Log(heard / planned) - (known ? before.Tempo[state] : 0);
        var wait = heard - (planned * Math.Exp(known ? before.Tempo[state] : 0));
        return Math.Min(MostTempo, (known ? TempoWeight : FirstTempoWeight) * off * off) + (wait > LongWait ? 1.5 * Math.Log2(wait / LongWait) : 0);
    }

    private double PitchCost(in Tone tone, double wanted)
    {
        var off = Math.Abs(tone.Pitch - wanted);
        if (off <= tolerance + PitchEdge) return PitchWeight * off * off / (tolerance * tolerance);
        return tone.Moved != 0 && Math.Abs(tone.Pitch - tone.Moved - wanted) <= tolerance ? OtherOctave : double.PositiveInfinity;
    }

    // The deeper the dip, the likelier a new note of the same pitch.
    private double Continued(in Tone tone, int j) =>
        tone.GoesOn ? Math.Min(3, 0.25 * tone.DipDb) : 1 + Math.Min(3, (tone.From - tones[j - 1].To) * hop * 3);

    private double Retouched(in Tone tone, int a, int b)
    {
        if (!tone.GoesOn) return 0;
        return plan.Notes[a].Note.Pitch.Midi == plan.Notes[b].Note.Pitch.Midi ? Math.Max(0, 3 - (0.5 * tone.DipDb)) : 3;
    }

    // A note left out beside one of its own pitch may simply not have been told apart from it.
    private bool IsMerged(int i) => plan.Notes[i].Note.Pitch.Midi == plan.Notes[i - 1].Note.Pitch.Midi
        || (i + 1 < notes && plan.Notes[i].Note.Pitch.Midi == plan.Notes[i + 1].Note.Pitch.Midi);

    // To go on a few notes further is to leave notes out, not to begin anew.
    private bool IsAhead(int left, int s) => left >= 0 && left / notes == s / notes && s > left && s - left <= MostLeftOut + 2;

    private static (int State, double Cost) Best(Row row)
    {
        var best = (State: -1, Cost: row.Out);
        for (var s = 0; s < row.Cost.Length; s++)
        {
            if (row.Cost[s] < best.Cost) best = (s, row.Cost[s]);
        }

        return best;
    }

    private List<Pass> Back(int state)
    {
        var passes = new List<Pass>();
        var anchors = new List<Anchor>();
        for (var j = tones.Count - 1; j >= 0; j--)
        {
            if (state < 0)
            {
                state = outsideBefore[j];
                continue;
            }

            var how = back[(j * states) + state];
            if (how is not (IsAdded or IsWrong or BeginsWrong)) anchors.Add(new(state % notes, tones[j].From, tones[j].To));
            if (how is Begins or BeginsWrong)
            {
                if (anchors.Count > 0) passes.Add(new(keys[state / notes], Joined(anchors)));
                anchors = [];
                state = bestBefore[j];
            }
            else
            {
                state -= how == IsWrong ? 1 : how > Moves ? how - Moves : 0;
            }
        }

        passes.Reverse();
        return passes;
    }

    private static List<Anchor> Joined(List<Anchor> backward)
    {
        var joined = new List<Anchor>();
        for (var i = backward.Count - 1; i >= 0; i--)
        {
            if (joined.Count > 0 && joined[^1].Note == backward[i].Note) joined[^1] = joined[^1] with { To = backward[i].To };
            else joined.Add(backward[i]);
        }

        return joined;
    }
}
