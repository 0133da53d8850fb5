using System.Collections.Immutable;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Exercises;

/// <summary>Finds tonics and scales of an order.</summary>
internal static class OrderedKeys
{
    /// <summary>The order with keys that can be written: one that would need more than seven sharps or flats gets the name that sounds the same, and
    /// one that excludes the scale is left out while another is left; both are told.</summary>
    /// <returns>An error where no key is left.</returns>
    /// <param name="order">Of any kind.</param>
    /// <param name="kind">Its kind.</param>
    /// <param name="pupil">Who reads it.</param>
    public static Outcome<ExerciseOrder> Written(ExerciseOrder order, ExerciseKind kind, Pupil pupil)
    {
        if (order.Keys is not { IsDefaultOrEmpty: false } keys || !(kind.Uses.Contains(nameof(order.Scale)) || kind.Uses.Contains(nameof(order.Chord)))) return Outcome<ExerciseOrder>.Of(order);
        var problems = new List<Problem>();
        var written = keys.Select(k => Written(k, ScaleOf(order, k), problems)).OfType<KeyName>().Select(k => k with { Tonic = Readable(k.Tonic, ScaleOf(order, k), pupil) }).Distinct().ToImmutableArray();
        return written.IsEmpty
            ? Outcome<ExerciseOrder>.Failed([.. problems.Select(p => p with { Severity = Severity.Error })])
            : Outcome<ExerciseOrder>.Of(order with { Keys = written }, problems);
    }

    /// <summary>Every tonic with its scale or arpeggio; the level's (<see cref="LevelKeys"/>) where none is ordered.</summary>
    /// <param name="order">Its keys can be written, see <see cref="Written(ExerciseOrder, ExerciseKind, Pupil)"/>.</param>
    /// <param name="pupil">Whose horn.</param>
    /// <returns>At least one.</returns>
    public static IReadOnlyList<(PitchName Tonic, Scale Scale)> Of(ExerciseOrder order, Pupil pupil)
    {
        if (order.Keys is { IsDefaultOrEmpty: false } keys) return [.. keys.Select(k => (k.Tonic, ScaleOf(order, k)))];
        var scale = ScaleOf(order, null);
        return [(Readable(TwelveKeys.For(scale, LevelKeys.Of(pupil).PitchClass), scale, pupil), scale)];
    }

    // Written a tone higher, sharps become two more: seven and more of them are read as flats (B sounds, D♭ is read).
    private static PitchName Readable(PitchName tonic, Scale scale, Pupil pupil)
    {
        var read = tonic + Interval.MajorSecond;
        return pupil.Clef == Clef.TrebleBb && scale.SignatureOn(read) is not { Fifths: >= -6 and <= 6 } ? PitchName.OnFifths(TwelveKeys.For(scale, read.PitchClass).Fifths - 2) : tonic;
    }

    // Major where nothing else is said, minor on a key ordered as minor.
    private static Scale ScaleOf(ExerciseOrder order, KeyName? key)
    {
        var isMinor = key?.Mode == KeyMode.Minor;
        return order.Kind == Arpeggios.Kind.Name ? Arpeggio.Find(order.Chord ?? (isMinor ? "minor" : "major"))! : Scale.Find(order.Scale ?? (isMinor ? "natural-minor" : "major"))!;
    }

    private static KeyName? Written(KeyName key, Scale scale, List<Problem> problems)
    {
        if (key.Mode is { } mode && mode != scale.Mode && scale.Fifths is not null)
        {
            problems.Add(new("keys", $"{key} and {scale.Words} exclude each other.", $"Order {key.Tonic.ToDisplay()} alone, or another scale or chord.", Severity.Note));
            return null;
        }

        if (scale.SignatureOn(key.Tonic) is not null && Math.Abs(key.Tonic.Alter) <= 1) return key;
        var twin = TwelveKeys.For(scale, key.Tonic.PitchClass);
        problems.Add(new("keys", $"{scale.NameOn(key.Tonic)} would need more than seven sharps or flats.", $"It is written as {twin.ToDisplay()}, which sounds the same.", Severity.Note));
        return key with { Tonic = twin };
    }
}
