using Seamwright.Audio.Ogg;

namespace Seamwright.Tests.Audio;

public class OggTests
{
    [Fact] // The capture pattern's sum as any Ogg writer gives it: RFC 3533's generator 0x04c11db7, first value of its table by hand.
    public void The_check_sum_of_one_set_bit_is_the_generator()
    {
        Assert.Equal(0x04C11DB7u, OggCrc.Of([1]));
        Assert.Equal(0u, OggCrc.Of(new byte[30]));
    }

    [Fact]
    public void Packets_go_on_over_pages_and_a_packet_of_255_bytes_ends_with_an_empty_segment()
    {
        byte[] first = [.. Enumerable.Range(0, 600).Select(i => (byte)i)], second = new byte[255], third = [7];
        var one = Page(0, 2, 0, -1, [255, 255], first[..510]);
        var two = Page(1, 1, 0, 960, [90, 255, 0, 1], [.. first[510..], .. second, .. third]);
        var pages = new OggPages(new MemoryStream([.. one, .. two]));
        Assert.Empty(pages.Next()!.Packets);
        var page = pages.Next()!;
        Assert.Equal([first, second, third], page.Packets);
        Assert.Equal(960, page.Granule);
        Assert.Null(pages.Next());
    }

    [Fact]
    public void A_damaged_page_and_the_half_packets_around_it_are_left_out()
    {
        var one = Page(0, 2, 0, 1, [1, 255], [1, .. new byte[255]]);
        var two = Page(1, 1, 0, 2, [9, 255], new byte[9 + 255]);
        var three = Page(2, 1, 0, 3, [3, 1], [1, 2, 3, 4]);
        two[40] ^= 1;
        var pages = new OggPages(new MemoryStream([.. one, .. two, .. "OggS and more junk"u8, .. three]));
        Assert.Equal([[1]], pages.Next()!.Packets);
        var after = pages.Next()!;
        Assert.True(after.AfterGap);
        Assert.Equal([[4]], after.Packets);
    }

    [Fact]
    public void A_packet_whose_head_is_missing_is_left_out_however_many_pages_it_goes_on()
    {
        var one = Page(0, 2, 0, 1, [1, 255], [1, .. new byte[255]]);
        var three = Page(2, 1, 0, -1, [255], new byte[255]);
        var four = Page(3, 1, 0, 3, [3, 1], [1, 2, 3, 4]);
        var pages = new OggPages(new MemoryStream([.. one, .. three, .. four]));
        Assert.Equal([[1]], pages.Next()!.Packets);
        Assert.Empty(pages.Next()!.Packets);
        Assert.Equal([[4]], pages.Next()!.Packets);
    }

    [Fact]
    public void Pages_of_other_streams_are_passed_over()
    {
        var pages = new OggPages(new MemoryStream([.. Page(0, 2, 5, 0, [1], [1]), .. Page(0, 2, 6, 0, [1], [2]), .. Page(1, 0, 5, 0, [1], [3]), .. Page(1, 0, 6, 0, [1], [4])]));
        pages.Follow(pages.Next()!);
        Assert.Equal([[3]], pages.Next()!.Packets);
        Assert.Null(pages.Next());
        Assert.True(pages.AnotherBegan);
    }

    [Theory] // RFC 6716, table 2 and section 3.2.
    [InlineData(new byte[] { 0x00 }, 480)]
    [InlineData(new byte[] { 0x18 }, 2880)]
    [InlineData(new byte[] { 0x60 }, 480)]
    [InlineData(new byte[] { 0x80 }, 120)]
    [InlineData(new byte[] { 0xF8 }, 960)]
    [InlineData(new byte[] { 0xF9 }, 1920)]
    [InlineData(new byte[] { 0xFA }, 1920)]
    [InlineData(new byte[] { 0xFB, 6 }, 5760)]
    [InlineData(new byte[] { 0xFB, 7 }, 0)]
    [InlineData(new byte[] { 0xFB }, 0)]
    [InlineData(new byte[] { }, 0)]
    public void An_opus_packets_first_bytes_tell_its_length(byte[] packet, int frames) => Assert.Equal(frames, OpusPacket.Frames(packet));

    private static byte[] Page(uint sequence, byte flags, uint serial, long granule, byte[] segments, byte[] content)
    {
        byte[] page = [.. "OggS"u8, 0, flags, .. BitConverter.GetBytes(granule), .. BitConverter.GetBytes(serial), .. BitConverter.GetBytes(sequence), 0, 0, 0, 0, (byte)segments.Length, .. segments, .. content];
        BitConverter.GetBytes(OggCrc.Of(page)).CopyTo(page, 22);
        return page;
    }
}
