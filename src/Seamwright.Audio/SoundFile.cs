using System.Collections.Immutable;
using Seamwright.Audio.Decoding;
using Seamwright.Audio.External;
using Seamwright.Audio.Flac;
using Seamwright.Audio.Mpeg;
using Seamwright.Audio.Ogg;
using Seamwright.Core;
using Seamwright.Core.Listening;

namespace Seamwright.Audio;

/// <summary>Sound files of every common kind, told by their content and never by their name.</summary>
/// <remarks>WAV, MP3, Ogg Vorbis and Opus are decoded within the program; FLAC, AAC, M4A, MP4, MOV and the rarer kinds by the
/// program ffmpeg, where it is installed. Times are those of the original: what an encoder puts before and after the sound is taken off.</remarks>
public static class SoundFile
{
    /// <summary>The kinds of files that are read, for help texts.</summary>
    public const string Kinds = "WAV, FLAC, MP3, Ogg Vorbis, Opus, AAC, M4A, or the sound of MP4, MOV and WebM";

    /// <summary>Opens a file for reading front to back, in a few megabytes of memory however long it is.</summary>
    /// <param name="path">A file on the disk.</param>
    /// <param name="options">Default <see cref="SoundOptions.Default"/>.</param>
    /// <param name="cancel">Ends reading, with an <see cref="OperationCanceledException"/>, and any program that was started for it.</param>
    /// <returns>The stream, to be disposed; or why the file cannot be read, and what to do.</returns>
    public static Outcome<SoundStream> Open(string path, SoundOptions? options = null, CancellationToken cancel = default)
    {
        if (Directory.Exists(path)) return Outcome<SoundStream>.Failed(path, "is a folder.", "Name a file in it.");
        if (!File.Exists(path)) return Outcome<SoundStream>.Failed(path, "there is no such file.", "Check the name and the folder you are in.");
        try
        {
            return new Opening(path, options ?? SoundOptions.Default, cancel).Run();
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return Outcome<SoundStream>.Failed(path, $"cannot be read: {e.Message}", "Check that you may open it and that nothing else holds it.");
        }
    }

    /// <summary>Reads a whole file into memory: for recordings of minutes rather than hours.</summary>
    /// <inheritdoc cref="Open"/>
    /// <returns>The samples as mono at the file's own rate, with everything odd that was met; or why there are none.</returns>
    public static Outcome<Recording> Read(string path, SoundOptions? options = null, CancellationToken cancel = default)
    {
        var opened = Open(path, options, cancel);
        if (!opened.Succeeded) return Outcome<Recording>.Failed(opened.Problems);
        using var stream = opened.Value;
        var recording = stream.ReadAll((options ?? SoundOptions.Default).Limits.MostSamples);
        return Outcome<Recording>.Of(recording, stream.Problems);
    }

    private sealed class Opening(string path, SoundOptions options, CancellationToken cancel)
    {
        private readonly ProblemLog log = new(Path.GetFileName(path));

        public Outcome<SoundStream> Run()
        {
            var file = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete, 1 << 16);
            SoundStream? stream = null;
            try
            {
                stream = Opened(file);
                return stream is not null && stream.Begin() ? Outcome<SoundStream>.Of(Given(ref stream), log.All) : Outcome<SoundStream>.Failed(Refused());
            }
            finally
            {
                // Whatever went wrong, neither a file nor a program stays behind.
                if (stream is not null) stream.Dispose();
                else if (!given) file.Dispose();
            }
        }

        private bool given;

        private SoundStream Given(ref SoundStream? stream)
        {
            var it = stream!;
            (stream, given) = (null, true);
            return it;
        }

        private SoundStream? Opened(FileStream file)
        {
            var head = Head(file);
            if (head.Length == 0)
            {
                log.Refuse("is empty.", "Record it again, or check that the copy was completed.");
                return null;
            }

            var kind = SoundKinds.Tell(head);
            if (kind == SoundKind.Unknown)
            {
                if (head.AsSpan().IndexOf("OggS"u8) > 0) log.Refuse("is damaged at its beginning, where an Ogg file says how its sound is coded.", "Copy the file again if the original is whole, or record it again.");
                else log.Refuse("is no sound file of a known kind.", $"Give {Kinds}.");
                return null;
            }

            var source = Source(kind, file, head);
            return source is null ? null : new SoundStream(source, log, options.Limits, SoundKinds.Name(kind), file, cancel);
        }

        // Tags may stand before the sound; they say nothing about its kind.
        private static byte[] Head(FileStream file)
        {
            var head = new byte[SoundKinds.HeadLength];
            for (var i = 0; i < 4; i++)
            {
                var start = file.Position;
                var got = file.ReadAtLeast(head, head.Length, throwOnEndOfStream: false);
                var tag = FrameWalk.TagLength(head.AsSpan(0, got));
                if (tag == 0 || start + tag >= file.Length) return head[..got];
                file.Position = start + tag;
            }

            return head;
        }

