using System.Collections.Immutable;
using Seamwright.Core.Units;

namespace Seamwright.Core.Sound.Rooms;

/// <summary>A place in a room, metres from one of its lower corners.</summary>
public readonly record struct Place(double X, double Y, double Z)
{
    /// <summary>Metres to another place.</summary>
    public double To(Place other) => Math.Sqrt(Math.Pow(X - other.X, 2) + Math.Pow(Y - other.Y, 2) + Math.Pow(Z - other.Z, 2));
}

/// <summary>A shoebox in which a player is heard.</summary>
/// <param name="Name">What it is called on a command line.</param>
/// <param name="Size">Its far upper corner.</param>
/// <param name="Decay">Reverberation time: until sound has fallen by 60 dB; the same for every pitch.</param>
/// <param name="Player">Where the bell is.</param>
/// <param name="Listener">Where it is heard.</param>
/// <remarks>Sizes, times and places are proposed: a practice room and a small concert hall, heard from so near that the room stays behind the
/// playing.</remarks>
public sealed record Room(string Name, Place Size, Seconds Decay, Place Player, Place Listener)
{
    /// <summary>Metres a second at 20 °C.</summary>
    public const double SpeedOfSound = 343.2;

    /// <summary>How much more power a bell sends towards the listener than all round: proposed, for the middle of a trombone's compass.</summary>
    public const double Directivity = 3;

    /// <summary>5 by 4 by 2.8 m, 0.4 s, heard from 1 m.</summary>
    public static readonly Room Small = new("small", new(5, 4, 2.8), new(0.4), new(2.1, 1.7, 1.3), new(2.9, 2.3, 1.3));

    /// <summary>25 by 16 by 10 m, 1.8 s, heard from 4 m.</summary>
    public static readonly Room Hall = new("hall", new(25, 16, 10), new(1.8), new(5.3, 7.1, 1.4), new(9.2, 8, 1.4));

    /// <summary>Every room there is.</summary>
    public static readonly ImmutableArray<Room> All = [Small, Hall];

    /// <summary>m³.</summary>
    public double Volume => Size.X * Size.Y * Size.Z;

    /// <summary>m².</summary>
    public double Surface => 2 * ((Size.X * Size.Y) + (Size.Y * Size.Z) + (Size.Z * Size.X));

    /// <summary>Share of the power that each surface takes, by Eyring's formula (J. Acoust. Soc. Am. 1 (1930) 217) for this decay:
    /// T = 24·ln 10·V/(−c·S·ln(1 − α)).</summary>
    public double Absorption => 1 - Math.Exp(-24 * Math.Log(10) * Volume / (SpeedOfSound * Surface * Decay.Value));

    /// <summary>Way from player to listener, metres.</summary>
    public double Direct => Player.To(Listener);

    /// <summary>Until then single reflections are heard, after it a tail: the mixing time of √V ms (Polack, Applied Acoustics 38 (1993) 235), and never under
    /// 15 ms.</summary>
    public Seconds Mixing => Seconds.FromMilliseconds(Math.Max(15, Math.Sqrt(Volume)));

    /// <summary>Energy of all that comes after a time, against what comes straight: the diffuse field's 16π·d²·(1 − α)/(Q·S·α), falling by the
    /// decay (Kuttruff, Room Acoustics, on the steady field).</summary>
    public double EnergyAfter(Seconds time) =>
        16 * Math.PI * Direct * Direct * (1 - Absorption) / (Directivity * Surface * Absorption) * Math.Pow(10, -6 * time.Value / Decay.Value);
}
