using Seamwright.Core.Planning;
using Seamwright.Core.Units;

namespace Seamwright.Core.Sound;

/// <summary>Finds what arm and tongue must do so that what was asked of a change is what sounds.</summary>
/// <remarks>The air column answers late and adds dips of its own where partials break, so asking for 13 dB does not give 13 dB. Each
/// change is tried on the simulation, and its execution moved by what was missing, until dip, tongue, silence and glide fit
/// or nothing more can be had: a dip smaller than the break's own cannot. Across partials glide, and a tongue that is to come with it, keep the arm's
/// time: how much of the way is a jump, and when, is the column's affair. A tongue beside the break leaves two dips, the deeper one its own.</remarks>
internal sealed class Shaper
{
    private const int Tries = 8;

    // dB and seconds: a tenth of what an ear may be wrong by.
    private const double FineDb = 0.1, FineTime = 5e-4;

    // dB by which a tongue stands out of the break beside it, and less where it lies so near, seconds, that it would choke the break.
    private const double Clear = 5, NearClear = 2, Near = 0.043;

    // Seconds beside its moment from which not the tongue was found but the break, and dB by which it then cuts deeper.
    private const double Lost = 2e-3, DeeperBy = 2, MostDeeper = 8;

    private const double DeepestDip = 70, ShortestGap = 0.002, LongestGap = 1;

    private readonly Paths paths;
    private readonly double step;

    // One player and one curve for every trial: nothing is wasted on them.
    private readonly Simulation player;
    private readonly ToneCurve curve;
    private readonly Dictionary<Case, ChangeExecution> known = [];
    private int shaped;

    public Shaper(Paths paths, Plan plan, VoiceSettings settings, double step)
    {
        (this.paths, this.step) = (paths, step);
        var steady = settings with { Wander = new(0), Unevenness = new(0) };
        player = new Simulation(paths, plan.Instrument, step, steady);
        curve = new ToneCurve(0, step, Rush.Of(steady));
    }

    /// <summary>Every passage up to this one is shaped when this returns.</summary>
    public void UpTo(int passage)
    {
        for (; shaped <= passage && shaped < paths.Passages.Length; shaped++) Shape(shaped);
    }

    private void Shape(int i)
    {
        var asked = paths.Passages[i].Execution;
        if (asked.Rest.Value > 0 || !Wants(asked)) return;
        var key = CaseOf(i, asked);
        if (!known.TryGetValue(key, out var found)) known[key] = found = Felt(i, asked);
        paths.Replace(i, found);
    }

    // Over wide leaps, and low down, the break's own dip is as deep as the tongue's: a tongue that comes beside it is felt only where it cuts deeper.
    private ChangeExecution Felt(int i, ChangeExecution asked)
    {
        if (paths.Passages[i].OnOnePartial || asked.DipOffset.Value == 0 || asked.Gap.Value > 0) return Find(i, asked).Found;
        paths.Replace(i, asked with { Dip = default });
        if (Try(i).Truth.Dip is { } own) asked = asked with { Dip = new(Math.Max(asked.Dip.Value, own.Value + (Math.Abs(asked.DipOffset.Value) < Near ? NearClear : Clear))) };
        var (found, missing) = Find(i, asked);
        for (var deeper = DeeperBy; Math.Abs(missing.Offset) > Lost && deeper <= MostDeeper; deeper += DeeperBy)
            (found, missing) = Find(i, asked with { Dip = asked.Dip + new Decibels(deeper) });
        return found;
    }

    private (ChangeExecution Found, Shortfall Missing) Find(int i, ChangeExecution asked)
    {
        var (best, least, left) = (asked, double.MaxValue, default(Shortfall));
        var now = asked;
        Slope dip = default, gap = default, offset = default;
        for (var n = 0; n < Tries; n++)
        {
            paths.Replace(i, now);
            var missing = Missing(i, asked, Try(i));
            var size = missing.Size;
            if (size < least) (best, least, left) = (now, size, missing);
            if (size <= 1) break;
            now = Moved(asked, now, missing with
            {
                Dip = dip.Step(now.Dip.Value, missing.Dip),
                Gap = gap.Step(now.Gap.Value, missing.Gap),
                Offset = offset.Step(now.DipOffset.Value, missing.Offset),
            });
        }

        return (best, left);
    }

