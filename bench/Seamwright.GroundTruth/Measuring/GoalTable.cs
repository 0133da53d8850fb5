namespace Seamwright.GroundTruth.Measuring;

/// <summary>The figures to reach, for any split of the takes.</summary>
internal static class GoalTable
{
    private static readonly (string Label, string[] Names)[] Judged =
    [
        ("smear", ["smear"]), ("smear or possible", ["smear", "smear-possible"]), ("air stopped", ["air-stopped"]), ("too hard", ["too-hard"]),
        ("too hard or stopped", ["too-hard", "air-stopped"]),
        ("bump", ["bump"]), ("early/late", ["tongue-early", "tongue-late"]), ("cracked", ["cracked"]),
        ("tongue unasked", ["tongue-heard"]),
    ];

    public static void Print(string title, IEnumerable<(string Name, Pool Pool)> columns, TextWriter output)
    {
        var table = new Table(title, columns, output);
        Pitch(table);
        Limits(table);
        Notes(table);
        Figures(table);
        Intervals(table);
        Verdicts(table);
        table.Row("x real time, one core", ">=150", p => p.TimesRealTime, 0);
    }

    private static void Pitch(Table t)
    {
        t.Row("pitch % in 50 cents, stable", "", p => p.Share(s => s.Stable, c => c.In50), 2);
        t.Row("           25", ">=99.5", p => p.Share(s => s.Stable, c => c.In25), 2);
        t.Row("           10", "", p => p.Share(s => s.Stable, c => c.In10), 2);
        t.Row("pitch % in 50 cents, moving", "", p => p.Share(s => s.Moving, c => c.In50), 2);
        t.Row("           25", ">=99.5", p => p.Share(s => s.Moving, c => c.In25), 2);
        t.Row("           10", "", p => p.Share(s => s.Moving, c => c.In10), 2);
        t.Row("pitch % in 25, stable and moving", ">=99.5", p => p.Share(s => s.Stable + s.Moving, c => c.In25), 2);
        t.Row("   below Bb2: 25", "", p => p.Share(s => s.Low, c => c.In25), 2);
        t.Row("octave errors %", "0", p => p.Share(s => s.Stable + s.Moving, c => c.Octave), 2);
    }

    // Root mean squares over the low notes, beside the least that any estimator could do.
    private static void Limits(Table t)
    {
        t.Row("below Bb2: frame rms, cents", "", p => Rms(p, l => l.FrameCents), 2);
        t.Row("  bound, two periods", "", p => Rms(p, l => l.BoundTwoPeriods), 2);
        t.Row("below Bb2: note rms, cents", "", p => Rms(p, l => l.NoteCents), 2);
        t.Row("  bound, the whole note", "", p => Rms(p, l => l.BoundNote), 4);
    }

    private static double? Rms(Pool pool, Func<BoundScore, double?> figure)
    {
        var squares = pool.Takes.SelectMany(t => t.Limits).Select(figure).Where(v => v is not null).Select(v => v!.Value * v.Value).ToList();
        return squares.Count == 0 ? null : Math.Sqrt(squares.Average());
    }

    private static void Notes(Table t)
    {
        t.Row("notes found %", ">=99.5", p => p.NoteShare(n => n.Found));
        t.Row("onset % within 50 ms", ">=99.5", p => p.NoteShare(n => n.OnsetMs is { } o && Math.Abs(o) <= 50));
        t.Row("onset % within 20 ms", ">=97", p => p.NoteShare(n => n.OnsetMs is { } o && Math.Abs(o) <= 20));
    }

