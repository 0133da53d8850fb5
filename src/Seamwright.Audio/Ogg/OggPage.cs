namespace Seamwright.Audio.Ogg;

/// <summary>A page of one logical stream, with the packets that end on it.</summary>
/// <param name="Serial">Which logical stream.</param>
/// <param name="Begins">Whether the stream begins here.</param>
/// <param name="Ends">Whether the stream ends here.</param>
/// <param name="AfterGap">Whether something between the page before and this one is missing.</param>
/// <param name="Granule">Frames up to the end of the last packet that ends here; −1 where none ends.</param>
/// <param name="Packets">Whole packets, in order.</param>
internal sealed record OggPage(uint Serial, bool Begins, bool Ends, bool AfterGap, long Granule, IReadOnlyList<byte[]> Packets);
