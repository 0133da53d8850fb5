using System.Collections.Immutable;
using System.Xml.Linq;

namespace Seamwright.Core.Diagnosis.Page;

/// <summary>The line of music with its marks, engraved for a page on a screen. The engraver comes later in the flow, so it hands this in.</summary>
/// <param name="Definitions">A <c>defs</c> element with the shapes the systems refer to.</param>
/// <param name="Wide">For a desk: one SVG element a system.</param>
/// <param name="Narrow">The same music for a telephone.</param>
public sealed record PageMusic(XElement Definitions, ImmutableArray<MusicSystem> Wide, ImmutableArray<MusicSystem> Narrow);

/// <summary>One system of music.</summary>
/// <param name="Svg">An SVG element without ids that could clash; its marks have the classes <c>clean</c>, <c>watch</c>, <c>fault</c> and <c>open</c>.</param>
/// <param name="Title">What a reader who cannot see it is told.</param>
public sealed record MusicSystem(XElement Svg, string Title);