    private static bool Wants(ChangeExecution asked) =>
        asked.Dip.Value > 0 || asked.Gap.Value > 0 || asked.Glide is not null;

    private Shortfall Missing(int i, ChangeExecution asked, (ChangeTruth Truth, double GapCentre) made)
    {
        var (truth, passage) = (made.Truth, paths.Passages[i]);
        var offset = !passage.OnOnePartial && asked.DipOffset.Value == 0 ? 0
            : asked.Gap.Value > 0 ? paths.Boundary(i) + asked.DipOffset.Value - made.GapCentre
            : asked.Dip.Value > 0 && truth.TongueOffset is { } t ? asked.DipOffset.Value - t.Value : 0;
        return new Shortfall(
            asked.Gap.Value > 0 ? 0 : asked.Dip.Value - (truth.Dip?.Value ?? 0),
            offset,
            asked.Gap.Value > 0 ? asked.Gap.Value - (truth.Gap?.Value ?? 0) : 0,
            asked.Glide is { } glide && passage.OnOnePartial && passage.From.Travel != passage.To.Travel ? glide.Value - (truth.Glide?.Value ?? 0) : 0);
    }

    private static ChangeExecution Moved(ChangeExecution asked, ChangeExecution now, Shortfall missing)
    {
        var move = Math.Max(0, now.Move.Value + (missing.Glide / MinimumJerk.TenToNinety));
        return now with
        {
            Dip = new(Math.Clamp(now.Dip.Value + missing.Dip, 0, DeepestDip)),
            DipOffset = new(now.DipOffset.Value + missing.Offset),
            Gap = now.Gap.Value > 0 ? new(Math.Clamp(now.Gap.Value + missing.Gap, ShortestGap, LongestGap)) : now.Gap,
            Move = new(move),

            // The arm arrives when it was to arrive.
            Centre = new(asked.Centre.Value + ((asked.Move.Value - move) / 2)),
        };
    }

    private (ChangeTruth Truth, double GapCentre) Try(int i)
    {
        var window = paths.WindowOf(i);
        player.StartHolding(window.From);
        curve.Begin(window.From + step);
        while (player.Time < window.To)
        {
            player.Next();
            curve.Add(player);
        }

        var (fromDb, toDb) = paths.Level.About(i);
        return (CurveTruth.Of(curve, paths.Passages[i], window, fromDb, toDb), CurveTruth.GapCentre(curve, window, Math.Min(fromDb, toDb)));
    }

    private Case CaseOf(int i, ChangeExecution asked)
    {
        var p = paths.Passages[i];
        return new Case(
            Key(p.From.Side.Id, p.From.Partial, p.From.Travel), Key(p.To.Side.Id, p.To.Partial, p.To.Travel),
            paths.Level.About(i), asked);

        static (string, int, Centimetres) Key(string side, int partial, Centimetres travel) => (side, partial, travel);
    }

    // Two changes between the same settings and levels that are asked for alike.
    private readonly record struct Case((string, int, Centimetres) From, (string, int, Centimetres) To, (double From, double To) Db, ChangeExecution Asked);

    /// <summary>How much comes for so much more that is asked. A silence grows by more than the air stays away longer, for what falls deeper
    /// comes back later; a deep tongue leaves less than it is told to, for of what is left a part is rush.</summary>
    private struct Slope
    {
        private double before, excess;
        private bool tried;

        /// <summary>By how much to move what is asked so that what is missing comes.</summary>
        public double Step(double now, double missing)
        {
            var rise = tried && Math.Abs(now - before) > 1e-6 ? Math.Clamp((-missing - excess) / (now - before), 0.4, 4) : 1;
            (before, excess, tried) = (now, -missing, true);
            return missing / rise;
        }
    }

    private readonly record struct Shortfall(double Dip, double Offset, double Gap, double Glide)
    {
        /// <summary>1 and less is good enough.</summary>
        public double Size => Math.Max(
            Math.Abs(Dip) / FineDb, Math.Max(Math.Max(Math.Abs(Offset), Math.Abs(Gap)), Math.Abs(Glide)) / FineTime);
    }
}
