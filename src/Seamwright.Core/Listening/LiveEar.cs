using System.Collections.Immutable;
using Seamwright.Core.Units;

namespace Seamwright.Core.Listening;

/// <summary>Hears a sound block by block: from a microphone as it comes, or from a file of any length.</summary>
/// <remarks>Two steps. As samples come, each frame's candidates are found in a window of 64 ms about it, and one path is laid through
/// them; <see cref="LiveFrame"/> shows the newest frame at most 42 ms late (half a window, and a pair of frames that share a
/// transform). At the end every frame is read again in the window that suits its pitch. Blocks of any size give the same result.</remarks>
public sealed class LiveEar
{
    /// <summary>Seconds between frames; frame 0 lies at time 0, with no lag.</summary>
    public const double Hop = 0.005;

    private const int Step = (int)(PeriodFinder.Rate * Hop);
    private const int HalfBlock = PeriodFinder.Block / 2;

    private readonly ListeningSettings settings;
    private readonly Resampler toFine;
    private readonly Resampler toCoarse = new(FinePitch.Rate, PeriodFinder.Rate);
    private readonly SlidingBuffer fine = new();
    private readonly SlidingBuffer coarse = new();
    private readonly PeriodFinder finder;
    private readonly PitchPath path;
    private readonly Candidate[] first = new Candidate[PeriodFinder.Kept];
    private readonly Candidate[] second = new Candidate[PeriodFinder.Kept];
    private readonly CandidateStore candidates = new();
    private readonly FrameStore hz = new();
    private readonly FrameStore strength = new();
    private long stored;
    private long samplesHeard;
    private readonly Overload overload;
    private readonly List<DamagedSpan> damage = [];
    private int frame;

    /// <param name="rate">Samples a second that will be pushed.</param>
    /// <param name="settings">Null for the defaults.</param>
    /// <param name="expected">Pitches of the part, where one is known: they are preferred.</param>
    /// <exception cref="ArgumentException">A setting is out of range.</exception>
    public LiveEar(SampleRate rate, ListeningSettings? settings = null, IEnumerable<Hertz>? expected = null)
    {
        this.settings = settings ?? ListeningSettings.Default;
        if (this.settings.Validate() is { IsEmpty: false } wrong) throw new ArgumentException(string.Join(" ", wrong), nameof(settings));
        toFine = new Resampler(rate.Value, FinePitch.Rate);
        finder = new PeriodFinder(this.settings.Lowest.Value, this.settings.Highest.Value);
        path = new PitchPath([.. (expected ?? []).Select(e => e.Value).Distinct()], Settled);
        overload = new Overload(rate.Value);
        Rate = rate;
    }

    public SampleRate Rate { get; }

    internal SampleStore Samples { get; } = new();

    /// <summary>Seconds heard so far.</summary>
    public Seconds Heard => Rate.ToSeconds(samplesHeard);

    /// <summary>Takes the next samples, −1 to 1 at full scale.</summary>
    /// <param name="samples">Any number.</param>
    /// <param name="shown">Where the frames that can now be shown are added; null where nobody looks.</param>
    public void Push(ReadOnlySpan<float> samples, ICollection<LiveFrame>? shown = null)
    {
        // Pieces keep what is held at once small, however long the file.
        const int Piece = 1 << 15;
        while (!samples.IsEmpty)
        {
            var take = Math.Min(Piece, samples.Length);
            PushPiece(samples[..take], shown);
            samples = samples[take..];
        }
    }

    /// <summary>Says where what was pushed is damaged, so that nothing there is taken for playing.</summary>
    /// <param name="spans">In order.</param>
    public void MarkDamaged(IEnumerable<DamagedSpan> spans) => damage.AddRange(spans);

