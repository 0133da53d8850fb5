using Seamwright.Core.Planning;
using Seamwright.Core.Units;

namespace Seamwright.Core.Sound.PlayAlong;

/// <summary>Plays a plan.</summary>
/// <param name="plan">All of it, times from 0.</param>
/// <param name="rate">Samples a second.</param>
/// <param name="leadIn">Silence before time 0 of the plan, so that the first attack is whole.</param>
/// <returns>Mono, at an ordinary note's root mean square of −20 dB against full scale, silent between notes but for what rings.</returns>
public delegate SoundFeed ExampleVoice(Plan plan, SampleRate rate, Seconds leadIn);

/// <summary>The voices there are.</summary>
public static class ExampleVoices
{
    // No room is heard around the example: it would come and go with it.
    private static readonly Decibels NoRoom = new(-200);

    /// <summary>The simple source, playing clean.</summary>
    public static ExampleVoice Simple { get; } = (plan, rate, leadIn) =>
    {
        var performance = Playing.Clean(plan) with { LeadIn = leadIn, Tail = new(0.1) };
        return new SamplesFeed(SimpleSource.Render(plan, performance, SimpleSourceSettings.Default with { Rate = rate, Room = NoRoom }).Samples, rate);
    };
}
