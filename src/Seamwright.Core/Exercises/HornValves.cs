using System.Collections.Immutable;
using Seamwright.Core.Instruments;

namespace Seamwright.Core.Exercises;

/// <summary>The valve tubes an order means.</summary>
/// <param name="Sides">At least one.</param>
internal sealed record HornValves(ImmutableArray<Side> Sides)
{
    /// <summary>The tube ordered, else every valve tube of the horn.</summary>
    /// <returns>An error where the horn has no valve, or none of that name, or the pupil may not use it.</returns>
    public static Outcome<HornValves> Of(ExerciseOrder order, Pupil pupil)
    {
        var sides = pupil.Instrument.Sides.Where(s => !s.Valves.IsEmpty).ToImmutableArray();
        if (sides.IsEmpty)
            return Outcome<HornValves>.Failed(order.Kind, $"{pupil.Instrument.Name} has no valve.", "Order lip-slurs or contrary, or name an instrument with a valve.");
        if (!pupil.Settings.Player.ValvesAllowed)
            return Outcome<HornValves>.Failed(order.Kind, "this pupil may not use valves.", "Allow valves, or order lip-slurs or contrary.");
        if (order.Valve is not { } name) return Outcome<HornValves>.Of(new HornValves(sides));
        return Find(pupil.Instrument, name) is { Valves.IsEmpty: false } one
            ? Outcome<HornValves>.Of(new HornValves([one]))
            : Outcome<HornValves>.Failed("valve", $"{pupil.Instrument.Id} has no valve '{name}'.", Offers(pupil.Instrument));
    }

    /// <summary>A tube by label or id (<c>F</c>, <c>Gb</c>, <c>F+Gb</c>, <c>open</c>); null where there is none.</summary>
    public static Side? Find(Instrument instrument, string name)
    {
        var plain = name.Trim().Replace('♭', 'b').Replace('♯', '#');
        return instrument.Sides.FirstOrDefault(s => s.Id.Equals(plain, StringComparison.OrdinalIgnoreCase) || (s.Label.Length > 0 && s.Label.Replace('♭', 'b').Equals(plain, StringComparison.OrdinalIgnoreCase)));
    }

    /// <summary>What the horn has, in a sentence.</summary>
    public static string Offers(Instrument instrument) => instrument.Sides.Length == 1 ? "It has none." : $"It has: {string.Join(", ", instrument.Sides.Skip(1).Select(s => s.Label))}.";

    /// <summary>Behind a title's first words; empty for the open horn.</summary>
    public static string Words(Side side) => side.Valves.Length switch
    {
        0 => "",
        1 => $" with the {side.Label} valve",
        2 => $" with both valves, {side.Label}",
        _ => $" with all valves, {side.Label}",
    };

    /// <summary>For ids: <c>f</c>, <c>g-flat</c>.</summary>
    public static string Slug(Side side) => side.Valves.IsEmpty ? "open" : side.Label.ToLowerInvariant().Replace("♭", "-flat", StringComparison.Ordinal).Replace("♯", "-sharp", StringComparison.Ordinal);
}
