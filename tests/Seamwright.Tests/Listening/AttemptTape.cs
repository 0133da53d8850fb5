using Seamwright.Core.Instruments;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Sound;
using Seamwright.Core.Units;
using Seamwright.Tests.Planning;
using Seamwright.TestSound;

namespace Seamwright.Tests.Listening;

/// <summary>A practice recording put together piece by piece, and when each note of the part was played in it.</summary>
internal sealed class AttemptTape
{
    public const int Rate = 16_000;
    private readonly List<float> samples = [];
    private SeededNoise noise = new(7);

    /// <summary>For each pass, when each asked note began and how far it lay from its own pitch.</summary>
    public List<Dictionary<int, (double Time, double Cents)>> Passes { get; } = [];

    public double Seconds => (double)samples.Count / Rate;

    public static Plan PlanOf(string notes, double tempo = 96) => Planner.Plan(TestLines.Of(notes, tempo), Catalogue.Find("bass-independent")!).Value;

    /// <summary>Plays a line.</summary>
    /// <param name="notes">What is played.</param>
    /// <param name="tempo">Quarters a minute.</param>
    /// <param name="asked">Which note of the part each played one is; null for none of them. Default: the same index.</param>
    /// <param name="from">First note kept.</param>
    /// <param name="until">Seconds after that note's beginning at which the player breaks off.</param>
    /// <param name="warp">From written seconds to played ones.</param>
    /// <param name="level">Against full scale.</param>
    /// <param name="cents">Out of tune by.</param>
    /// <param name="vibrato">Cents to each side.</param>
    public AttemptTape Play(
        string notes,
        double tempo = 96,
        Func<int, int?>? asked = null,
        int from = 0,
        double until = double.PositiveInfinity,
        Func<double, double>? warp = null,
        double level = -20,
        double cents = 0,
        double vibrato = 0)
    {
        var line = TestLines.Of(notes, tempo);
        if (warp is not null) line = line with { Notes = [.. line.Notes.Select(n => Warped(n, warp))] };
        var plan = Planner.Plan(line, Catalogue.Find("bass-independent")!).Value;
        Assert.All(plan.Notes, n => Assert.NotNull(n.Setting));
        var performance = Playing.Clean(plan) with { LeadIn = new(0.1), Tail = new(0.1), Cents = [.. plan.Notes.Select(_ => new Cents(cents))] };
        var settings = new SimpleSourceSettings { Rate = new(Rate), Level = new(level), Room = new(-200), Vibrato = new(vibrato), Seed = (uint)(samples.Count + 1) };
        var take = SimpleSource.Render(plan, performance, settings);
        var truth = take.Truth.Notes.Select(n => n.Onset!.Value.Value).ToArray();
        var start = from == 0 ? 0 : truth[from] - 0.03;
        var end = Math.Min(take.Samples.Length / (double)Rate, truth[from] + until);
        var pass = new Dictionary<int, (double, double)>();
        for (var i = from; i < truth.Length; i++)
        {
            if (truth[i] < end - 0.08 && (asked is null ? i : asked(i)) is { } index) pass[index] = (Seconds + truth[i] - start, take.Truth.Notes[i].Cents!.Value.Value);
        }

        Passes.Add(pass);
        Append(take.Samples.Span[(int)(start * Rate)..(int)(end * Rate)]);
        return this;
    }

    public AttemptTape Rest(double seconds)
    {
        samples.AddRange(new float[(int)(seconds * Rate)]);
        return this;
    }

    /// <summary>A burst of white noise.</summary>
    public AttemptTape Noise(double seconds, double db)
    {
        var gain = (float)(Math.Pow(10, db / 20) * Math.Sqrt(3));
        for (var i = 0; i < (int)(seconds * Rate); i++) samples.Add(gain * noise.Uniform());
        return this;
    }

    /// <summary>Four count-in clicks.</summary>
    public AttemptTape Clicks(double tempo, int count = 4)
    {
        for (var c = 0; c < count; c++)
        {
            for (var i = 0; i < 60 * Rate / tempo; i++) samples.Add((float)(0.5 * Math.Exp(-i / (0.006 * Rate)) * Math.Sin(2 * Math.PI * 1800 * i / Rate)));
        }

        return this;
    }

