using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Exercises;

/// <summary>Finds the octaves in which music fits a pupil, and names them low, middle and high.</summary>
internal static class Placing
{
    /// <summary>Every octave of a first note in which all notes can be played, lowest first.</summary>
    /// <param name="pupil">For range and reach.</param>
    /// <param name="tonic">Its letter.</param>
    /// <param name="notes">All notes of the music that begins on a pitch.</param>
    public static List<Pitch> All(Pupil pupil, PitchName tonic, Func<Pitch, IEnumerable<Pitch>> notes) =>
        [.. Enumerable.Range(-1, 10).Select(o => new Pitch(tonic.Step, tonic.Alter, o)).Where(p => p.Midi is >= 0 and <= 127 && notes(p).DistinctBy(n => n.Midi).All(pupil.Plays))];

    /// <summary>The octaves that an order wants, each with the name of its register.</summary>
    /// <param name="order">Says the register; middle where it does not.</param>
    /// <param name="pupil">For range and reach.</param>
    /// <param name="tonic">Of the music.</param>
    /// <param name="notes">All notes of the music on a tonic.</param>
    public static IEnumerable<(Pitch First, string Register)> Of(ExerciseOrder order, Pupil pupil, PitchName tonic, Func<Pitch, IEnumerable<Pitch>> notes) =>
        In(order.Register ?? Register.Middle, All(pupil, tonic, notes), pupil, notes);

    /// <summary>Those of a register; in the middle is what lies nearest to the middle of the pupil's range.</summary>
    public static IEnumerable<(Pitch First, string Register)> In(Register register, List<Pitch> all, Pupil pupil, Func<Pitch, IEnumerable<Pitch>> notes)
    {
        if (all.Count == 0) return [];
        var centre = (pupil.Lowest.Midi + pupil.Highest.Midi) / 2.0;
        var middle = all.MinBy(p => Math.Abs(notes(p).Average(n => n.Midi) - centre));
        return register switch
        {
            Register.Low => [(all[0], "low")],
            Register.High => [(all[^1], "high")],
            Register.All => all.Select((p, i) => (p, NameOf(i - all.IndexOf(middle)))),
            _ => [(middle, "middle")],
        };
    }

    // Octaves from the middle one; no trombone has more than five.
    private static string NameOf(int away) => away switch
    {
        0 => "middle",
        -1 => "low",
        1 => "high",
        < 0 => away == -2 ? "lowest" : $"lowest-{-away - 1}",
        _ => away == 2 ? "highest" : $"highest-{away - 1}",
    };

    /// <summary>The keys asked for, or the level's.</summary>
    public static IEnumerable<KeyName> Keys(ExerciseOrder order, Pupil pupil) => order.Keys is { IsDefaultOrEmpty: false } keys ? keys : [new KeyName(TwelveKeys.For(Scale.Find("major")!, LevelKeys.Of(pupil).PitchClass), null)];

    /// <summary>For ids: <c>bb</c>, <c>f-sharp</c>.</summary>
    public static string Slug(PitchName name) => name.ToString().ToLowerInvariant().Replace("#", "-sharp", StringComparison.Ordinal);
}
