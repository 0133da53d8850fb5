using System.Collections.Immutable;
using Seamwright.Core.Instruments;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Sound;
using Seamwright.Core.Units;
using Seamwright.Tests.Planning;
using Seamwright.TestSound;

namespace Seamwright.Tests.Calibration;

/// <summary>Lip slurs with the slide closed and a chromatic scale set by ear, on a horn whose tuning and partials are known.</summary>
internal static class CalibrationTape
{
    public const string Slurs =
        "Bb2:1~ F3:1~ Bb3:1~ D4:1~ F4:1~ D4:1~ Bb3:1~ F3:1~ Bb2:2' F3:1~ Bb3:1~ D4:1~ F4:1~ Bb4:1~ F4:1~ D4:1~ Bb3:1~ F3:2' Bb2:1~ F3:1~ Bb2:1~ F3:1~ Bb3:1~ F3:2' Bb3:1~ D4:1~ F4:1~ Bb4:1~ F4:1~ Bb4:1~ F4:1~ Bb4:1~ F4:1~ D4:2'";

    public const string Scale = "Bb2:1~ B2:1~ C3:1~ Db3:1~ D3:1~ Eb3:1~ E3:1~ F3:1~ F#3:1~ G3:1~ Ab3:1~ A3:1~ Bb3:2' Bb3:1~ A3:1~ Ab3:1~ G3:1~ F#3:1~ F3:1~ E3:1~ Eb3:1~ D3:1~ Db3:1~ C3:1~ B2:1~ Bb2:2";

    private static readonly Dictionary<string, int> FirstPosition = new() { ["Bb2"] = 2, ["F3"] = 3, ["Bb3"] = 4, ["D4"] = 5, ["F4"] = 6, ["Bb4"] = 8 };

    /// <summary>The catalogue's tenor at another tuning, temperature and partials.</summary>
    public static Instrument Horn(double a4, double celsius = 20, params (int Partial, double Cents)[] offsets) =>
        Catalogue.Find("tenor-straight", new Air { TemperatureC = celsius }, new(a4))! with
        {
            PartialOffsets = offsets.ToImmutableDictionary(o => o.Partial, o => new Cents(o.Cents)),
            LargestResidual = new(50),
        };

    public static Plan PlanOf(Instrument horn, string notes, double tempo = 80)
    {
        var line = TestLines.Of(notes, tempo);
        var slurs = notes.StartsWith(Slurs, StringComparison.Ordinal) ? TestLines.Of(Slurs).Notes.Length : 0;
        var locks = line.Notes.Take(slurs).Select(n => new NoteLock(n.Index, new(null, 1, FirstPosition[n.Pitch.ToString()])));
        var scale = line.Notes.Skip(slurs).Where(n => Catalogue.Find("tenor-straight")!.UsualSetting(n.Pitch) is not null)
            .Select(n => (n.Index, Setting: Catalogue.Find("tenor-straight")!.UsualSetting(n.Pitch)!))
            .Select(n => new NoteLock(n.Index, new(null, n.Setting.Semitone + 1, n.Setting.Partial)));
        return Planner.Plan(line, horn, new PlanSettings { Locks = [.. locks, .. scale] }).Value;
    }

    /// <summary>Plays it: first position closed whatever that sounds, all else in tune but for the player's scatter.</summary>
    /// <param name="horn">On what.</param>
    /// <param name="notes">Slurs, scale or both.</param>
    /// <param name="scatter">Cents, root mean square, by which each note misses.</param>
    /// <param name="room">Room noise, dB against full scale.</param>
    /// <param name="seed">Of scatter and noise.</param>
    /// <param name="wrong">Cents by which single notes miss besides.</param>
    public static Recording Play(Instrument horn, string notes, double scatter = 1.5, double room = -72, uint seed = 1, IReadOnlyDictionary<int, double>? wrong = null)
    {
        var plan = PlanOf(horn, notes);
        Assert.All(plan.Notes, n => Assert.NotNull(n.Setting));
        var random = new Random((int)seed);
        var cents = plan.Notes.Select(n => new Cents(Beside(horn, n.Setting!) + (scatter * Normal(random)) + (wrong?.GetValueOrDefault(n.Note.Index) ?? 0)));
        var performance = Playing.Clean(plan) with { Cents = [.. cents] };
        var take = SimpleSource.Render(plan, performance, new SimpleSourceSettings { Rate = new(16_000), Room = new(room), Seed = seed });
        return new Recording(take.Samples, take.Rate);
    }

    // A closed slide does not correct its partial.
    private static double Beside(Instrument horn, SlideSetting setting) =>
        setting.Semitone > 0 ? 0 : horn.Sounding(setting.Side, setting.Partial, new(0)).Above(horn.Sounding(setting)).Value;

    private static double Normal(Random random) => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}