    /// <summary>Syllables: a buzz of falling and rising pitch through two resonances, and hisses between.</summary>
    public AttemptTape Speech(double seconds, double db = -22)
    {
        var (until, phase, hz) = (samples.Count + (int)(seconds * Rate), 0.0, 130.0);
        while (samples.Count < until)
        {
            var length = (int)((0.12 + (0.07 * noise.Uniform())) * Rate);
            var slope = 1 + (0.35 * noise.Uniform());
            hz = Math.Clamp(hz * (1 + (0.25 * noise.Uniform())), 90, 210);
            var (first, second) = (500 + (250 * noise.Uniform()), 1500 + (500 * noise.Uniform()));
            var hiss = noise.Uniform() > 0.5;
            for (var i = 0; i < length && samples.Count < until; i++)
            {
                var envelope = Math.Sin(Math.PI * i / length) * Math.Pow(10, db / 20) * 1.6;
                phase += hz * Math.Pow(slope, (double)i / length) / Rate;
                samples.Add((float)(envelope * (hiss && i < length / 3 ? 0.6 * noise.Uniform() : Buzz(phase, hz, first, second))));
            }

            if (noise.Uniform() > 0.3) Rest(0.06);
        }

        return this;
    }

    /// <summary>A steady tone under everything so far.</summary>
    public AttemptTape Drone(double hz, double db, bool saw = true)
    {
        var gain = Math.Pow(10, db / 20);
        return Over(t => gain * (saw ? 1.7 * ((2 * ((hz * t) - Math.Floor(hz * t))) - 1) : Math.Sqrt(2) * Math.Sin(2 * Math.PI * hz * t)));
    }

    public AttemptTape Hiss(double db)
    {
        var gain = Math.Pow(10, db / 20) * Math.Sqrt(3);
        return Over(_ => gain * noise.Uniform());
    }

    public AttemptTape Over(Func<double, double> sound)
    {
        for (var i = 0; i < samples.Count; i++) samples[i] += (float)sound((double)i / Rate);
        return this;
    }

    /// <summary>Another tape sounding in the background from a moment on.</summary>
    public AttemptTape Behind(AttemptTape other, double gainDb, double at)
    {
        var gain = (float)Math.Pow(10, gainDb / 20);
        for (var i = 0; i < other.samples.Count && i + (int)(at * Rate) < samples.Count; i++) samples[i + (int)(at * Rate)] += gain * other.samples[i];
        return this;
    }

    public AttemptTape Clipped(double gainDb)
    {
        var gain = (float)Math.Pow(10, gainDb / 20);
        for (var i = 0; i < samples.Count; i++) samples[i] = Math.Clamp(samples[i] * gain, -1, 1);
        return this;
    }

    /// <summary>Quiet moments raised and loud ones lowered, as telephones do.</summary>
    public AttemptTape Levelled(double ratio)
    {
        var level = 1e-3;
        for (var i = 0; i < samples.Count; i++)
        {
            var here = Math.Abs(samples[i]);
            level += (here - level) * (here > level ? 0.01 : 0.0003);
            samples[i] *= (float)Math.Pow(Math.Max(level, 1e-3) / 0.1, (1 / ratio) - 1);
        }

        return this;
    }

    /// <summary>What a telephone lets through: two poles each at 300 and 3,400 Hz.</summary>
    public AttemptTape Telephoned()
    {
        for (var pole = 0; pole < 2; pole++)
        {
            var (low, high) = (0f, 0f);
            var (a, b) = (1 - MathF.Exp(-2 * MathF.PI * 300 / Rate), 1 - MathF.Exp(-2 * MathF.PI * 3400 / Rate));
            for (var i = 0; i < samples.Count; i++)
            {
                low += a * (samples[i] - low);
                high += b * (samples[i] - low - high);
                samples[i] = high;
            }
        }

        return this;
    }

