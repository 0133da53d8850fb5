using System.Collections.Immutable;
using Seamwright.Core.Instruments;
using Seamwright.Core.Units;

namespace Seamwright.Core.Calibration;

/// <summary>Tuning, then partials against it, then positions against both.</summary>
internal sealed class Fit
{
    // Partials that equal temperament has within 4 cents: their median stands in for the tuning where no scale was played.
    private static readonly int[] NearTempered = [2, 3, 4, 6, 8];

    // About seven figures are looked at together: each must lie so much further out than its own 90 % interval that all of them are
    // left alone in nine cases of ten where nothing is different (Bonferroni: 2.45 deviations for 1.645).
    private const double AllTogether = 1.5;

    private readonly List<Recognised> found;
    private readonly Instrument before;
    private readonly CalibrationSettings settings;
    private readonly double tuningReach;

    public Fit(List<Recognised> found, Instrument before, CalibrationSettings settings)
    {
        (this.found, this.before, this.settings) = (found, before, settings);
        Slurred = [.. found.Where(f => f.Kind == ExerciseKind.LipSlur)];
        HasSlurs = Enough.Slurs(found);
        Tuning = TuningOf();
        tuningReach = Tuning is { } t ? (t.Bounds.High - t.Bounds.Low).Value / 2 : 0;
        var shift = Tuning?.Cents.Value ?? CommonShift();
        Reference = before.TunedTo(before.A4 + new Cents(shift));
        Tuned = shift == 0 || Tuning is { Written: false } ? before : before.TunedTo(new(Math.Round(Reference.A4.Value, 2)));
        Partials = HasSlurs ? PartialsOf() : [];
        After = Lengthened(Partials.Any(p => p.Written) ? Tuned with { PartialOffsets = Offsets() } : Tuned);
        Positions = PositionsOf();
        Notes = [.. found.Select(Used)];
    }

    public List<Recognised> Slurred { get; }

    public bool HasSlurs { get; }

    public Estimate? Tuning { get; }

    /// <summary>The instrument at the A4 that was heard, offsets as before: what partials are measured against.</summary>
    public Instrument Reference { get; }

    /// <summary>The instrument at the A4 that is written.</summary>
    public Instrument Tuned { get; }

    public ImmutableArray<PartialEstimate> Partials { get; }

    public Instrument After { get; }

    public ImmutableArray<PositionEstimate> Positions { get; }

    public ImmutableArray<UsedNote> Notes { get; }

    private Estimate? TuningOf()
    {
        var cents = found.Where(Enough.IsFree).Select(f => f.Note.Hz.Above(f.Note.Pitch.Frequency(before.A4)).Value).ToList();
        if (cents.Count < Enough.FewestScale) return null;
        var spread = Robust.Spread([cents]);
        var at = Robust.Location(cents, spread);
        var reach = Robust.Reach(spread, cents.Count, cents.Count - 1);
        return new(new(at), new(new(at - reach), new(at + reach)), cents.Count, IsSure(at, reach));
    }

    private bool IsSure(double difference, double reach) => Math.Abs(difference) > AllTogether * reach && Math.Abs(difference) >= settings.LeastChange.Value;

    // Without a scale nothing parts tuning from offsets: the tempered partials' median is taken, where it is surely not 0.
    private double CommonShift()
    {
        var groups = Groups(before).Where(g => NearTempered.Contains(g.Partial)).ToList();
        if (groups.Count == 0) return 0;
        var shift = Robust.Median(groups.Select(g => Robust.Median(g.Cents)));
        return IsSure(shift, Robust.Reach(Robust.Spread(groups.Select(g => g.Cents)), groups.Count, Slurred.Count - groups.Count)) ? shift : 0;
    }

    /// <summary>Cents of the notes that should agree with each other: the scale's that were set by ear, and each partial's.</summary>
    public IEnumerable<IReadOnlyList<double>> Kinds => Groups(Reference).Select(g => g.Cents)
        .Append([.. found.Where(Enough.IsFree).Select(f => f.Note.Hz.Above(f.Note.Pitch.Frequency(before.A4)).Value)]);

    // Cents beside what the horn with its present offsets would sound, partial by partial.
    private List<(int Partial, IReadOnlyList<double> Cents)> Groups(Instrument horn) =>
        [.. Slurred.GroupBy(f => f.Partial!.Value).OrderBy(g => g.Key).Select(g => (g.Key, (IReadOnlyList<double>)[.. g.Select(f => Closed(f, horn))]))];

    private static double Closed(Recognised f, Instrument horn) => f.Note.Hz.Above(horn.Sounding(horn.Open, f.Partial!.Value, new(0))).Value;

    private ImmutableArray<PartialEstimate> PartialsOf()
    {
        var groups = Groups(Reference);
        var spread = Robust.Spread(groups.Select(g => g.Cents));
        var freedom = groups.Sum(g => g.Cents.Count - 1);
        return [.. groups.Select(g => Estimated(g.Partial, g.Cents, spread, freedom))];
    }

    private PartialEstimate Estimated(int partial, IReadOnlyList<double> cents, double spread, int freedom)
    {
        var difference = Robust.Location(cents, spread);
        var known = Robust.Reach(spread, cents.Count, freedom);
        var reach = Math.Sqrt((known * known) + (tuningReach * tuningReach));
        var old = before.PartialOffsets.GetValueOrDefault(partial);
        var at = old.Value + difference;
        return new(partial, old, new(at), new(new(at - reach), new(at + reach)), cents.Count, IsSure(difference, reach));
    }

    private ImmutableDictionary<int, Cents> Offsets() =>
        before.PartialOffsets.SetItems(Partials.Where(p => p.Written).Select(p => KeyValuePair.Create(p.Partial, new Cents(Math.Round(p.Heard.Value, 1)))));

