using Seamwright.Core.Listening;

namespace Seamwright.Tests.Listening;

/// <summary>What a track that is known exactly tells of its room.</summary>
public class RoomReaderTests
{
    private const double Hop = 0.005, Note = -20, Noise = -80;
    private const int Length = 120, Rest = 160;

    [Theory] // ISO 3382-1: the time for 60 dB, read between 5 and 25 dB below the note.
    [InlineData(0.4, 0.25)]
    [InlineData(0.8, 0.1)]
    [InlineData(1.5, 0.4)]
    public void A_tail_tells_its_time_and_where_it_begins(double seconds, double share)
    {
        var decay = RoomReader.DecayOf(Track(3, seconds, share), Notes(3), Noise)!.Value;
        Assert.Equal(seconds, decay.Seconds60, 0.03 * seconds);
        Assert.Equal(share, decay.Share, 0.1 * share);
        Assert.True(decay.Matters);
    }

    [Fact]
    public void A_players_own_release_is_no_room()
    {
        Assert.False(RoomReader.DecayOf(Track(3, 0.12, 1), Notes(3), Noise) is { Matters: true });
        Assert.False(RoomReader.DecayOf(Track(3, 1.2, 1), Notes(3), Noise) is { Matters: true }); // fades from its own level on
    }

    [Fact]
    public void Where_no_silence_follows_a_note_nothing_is_known() =>
        Assert.Null(RoomReader.DecayOf(Track(1, 0.4, 0.25), [new(0, Length), new(Length + 5, Length + Rest)], Noise));

    [Fact]
    public void The_rooms_noise_is_read_where_nobody_plays() => Assert.Equal(Noise, RoomReader.NoiseOf(Track(3, 0.4, 0.25)), 1.0);

    [Theory]
    [InlineData(0.3, 0.3)]
    [InlineData(0.6, Decay.LargestShare)] // A microphone far away.
    [InlineData(0.95, null)] // The player's own release begins as loud as the note.
    public void Where_only_ends_speak_of_a_room_they_are_believed_up_to_a_share(double share, double? read)
    {
        var joined = RoomReader.Joined((false, null), new Decay(0.3, share));
        Assert.Equal(read, joined is { Matters: true } room ? room.Share : null);
    }

    [Fact]
    public void Without_a_silence_the_noise_lies_so_far_below_that_it_does_not_matter()
    {
        var track = new RoughTrack(Filled(400, 233.0), Filled(400, 1f), [.. Enumerable.Range(0, 400).Select(i => Note + Math.Sin(i))], new bool[400], new CandidateStore());
        Assert.True(RoomReader.NoiseOf(track) <= Note - 38);
    }

    private static IEnumerable<Stretch> Notes(int count) => Enumerable.Range(0, count).Select(i => new Stretch(i * (Length + Rest), (i * (Length + Rest)) + Length));

    private static RoughTrack Track(int count, double seconds, double share)
    {
        var frames = count * (Length + Rest);
        var (hz, db) = (new double[frames], new double[frames]);
        for (var i = 0; i < frames; i++)
        {
            var since = (i % (Length + Rest)) - Length + 1;
            var tail = Note + (10 * Math.Log10(share)) - (60 * since * Hop / seconds);
            db[i] = since <= 0 ? Note : 10 * Math.Log10(Math.Pow(10, tail / 10) + Math.Pow(10, Noise / 10));
            hz[i] = since <= 0 || tail > Noise + 10 ? 233 : 0;
        }

        return new RoughTrack(hz, Filled(frames, 1f), db, [.. hz.Select(h => h == 0)], new CandidateStore());
    }

    private static T[] Filled<T>(int count, T value) => [.. Enumerable.Repeat(value, count)];
}
