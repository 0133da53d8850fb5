using System.Collections.Immutable;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Sound;

/// <summary>What faults mean where an exercise asks something of its own.</summary>
internal static class AskedFaults
{
    /// <summary>Whether a change of which an exercise asks something can go wrong so; null where the exercise has no say in it.</summary>
    public static bool? Apply(Fault fault, NoteChange change) => fault switch
    {
        Fault.HurriedSlide => change is { Intent: ChangeIntent.SlowSlide, Kind: ChangeKind.Glissando },
        Fault.Tongued => AskedPlaying.WantsNoTongue(change),
        Fault.UnevenAir => change.Intent == ChangeIntent.TouchedTone,
        Fault.NoTongue when change.Intent == ChangeIntent.TouchedTone => true,
        Fault.NoTongue or Fault.Smeared or Fault.LateTongue or Fault.EarlyTongue when AskedPlaying.WantsNoTongue(change) => false,
        Fault.SlowSlide when change.Intent == ChangeIntent.SlowSlide => false,
        _ => null,
    };

    /// <summary>Glide of a slow arm where a fast one is asked for: half as long again as an ear lets pass, whatever the way.</summary>
    public static double CreptMs(NoteChange change, double much) =>
        change.Intent == ChangeIntent.FastSlide ? Math.Max(much, 1.9 * change.SmearIfUntongued.Milliseconds) : much;

    /// <summary>Levels of a performance whose air changes: each touch that is struck makes the tone softer, the next one brings it back, and
    /// so does a breath.</summary>
    /// <returns>One for each note; empty where no change is struck.</returns>
    public static ImmutableArray<Decibels> Levels(Plan plan, Func<NoteChange, bool> strikes, double amount)
    {
        if (!plan.Changes.Any(strikes)) return [];
        var levels = ImmutableArray.CreateBuilder<Decibels>(plan.Notes.Length);
        var softer = false;
        levels.Add(default);
        foreach (var change in plan.Changes)
        {
            softer = change.Kind != ChangeKind.Breath && softer ^ strikes(change);
            levels.Add(new(softer ? -amount : 0));
        }

        return levels.MoveToImmutable();
    }
}
