using System.Collections.Immutable;
using Seamwright.Core.Planning;
using Seamwright.Core.Sound;
using Seamwright.Core.Sound.PlayAlong;
using Seamwright.Core.Units;

namespace Seamwright.GroundTruth.Making;

/// <summary>Another sound that a loudspeaker in the room gives while the player plays. The truth stays the player's.</summary>
/// <param name="Kind">along: the part itself, played clean; drone: a held tone on the key's tonic; example: the part first alone, then the player;
/// ticks and taps: see <see cref="Clicks"/>.</param>
/// <param name="DbBelow">Root mean square while it sounds, below the player's notes; of a click, its loudest 13 ms.</param>
internal sealed record Beside(string Kind, double DbBelow)
{
    private const double ShortestWay = 0.005, LongestWay = 0.04, Together = 0.06, Fade = 0.3;

    // As an organ's: they fall by about 7 dB an octave.
    private static readonly double[] Partials = [1, 0.5, 0.3, 0.2, 0.13, 0.09, 0.06, 0.05];

    /// <summary>Every one there is.</summary>
    public static readonly ImmutableArray<Beside> All =
    [
        new("along", 10), new("along", 20), new("along", 30), new("drone", 10), new("drone", 20), new("drone", 30), new("example", 10), new("example", 20),
        new("ticks", 0), new("ticks", 10), new("ticks", 20), new("taps", 0), new("taps", 10), new("taps", 20),
    ];

    /// <summary>For file names and tables.</summary>
    public string Name => $"{Kind}-{DbBelow:0}";

    /// <summary>A clean take in such company.</summary>
    /// <param name="take">Clean.</param>
    /// <param name="plan">Of its part.</param>
    /// <param name="random">Seeded.</param>
    public MadeTake Of(MadeTake take, Plan plan, Random random)
    {
        var late = ShortestWay + ((LongestWay - ShortestWay) * random.NextDouble());
        var apart = Together * ((2 * random.NextDouble()) - 1);
        if (Clicks.Of(Kind, take, DbBelow, random) is { } clicks) return Mixed(take, clicks.Samples, 1, 0, clicks.Words);
        var sound = Kind == "drone" ? Drone(take, plan) : Along(take, plan, late + apart);
        var sounding = sound.Where(x => Math.Abs(x) > 1e-4f).ToList();
        var gain = Math.Sqrt(Variant.SoundingPower(take) * Math.Pow(10, -DbBelow / 10) / Math.Max(1e-12, sounding.Average(x => x * (double)x)));
        var words = Kind == "drone" ? $"a held tone {DbBelow} dB below" : $"the part played clean, {DbBelow} dB below, {1000 * (late + apart):0} ms late";
        return Mixed(take, sound, gain, Kind == "example" ? sound.Length : 0, words);
    }

    private MadeTake Mixed(MadeTake take, float[] sound, double gain, int before, string words)
    {
        var mixed = new float[before + take.Samples.Length];
        take.Samples.CopyTo(mixed, before);
        for (var i = 0; i < Math.Min(mixed.Length, sound.Length); i++) mixed[i] += (float)(gain * sound[i]);

        // A tap's peaks rise far over its mean: the recording is then turned down as a whole.
        var turned = Math.Min(1, 0.95f / mixed.Max(Math.Abs));
        for (var i = 0; i < mixed.Length; i++) mixed[i] *= turned;
        return take with
        {
            Samples = mixed,
            Curves = take.Curves.Later((double)before / take.Rate),
            Truth = take.Truth.Later((double)before / take.Rate) with
            {
                Name = $"{take.Truth.Name}--{Name}",
                Condition = Name,
                ConditionDetail = words,
                DurationSeconds = mixed.Length / (double)take.Rate,
            },
        };
    }

    private static float[] Along(MadeTake take, Plan plan, double late)
    {
        var begins = take.Truth.Notes[0].Onset - (plan.Notes[0].Note.StartTime.Value / take.Truth.TempoRatio) + late;
        var playing = FaultOrder.Clean.On(plan) with { TempoRatio = take.Truth.TempoRatio, LeadIn = new(Math.Max(0, begins)), Tail = new(0.5) };
        return Voice.Render(plan, playing, VoiceSettings.Default with { Rate = new SampleRate(take.Rate), Room = new(-200) }).Samples.ToArray();
    }

    private static float[] Drone(MadeTake take, Plan plan)
    {
        var hz = DroneFeed.Frequencies(plan.Line.Bars[0].Key.Tonic, plan.Instrument.A4, DroneNotes.Tonic, FifthTuning.Just)[0].Value;
        var sound = new float[take.Samples.Length];
        for (var i = 0; i < sound.Length; i++)
        {
            var t = (double)i / take.Rate;
            var edge = Math.Clamp(Math.Min(t, ((double)sound.Length / take.Rate) - t) / Fade, 0, 1);
            for (var k = 0; k < Partials.Length; k++) sound[i] += (float)(edge * Partials[k] * Math.Sin(2 * Math.PI * hz * (k + 1) * t));
        }

        return sound;
    }
}
