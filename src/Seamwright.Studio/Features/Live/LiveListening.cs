using Seamwright.Core.Listening;
using Seamwright.Core.Units;

namespace Seamwright.Studio.Features.Live;

/// <summary>What is told of one block.</summary>
/// <param name="Frames">Each: seconds, hertz or null, decibels against full scale.</param>
/// <param name="Touches">Those known by now to have been touches: some 65 ms after they end.</param>
public sealed record LiveNews(IReadOnlyList<double?[]> Frames, IReadOnlyList<LiveTouch> Touches);

/// <summary>Listens block by block without growing for ever.</summary>
internal sealed class LiveListening(SampleRate rate, Seconds longest)
{
    private readonly TouchWatch touches = new();
    private readonly List<LiveFrame> shown = [];
    private LiveEar ear = new(rate);
    private double begun;

    /// <summary>Takes samples; null where nothing new can be told.</summary>
    public LiveNews? Push(ReadOnlySpan<float> samples)
    {
        shown.Clear();
        ear.Push(samples, shown);
        if (shown.Count == 0) return null;
        var frames = shown.Select(f => new double?[] { Math.Round(begun + f.Time.Value, 3), f.Frame.Pitch is { } p ? Math.Round(p.Value, 2) : null, Math.Round(f.Frame.Level.Value, 1) }).ToList();
        var found = shown.Select(f => touches.Next(begun + f.Time.Value, f.Frame)).OfType<LiveTouch>().ToList();
        if (ear.Heard > longest && shown[^1].Frame.Pitch is null)
        {
            begun += ear.Heard.Value;
            ear = new LiveEar(rate);
        }

        return new(frames, found);
    }
}
