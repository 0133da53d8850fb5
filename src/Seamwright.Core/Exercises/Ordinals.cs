namespace Seamwright.Core.Exercises;

/// <summary>Numbers as headings say them.</summary>
internal static class Ordinals
{
    /// <summary><c>1st</c>, <c>2nd</c>, <c>12th</c>.</summary>
    public static string Of(int n) => n + ((n % 100) is 11 or 12 or 13 ? "th" : (n % 10) switch
    {
        1 => "st",
        2 => "nd",
        3 => "rd",
        _ => "th",
    });
}
