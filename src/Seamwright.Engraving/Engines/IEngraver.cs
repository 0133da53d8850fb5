using System.Collections.Immutable;

namespace Seamwright.Engraving.Engines;

/// <summary>Turns notation (MEI 5) into one SVG document a page.</summary>
/// <remarks>Safe to call from several threads: calls wait for one another.</remarks>
public interface IEngraver : IDisposable
{
    /// <summary>Engraves everything.</summary>
    /// <param name="mei">A complete MEI document.</param>
    /// <param name="options">The engraver's own options as a JSON object.</param>
    /// <returns>At least one page.</returns>
    /// <exception cref="EngravingException">The engraver failed; a new one is made for the next call.</exception>
    ImmutableArray<string> Engrave(string mei, string options);
}

/// <summary>The engraver is missing, cannot be started, or gave up on a piece.</summary>
public sealed class EngravingException : Exception
{
    public EngravingException()
    {
    }

    public EngravingException(string message)
        : base(message)
    {
    }

    public EngravingException(string message, Exception inner)
        : base(message, inner)
    {
    }
}
