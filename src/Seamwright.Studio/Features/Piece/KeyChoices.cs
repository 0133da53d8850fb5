using System.Collections.Immutable;
using Seamwright.Core.Exercises;
using Seamwright.Core.Units;

namespace Seamwright.Studio.Features.Piece;

/// <summary>The twelve keys a page offers.</summary>
internal static class KeyChoices
{
    /// <summary>From C up, as forms send them: <c>Bb</c>.</summary>
    public static ImmutableArray<string> All { get; } = [.. TwelveKeys.For(Scale.Find("major")!).Select(t => t.ToString())];

    /// <summary>As a reader calls it: <c>B♭</c>.</summary>
    public static string Words(string key) => PitchName.TryParse(key, out var name) ? name.ToDisplay() : key;
}
