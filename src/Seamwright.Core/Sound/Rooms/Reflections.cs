using System.Collections.Immutable;
using Seamwright.Core.Units;

namespace Seamwright.Core.Sound.Rooms;

/// <summary>A reflection: how much later than the straight sound, and its amplitude against it.</summary>
internal readonly record struct Reflection(Seconds Later, double Amplitude);

/// <summary>The first reflections of a shoebox.</summary>
internal static class Reflections
{
    /// <summary>Every image of the player that is heard before the room's mixing time, soonest first.</summary>
    /// <remarks>Image sources (Allen and Berkley, J. Acoust. Soc. Am. 65 (1979) 943): along each axis an image lies at 2n·L ± x and has been
    /// reflected |2n| or |2n − 1| times; each reflection leaves √(1 − α) of the amplitude, which falls with the way. What goes to the walls left the bell
    /// beside its axis: of that there is 1/Q of the power.</remarks>
    public static ImmutableArray<Reflection> Of(Room room)
    {
        var (kept, beside) = (Math.Sqrt(1 - room.Absorption), 1 / Math.Sqrt(Room.Directivity));
        var furthest = room.Direct + (room.Mixing.Value * Room.SpeedOfSound);
        var found = new List<Reflection>();
        foreach (var x in Images(room.Player.X, room.Size.X, furthest))
        {
            foreach (var y in Images(room.Player.Y, room.Size.Y, furthest))
            {
                foreach (var z in Images(room.Player.Z, room.Size.Z, furthest))
                {
                    var (way, times) = (new Place(x.At, y.At, z.At).To(room.Listener), x.Times + y.Times + z.Times);
                    if (times > 0 && way <= furthest) found.Add(new(new((way - room.Direct) / Room.SpeedOfSound), beside * Math.Pow(kept, times) * room.Direct / way));
                }
            }
        }

        return [.. found.OrderBy(r => r.Later)];
    }

    private static IEnumerable<(double At, int Times)> Images(double at, double size, double furthest)
    {
        var most = (int)Math.Ceiling((furthest + size) / (2 * size));
        for (var n = -most; n <= most; n++)
        {
            yield return ((2 * n * size) + at, Math.Abs(2 * n));
            yield return ((2 * n * size) - at, Math.Abs((2 * n) - 1));
        }
    }
}
