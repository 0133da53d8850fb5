using Seamwright.Core.Instruments;

namespace Seamwright.Core.Sound;

/// <summary>What lips, tongue, arm and valve do at one moment.</summary>
/// <param name="Travel">Slide travel, cm.</param>
/// <param name="Turned">Share of the air that goes the second tube's way, 0 to 1.</param>
/// <param name="Aim">Where the lips aim, base-2 logarithm of Hz.</param>
/// <param name="Lean">How far the lips lean beside their aim on purpose, octaves.</param>
/// <param name="Drive">Air through the lips against an even blow: 0 the tongue is closed, 1 open, more while dammed-up air escapes.</param>
/// <param name="Breath">Power of the note that this breath would hold, against an ordinary note.</param>
internal readonly record struct Effort(double Travel, double Turned, double Aim, double Lean, double Drive, double Breath);

/// <summary>The resonances of the tube between two notes, how strongly the air swings in each, and how one gives way to another.</summary>
/// <remarks>
/// Each resonance n has a power u. Lips that aim at ℓ feed it by w = exp(−(ℓ − r)²/2σ²) of what they give, all resonances together
/// take what the breath can hold, and each loses by itself:
/// d ln√u/dt = g·((1 + ρ)·w·q − ρ − (u + 2·Σ others)/breath).
/// Twofold saturation by the others is what two modes of one van der Pol oscillator do to each other: one holds, the other starves,
/// until the lips leave it. Attacks, breaks with their dip, wrong partials and ringing on are all this equation.
/// <para>g = 130/s (1,130 dB/s) and ρ·g = 91/s (790 dB/s) at B♭3, by the root of the frequency: proposed defaults. A staccato on
/// record falls about 14 dB in 25 ms; a natural slur dips 5 to 16 dB for some 45 ms.</para>
/// </remarks>
internal sealed class AirColumn
{
    /// <summary>What is lost against what grows.</summary>
    public const double Loss = 0.7;

    // How near the lips must aim: a semitone and a half, or a share of the way to the next partial up, where partials lie far apart.
    private const double Narrowest = 150.0 / 1200, Selectivity = 0.3;

    // Octaves: how far the lips bend a resonance at most (60 cents), and half of a small aim beside it.
    private const double Reach = 60.0 / 1200, Pull = 0.5;

    // Growth of a well-fed resonance, nepers a second at B♭3.
    private const double GrowthAtBFlat = 130, BFlat = 233.08;

    // Rushing air keeps every resonance stirring 27 dB down; nothing is followed further down than 120.
    private const double Stir = 2e-3, Nothing = 1e-12;

    private readonly Instrument instrument;
    private Mode[] modes, spare;
    private Side first, second;

    public AirColumn(Instrument instrument)
    {
        this.instrument = instrument;
        (first, second) = (instrument.Open, instrument.Open);

        // Every partial of two tubes, and the one above the highest.
        var most = 2 * (instrument.HighestPartial + 1);
        (modes, spare) = (new Mode[most], new Mode[most]);
    }

    /// <summary>Resonances that may sound now.</summary>
    public ReadOnlySpan<Mode> Modes => modes.AsSpan(0, Count);

    /// <summary>How many <see cref="Modes"/> are.</summary>
    public int Count { get; private set; }

    /// <summary>All power together against an ordinary note.</summary>
    public double Power { get; private set; }

    /// <summary>The strongest resonance's pitch, base-2 logarithm of Hz.</summary>
    public double Pitch { get; private set; }

    /// <summary>Growth of a well-fed resonance of this pitch, nepers a second.</summary>
    public static double GrowthAt(double pitch) => GrowthAtBFlat * Math.Sqrt(Math.Pow(2, pitch) / BFlat);

    /// <summary>How far lips lean so that what sounds lies so many octaves beside the resonance; held within 59 cents.</summary>
    public static double LeanFor(double octaves) => Reach / Pull * Math.Atanh(Math.Clamp(octaves / Reach, -0.985, 0.985));

    /// <summary>Pitch of a resonance with the slide closed and what the slide then takes off, both octaves.</summary>
    public static double Resonance(Instrument instrument, Side side, int partial, double travel) =>
        Math.Log2(instrument.Sounding(side, partial, new(0)).Value) + Lowering(side, travel);

    /// <summary>Nothing swings, and nothing is remembered.</summary>
    public void Reset()
    {
        Count = 0;
        Sum();
    }

    /// <summary>From here on the way between these two notes matters; what swings already swings on.</summary>
    public void Enter(Passage passage)
    {
        (first, second) = (passage.From.Side, passage.To.Side);
        var low = Math.Min(passage.From.Partial, passage.To.Partial);
        var high = Math.Max(passage.From.Partial, passage.To.Partial);
        if (passage.Crack is { } crack) (low, high) = (Math.Min(low, crack.Partial), Math.Max(high, crack.Partial));
        (low, high) = (Math.Max(1, low - 1), high + 1);
        (modes, spare) = (spare, modes);
        var before = spare.AsSpan(0, Count);
        var needed = (high - low + 1) * (first.Id == second.Id ? 1 : 2);
        if (modes.Length < needed) modes = new Mode[needed];
        Count = 0;
        Add(first, false, low, high, before);
        if (first.Id != second.Id) Add(second, true, low, high, before);
        Sum();
    }

    /// <summary>As if the first note of the passage had been held for long.</summary>
    /// <param name="partial">Which resonance swings.</param>
    /// <param name="power">How strongly.</param>
    public void Hold(int partial, double power)
    {
        for (var i = 0; i < Count; i++)
        {
            var held = modes[i].Partial == partial && !modes[i].OfSecond;
            (modes[i].Power, modes[i].Tone) = held ? (power, power) : (Nothing, 0);
        }

        Sum();
    }