    private static void Figures(Table t)
    {
        t.Row("glides from Bb2, number", "", p => p.Figures(Quantity.Glide, false).Count(), 0);
        Median("glide ms, median", Quantity.Glide, 0.5, "<=4", false);
        Median("  95 %", Quantity.Glide, 0.95, "<=12", false);
        t.Row("  told %", "", p => Pool.Told(p.Figures(Quantity.Glide, false)), 0);
        Median("  below Bb2: median", Quantity.Glide, 0.5, "", true);
        Median("  below Bb2: 95 %", Quantity.Glide, 0.95, "", true);
        t.Row("  below Bb2: two periods, ms", "", p => p.Figures(Quantity.Glide, true).Select(f => (double?)(2000 / (440 * Math.Pow(2, (f.LowMidi - 69) / 12.0)))).DefaultIfEmpty(null).Average());
        Median("jump (<10 ms) median", Quantity.Jump, 0.5, "", false);
        Median("  95 %", Quantity.Jump, 0.95, "", false);
        Median("glide centre ms, median", Quantity.GlideCentre, 0.5, "", null);
        Median("audible glide ms, median", Quantity.AudibleGlide, 0.5, "", null);
        t.Row("slides beside breaks, number", "", p => p.Figures(Quantity.SlideBeside).Count(), 0);
        Median("  audible ms, median", Quantity.SlideBeside, 0.5, "", null);
        t.Row("  told %", "", p => Pool.Told(p.Figures(Quantity.SlideBeside)), 0);
        t.Row("dips, number", "", p => p.Figures(Quantity.Dip).Count(), 0);
        Median("dip depth dB, median", Quantity.Dip, 0.5, "<=0.7", null);
        Median("  95 %", Quantity.Dip, 0.95, "", null);
        Median("  below Bb2: median", Quantity.Dip, 0.5, "", true);
        Median("dip width ms, median", Quantity.DipWidth, 0.5, "<=5", null);
        Median("dip centre ms, median", Quantity.DipCentre, 0.5, "<=4", null);
        t.Row("  dip told %", "", p => Pool.Told(p.Figures(Quantity.DipWidth)), 0);
        Median("tongue offset ms, median", Quantity.TongueOffset, 0.5, "<=5", null);
        Median("  95 %", Quantity.TongueOffset, 0.95, "", null);
        Median("gap ms, median", Quantity.Gap, 0.5, "", null);
        Median("overshoot dB, median", Quantity.Overshoot, 0.5, "", null);

        void Median(string label, string quantity, double share, string goal, bool? low) =>
            t.Row(label, goal, p => Pool.Error(p.Figures(quantity, low), share));
    }

    private static void Intervals(Table t)
    {
        var given = Quantity.All.Where(q => t.Pools.Any(p => p.Coverage(q) is not null)).ToList();
        if (given.Count == 0) t.Words("90 % intervals", "85-95", _ => "none");
        foreach (var quantity in given)
            t.Words($"90 % holds: {quantity}", "85-95", p => p.Coverage(quantity) is { } c ? Table.Text(c, 0) : "none");
    }

    private static void Verdicts(Table t)
    {
        foreach (var (label, names) in Judged) t.Words($"{label}: P/R n", ">=.97", p => Pair(p, names, false));
        foreach (var (label, names) in Judged.Where(j => j.Names.Length == 1 || j.Label.StartsWith("early", StringComparison.Ordinal)))
            t.Words($"  off limits: {label}", ">=.97", p => Pair(p, names, true));
        t.Row("cannot-tell %, from Bb2", "<=10", p => p.CannotTell(false));
        t.Row("  bound, random phases", "", p => p.OpenByPhases(false));
        t.Row("cannot-tell %, below Bb2", "", p => p.CannotTell(true));
        t.Row("  bound, random phases", "", p => p.OpenByPhases(true));
    }

    private static string Pair(Pool pool, string[] names, bool sure)
    {
        var (precision, recall, number) = pool.Verdict(names, sure);
        return precision is null && recall is null ? "-" : $"{Short(precision)}/{Short(recall)}{(number > 0 ? " " + number : "")}";
    }

    private static string Short(double? share) => share is not { } s ? "-" : s >= 0.995 ? "1" : "." + ((int)Math.Round(100 * s)).ToString("00");
}
