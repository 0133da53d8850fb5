namespace Seamwright.GroundTruth.Making;

/// <summary>One soundfont's trombone, played key by key with one bend for each block of 64 samples.</summary>
/// <remarks>General MIDI program 58, counted from 0 as 57. The library adds key and bend and rounds the sum down to whole cents;
/// its bend of 12 semitones reaches 12700·12/128 cents (version 2.3.1; read off its output, see <c>verify</c>).</remarks>
internal sealed class FluidSynth : IDisposable
{
    public const int Rate = 44_100;
    public const int Block = 64;
    private const int Trombone = 57, BendRange = 12, LfoToPitch = 5;
    private readonly nint settings, synth;
    private readonly float lfoCents;

    /// <summary>Loads a soundfont.</summary>
    /// <param name="soundfont">Path of a file.</param>
    /// <param name="lfoCents">What its trombone's own oscillator adds to the pitch, which is taken away again.</param>
    public FluidSynth(string soundfont, float lfoCents)
    {
        this.lfoCents = lfoCents;
        for (var level = 1; level < 5; level++) FluidLibrary.SetLog(level, 0, 0);
        settings = FluidLibrary.NewSettings();
        FluidLibrary.SetNumber(settings, "synth.sample-rate", Rate);
        FluidLibrary.SetNumber(settings, "synth.gain", 0.6);
        FluidLibrary.SetInteger(settings, "synth.reverb.active", 0);
        FluidLibrary.SetInteger(settings, "synth.chorus.active", 0);
        synth = FluidLibrary.NewSynth(settings);
        Font = FluidLibrary.LoadSoundfont(synth, soundfont, 1);
        if (Font < 0) throw new InvalidDataException($"{soundfont} is not a soundfont the synthesiser reads.");
    }

    private int Font { get; }

    /// <summary>One held note.</summary>
    /// <param name="key">MIDI number.</param>
    /// <param name="cents">Whole cents of bend for each block, −1100 to 1100; as many blocks are rendered.</param>
    public float[] Hold(int key, ReadOnlySpan<int> cents)
    {
        Must(FluidLibrary.Reset(synth));
        Must(FluidLibrary.SelectProgram(synth, 0, Font, 0, Trombone));
        Must(FluidLibrary.SetBendRange(synth, 0, BendRange));
        Must(FluidLibrary.Offset(synth, 0, LfoToPitch, -lfoCents));
        Must(FluidLibrary.Bend(synth, 0, ValueOf(cents[0])));
        Must(FluidLibrary.NoteOn(synth, 0, key, 100));
        var mono = new float[cents.Length * Block];
        var (left, right) = (new float[Block], new float[Block]);
        for (var b = 0; b < cents.Length; b++)
        {
            Must(FluidLibrary.Bend(synth, 0, ValueOf(cents[b])));
            Next(left, right);
            for (var i = 0; i < Block; i++) mono[(b * Block) + i] = (left[i] + right[i]) / 2;
        }

        Must(FluidLibrary.SoundsOff(synth, 0));
        return mono;
    }

    public void Dispose()
    {
        FluidLibrary.DeleteSynth(synth);
        FluidLibrary.DeleteSettings(settings);
    }

    private unsafe void Next(float[] left, float[] right)
    {
        fixed (float* l = left, r = right) Must(FluidLibrary.Write(synth, Block, l, 0, 1, r, 0, 1));
    }

    private static void Must(int result)
    {
        if (result != 0) throw new InvalidOperationException("The synthesiser's library refused a call.");
    }

    // Half a cent above the wanted one: rounding down then gives exactly it.
    private static int ValueOf(int cents) =>
        Math.Clamp(8192 + (int)Math.Round((cents + 0.5) * 8192 * 128 / (12700.0 * BendRange)), 0, 16383);
}