    /// <summary>Ends the sound and reads every frame again.</summary>
    internal HeardSound Finish()
    {
        toFine.Finish(fine);
        Forward();
        toCoarse.Finish(coarse);
        var count = (int)(coarse.Length / Step) + 1;
        while (frame < count) Pair(null);
        path.Finish();
        var (pitches, strengths) = (hz.Take(count), strength.Take(count));
        var hum = HumTaker.TakeOut(Samples);
        var track = new TrackReader(Samples, settings).Read(pitches, strengths, candidates, hum is not null);
        return new HeardSound(Samples, track, samplesHeard == 0 ? 0 : overload.AtFullScale / (double)samplesHeard, overload) { Hum = hum, Damage = [.. damage] };
    }

    private void PushPiece(ReadOnlySpan<float> samples, ICollection<LiveFrame>? shown)
    {
        samplesHeard += samples.Length;
        overload.Push(samples);
        toFine.Push(samples, fine);
        Forward();
        while (coarse.Length >= ((frame + 1) * (long)Step) + HalfBlock) Pair(shown);
        coarse.Forget((frame * (long)Step) - HalfBlock);
        fine.Forget(Math.Min(stored, ((frame - 2) * (long)Step * 2) - FinePitch.Rate));
    }

    private void Forward()
    {
        var news = fine.From(stored);
        Samples.Append(news);
        toCoarse.Push(news, coarse);
        stored += news.Length;
    }

    private void Pair(ICollection<LiveFrame>? shown)
    {
        Span<float> one = stackalloc float[PeriodFinder.Block];
        Span<float> two = stackalloc float[PeriodFinder.Block];
        coarse.CopyTo((frame * (long)Step) - HalfBlock, one);
        coarse.CopyTo(((frame + 1) * (long)Step) - HalfBlock, two);
        finder.Process(one, two, first, second);
        Next(first, shown);
        Next(second, shown);
    }

    private void Next(Candidate[] found, ICollection<LiveFrame>? shown)
    {
        path.Push(found);
        shown?.Add(Show(path.Newest, frame * Hop));
        frame++;
    }

    private LiveFrame Show(Candidate c, double time)
    {
        var window = c.Hz > 0 ? Energy.Window(settings.EarWindow.Value, 1 / c.Hz) : settings.EarWindow.Value;
        var sum = 0.0;
        Span<float> block = stackalloc float[(int)Math.Round(Math.Min(window, 0.08) * FinePitch.Rate)];
        fine.CopyTo((long)Math.Round(time * FinePitch.Rate) - (block.Length / 2), block);
        foreach (var x in block) sum += x * x;
        return new LiveFrame(new(time), new Frame(c.Hz > 0 ? new Hertz(c.Hz) : null, new(Energy.ToDb(sum / block.Length)), c.Strength));
    }

    private void Settled(Candidate chosen, ReadOnlySpan<Candidate> all)
    {
        hz.Add(chosen.Hz);
        strength.Add(chosen.Strength);
        candidates.Add(all);
    }
}

/// <summary>A frame as it can be shown while the sound is still coming; the final reading may differ.</summary>
/// <param name="Time">Its centre.</param>
/// <param name="Frame">Pitch and level.</param>
public readonly record struct LiveFrame(Seconds Time, Frame Frame);

/// <summary>A whole sound with its track.</summary>
/// <param name="Samples">At <see cref="FinePitch.Rate"/>.</param>
/// <param name="Track">Frames every <see cref="LiveEar.Hop"/>.</param>
/// <param name="Clipped">Share of samples at full scale.</param>
/// <param name="Overload">Where it was driven too far.</param>
internal sealed record HeardSound(SampleStore Samples, RoughTrack Track, double Clipped, Overload Overload)
{
    /// <summary>The mains' hum that was taken out of it; null where there was none.</summary>
    public Hum? Hum { get; init; }

    /// <summary>Where the file it came from is damaged, in order.</summary>
    public ImmutableArray<DamagedSpan> Damage { get; init; } = [];

    /// <summary>Whether a stretch of frames touches such a place.</summary>
    public bool IsDamaged(Stretch stretch) => Damage.Any(d => d.Start.Value < stretch.To * LiveEar.Hop && d.End.Value > stretch.From * LiveEar.Hop);
}
