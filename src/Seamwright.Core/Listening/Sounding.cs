namespace Seamwright.Core.Listening;

/// <summary>What alignment reads of a recording: pitch, level and silence of every frame, the background taken out.</summary>
/// <remarks>The only reader of <see cref="RoughTrack"/> among the classes that find attempts. Pitches are semitones on the MIDI scale
/// with the instrument's own A4 at 69; NaN stands for "no pitch".</remarks>
internal sealed class Sounding
{
    // The longer of two periods an octave or a twelfth apart always repeats too: it is only the tone's own where it repeats clearly better.
    private const float ClearlyBetter = 0.06f;
    private const float NearlyAsGood = 0.9f;
    private const float AsGood = 0.95f;
    private const float Near = 0.5f;

    private readonly RoughTrack? track;
    private readonly double tuning;

    /// <summary>From plain arrays, one entry a frame.</summary>
    /// <param name="pitch">Semitones or NaN.</param>
    /// <param name="db">Level.</param>
    /// <param name="silent">Whether nothing sounds.</param>
    /// <param name="hop">Seconds between frames.</param>
    public Sounding(float[] pitch, double[] db, bool[] silent, double hop)
    {
        (Pitch, Db, Hop) = (pitch, db, hop);
        Silent = Background.AddTo(silent, pitch, db, hop);
    }

    private Sounding(RoughTrack track, float[] pitch, double tuning, double hop)
        : this(pitch, track.Db, track.Silent, hop)
    {
        (this.track, this.tuning) = (track, tuning);
    }

    public float[] Pitch { get; }

    public double[] Db { get; }

    /// <summary>Silence, and the steady background that is there all the time.</summary>
    public bool[] Silent { get; }

    public double Hop { get; }

    public int Count => Pitch.Length;

    /// <summary>Frames in a span of time, at least 1.</summary>
    public int Frames(double seconds) => Math.Max(1, (int)Math.Round(seconds / Hop));

    public bool HasPitch(int i) => !Silent[i] && !float.IsNaN(Pitch[i]);

    /// <param name="track">Of the whole recording.</param>
    /// <param name="hop">Seconds between its frames.</param>
    /// <param name="tuningCents">The instrument's A4 against 440 Hz.</param>
    public static Sounding Of(RoughTrack track, double hop, double tuningCents)
    {
        var pitch = new float[track.Count];
        for (var i = 0; i < pitch.Length; i++) pitch[i] = track.Hz[i] > 0 ? (float)Semitones(track.Hz[i], tuningCents) : float.NaN;
        WideSwings.Settle(pitch, track.Db, hop);
        return new(track, pitch, tuningCents, hop);
    }

    /// <summary>Whether another pitch than the chosen one is nearly as likely in a frame (a shorter period) or likelier (a longer one).</summary>
    public bool AlsoSounds(int i, double wanted)
    {
        if (track is null || track.Hz[i] <= 0) return false;
        var chosen = Chosen(i);
        return Math.Abs(chosen - wanted) < Near || Repeats(i, wanted, wanted > chosen ? NearlyAsGood : 1, wanted > chosen ? 0 : ClearlyBetter);
    }

    /// <summary>Whether the chosen pitch lies so far off the likelier one in a frame: 12 where an octave higher repeats as well, −12 where one lower
    /// repeats better.</summary>
    public bool LiesOff(int i, int semitones) =>
        track is not null && track.Hz[i] > 0 && Repeats(i, Chosen(i) + semitones, semitones > 0 ? AsGood : 1, semitones > 0 ? 0 : ClearlyBetter);

    /// <summary>Moves the pitch of a stretch by whole octaves.</summary>
    public void Move(int from, int to, int semitones)
    {
        for (var i = from; i < to; i++) Pitch[i] += semitones;
    }

    private double Chosen(int i) => Semitones(track!.Hz[i], tuning);

    private bool Repeats(int i, double wanted, float share, float more)
    {
        Span<Candidate> candidates = stackalloc Candidate[PeriodFinder.Kept];
        var least = (share * track!.Strength[i]) + more;
        foreach (var c in candidates[..track.At(i, candidates)])
        {
            if (c.Strength > 0 && c.Strength >= least && Math.Abs(Semitones(c.Hz, tuning) - wanted) < Near) return true;
        }

        return false;
    }

    private static double Semitones(double hz, double tuningCents) => 69 + (12 * Math.Log2(hz / 440)) - (tuningCents / 100);
}
