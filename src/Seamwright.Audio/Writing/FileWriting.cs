using Seamwright.Audio.External;
using Seamwright.Core.Sound;

namespace Seamwright.Audio.Writing;

/// <summary>One file being written: beside its place until it is whole.</summary>
/// <param name="path">Its whole path.</param>
/// <param name="kind">What it shall be.</param>
/// <param name="sound">From its beginning.</param>
/// <param name="tags">In range.</param>
/// <param name="options">In range.</param>
/// <param name="create">Makes the part.</param>
/// <param name="cancel">Ends it.</param>
internal sealed class FileWriting(string path, SoundKind kind, SoundFeed sound, SoundTags tags, WritingOptions options, Func<string, Stream> create, CancellationToken cancel)
{
    private const int BlockFrames = 4096;

    private readonly string part = path + ".part";

    /// <summary>Writes it, or leaves everything as it was.</summary>
    public WrittenSound Run()
    {
        // Left by a run that was cut off.
        File.Delete(part);
        try
        {
            long frames;
            using (var sink = Open())
            {
                frames = Pour(sink);
                sink.Finish();
            }

            cancel.ThrowIfCancellationRequested();
            if (kind == SoundKind.Mp3) FileHead.Insert(part, TagTexts.Id3(tags));
            var bytes = new FileInfo(part).Length;
            File.Move(part, path, overwrite: true);
            return new WrittenSound(path, SoundKinds.Name(kind), sound.Rate.ToSeconds(frames), bytes);
        }
        catch
        {
            Remove();
            throw;
        }
    }

    private long Pour(SoundSink sink)
    {
        var block = new float[BlockFrames * sound.Channels];
        long frames = 0;
        sound.Restart();
        for (int read; (read = sound.Read(block)) > 0; frames += read / sound.Channels)
        {
            cancel.ThrowIfCancellationRequested();
            sink.Write(block.AsSpan(0, read));
        }

        return frames > 0 ? frames : throw new WritingFault("was not written: there is no sound to write.", "Give it something to sound.");
    }

    private SoundSink Open() => kind switch
    {
        SoundKind.Wav => new WavSink(create(part), new WavHead(sound.Rate.Value, sound.Channels, options.Samples, TagTexts.Info(tags)), new SampleQuantiser(options.Samples, options.Seed)),
        SoundKind.Opus => OpenOpus(create(part)),
        SoundKind.Flac => Ffmpeg(FfmpegEncoding.Flac(sound.Rate.Value, sound.Channels, options, tags)),
        _ => Ffmpeg(FfmpegEncoding.Mp3(sound.Rate.Value, sound.Channels, options)),
    };

    // Its first pages are written at once, and the disk may be full.
    private OpusSink OpenOpus(Stream file)
    {
        try
        {
            return new OpusSink(file, sound.Rate.Value, sound.Channels, options.OpusRate * sound.Channels, tags);
        }
        catch
        {
            file.Dispose();
            throw;
        }
    }

    private FfmpegSink Ffmpeg(FfmpegEncoding how)
    {
        // So that a folder that may not be written to is told in our words; ffmpeg writes over it.
        create(part).Dispose();
        return FfmpegSink.Open(FfmpegFinder.Find(options.Ffmpeg)!, part, how, cancel);
    }

    private void Remove()
    {
        try
        {
            File.Delete(part);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            // What kept it from being written keeps it from being removed too; that was told.
        }
    }
}