    /// <summary>A room: the sound and a decaying scatter of its echoes (Schroeder's four combs and two all-passes, 1962).</summary>
    public AttemptTape Reverb(double seconds, double wetDb)
    {
        samples.AddRange(new float[(int)(seconds * Rate)]);
        var dry = samples.ToArray();
        var wet = new float[dry.Length];
        foreach (var delay in (double[])[0.0297, 0.0371, 0.0411, 0.0437])
        {
            var (d, g) = ((int)(delay * Rate), (float)Math.Pow(10, -3 * delay / seconds));
            var comb = new float[dry.Length];
            for (var i = d; i < dry.Length; i++)
            {
                comb[i] = dry[i - d] + (g * comb[i - d]);
                wet[i] += comb[i];
            }
        }

        foreach (var (delay, g) in ((double, float)[])[(0.005, 0.7f), (0.0017, 0.7f)])
        {
            var d = (int)(delay * Rate);
            var x = (float[])wet.Clone();
            for (var i = d; i < dry.Length; i++) wet[i] = (-g * x[i]) + x[i - d] + (g * wet[i - d]);
        }

        var gain = (float)(Math.Pow(10, wetDb / 20) * Math.Sqrt(dry.Sum(v => (double)v * v) / wet.Sum(v => (double)v * v)));
        for (var i = 0; i < dry.Length; i++) samples[i] = dry[i] + (gain * wet[i]);
        return this;
    }

    public Recording Recording => new(samples.ToArray(), new SampleRate(Rate));

    public Take Heard(Plan plan) => Listener.Listen(Recording, plan);

    /// <summary>Listens, and holds every pass's notes to their truth within 60 ms and 8 cents, and nothing more found than was played.</summary>
    public Take HeardAsPlayed(Plan plan)
    {
        var take = Heard(plan);
        Assert.True(take.Attempts.Length == Passes.Count, $"{Passes.Count} passes were played, {take.Attempts.Length} heard:\n{Described(take)}");
        foreach (var (attempt, pass) in take.Attempts.Zip(Passes))
        {
            var wrong = attempt.Notes.Where(n => n.Found != pass.ContainsKey(n.Index) || (n.Found && !Fits(n, pass[n.Index])));
            Assert.True(!wrong.Any(), $"notes {string.Join(", ", wrong.Select(n => n.Index))} of the pass at {attempt.Start}:\n{Described(take)}");
        }

        return take;
    }

    private static bool Fits(HeardNote n, (double Time, double Cents) truth) =>
        Math.Abs(n.Onset!.Value.Value - truth.Time) <= 0.06 && Math.Abs(n.Cents!.Value.Value - truth.Cents) <= 8;

    private string Described(Take take) => string.Join("\n", [
        .. Passes.Select(p => "played " + string.Join(" ", p.OrderBy(x => x.Key).Select(x => $"{x.Key}@{x.Value.Time:F2}"))),
        .. take.Attempts.Select(a => $"heard ({a.Transposition}, {a.TempoRatio:F2}) " + string.Join(" ", a.Notes.Where(n => n.Found).Select(n => $"{n.Index}@{n.Onset!.Value.Value:F2}"))),
        .. take.Unmatched.Select(u => $"{u.Kind} {u.Start}–{u.End}")]);

    private void Append(ReadOnlySpan<float> more)
    {
        var fade = Rate / 200;
        for (var i = 0; i < more.Length; i++) samples.Add(more[i] * Math.Min(1, Math.Min(i, more.Length - 1 - i) / (float)fade));
    }

    private static PlayedNote Warped(PlayedNote n, Func<double, double> warp)
    {
        var (start, end) = (warp(n.StartTime.Value), warp(n.EndTime.Value));
        return n with { StartTime = new(start), Duration = new(end - start) };
    }

    private static double Buzz(double phase, double hz, double first, double second)
    {
        var sum = 0.0;
        for (var k = 1; k * hz < 4000; k++)
        {
            var f = k * hz;
            var gain = (1 / (1 + Math.Pow((f - first) / 120, 2))) + (0.5 / (1 + Math.Pow((f - second) / 200, 2))) + 0.02;
            sum += gain * Math.Sin(2 * Math.PI * k * phase);
        }

        return 0.5 * sum;
    }
}
