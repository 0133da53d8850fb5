namespace Seamwright.Core.Listening;

/// <summary>From standard deviations to 90 % intervals.</summary>
internal static class Bounding
{
    // Quantile of the normal distribution for 90 % in the middle.
    internal const double NinetyPercent = 1.645;

    /// <summary>Half the width of an interval.</summary>
    /// <param name="deviation">What the fit itself does not know.</param>
    /// <param name="floor">What no fit of this kind knows, however clean the sound: the shape of a real change is not the model's.</param>
    /// <param name="share">The same in proportion to the figure.</param>
    public static double Reach(double deviation, double floor, double share) =>
        NinetyPercent * Math.Sqrt((deviation * deviation) + (floor * floor) + (share * share));
}
