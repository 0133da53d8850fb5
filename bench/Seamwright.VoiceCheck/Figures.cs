using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Sound;
using Seamwright.Core.Units;

namespace Seamwright.VoiceCheck;

/// <summary>The figure that each fault's amount counts, as made, as heard, and as the ear bounds it: ms or dB.</summary>
internal static class Figures
{
    /// <summary>How far from what was asked an ear may read, in the amount's unit.</summary>
    public static double Goal(Fault fault) => fault is Fault.HardTongue ? 1 : 5;

    /// <summary>As it is counted: an early tongue lies below zero.</summary>
    public static double Wanted(Fault fault, double amount) => fault == Fault.EarlyTongue ? -amount : amount;

    public static double? Made(Fault fault, ChangeTruth truth) => Of(fault, truth.Glide, truth.TongueOffset, truth.Dip, truth.Gap);

    public static double? Heard(Fault fault, HeardChange heard) => Of(fault, heard.Glide, heard.TongueOffset, heard.Dip, heard.Gap);

    public static (double Low, double High)? Told(Fault fault, HeardChange heard) => fault switch
    {
        Fault.HardTongue => heard.DipBounds is { } b ? (b.Low.Value, b.High.Value) : null,
        Fault.StoppedAir => Ms(heard.GapBounds),
        Fault.LateTongue or Fault.EarlyTongue => Ms(heard.TongueOffsetBounds),
        _ => Ms(heard.GlideBounds),
    };

    public static bool OnOnePartial(Plan plan, NoteChange change) => plan.StaysOnPartial(change);

    /// <summary>Whether somebody asks: across partials a glide is mostly jump, and how long it takes nobody does.</summary>
    public static bool IsAsked(Fault fault, bool across) => !across || fault is not (Fault.Smeared or Fault.SlowSlide or Fault.NoTongue);

    private static double? Of(Fault fault, Seconds? glide, Seconds? offset, Decibels? dip, Seconds? gap) => fault switch
    {
        Fault.HardTongue => dip?.Value,
        Fault.StoppedAir => gap?.Milliseconds,
        Fault.LateTongue or Fault.EarlyTongue => offset?.Milliseconds,
        _ => glide?.Milliseconds,
    };

    private static (double Low, double High)? Ms(Bounds<Seconds>? b) => b is { } known ? (known.Low.Milliseconds, known.High.Milliseconds) : null;
}
