using Seamwright.Core.Sound.PlayAlong;
using Seamwright.Core.Sound.Rooms;
using Seamwright.Tests.Sound.Loudness;
using Seamwright.Tests.Sound.PlayAlong;
using static Seamwright.Tests.Scores.Files;

namespace Seamwright.Tests.Sound;

public class RoomTests
{
    private const int Rate = 16_000;

    public static TheoryData<string, double> Rooms() => new() { { "small", 0.4 }, { "hall", 1.8 } };

    [Theory]
    [MemberData(nameof(Rooms))]
    public void Sound_dies_away_in_the_time_that_is_stated(string name, double decay)
    {
        // Backward integration of the squared answer (Schroeder, J. Acoust. Soc. Am. 37 (1965) 409), −5 to −25 dB.
        var answer = Answer(Named(name));
        var left = new double[answer.Length + 1];
        for (var i = answer.Length - 1; i >= 0; i--) left[i] = left[i + 1] + ((double)answer[i] * answer[i]);
        int Fallen(double db) => Array.FindIndex(left, e => 10 * Math.Log10(e / left[1]) <= -db);
        Assert.Equal(decay, 3 * (Fallen(25) - Fallen(5)) / (double)Rate, 0.06 * decay);
    }

    [Theory]
    [InlineData("small", 0.2213)]
    [InlineData("hall", 0.1979)]
    public void Surfaces_take_what_Eyring_asks_for(string name, double share) => Assert.Equal(share, Named(name).Absorption, 0.002);

    [Fact]
    public void Straight_sound_is_untouched_and_the_first_reflection_comes_off_the_floor()
    {
        // Player and listener 1.3 m high and 1 m apart: by the floor the way is √(1 + 2.6²) m.
        var (answer, way) = (Answer(Room.Small), Math.Sqrt(1 + (2.6 * 2.6)));
        var later = (int)Math.Round((way - 1) / 343.2 * Rate);
        Assert.Equal(1, answer[0]);
        Assert.All(answer[1..later], x => Assert.Equal(0, x));
        Assert.Equal(Math.Sqrt((1 - 0.2213) / 3) / way, answer[later], 0.01);
    }

    [Theory]
    [InlineData("small", 0.652)]
    [InlineData("hall", 0.672)]
    public void So_much_of_the_room_is_heard(string name, double energy)
    {
        // All that is reflected against the straight sound: of a diffuse field 16π·d²·(1 − α)/(3·S·α), by hand; the first part is made of the
        // shoebox's own reflections and so is only about that.
        var answer = Answer(Named(name));
        Assert.Equal(energy, answer.Skip(1).Sum(x => (double)x * x), 0.3 * energy);
    }

    [Fact]
    public void Read_in_any_blocks_and_begun_again_the_samples_are_the_same_and_nothing_is_allocated()
    {
        var piece = Tones.Piece(Rate, 1, 0.5);
        var feed = new RoomFeed(Tones.Feed(piece, Rate), Room.Small);
        var whole = Tones.All(feed, 4096);
        Assert.Equal(piece.Length + (Rate * 4 / 15.0), whole.Length, 2.0);
        Assert.InRange(whole[^1], -1e-6f, 1e-6f);
        foreach (var block in (int[])[1, 333, 20_000])
        {
            feed.Restart();
            Assert.Equal(whole, Tones.All(feed, block));
        }

        feed.Restart();
        var buffer = new float[480];
        feed.Read(buffer);
        var before = GC.GetAllocatedBytesForCurrentThread();
        for (var i = 0; i < 10; i++) feed.Read(buffer);
        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
    }

    [Fact]
    public void A_play_along_rings_in_its_room_but_for_the_click()
    {
        var dry = new PlayAlongSettings { Rate = new(Rate), CountIn = 1, Drone = DroneNotes.Tonic };
        var part = Parts.Written("4/4", N("F3", 12) + N("G3", 12) + N("F3", 24));
        float[] Sound(PlayAlongSettings settings) => Parts.All(PlayAlongMaker.Sound(Parts.Schedule(part, settings)));
        var (plain, heard) = (Sound(dry), Sound(dry with { Room = Room.Hall }));
        Assert.Equal(plain.Length + (1.2 * Rate), heard.Length, 1.0);
        Assert.True(SoundProbe.LevelDb(heard, Rate, (plain.Length / (double)Rate) + 0.3, 0.2) > -60);
        Assert.NotEqual(plain, heard[..plain.Length]);
        var clicks = Sound(dry with { Drone = DroneNotes.None, Turns = Turns.YouOnly });
        Assert.Equal(clicks, Sound(dry with { Drone = DroneNotes.None, Turns = Turns.YouOnly, Room = Room.Hall })[..clicks.Length]);
    }

    [Fact]
    public void A_room_takes_one_channel() => Assert.Throws<ArgumentException>(() => new RoomFeed(Tones.Feed(new float[4], Rate, 2), Room.Small));

    private static Room Named(string name) => Room.All.Single(r => r.Name == name);

    private static float[] Answer(Room room)
    {
        var one = new float[(int)(room.Decay.Value * Rate)];
        one[0] = 1;
        return Tones.All(new RoomFeed(Tones.Feed(one, Rate), room));
    }
}
