using System.Runtime.CompilerServices;
using Seamwright.Core.Instruments;
using Seamwright.Core.Planning;
using Seamwright.Core.Units;

namespace Seamwright.Core.Exercises;

/// <summary>From which year on a place on the horn is asked for, whether or not a tongue is.</summary>
/// <remarks>The open slide: as far as fifth in the first year, sixth in the second (C3 of B-flat major), seventh from the third, when arms are long enough (pupils of 9 to 11
/// usually reach six positions; Wright 2013). A valve: the first year leaves it alone; closed in the second year, as far as its second in the third, further from the fourth, and beyond
/// fourth from the fifth; above its fourth partial, where the open horn has the note nearer, from the fourth. Two valves together: a year later than one. Proposed defaults; positions are counted in open-horn units.</remarks>
internal static class Places
{
    private static readonly double[] Open = [5.3, 6.3], Valved = [1.5, 3, 4.4];
    private static readonly ConditionalWeakTable<Pupil, Pupil> Known = [];
    private const int HighestUsual = 4;
    private const int Unusual = 4;

    /// <summary>1 to 6.</summary>
    public static int LevelOf(SlideSetting setting)
    {
        if (setting.Valves.IsEmpty) return 1 + Open.Count(limit => setting.Position > limit);
        var far = 1 + setting.Valves.Length + Valved.Count(limit => setting.Position > limit);
        return setting.Partial > HighestUsual ? Math.Max(far, Unusual) : far;
    }

    /// <summary>The pupil without settings of a later year wherever a note has one of the pupil's own.</summary>
    public static Pupil Own(Pupil pupil) => Known.GetValue(pupil, Restricted);

    private static Pupil Restricted(Pupil pupil)
    {
        var later = Enumerable.Range(pupil.Lowest.Midi, Math.Max(0, pupil.Highest.Midi - pupil.Lowest.Midi + 1)).Select(m => pupil.SettingsFor(Pitch.FromMidi(m)))
            .Where(all => all.Any(s => LevelOf(s) <= pupil.Level)).SelectMany(all => all.Where(s => LevelOf(s) > pupil.Level)).Select(SettingPattern.Of).ToList();
        return later.Count == 0 ? pupil : pupil with { Settings = pupil.Settings with { Bans = [.. pupil.Settings.Bans, .. later] } };
    }

    /// <summary>Those of a pupil's own year; of the first year that has one where none is.</summary>
    public static List<T> Of<T>(Pupil pupil, List<T> all, Func<T, SlideSetting> setting)
    {
        var level = Math.Max(pupil.Level, all.Select(n => LevelOf(setting(n))).DefaultIfEmpty(0).Min());
        return [.. all.Where(n => LevelOf(setting(n)) <= level)];
    }
}
