using System.Collections.Immutable;
using Seamwright.Core.Units;

namespace Seamwright.Core.Instruments;

/// <summary>The trombones in common use, built from the pitches their tubes are tuned to.</summary>
/// <remarks>Valve tunings are common practice; nothing here is a position chart.</remarks>
public static class Catalogue
{
    /// <summary>The instrument taken where none is named.</summary>
    public const string DefaultId = "tenor-f";

    /// <summary>All of them, in the order they are listed.</summary>
    public static ImmutableArray<Instrument> All(Air? air = null, Hertz? a4 = null)
    {
        // The seventh position needs 61.0 cm at 20 °C and a tenor slide hardly reaches further.
        const double Tenor = 61.1;
        return
        [
            Make("tenor-straight", "Tenor trombone in B♭", "Bb1", Tenor, []),
            Make("tenor-f", "Tenor trombone in B♭ with F attachment", "Bb1", Tenor, [("F", "F", "F1")]),
            Make("bass-independent", "Bass trombone, independent F and G♭ valves", "Bb1", Tenor, [("F", "F", "F1"), ("Gb", "G♭", "Gb1"), ("F+Gb", "D", "D1")]),
            Make("bass-dependent-d", "Bass trombone, dependent valves F and D", "Bb1", Tenor, [("F", "F", "F1"), ("F+D", "D", "D1")]),
            Make("bass-dependent-eb", "Bass trombone, dependent valves F and E♭", "Bb1", Tenor, [("F", "F", "F1"), ("F+Eb", "E♭", "Eb1")]),
            Make("alto-eb", "Alto trombone in E♭", "Eb2", 45.9, []) with { UsualClef = Clef.Alto },
            Make("alto-eb-bb", "Alto trombone in E♭ with B♭ valve", "Eb2", 45.9, [("Bb", "B♭", "Bb1")]) with { UsualClef = Clef.Alto },

            // Valves of the contrabass differ by maker; C and D♭ on an F horn, A♭ with both, is common practice from memory.
            Make("contrabass-f", "Contrabass trombone in F, two valves (C and D♭)", "F1", 66, [("C", "C", "C1"), ("Db", "D♭", "Db1"), ("C+Db", "A♭", "Ab0")]),
        ];

        Instrument Make(string id, string name, string pedal, double furthest, (string Id, string Label, string Pedal)[] valves) =>
            Build(id, name, Pitch.Parse(pedal), new(furthest), valves, air ?? Air.Standard, a4 ?? Hertz.A440);
    }

    /// <summary>The ids, in the order they are listed.</summary>
    public static ImmutableArray<string> Ids { get; } = [.. All().Select(i => i.Id)];

    /// <summary>One instrument, or null where the id is unknown.</summary>
    public static Instrument? Find(string id, Air? air = null, Hertz? a4 = null) => All(air, a4).FirstOrDefault(i => i.Id == id);

    /// <summary>The default instrument.</summary>
    public static Instrument Default { get; } = Find(DefaultId)!;

    private static Instrument Build(
        string id, string name, Pitch pedal, Centimetres furthest, (string Id, string Label, string Pedal)[] valves, Air air, Hertz a4)
    {
        var open = SideOf("open", [], "", pedal);
        var sides = valves.Select(v => SideOf(v.Id, [.. v.Id.Split('+')], v.Label, Pitch.Parse(v.Pedal)));
        return new Instrument
        {
            Id = id,
            Name = name,
            Pedal = pedal,
            A4 = a4,
            Air = air,
            Sides = [open, .. sides],
            FurthestTravel = furthest,
        };

        Side SideOf(string sideId, ImmutableArray<string> down, string label, Pitch lowest)
        {
            var f = lowest.Frequency(a4);
            return new Side { Id = sideId, Valves = down, Label = label, Fundamental = f, EffectiveLength = Tube.LengthOf(air.SpeedOfSound, f) };
        }
    }
}
