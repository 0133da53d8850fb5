using Seamwright.GroundTruth.Truth;

namespace Seamwright.GroundTruth.Making;

/// <summary>A soundfont's trombone. One key is held for a whole phrase and bent.</summary>
/// <remarks>The recorded sample has its own attack (it scoops) and small wanderings before it loops. They are measured on the same key
/// held unbent, and looked up by how far the bent note has got in the sample; so the truth is what sounds, not what was asked for.</remarks>
internal sealed class SoundfontVoice(string soundfont, string name, float lfoCents) : IVoice
{
    // Seconds of a note that keep their own level: attack and first settling.
    private const double Attack = 0.25;
    private readonly FluidSynth synth = new(soundfont, lfoCents);
    private readonly Dictionary<int, double[]> wanderings = [];

    public string Name { get; } = name;

    public int Rate => FluidSynth.Rate;

    public PhraseSound Render(Func<double, double> log2Hz, double length)
    {
        const double BlockSeconds = FluidSynth.Block / (double)FluidSynth.Rate;
        var blocks = (int)Math.Ceiling(length / BlockSeconds);
        var asked = Enumerable.Range(0, blocks).Select(b => log2Hz((b + 0.5) * BlockSeconds)).ToArray();
        var key = (int)Math.Round(69 + (12 * (((asked.Max() + asked.Min()) / 2) - Math.Log2(440))));
        var wandering = Wandering(key, length);
        var tail = Tail(wandering);
        var cents = asked.Select(a => (int)Math.Round((1200 * (a - KeyLog2(key))) - tail)).ToArray();
        var samples = synth.Hold(key, cents);
        var sounding = Sounding(key, cents, wandering, BlockSeconds);
        Flattening.Apply(samples, Rate, Attack);
        var count = (int)(length / Curves.Step) + 1;
        var pitch = new double[count];
        for (var i = 0; i < count; i++) pitch[i] = Interpolation.Linear(sounding, (i * Curves.Step / BlockSeconds) - 0.5);
        var level = Flattening.Envelope(samples, Rate, count, i => Math.Pow(2, pitch[i]));
        var settled = (int)((Attack + 0.06) / Curves.Step);
        for (var i = settled; i < count; i++) level[i] = 0;
        return new PhraseSound(samples, pitch, level);
    }

    public void Dispose() => synth.Dispose();

    // The bent note goes through its sample faster or slower by the bend itself.
    private static double[] Sounding(int key, int[] cents, double[] wandering, double blockSeconds)
    {
        var sounding = new double[cents.Length];
        var place = 0.0;
        for (var b = 0; b < cents.Length; b++)
        {
            var speed = Math.Pow(2, cents[b] / 1200.0);
            var own = Interpolation.Linear(wandering, ((place + (0.5 * blockSeconds * speed)) / Demodulator.Hop) - 0.5);
            sounding[b] = KeyLog2(key) + ((cents[b] + own) / 1200);
            place += blockSeconds * speed;
        }

        return sounding;
    }

    // Cents of the unbent key beside its equal-tempered pitch, every 5 ms of its sample.
    private double[] Wandering(int key, double length)
    {
        if (wanderings.TryGetValue(key, out var known) && known.Length * Demodulator.Hop > (1.9 * length) + 0.1) return known;
        var plain = synth.Hold(key, new int[(int)(((1.9 * length) + 0.5) * Rate / FluidSynth.Block)]);
        var hz = Math.Pow(2, KeyLog2(key));
        var cents = Demodulator.Track(plain, Rate, hz).Select(f => f > 0 ? 1200 * Math.Log2(f / hz) : double.NaN).ToArray();
        Fill(cents);
        return wanderings[key] = cents;
    }

    // Before the tone stands nothing can be read: what it has when it does is held backwards.
    private static void Fill(double[] cents)
    {
        var first = Array.FindIndex(cents, c => !double.IsNaN(c));
        for (var i = 0; i < first; i++) cents[i] = cents[first];
        for (var i = Math.Max(1, first + 1); i < cents.Length; i++)
            if (double.IsNaN(cents[i])) cents[i] = cents[i - 1];
    }

    private static double Tail(double[] wandering)
    {
        var later = wandering.Skip(wandering.Length / 4).Order().ToArray();
        return later[later.Length / 2];
    }

    private static double KeyLog2(int key) => Math.Log2(440) + ((key - 69) / 12.0);
}