    /// <summary>One step in time.</summary>
    /// <param name="effort">What the player does.</param>
    /// <param name="step">Seconds, well under 1 ms.</param>
    public void Step(in Effort effort, double step)
    {
        double lowerFirst = Lowering(first, effort.Travel), lowerSecond = first.Id == second.Id ? 0 : Lowering(second, effort.Travel);
        var all = Power;
        for (var i = 0; i < Count; i++)
        {
            ref var mode = ref modes[i];
            var resonance = mode.Closed + (mode.OfSecond ? lowerSecond : lowerFirst);
            var beside = effort.Aim - resonance;
            mode.Pitch = resonance + (Reach * Math.Tanh(Pull * (beside + effort.Lean) / Reach));
            var fed = Fed(mode, effort, resonance);
            var saturation = ((2 * all) - mode.Power) / effort.Breath;
            var growth = GrowthAtBFlat * mode.Pace * (((1 + Loss) * fed * effort.Drive) - Loss - saturation);
            var least = Stirring(fed, effort);
            mode.Power = Math.Max(Math.Max(least, Nothing), mode.Power * Math.Exp(2 * step * growth));

            // What only stirs is rush of air and no tone.
            mode.Tone = Math.Max(0, mode.Power - (2 * least));
        }

        Sum();
    }

    /// <summary>The drive with which tone and rush together come to so much within one step: the column's own equation, solved for it.</summary>
    /// <param name="sound">Power, against an ordinary note.</param>
    /// <param name="rush">Power of what will rush.</param>
    /// <param name="effort">What the player does; its drive is about what will be needed, for what stirs goes by that.</param>
    /// <param name="step">Seconds.</param>
    public double DriveTo(double sound, double rush, in Effort effort, double step)
    {
        double lowerFirst = Lowering(first, effort.Travel), lowerSecond = first.Id == second.Id ? 0 : Lowering(second, effort.Travel);
        double fed = 0, lost = 0, stirring = 0;
        for (var i = 0; i < Count; i++)
        {
            ref readonly var mode = ref modes[i];
            var share = Fed(mode, effort, mode.Closed + (mode.OfSecond ? lowerSecond : lowerFirst));
            fed += mode.Pace * mode.Power * (1 + Loss) * share;
            lost += mode.Pace * mode.Power * (Loss + (((2 * Power) - mode.Power) / effort.Breath));
            stirring += 2 * Stirring(share, effort);
        }

        var wanted = Math.Max(sound + stirring - rush, Nothing);
        return ((Power * Math.Log(wanted / Math.Max(Power, Nothing)) / (2 * step * GrowthAtBFlat)) + lost) / Math.Max(fed, Nothing);
    }

    private static double Stirring(double fed, in Effort effort) => Stir * effort.Breath * fed * Math.Min(1, effort.Drive * effort.Drive);

    // A valve's ports overlap: half way both are open.
    private double Fed(in Mode mode, in Effort effort, double resonance)
    {
        var open = first.Id == second.Id ? 1 : Math.Min(1, 2 * (mode.OfSecond ? effort.Turned : 1 - effort.Turned));
        var away = (effort.Aim - resonance) / mode.Width;
        return away is > 4 or < -4 ? 0 : open * Math.Exp(-0.5 * away * away);
    }

    private static double Lowering(Side side, double travel) =>
        Math.Log2(side.EffectiveLength.Value / (side.EffectiveLength.Value + (2 * travel)));

    private void Add(Side side, bool ofSecond, int low, int high, ReadOnlySpan<Mode> before)
    {
        var ordinal = instrument.Sides.IndexOf(side);
        for (var partial = low; partial <= high; partial++)
        {
            var closed = Math.Log2(instrument.Sounding(side, partial, new(0)).Value);
            var mode = new Mode
            {
                Key = (ordinal << 8) | partial,
                Partial = partial,
                OfSecond = ofSecond,
                Closed = closed,
                Pitch = closed,
                Width = Math.Max(Narrowest, Selectivity * Math.Log2((partial + 1.0) / partial)),
                Pace = Math.Sqrt(Math.Pow(2, closed) / BFlat),
                Power = Nothing,
            };
            foreach (ref readonly var known in before)
            {
                if (known.Key == mode.Key) (mode.Power, mode.Tone, mode.Pitch) = (known.Power, known.Tone, known.Pitch);
            }

            modes[Count++] = mode;
        }
    }

    private void Sum()
    {
        var (sum, best) = (0.0, 0.0);
        foreach (ref readonly var mode in Modes)
        {
            sum += mode.Power;
            if (mode.Power > best) (best, Pitch) = (mode.Power, mode.Pitch);
        }

        Power = sum;
    }

    /// <summary>One resonance.</summary>
    internal struct Mode
    {
        /// <summary>The same for the same tube and partial.</summary>
        public int Key;

        public int Partial;

        /// <summary>Of the tube that the second note uses.</summary>
        public bool OfSecond;

        /// <summary>Pitch with the slide closed, octaves.</summary>
        public double Closed;

        /// <summary>What sounds now, base-2 logarithm of Hz.</summary>
        public double Pitch;

        /// <summary>How near the lips must aim, octaves.</summary>
        public double Width;

        /// <summary>Growth against B♭3's.</summary>
        public double Pace;

        /// <summary>Against an ordinary note.</summary>
        public double Power;

        /// <summary>The part of the power that is tone.</summary>
        public double Tone;
    }
}
