using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Sound.PlayAlong;

/// <summary>The trombone in every example; exactly nothing anywhere else.</summary>
/// <remarks>A phrase is made when its section comes and dropped after it. What still rings at a section's end is faded out within its last
/// <see cref="Closing"/>, so that the pupil's turn is silent from its first sample.</remarks>
internal sealed class ExampleFeed : ScheduledFeed
{
    private static readonly Seconds LeadIn = new(0.1);
    private static readonly Seconds Opening = new(0.002);
    private static readonly Seconds Closing = new(0.012);

    private readonly ExampleVoice voice;
    private int section;
    private SoundFeed? sounding;

    public ExampleFeed(Schedule schedule, ExampleVoice voice)
        : base(schedule) => this.voice = voice;

    /// <summary>A phrase's notes and changes as a plan of their own, beginning at time 0.</summary>
    internal static Plan PlanOf(Plan whole, Phrase phrase) => whole.Excerpt(phrase.FirstNote, phrase.LastNote, whole.Line.Tempo.At(phrase.From));

    protected override void Begin() => (section, sounding) = (0, null);

    protected override void Add(long at, Span<float> block)
    {
        var done = 0;
        while (done < block.Length && section < Schedule.Sections.Length)
        {
            var now = Schedule.Sections[section];
            var count = (int)Math.Min(block.Length - done, now.End - at - done);
            if (now.Kind == SectionKind.Example && count > 0) Play(now, at + done - now.Start, block.Slice(done, count));
            done += count;
            if (at + done < now.End) return;
            section++;
            sounding = null;
        }
    }

    private void Play(Section now, long at, Span<float> block)
    {
        sounding ??= Made(now);
        for (var rest = block; !rest.IsEmpty;)
        {
            var read = sounding.Read(rest);
            if (read == 0) break;
            rest = rest[read..];
        }

        var (opening, closing) = (Schedule.Rate.ToSamples(Opening), Schedule.Rate.ToSamples(Closing));
        for (var i = 0; i < block.Length; i++)
        {
            var (after, before) = (at + i, now.Length - (at + i));
            if (after < opening) block[i] *= after / (float)opening;
            if (before <= closing) block[i] *= (before - 1) / (float)closing;
        }
    }

    private SoundFeed Made(Section now)
    {
        var feed = voice(Schedule.PlanOf(now), now.Phrase!, Schedule.Rate, LeadIn);
        var skipped = new float[Schedule.Rate.ToSamples(LeadIn)];
        for (var left = skipped.AsSpan(); !left.IsEmpty;)
        {
            var read = feed.Read(left);
            if (read == 0) break;
            left = left[read..];
        }

        return feed;
    }
}