        private SampleSource? Source(SoundKind kind, FileStream file, byte[] head)
        {
            file.Position = 0;
            if (kind == SoundKind.Wav) return PackedWav.Find(file) is { } packed ? Packed(packed) : Wav(file);
            var mpeg = kind == SoundKind.Mp3 ? MpegScan.Of(file) : null;
            file.Position = 0;
            var program = FfmpegFinder.Find(options.Ffmpeg);
            if (IsManaged(kind, mpeg) && (program is null ? options.Decoder != DecoderChoice.Ffmpeg : PrefersManaged(kind, mpeg))) return Managed(kind, file, program is null && mpeg is { IsWhole: true });
            var isWholeInside = false;
            if (program is not null && kind == SoundKind.Flac && FlacMend.Of(file, cancel, out isWholeInside) is { } mend) return Mended(program, mend);
            if (program is not null)
                return FfmpegSource.Open(program, path, Container(kind), mpeg is null ? Promised(kind, file, head) : mpeg.Promised, options.Limits, log, cancel, isWholeInside);
            RefuseWithout(SoundKinds.Name(kind));
            return null;
        }

        private MendedFlacSource? Mended(string program, FlacMend mend)
        {
            MendedFlacSource? source = null;
            try
            {
                var decoded = FfmpegSource.Open(program, mend.Path, "flac", mend.Promised, options.Limits, log, cancel, isWholeInside: true);
                return source = decoded is null ? null : new MendedFlacSource(decoded, mend, log);
            }
            finally
            {
                if (source is null) File.Delete(mend.Path);
            }
        }

        private FfmpegSource? Packed(PackedWav packed)
        {
            if (FfmpegFinder.Find(options.Ffmpeg) is { } program)
                return FfmpegSource.Open(program, path, "wav", packed.Seconds, options.Limits, log, cancel);
            RefuseWithout($"WAV packed as {packed.Coding}");
            return null;
        }

        private void RefuseWithout(string kind) => log.Refuse(
            $"is {kind}, which takes the program ffmpeg to decode, and that was not found.",
            "Install ffmpeg so that it lies on the path (most systems carry it as a package of that name), or save the recording as WAV (PCM).");

        // At 8 kHz the package's tables are wrong, and what it gives is noise.
        private static bool IsManaged(SoundKind kind, MpegScan? mpeg) =>
            kind is SoundKind.Vorbis or SoundKind.Opus || (mpeg is not null && mpeg.First.Rate != 8000);

        // Our own MP3 decoder is the less exact one, but it keeps the time over damage.
        private bool PrefersManaged(SoundKind kind, MpegScan? mpeg) => options.Decoder switch
        {
            DecoderChoice.Managed => true,
            DecoderChoice.Ffmpeg => false,
            _ => kind != SoundKind.Mp3 || mpeg is { IsWhole: false },
        };

        private WavSource? Wav(FileStream file)
        {
            var problems = new List<Problem>();
            var layout = WavLayout.Find(file, log.Name, options.Limits, problems);
            log.Add(problems);
            return layout is null ? null : new WavSource(file, layout);
        }

        // The packages meet damage in their set-up with many kinds of exception.
        private SampleSource? Managed(SoundKind kind, FileStream file, bool couldBeExact)
        {
            try
            {
                var source = kind == SoundKind.Mp3 ? MpegSource.Open(file, log, couldBeExact) : Ogg(file);
                return source is null || Fits(source) ? source : null;
            }
            catch (Exception e) when (e is not (IOException or OutOfMemoryException or OperationCanceledException) || e is EndOfStreamException)
            {
                return null;
            }
        }

        private SampleSource? Ogg(FileStream file)
        {
            var pages = new OggPages(file);
            if (OggStreams.FindSound(pages) is not { } first) return null;
            pages.Follow(first);
            if (!OggStreams.IsOpus(first)) return VorbisHead.Read(first.Packets[0]) is { } vorbis && AreRead(vorbis.Channels) ? VorbisSource.Open(pages, first, log) : null;
            return OpusHead.Read(first.Packets[0]) is { } opus && AreRead(opus.Channels) ? OpusSource.Open(pages, opus, log) : null;
        }

        private bool AreRead(int channels)
        {
            if (channels is 1 or 2) return true;
            log.Refuse($"has {channels} channels.", "Give one microphone (mono) or two (stereo).");
            return false;
        }

        private bool Fits(SampleSource source)
        {
            if (source.Rate >= options.Limits.LowestRate && source.Rate <= options.Limits.HighestRate) return true;
            log.Refuse($"has a sample rate of {source.Rate} Hz.", $"Rates from {options.Limits.LowestRate} to {options.Limits.HighestRate} Hz are read; 44100 or 48000 serve best.");
            source.Dispose();
            return false;
        }

        private static string Container(SoundKind kind) => kind switch
        {
            SoundKind.Flac => "flac",
            SoundKind.Mp3 => "mp3",
            SoundKind.Vorbis or SoundKind.Opus or SoundKind.OtherOgg => "ogg",
            SoundKind.Adts => "aac",
            SoundKind.Mp4 => "mov",
            SoundKind.Matroska => "matroska",
            SoundKind.Aiff => "aiff",
            SoundKind.Au => "au",
            _ => "caf",
        };

        private static double? Promised(SoundKind kind, FileStream file, byte[] head) => kind switch
        {
            SoundKind.Flac => PromisedLength.OfFlac(head),
            SoundKind.Mp4 => PromisedLength.OfMovie(file),
            _ => null,
        };

        // Where nothing came, even what would else be forgiven is the reason.
        private ImmutableArray<Problem> Refused()
        {
            var all = log.All;
            if (all.Any(p => p.Severity == Severity.Error)) return all;
            return [.. all, new Problem(log.Name, "holds no sound that could be decoded.", "Copy the file again if the original is whole, or record it again.", Severity.Error)];
        }
    }
}
