using System.Collections.Immutable;
using Seamwright.Core.Units;

namespace Seamwright.Core.Instruments;

/// <summary>A trombone: its tubes, its partials, its slide and the air in it.</summary>
public sealed record Instrument
{
    public required string Id { get; init; }

    public required string Name { get; init; }

    /// <summary>Sounding pitch of the open horn's pedal, slide closed: B♭1 for a tenor.</summary>
    public required Pitch Pedal { get; init; }

    /// <summary>What the instrument is tuned to.</summary>
    public Hertz A4 { get; init; } = Hertz.A440;

    public Air Air { get; init; } = Air.Standard;

    /// <summary>The open horn first, then every valve combination that can be held.</summary>
    public required ImmutableArray<Side> Sides { get; init; }

    /// <summary>Cents by which partial n (key) lies above the n-th harmonic; a missing key is 0, the harmonic series.</summary>
    public ImmutableDictionary<int, Cents> PartialOffsets { get; init; } = ImmutableDictionary<int, Cents>.Empty;

    /// <summary>Highest partial that is used, at least 2. The tenor's twelfth is F5, the top of the professional range.</summary>
    public int HighestPartial { get; init; } = 12;

    /// <summary>Furthest usable slide travel.</summary>
    public required Centimetres FurthestTravel { get; init; }

    /// <summary>A setting whose uncorrectable error is larger than this is not offered. Default 25 cents, where a melody
    /// begins to sound out of tune (Larrouy-Maestri, Music and Science 2018).</summary>
    public Cents LargestResidual { get; init; } = new(25);

    /// <summary>The clef the instrument usually reads: bass, or alto for the alto.</summary>
    public Clef UsualClef { get; init; } = Clef.Bass;

    public Side Open => Sides[0];

    /// <summary>The same instrument tuned to another A4: every tube as it would be built for it.</summary>
    public Instrument TunedTo(Hertz a4)
    {
        var ratio = a4.Value / A4.Value;
        return this with
        {
            A4 = a4,
            Sides = [.. Sides.Select(x => x with { Fundamental = new(x.Fundamental.Value * ratio), EffectiveLength = new(x.EffectiveLength.Value / ratio) })],
        };
    }

    /// <summary>Position, in open-horn units, of a slide travel: 1 closed, one more for each open-horn semitone.</summary>
    public double PositionAt(Centimetres travel) => 1 + Tube.SemitonesAt(Open.EffectiveLength, travel);

    /// <summary>Travel of a position in open-horn units.</summary>
    /// <param name="position">1 or more.</param>
    public Centimetres TravelAt(double position) => Tube.TravelFor(Open.EffectiveLength, position - 1);

    /// <summary>What sounds: n · fundamental · offset · L/(L + 2·travel).</summary>
    public Hertz Sounding(Side side, int partial, Centimetres travel)
    {
        var closed = partial * side.Fundamental + PartialOffsets.GetValueOrDefault(partial);
        return new(closed.Value * side.EffectiveLength.Value / (side.EffectiveLength.Value + (2 * travel.Value)));
    }

    /// <summary>The slide travel at which a partial of a side sounds a frequency, whether the slide can go there or not; negative: further in
    /// than closed. The inverse of <see cref="Sounding(Side, int, Centimetres)"/>.</summary>
    public Centimetres TravelFor(Side side, int partial, Hertz sounding) =>
        new(side.EffectiveLength.Value * ((Sounding(side, partial, new(0)).Value / sounding.Value) - 1) / 2);

    /// <summary>What a setting sounds.</summary>
    public Hertz Sounding(SlideSetting setting) => Sounding(setting.Side, setting.Partial, setting.Travel);

    /// <summary>Every setting that plays a pitch: open horn first, then by partial from the lowest.</summary>
    /// <returns>Empty where the instrument cannot play it.</returns>
    public ImmutableArray<SlideSetting> SettingsFor(Pitch pitch) => SettingsFor(pitch, FurthestTravel);

    /// <summary>As <see cref="SettingsFor(Pitch)"/>, for an arm that reaches less far than the slide.</summary>
    public ImmutableArray<SlideSetting> SettingsFor(Pitch pitch, Centimetres reach)
    {
        var furthest = reach < FurthestTravel ? reach : FurthestTravel;
        var target = pitch.Frequency(A4);
        var found = ImmutableArray.CreateBuilder<SlideSetting>();
        foreach (var side in Sides)
        {
            for (var partial = 1; partial <= HighestPartial; partial++)
            {
                if (SettingOn(side, partial, target, furthest) is { } setting) found.Add(setting);
            }
        }

        return found.ToImmutable();
    }

    /// <summary>Lowest and highest chromatic pitch the instrument can play.</summary>
    public (Pitch Low, Pitch High) Range()
    {
        var playable = Enumerable.Range(0, 128).Select(Pitch.FromMidi).Where(p => !SettingsFor(p).IsEmpty).ToList();
        return (playable[0], playable[^1]);
    }

    /// <summary>The setting a player reads first: the lowest position on the open horn, except that a valve stands in for sixth
    /// and seventh position where it plays the note nearer in (Wikibooks, Trombone slide positions).</summary>
    /// <remarks>For the open B-flat horn E2–D5 this is OEIS A309909.</remarks>
    /// <returns>Null where the instrument cannot play the note.</returns>
    public SlideSetting? UsualSetting(Pitch pitch)
    {
        var all = SettingsFor(pitch);
        var open = all.Where(s => s.Side.Valves.IsEmpty).OrderBy(s => s.Semitone).ThenBy(s => s.Partial).FirstOrDefault();
        if (open is { Semitone: < 5 }) return open;
        var valve = all.Where(s => !s.Side.Valves.IsEmpty && s.Partial > 1)
            .OrderBy(s => s.Valves.Length).ThenBy(s => s.Travel.Value).ThenBy(s => s.Partial).FirstOrDefault();
        return valve ?? open ?? all.FirstOrDefault();
    }

    private SlideSetting? SettingOn(Side side, int partial, Hertz target, Centimetres furthest)
    {
        var length = side.EffectiveLength.Value;
        var wanted = TravelFor(side, partial, target).Value;
        var travel = new Centimetres(Math.Clamp(wanted, 0, furthest.Value));
        var residual = Sounding(side, partial, travel).Above(target);
        if (Math.Abs(residual.Value) > LargestResidual.Value) return null;
        var harmonicAbove = Tube.NearestSemitone(partial) + (12 * Math.Log2(side.Fundamental.Value / target.Value));
        var semitone = Math.Max(0, (int)Math.Round(harmonicAbove));
        var plain = Tube.TravelFor(side.EffectiveLength, semitone);
        return new SlideSetting
        {
            Side = side,
            Partial = partial,
            Travel = travel,
            Position = PositionAt(travel),
            Semitone = semitone,
            Correction = new(1200 * Math.Log2((length + (2 * plain.Value)) / (length + (2 * travel.Value)))),
            Residual = wanted == travel.Value ? new(0) : residual,
        };
    }
}
