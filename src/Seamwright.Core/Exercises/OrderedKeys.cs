using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Exercises;

/// <summary>Finds tonics and scales of an order.</summary>
internal static class OrderedKeys
{
    /// <summary>For a kind that runs through scales: major where nothing else is said, natural minor on a key ordered as minor.</summary>
    /// <returns>At least one tonic with its scale, or every key that cannot be written.</returns>
    public static Outcome<IReadOnlyList<(PitchName Tonic, Scale Scale)>> OfScales(ExerciseOrder order, Pupil pupil) =>
        Of(order, pupil, key => Scale.Find(order.Scale ?? (key?.Mode == KeyMode.Minor ? "natural-minor" : "major"))!);

    /// <summary>For arpeggios: major where nothing else is said.</summary>
    public static Outcome<IReadOnlyList<(PitchName Tonic, Scale Scale)>> OfArpeggios(ExerciseOrder order, Pupil pupil) =>
        Of(order, pupil, key => Arpeggio.Find(order.Chord ?? (key?.Mode == KeyMode.Minor ? "minor" : "major"))!);

    private static Outcome<IReadOnlyList<(PitchName Tonic, Scale Scale)>> Of(ExerciseOrder order, Pupil pupil, Func<KeyName?, Scale> scaleOf)
    {
        if (order.Keys is not { IsDefaultOrEmpty: false } keys)
        {
            var scale = scaleOf(null);
            return Outcome<IReadOnlyList<(PitchName Tonic, Scale Scale)>>.Of([(TwelveKeys.For(scale, pupil.Instrument.Pedal.Name.PitchClass), scale)]);
        }

        var found = keys.Select(k => (k.Tonic, Scale: scaleOf(k))).ToList();
        var problems = keys.Zip(found).Select(k => Doubt(k.First, k.Second.Scale)).OfType<Problem>().ToList();
        return problems.Count > 0 ? Outcome<IReadOnlyList<(PitchName Tonic, Scale Scale)>>.Failed(problems) : Outcome<IReadOnlyList<(PitchName Tonic, Scale Scale)>>.Of(found);
    }

    private static Problem? Doubt(KeyName key, Scale scale)
    {
        if (key.Mode is { } mode && mode != scale.Mode && scale.Fifths is not null)
            return new("keys", $"{key} and {scale.Words} exclude each other.", $"Order {key.Tonic.ToDisplay()} alone, or another scale or chord.", Severity.Error);
        if (scale.SignatureOn(key.Tonic) is null || Math.Abs(key.Tonic.Alter) > 1)
            return new("keys", $"{scale.NameOn(key.Tonic)} would need more than seven sharps or flats.", $"Order {TwelveKeys.For(scale, key.Tonic.PitchClass).ToDisplay()}, which sounds the same.", Severity.Error);
        return null;
    }
}
