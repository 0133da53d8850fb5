namespace Seamwright.Audio.Writing;

/// <summary>A WAV file of unknown length: its sizes are put in at the end.</summary>
/// <param name="file">Seekable; closed with the sink.</param>
/// <param name="head">All before the samples.</param>
/// <param name="quantiser">Of the head's format.</param>
internal sealed class WavSink(Stream file, WavHead head, SampleQuantiser quantiser) : SoundSink
{
    private byte[] block = [];
    private long data = -1;

    public override void Write(ReadOnlySpan<float> interleaved)
    {
        Begin();
        var length = interleaved.Length * quantiser.Bytes;
        if (data + length > head.MostData)
            throw new WritingFault("was not written: the sound is longer than the 4 GiB that a WAV file can hold.", "Name a .flac file, or cut the sound into pieces.");
        if (block.Length < length) block = new byte[length];
        quantiser.Put(interleaved, block);
        file.Write(block, 0, length);
        data += length;
    }

    public override void Finish()
    {
        Begin();
        if (data % 2 == 1) file.WriteByte(0);
        file.Position = 0;
        file.Write(head.Of(data));
        file.Flush();
    }

    public override void Dispose()
    {
        file.Dispose();
        base.Dispose();
    }

    private void Begin()
    {
        if (data >= 0) return;
        data = 0;
        file.Write(head.Of(0));
    }
}
