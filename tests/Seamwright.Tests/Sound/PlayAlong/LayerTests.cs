using Seamwright.Core.Instruments;
using Seamwright.Core.Scores;
using Seamwright.Core.Sound;
using Seamwright.Core.Sound.PlayAlong;
using Seamwright.Core.Units;
using static Seamwright.Tests.Scores.Files;

namespace Seamwright.Tests.Sound.PlayAlong;

public class LayerTests
{
    private const double Rate = 48_000;

    private static readonly Part TwoBars = Parts.Written("4/4", N("C3", 48), N("D3", 48));

    [Fact]
    public void Clicks_begin_on_their_samples_and_are_stressed_by_the_meter()
    {
        var schedule = Parts.Schedule(TwoBars, new PlayAlongSettings { Subdivision = 2, Turns = Turns.YouOnly, CountIn = 1 });
        var sound = Parts.All(new ClickFeed(schedule));
        var starts = Onsets(sound);
        Assert.Equal(Enumerable.Range(0, 24).Select(i => i * 24_000L), starts);
        var levels = starts.Select(s => 20 * Math.Log10(sound.AsSpan((int)s, 2000).ToArray().Max(Math.Abs))).ToList();
        for (var bar = 0; bar < 3; bar++)
        {
            double[] expected = [-10, -23, -16, -23, -13, -23, -16, -23];
            for (var i = 0; i < 8; i++) Assert.Equal(expected[i], levels[(bar * 8) + i], 0.1);
        }
    }

    [Fact]
    public void Compound_and_additive_meters_have_their_own_stresses()
    {
        Assert.Equal("D-G-", Strengths("12/8", 72));
        Assert.Equal("D--", Strengths("3+2+2/8", 42));
        Assert.Equal("D-G--", Strengths("2+3/4", 60));

        static string Strengths(string time, int length)
        {
            var schedule = Parts.Schedule(Parts.Written(time, N("C3", length)), new PlayAlongSettings { Turns = Turns.YouOnly, CountIn = 0 });
            var sound = Parts.All(new ClickFeed(schedule));
            return string.Concat(Onsets(sound).Select(s => (20 * Math.Log10(sound.AsSpan((int)s, 2000).ToArray().Max(Math.Abs))) switch { > -10.5 => 'D', > -13.5 => 'G', _ => '-' }));
        }
    }

    [Fact]
    public void The_count_in_alone_is_clicked_where_that_is_asked()
    {
        var schedule = Parts.Schedule(TwoBars, new PlayAlongSettings { Click = ClickUse.CountInOnly });
        Assert.Equal([0, 48_000, 96_000, 144_000], Onsets(Parts.All(new ClickFeed(schedule))));
    }

    [Theory]
    [InlineData(DroneNotes.Tonic, FifthTuning.Just, 440, -1)]
    [InlineData(DroneNotes.Fifth, FifthTuning.Just, 442, 701.955)]
    [InlineData(DroneNotes.Both, FifthTuning.Just, 443, 701.955)]
    [InlineData(DroneNotes.Both, FifthTuning.Equal, 415, 700)]
    public void The_drone_is_in_tune_with_the_instrument(DroneNotes notes, FifthTuning tuning, double a4, double fifthCents)
    {
        var plan = Parts.Of(TwoBars, 60, Catalogue.Default.TunedTo(new Hertz(a4)));
        var schedule = PlayAlongMaker.LayOut([plan], new PlayAlongSettings { Drone = notes, Fifth = tuning }).Value;
        var sound = Parts.All(new DroneFeed(schedule)).AsSpan(48_000, 96_000).ToArray();
        var tonic = a4 * Math.Pow(2, -21 / 12.0);
        if (notes != DroneNotes.Fifth) Assert.Equal(0, 1200 * Math.Log2(Parts.Peak(sound, Rate, tonic) / tonic), 0.2);
        if (fifthCents > 0) Assert.Equal(fifthCents, 1200 * Math.Log2(Parts.Peak(sound, Rate, tonic * 1.5) / tonic), 0.2);
    }

    [Fact]
    public void The_drone_stops_for_nothing_and_follows_the_key()
    {
        var part = ReadPart(
            "<attributes><divisions>12</divisions><key><fifths>0</fifths></key></attributes><sound tempo=\"60\"/>" + N("C3", 48),
            "<attributes><key><fifths>-2</fifths></key></attributes>" + N("Bb2", 48));
        var schedule = Parts.Schedule(part, new PlayAlongSettings { Drone = DroneNotes.Tonic, PhraseBars = 1 });
        var sound = Parts.All(new DroneFeed(schedule));
        for (var t = 0.5; t < (sound.Length / Rate) - 1; t += 0.25) Assert.Equal(-32, SoundProbe.LevelDb(sound, Rate, t, 0.2), 2.0);

        // Count-in and both turns in C, then B-flat.
        Assert.True(Amplitude(5, 130.81) > 30 * Amplitude(5, 116.54));
        Assert.True(Amplitude(14, 116.54) > 30 * Amplitude(14, 130.81));

        double Amplitude(double from, double hertz) => Parts.Amplitude(sound.AsSpan((int)(from * Rate), 96_000), Rate, hertz);
    }

