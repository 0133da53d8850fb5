using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Sound.PlayAlong;

/// <summary>Plays a phrase.</summary>
/// <param name="whole">All that is played: what is in force in the phrase may have been said before it.</param>
/// <param name="phrase">Which part of it; it begins at time 0.</param>
/// <param name="rate">Samples a second.</param>
/// <param name="leadIn">Silence before time 0, so that the first attack is whole.</param>
/// <returns>Mono, a mezzo-forte note's root mean square −20 dB against full scale, the others by the dynamics of the score, silent between notes but for what rings.</returns>
public delegate SoundFeed ExampleVoice(Plan whole, Phrase phrase, SampleRate rate, Seconds leadIn);

/// <summary>The voices there are.</summary>
public static class ExampleVoices
{
    // No room is heard around the example: it would come and go with it.
    private static readonly Decibels NoRoom = new(-200);

    /// <summary>The trombone, playing clean.</summary>
    public static ExampleVoice Clean { get; } = With(FaultOrder.Clean);

    /// <summary>The trombone, with a fault.</summary>
    /// <param name="order">Indices of changes count in the whole plan.</param>
    public static ExampleVoice With(FaultOrder order) => (whole, phrase, rate, leadIn) =>
    {
        var plan = ExampleFeed.PlanOf(whole, phrase);

        // How much of a fault there is room for, the notes around the phrase decide as well.
        var here = order.On(whole) with { Swells = WrittenDynamics.Of(whole), LeadIn = leadIn, Tail = new(0.1) };
        return Voice.Open(plan, here.Excerpt(phrase.FirstNote, phrase.LastNote), VoiceSettings.Default with { Rate = rate, Room = NoRoom });
    };
}
