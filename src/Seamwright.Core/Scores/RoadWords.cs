namespace Seamwright.Core.Scores;

/// <summary>The words a sheet prints for the jumps of its road, from the signs the piece holds.</summary>
public static class RoadWords
{
    /// <summary><c>D.C.</c> or <c>D.S.</c>, with <c>al Coda</c> or <c>al Fine</c> where the piece has one; empty without a jump.</summary>
    public static string Jump(Part part, Bar bar)
    {
        if (bar.Road.Jump == Scores.Jump.None) return "";
        var words = bar.Road.Jump == Scores.Jump.DaCapo ? "D.C." : "D.S.";
        if (part.Bars.Any(b => b.Road.ToCoda)) return words + " al Coda";
        return part.Bars.Any(b => b.Road.Fine) ? words + " al Fine" : words;
    }
}