    // A length measured with a ruler scales every tube; pitches stay.
    private Instrument Lengthened(Instrument horn)
    {
        var length = settings.MeasuredLength?.Value ?? (settings.MeasuredSeventh is { } cm ? cm.Value / SeventhShare(horn) : null);
        if (length is not { } wanted) return horn;
        var ratio = wanted / horn.Open.EffectiveLength.Value;
        var seventh = settings.MeasuredSeventh?.Value ?? 0;
        return horn with
        {
            Sides = [.. horn.Sides.Select(x => x with { EffectiveLength = new(x.EffectiveLength.Value * ratio) })],
            FurthestTravel = new(Math.Max(horn.FurthestTravel.Value, seventh)),
        };
    }

    private double SeventhShare(Instrument horn)
    {
        var heard = SharesAt(6, horn).ToList();
        return heard.Count > 0 ? Robust.Median(heard) : (Math.Pow(2, 6 / 12.0) - 1) / 2;
    }

    // L + 2x over L is the closed partial's pitch over the pitch heard. Only partials that were heard closed are known well enough.
    private IEnumerable<double> SharesAt(int semitone, Instrument horn) => found
        .Where(f => Enough.IsFree(f) && f.Semitone == semitone && Partials.Any(p => p.Partial == f.Partial))
        .Select(f => ((horn.Sounding(horn.Open, f.Partial!.Value, new(0)).Value / f.Note.Hz.Value) - 1) / 2);

    private ImmutableArray<PositionEstimate> PositionsOf()
    {
        var groups = Enumerable.Range(1, 6).Select(k => (Semitone: k, Shares: (IReadOnlyList<double>)[.. SharesAt(k, After)])).Where(g => g.Shares.Count > 0).ToList();
        return [.. groups.Select(g => PositionOf(g.Semitone, g.Shares, groups.Select(x => x.Shares)))];
    }

    // Positions are taken in cents, where every note is equally well known, and told as shares.
    private PositionEstimate PositionOf(int semitone, IReadOnlyList<double> shares, IEnumerable<IReadOnlyList<double>> all)
    {
        var groups = all.Select(g => (IReadOnlyList<double>)[.. g.Select(InCents)]).ToList();
        var spread = Robust.Spread(groups);
        var cents = Robust.Location([.. shares.Select(InCents)], spread);
        var own = Robust.Reach(spread, shares.Count, groups.Sum(g => g.Count - 1));
        var reach = Math.Sqrt((own * own) + Partials.Average(p => Math.Pow((p.Bounds.High - p.Bounds.Low).Value / 2, 2)));
        var share = Share(cents);
        return new(semitone, share, new(Share(cents - reach), Share(cents + reach)), Tube.TravelFor(before.Open.EffectiveLength, semitone), new(share * After.Open.EffectiveLength.Value), shares.Count);
    }

    private static double InCents(double share) => 1200 * Math.Log2(1 + (2 * share));

    private static double Share(double cents) => (Math.Pow(2, cents / 1200) - 1) / 2;

    private UsedNote Used(Recognised f)
    {
        var (old, now) = (Beside(f, before), Beside(f, After));
        return new(f.Note.Index, f.Note.Pitch, f.Note.Onset, f.Kind, f.Kind == ExerciseKind.LipSlur ? f.Partial : null, new(old), new(now), Math.Abs(Off(f, now)) > settings.Outlier.Value);
    }

    // In a lip slur against the closed partial; in a scale against the pitch asked for.
    private static double Beside(Recognised f, Instrument horn) =>
        f.Kind == ExerciseKind.LipSlur ? Closed(f, horn) : f.Note.Hz.Above(f.Note.Pitch.Frequency(horn.A4)).Value;

    // From the others of its kind, also where these were not written.
    private double Off(Recognised f, double now)
    {
        if (f.Kind == ExerciseKind.Scale) return now - (Tuning is { Written: false } t ? t.Cents.Value : 0);
        return now - (Partials.FirstOrDefault(p => p.Partial == f.Partial) is { Written: false } p ? (p.Heard - p.Before).Value : 0);
    }
}

/// <summary>What a calibration leaves open.</summary>
internal static class Unknowns
{
    public static IEnumerable<string> Of(Fit fit, CalibrationSettings settings)
    {
        if (fit.Tuning is null)
            yield return "No chromatic scale was heard: tuning and partial offsets share an unknown shift; the median of the partials near equal temperament was taken for the tuning.";
        if (!fit.HasSlurs)
            yield return "Too few lip slurs in first position were heard: the partials are left as they were.";
        else if (fit.Partials.Where(p => p.Notes < 2).Select(p => Ordinal(p.Partial)).ToList() is { Count: > 0 } once)
            yield return $"Heard only once, so hardly known: the {string.Join(", ", once)} partial.";
        yield return "Tuning slide and air temperature cannot be told apart: both move every note alike (about 3 cents for each degree), so the file keeps its temperature and takes the whole as A4.";
        if (fit.Positions.IsEmpty)
            yield return "Where the slide was cannot be told: that needs a scale and lip slurs on the same partials.";
        else if (settings is { MeasuredLength: null, MeasuredSeventh: null })
            yield return "Pitch gives ratios of tube lengths, so travel is known as a share of the effective length; the centimetres rest on the length the instrument file gives or its pedal and temperature imply. One measured length settles them.";
        if (!fit.Positions.IsEmpty)
            yield return "The positions are those of the chart; where an alternate one was taken instead, the figure tells of another place.";
    }

    private static string Ordinal(int n) => n switch
    {
        2 => "2nd",
        3 => "3rd",
        _ => $"{n}th",
    };
}