    [Fact]
    public void Your_turn_and_the_count_in_hold_nothing_of_the_example()
    {
        var schedule = Parts.Schedule(Parts.Melody("over-the-hill"), new PlayAlongSettings(), 90);
        var sound = Parts.All(new ExampleFeed(schedule, ExampleVoices.Clean));
        foreach (var section in schedule.Sections)
        {
            var span = sound.AsSpan((int)section.Start, (int)section.Length);
            if (section.Kind == SectionKind.Example) Assert.Equal(-20 + Written(schedule, section.Phrase!), SoundProbe.LevelDb(span, Rate, section.Length / Rate / 2, section.Length / Rate * 0.98), 3.0);
            else Assert.Equal(-1, span.IndexOfAnyExcept(0f));
        }
    }

    [Fact]
    public void The_example_plays_its_phrase_at_its_time()
    {
        var schedule = Parts.Schedule(Parts.Written("4/4", N("C3", 48), N("G3", 48), N("F3", 48), N("D3", 48)), new PlayAlongSettings { PhraseBars = 2, CountIn = 1 });
        var sound = Parts.All(new ExampleFeed(schedule, ExampleVoices.Clean));
        foreach (var (at, pitch) in new[] { (6.0, "C3"), (10.0, "G3"), (22.0, "F3"), (26.0, "D3") })
        {
            var expected = Pitch.Parse(pitch).Frequency(Hertz.A440).Value;
            Assert.Equal(0, 1200 * Math.Log2(SoundProbe.Frequency(sound, Rate, at, expected) / expected), 8.0);
        }
    }

    [Theory]
    [InlineData(1)]
    [InlineData(333)]
    [InlineData(10_000)]
    public void The_sound_does_not_depend_on_the_blocks_it_is_read_in(int block)
    {
        var settings = new PlayAlongSettings { Drone = DroneNotes.Both, Rate = new(8_000) };
        var schedule = Parts.Schedule(Parts.Melody("over-the-hill"), settings, 200);
        var feed = PlayAlongMaker.Sound(schedule);
        var whole = Parts.All(feed, 4096);
        feed.Restart();
        var again = Parts.All(feed, block);
        Assert.Equal(schedule.Length, whole.Length);
        Assert.Equal(whole.Length, again.Length);
        for (var i = 0; i < whole.Length; i++) Assert.True(Math.Abs(whole[i] - again[i]) < 1e-6, $"sample {i}: {whole[i]}, {again[i]}");
    }

    [Fact]
    public void Split_ears_hear_the_click_on_the_right_alone()
    {
        var schedule = Parts.Schedule(TwoBars, new PlayAlongSettings { Split = true, CountIn = 1, Drone = DroneNotes.Tonic });
        var feed = PlayAlongMaker.Sound(schedule);
        var both = Parts.All(feed);
        Assert.Equal(2, feed.Channels);
        var click = Parts.All(new ClickFeed(schedule));
        var rest = Parts.All(new DroneFeed(schedule)).Zip(Parts.All(new ExampleFeed(schedule, ExampleVoices.Clean)), (a, b) => a + b).ToArray();
        Assert.Equal(click, both.Where((_, i) => i % 2 == 1));
        Assert.Equal(rest, both.Where((_, i) => i % 2 == 0));
    }

    [Fact]
    public void The_mix_is_the_sum_of_its_layers()
    {
        var schedule = Parts.Schedule(TwoBars, new PlayAlongSettings { CountIn = 1, Drone = DroneNotes.Tonic });
        var sum = Parts.All(new ClickFeed(schedule)).Zip(Parts.All(new DroneFeed(schedule)), (a, b) => a + b).Zip(Parts.All(new ExampleFeed(schedule, ExampleVoices.Clean)), (a, b) => a + b).ToArray();
        var mix = Parts.All(PlayAlongMaker.Sound(schedule));
        for (var i = 0; i < mix.Length; i++) Assert.Equal(sum[i], mix[i], 1e-6f);
    }

    // The mean power of a phrase's notes by the dynamics of the score, dB against an ordinary note.
    private static double Written(Schedule schedule, Phrase phrase) =>
        10 * Math.Log10(WrittenDynamics.Of(schedule.Rounds[0].Plan).Select((l, i) => l.At(0.5 * schedule.Rounds[0].Plan.Notes[i].Note.Duration))
            .Skip(phrase.FirstNote).Take(phrase.LastNote - phrase.FirstNote + 1).Average(l => Math.Pow(10, l.Value / 10)));

    // Samples at which something begins after 50 ms of next to nothing.
    private static List<long> Onsets(float[] sound)
    {
        var found = new List<long>();
        var quiet = 1 << 20;
        for (var i = 0; i + 1 < sound.Length; i++)
        {
            // A click begins at a zero crossing: its first sample is 0 and the next is not.
            if (Math.Abs(sound[i + 1]) > 1e-4)
            {
                if (quiet > 2400) found.Add(i);
                quiet = 0;
            }
            else
            {
                quiet++;
            }
        }

        return found;
    }
}
