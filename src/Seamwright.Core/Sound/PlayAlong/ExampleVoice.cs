using System.Collections.Immutable;
using Seamwright.Core.Planning;
using Seamwright.Core.Units;

namespace Seamwright.Core.Sound.PlayAlong;

/// <summary>Plays a phrase.</summary>
/// <param name="phrase">As a plan of its own, times from 0.</param>
/// <param name="firstNote">Index of its first note in the whole plan.</param>
/// <param name="rate">Samples a second.</param>
/// <param name="leadIn">Silence before time 0 of the plan, so that the first attack is whole.</param>
/// <returns>Mono, a mezzo-forte note's root mean square −20 dB against full scale, the others by the dynamics of the score, silent between notes but for what rings.</returns>
public delegate SoundFeed ExampleVoice(Plan phrase, int firstNote, SampleRate rate, Seconds leadIn);

/// <summary>The voices there are.</summary>
public static class ExampleVoices
{
    // No room is heard around the example: it would come and go with it.
    private static readonly Decibels NoRoom = new(-200);

    /// <summary>The trombone, playing clean.</summary>
    public static ExampleVoice Clean { get; } = With(FaultOrder.Clean);

    /// <summary>The trombone, with a fault.</summary>
    /// <param name="order">Indices of changes count in the whole plan.</param>
    public static ExampleVoice With(FaultOrder order) => (phrase, firstNote, rate, leadIn) =>
    {
        var here = order with { Changes = [.. order.Changes.Select(c => c - firstNote)] };
        var played = here.On(phrase);
        var performance = played with { Levels = Added(WrittenDynamics.Of(phrase), played.Levels), LeadIn = leadIn, Tail = new(0.1) };
        return Voice.Open(phrase, performance, VoiceSettings.Default with { Rate = rate, Room = NoRoom });
    };

    // What the sheet asks, and on top of it what goes wrong with the air.
    private static ImmutableArray<Decibels> Added(ImmutableArray<Decibels> written, ImmutableArray<Decibels> wrong) =>
        wrong.IsDefaultOrEmpty ? written : written.IsDefaultOrEmpty ? wrong : [.. written.Zip(wrong, (a, b) => new Decibels(a.Value + b.Value))];
}
