namespace Seamwright.Core.Sound;

/// <summary>When a passage's pitch has gone a tenth, half and nine tenths of its way.</summary>
internal static class PassageGlide
{
    // Seconds: a quarter of the quickest break.
    private const double Coarse = 2e-4;

    // Less than this is no interval.
    private const double LeastOctaves = 0.3 / 12;

    /// <summary>Seconds; null where the pitch goes nowhere or by a wrong partial.</summary>
    public static (double Ten, double Centre, double Ninety)? Of(Passage p)
    {
        double a = p.FromPitch, b = p.ToPitch;
        if (p.Crack is not null || Math.Abs(b - a) < LeastOctaves) return null;

        // The way proper: from where it last leaves the first tenth to where it first reaches the last one.
        var ninety = FirstAbove(0.9);
        var ten = LastBelow(0.1, ninety);
        return (ten, LastBelow(0.5, ninety), ninety);

        double Share(double t) => (p.At(t) - a) / (b - a);

        double FirstAbove(double share)
        {
            for (var t = p.Start; t < p.End; t += Coarse)
            {
                if (Share(t + Coarse) >= share) return Between(t, t + Coarse, share);
            }

            return p.End;
        }

        double LastBelow(double share, double from)
        {
            for (var t = from; t > p.Start; t -= Coarse)
            {
                if (Share(t - Coarse) <= share) return Between(t - Coarse, t, share);
            }

            return p.Start;
        }

        // Within so little time the way goes one way only.
        double Between(double low, double high, double share)
        {
            while (high - low > 1e-7)
            {
                var middle = (low + high) / 2;
                if (Share(middle) < share) low = middle;
                else high = middle;
            }

            return high;
        }
    }
}
