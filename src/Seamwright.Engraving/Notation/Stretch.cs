namespace Seamwright.Engraving.Notation;

/// <summary>Some bars of a part.</summary>
/// <param name="From">Index of the first.</param>
/// <param name="To">Index of the bar after the last.</param>
internal readonly record struct Stretch(int From, int To);
