using Seamwright.Core.Units;

namespace Seamwright.Film;

/// <summary>How far making a film may go.</summary>
public sealed record FilmLimits
{
    /// <summary>The longest film. Default 40 minutes: at the pace of a busy machine it takes as long to make.</summary>
    public Seconds Longest { get; init; } = new(40 * 60);

    /// <summary>The encoder is given up when it takes nothing for so long. Default 60 s.</summary>
    public Seconds Patience { get; init; } = new(60);

    /// <summary>Path of the program ffmpeg; empty for none; null looks on the path.</summary>
    public string? Ffmpeg { get; init; }
}
