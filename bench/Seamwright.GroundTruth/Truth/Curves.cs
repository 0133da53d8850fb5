using System.Globalization;
using System.Text;

namespace Seamwright.GroundTruth.Truth;

/// <summary>Pitch and level of a take as it was made, every 0.1 ms: fifty times finer than the track a listener returns.</summary>
/// <param name="log2Hz">Base-2 logarithms of Hz.</param>
/// <param name="levelDb">Envelope of the tone, root mean square against full scale.</param>
internal sealed class Curves(double[] log2Hz, double[] levelDb)
{
    public const double Step = 1e-4;

    public int Count => levelDb.Length;

    /// <summary>Curves of nothing, where only verdicts are compared.</summary>
    public static Curves Silent(double seconds) => new(new double[(int)(seconds / Step) + 2], [.. Enumerable.Repeat(-150.0, (int)(seconds / Step) + 2)]);

    public double Hertz(double t) => Math.Pow(2, At(log2Hz, t));

    public double Level(double t) => At(levelDb, t);

    /// <summary>The place of a time, inside the curves.</summary>
    public int Place(double t) => Math.Clamp((int)Math.Round(t / Step), 0, Count - 1);

    public double LevelAt(int place) => levelDb[place];

    public double HertzAt(int place) => Math.Pow(2, log2Hz[place]);

    /// <summary>The same after so many seconds of silence.</summary>
    public Curves Later(double seconds)
    {
        var more = (int)Math.Round(seconds / Step);
        return new([.. Enumerable.Repeat(log2Hz[0], more), .. log2Hz], [.. Enumerable.Repeat(-150.0, more), .. levelDb]);
    }

    /// <summary>seconds, hertz or empty (more than 40 dB below the note that sounds there, or no note), level; every 5 ms.</summary>
    public void WriteCsv(string path, IReadOnlyList<TruthNote> notes)
    {
        var text = new StringBuilder("seconds,hertz,levelDb\n");
        for (var i = 0; i * 0.005 < Count * Step; i++)
        {
            var t = i * 0.005;
            var note = notes.LastOrDefault(n => n.Onset - 0.05 <= t) is { } n && t <= n.Offset + 0.05 ? n : null;
            var hz = note is not null && Level(t) > note.LevelDb - 40 ? Hertz(t).ToString("0.0000", CultureInfo.InvariantCulture) : "";
            text.Append(CultureInfo.InvariantCulture, $"{t:0.000},{hz},{Level(t):0.00}\n");
        }

        File.WriteAllText(path, text.ToString());
    }

    /// <summary>Reads what <see cref="WriteCsv"/> wrote: one entry every 5 ms.</summary>
    public static (double? Hertz, double LevelDb)[] ReadCsv(string path) =>
        [.. File.ReadLines(path).Skip(1).Select(l => l.Split(',')).Select(f =>
            (f[1].Length > 0 ? double.Parse(f[1], CultureInfo.InvariantCulture) : (double?)null, double.Parse(f[2], CultureInfo.InvariantCulture)))];

    private static double At(double[] values, double t)
    {
        var x = Math.Clamp(t / Step, 0, values.Length - 1);
        var i = Math.Min((int)x, values.Length - 2);
        return values[i] + ((x - i) * (values[i + 1] - values[i]));
    }
}
