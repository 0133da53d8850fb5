using Seamwright.Core.Instruments;
using Seamwright.Core.Planning;
using Seamwright.Core.Units;

namespace Seamwright.Core.Exercises;

/// <summary>From which year on a place on the horn is asked for, whether or not a tongue is.</summary>
/// <remarks>The open slide: as far as fifth in the first year, sixth in the second (C3 of B-flat major), seventh from the third, when arms are long enough (pupils of 9 to 11
/// usually reach six positions; Wright 2013). A valve: closed in the first year, as far as its second in the second year, further from the third, and beyond
/// fourth from the fourth; above its fourth partial, where the open horn has the note nearer, from the fourth. Two valves together: a year later than one and not before the
/// third. Proposed defaults; positions are counted in open-horn units.</remarks>
internal static class Places
{
    private static readonly double[] Open = [5.3, 6.3], Valved = [1.5, 3, 4.4];
    private const int HighestUsual = 4;
    private const int Unusual = 4;
    private const int TwoValves = 3;

    // Later on an arm is long enough and a valve is familiar: other places are chosen for what they spare.
    private const int Young = 2;

    /// <summary>1 to 5.</summary>
    public static int LevelOf(SlideSetting setting)
    {
        var far = 1 + (setting.Valves.IsEmpty ? Open : Valved).Count(limit => setting.Position > limit);
        if (setting.Valves.IsEmpty) return far;
        var level = setting.Partial > HighestUsual ? Math.Max(far, Unusual) : far;
        return setting.Valves.Length > 1 ? Math.Max(level + 1, TwoValves) : level;
    }

    /// <summary>In the first two years, the pupil without settings of a later year wherever a note has one of the pupil's own.</summary>
    public static Pupil Own(Pupil pupil)
    {
        if (pupil.Level > Young) return pupil;
        var later = Enumerable.Range(pupil.Lowest.Midi, Math.Max(0, pupil.Highest.Midi - pupil.Lowest.Midi + 1)).Select(m => pupil.SettingsFor(Pitch.FromMidi(m)))
            .Where(all => all.Any(s => LevelOf(s) <= pupil.Level)).SelectMany(all => all.Where(s => LevelOf(s) > pupil.Level)).Select(SettingPattern.Of).ToList();
        return later.Count == 0 ? pupil : pupil with { Settings = pupil.Settings with { Bans = [.. pupil.Settings.Bans, .. later] } };
    }

    /// <summary>Those of a pupil's own year; all where none is.</summary>
    public static List<T> Of<T>(Pupil pupil, List<T> all, Func<T, SlideSetting> setting)
    {
        var own = all.Where(n => LevelOf(setting(n)) <= pupil.Level).ToList();
        return own.Count > 0 ? own : all;
    }
}
