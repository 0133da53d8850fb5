using System.Collections.Immutable;
using Seamwright.Core.Instruments;
using Seamwright.Core.Planning;

namespace Seamwright.Film.Score;

/// <summary>One movement of the arm, or a change of valves without one.</summary>
/// <param name="Start">Film time in seconds.</param>
/// <param name="End">When the arm has arrived: with the note's beginning.</param>
/// <param name="From">The setting left; null before the first.</param>
/// <param name="To">The setting reached.</param>
public readonly record struct SlideMove(double Start, double End, SlideSetting? From, SlideSetting To);

/// <summary>The slide's travel and the valves against time: minimum-jerk movements that arrive with their notes.</summary>
/// <remarks>Movements take the plan's time, and never more than half of the note they leave: in the middle of every note the slide
/// rests where the plan wants it.</remarks>
public sealed class SlidePath
{
    private readonly ImmutableArray<SlideMove> moves;
    private readonly double[] starts;

    private SlidePath(ImmutableArray<SlideMove> moves) => (this.moves, starts) = (moves, [.. moves.Select(m => m.Start)]);

    /// <summary>In time; the first sets the slide before anything sounds.</summary>
    public IReadOnlyList<SlideMove> Moves => moves;

    /// <summary>The path through all passages.</summary>
    /// <param name="passages">With at least one note that has a setting.</param>
    public static SlidePath Of(ImmutableArray<SoundingPassage> passages)
    {
        var moves = ImmutableArray.CreateBuilder<SlideMove>();
        SlideSetting? here = null;
        var left = double.NegativeInfinity;
        foreach (var passage in passages)
        {
            foreach (var note in passage.Notes)
            {
                var time = passage.At(note.Note.StartTime).Value;
                if (note.Setting is { } setting)
                {
                    moves.Add(MoveTo(setting, here, left, time, MoveTime(passage, note)));
                    here = setting;
                }

                left = time;
            }
        }

        return new SlidePath(moves.ToImmutable());
    }

    /// <summary>Travel from closed, in centimetres.</summary>
    public double TravelAt(double time)
    {
        var move = MoveAt(time);
        var to = move.To.Travel.Value;
        if (move.From is not { } from || time >= move.End) return to;
        return from.Travel.Value + ((to - from.Travel.Value) * MinimumJerk.Progress((time - move.Start) / (move.End - move.Start)));
    }

    /// <summary>The setting whose valves are held: the new one from the middle of the movement.</summary>
    public SlideSetting SettingAt(double time)
    {
        var move = MoveAt(time);
        return move.From is { } from && time < (move.Start + move.End) / 2 ? from : move.To;
    }

    private static SlideMove MoveTo(SlideSetting setting, SlideSetting? here, double left, double time, double wanted)
    {
        if (here is null) return new(double.NegativeInfinity, time, null, setting);
        return new(time - Math.Min(wanted, (time - left) / 2), time, here, setting);
    }

    // A player who comes from another passage has all the time there is: half a second looks calm. A glissando is played over the
    // greater part of its note, so its slide is seen as long as may be.
    private static double MoveTime(SoundingPassage passage, PlannedNote note)
    {
        if (note.Note.Index <= passage.FirstNote) return 0.5;
        var change = passage.Plan.Changes[note.Note.Index - 1];
        return change.Kind == ChangeKind.Glissando ? double.PositiveInfinity : change.MoveTime.Value;
    }

    private SlideMove MoveAt(double time)
    {
        var i = Array.BinarySearch(starts, time);
        if (i < 0) i = Math.Max(0, ~i - 1);
        while (i + 1 < starts.Length && starts[i + 1] <= time) i++;
        return moves[i];
    }
}
