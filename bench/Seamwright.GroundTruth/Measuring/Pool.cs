namespace Seamwright.GroundTruth.Measuring;

/// <summary>Several takes' scores as one.</summary>
/// <param name="takes">Any of them.</param>
internal sealed class Pool(IReadOnlyList<TakeScore> takes)
{
    /// <summary>B♭2: below it a figure stands beside its window's limit.</summary>
    public const int LowMidi = 46;

    public IReadOnlyList<TakeScore> Takes { get; } = takes;

    public double? Share(Func<TakeScore, FrameCounts> which, Func<FrameCounts, int> count)
    {
        var sum = Takes.Aggregate(default(FrameCounts), (a, t) => a + which(t));
        return sum.Total == 0 ? null : 100.0 * count(sum) / sum.Total;
    }

    public double? NoteShare(Func<NoteScore, bool> good)
    {
        var notes = Takes.SelectMany(t => t.Notes).ToList();
        return notes.Count == 0 ? null : 100.0 * notes.Count(good) / notes.Count;
    }

    public IEnumerable<QuantityScore> Figures(string quantity, bool? low = null) => Takes.SelectMany(t => t.Quantities)
        .Where(q => q.Quantity == quantity && (low is not { } l || q.LowMidi < LowMidi == l));

    /// <summary>The share-th part of the absolute errors; null where none was told.</summary>
    public static double? Error(IEnumerable<QuantityScore> figures, double share)
    {
        var errors = figures.Where(f => f.Error is not null).Select(f => Math.Abs(f.Error!.Value)).Order().ToList();
        return errors.Count == 0 ? null : errors[Math.Min(errors.Count - 1, (int)(share * errors.Count))];
    }

    /// <summary>Per cent of figures that were told at all.</summary>
    public static double? Told(IEnumerable<QuantityScore> figures)
    {
        var list = figures.ToList();
        return list.Count == 0 ? null : 100.0 * list.Count(f => f.Heard is not null) / list.Count;
    }

    /// <summary>Per cent of 90 % intervals that hold the truth; null where no interval was given.</summary>
    public double? Coverage(string quantity)
    {
        var given = Figures(quantity).Where(f => f.Covered is not null).ToList();
        return given.Count == 0 ? null : 100.0 * given.Count(f => f.Covered == true) / given.Count;
    }

    /// <summary>Precision and recall of one verdict where an answer was given.</summary>
    /// <param name="verdicts">Wire names that count as this verdict.</param>
    /// <param name="sure">Leaves out changes whose truth hangs on a hair.</param>
    public (double? Precision, double? Recall, int True) Verdict(string[] verdicts, bool sure)
    {
        int hit = 0, wrong = 0, missed = 0;
        foreach (var v in Takes.SelectMany(t => t.Verdicts))
        {
            if (sure && v.Hair.Any(verdicts.Contains)) continue;
            var (truth, heard) = (v.Truth.Any(verdicts.Contains), v.Heard.Any(verdicts.Contains));
            if (truth && heard) hit++;
            else if (heard) wrong++;
            else if (truth && !v.Heard.Contains("cannot-tell")) missed++;
        }

        return (hit + wrong == 0 ? null : hit / (double)(hit + wrong), hit + missed == 0 ? null : hit / (double)(hit + missed), hit + missed);
    }

    public double? CannotTell(bool low)
    {
        var list = Takes.SelectMany(t => t.Verdicts).Where(v => v.LowMidi < LowMidi == low).ToList();
        return list.Count == 0 ? null : 100.0 * list.Count(v => v.Heard.Contains("cannot-tell")) / list.Count;
    }

    /// <summary>Share of changes in rooms that random phases alone leave open, per cent.</summary>
    public double? OpenByPhases(bool low)
    {
        var list = Takes.SelectMany(t => t.Verdicts).Where(v => v.OpenByPhases is not null && v.LowMidi < LowMidi == low).ToList();
        return list.Count == 0 ? null : 100.0 * list.Count(v => v.OpenByPhases == true) / list.Count;
    }

    public double? TimesRealTime => Takes.Count == 0 ? null : Takes.Sum(t => t.Seconds) / Math.Max(1e-9, Takes.Sum(t => t.Cost));
}
