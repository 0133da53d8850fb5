using System.Collections.Immutable;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Exercises;

/// <summary>What a teacher orders: a kind, and what that kind wants to know. What is left out is chosen.</summary>
/// <remarks>Which members a kind uses is in its <see cref="ExerciseKind.Uses"/>, by these members' names; others must stay null.</remarks>
public sealed record ExerciseOrder
{
    /// <summary>Name of an <see cref="ExerciseKind"/>.</summary>
    public required string Kind { get; init; }

    /// <summary>Tonics; several make an exercise each (all twelve: <see cref="TwelveKeys.For(Scale)"/>). Null: the horn's own for two
    /// years (B-flat; E-flat on an alto), then further round the circle of fifths each year.</summary>
    public ImmutableArray<KeyName>? Keys { get; init; }

    /// <summary>Name of a <see cref="Scale"/>.</summary>
    public string? Scale { get; init; }

    public Register? Register { get; init; }

    /// <summary>1 or 2.</summary>
    public int? Octaves { get; init; }

    public ScaleWay? Way { get; init; }

    /// <summary>Degree the scale starts on, from 1.</summary>
    public int? Degree { get; init; }

    /// <summary>Scale degrees to be repeated from each step, in the notation of <c>docs/degrees.md</c>.</summary>
    public string? Pattern { get; init; }

    /// <summary>A note at concert pitch.</summary>
    public Pitch? Note { get; init; }

    /// <summary>Touches to the beat, each 2 to 4.</summary>
    public ImmutableArray<int>? Touches { get; init; }

    /// <summary>Slide positions, from and to, each 1 to 7.</summary>
    public (int From, int To)? Positions { get; init; }

    /// <summary>Label of a valve side, for instance <c>F</c>.</summary>
    public string? Valve { get; init; }

    /// <summary>Quarter notes a minute, slow to fast, each 20 to 240. Null: by kind and level.</summary>
    public ImmutableArray<double>? Tempos { get; init; }

    /// <summary>Music to draw exercises from.</summary>
    public Tune? Tune { get; init; }

    /// <summary>How many exercises at most, 1 to 24. Null: three.</summary>
    public int? Count { get; init; }

    /// <summary>The one change of the tune to draw on, by its place in the played line, from 0; null: its hardest.</summary>
    public int? Change { get; init; }

    /// <summary>Name of an <see cref="Arpeggio"/>.</summary>
    public string? Chord { get; init; }

    /// <summary>Size of an interval within a scale, 3 (thirds) to 8 (octaves). Null: by level.</summary>
    public int? Interval { get; init; }
}

/// <summary>A part of a piece that exercises are drawn from.</summary>
/// <param name="Title">As the sheet names it.</param>
/// <param name="Part">At concert pitch.</param>
public sealed record Tune(string Title, Part Part);

/// <summary>Where in the pupil's range.</summary>
public enum Register
{
    Low, Middle, High,

    /// <summary>Every octave that fits, an exercise each.</summary>
    All,
}

/// <summary>Which way a scale goes.</summary>
public enum ScaleWay
{
    Both, Up, Down,
}
