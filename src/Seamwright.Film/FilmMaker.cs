using System.Collections.Immutable;
using Seamwright.Audio.External;
using Seamwright.Audio.Writing;
using Seamwright.Core;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;
using Seamwright.Engraving;
using Seamwright.Engraving.Engines;
using Seamwright.Engraving.Fonts;
using Seamwright.Film.Encoding;
using Seamwright.Film.Score;
using Seamwright.Film.Screen;

namespace Seamwright.Film;

/// <summary>What a film is made of.</summary>
/// <param name="Part">At concert pitch.</param>
/// <param name="Plan">Made from this part.</param>
/// <param name="Sound">What is heard while it is shown.</param>
/// <param name="Look">Clef and syllable, as on the sheet.</param>
public sealed record FilmRequest(Part Part, Plan Plan, FilmSound Sound, SheetOptions Look);

/// <summary>A film that was made.</summary>
/// <param name="Frames">How many pictures.</param>
/// <param name="Duration">How long it lasts.</param>
public sealed record FilmMade(int Frames, Seconds Duration);

/// <summary>Makes a film for the music stand: the sheet with a moving cursor, the slide as it moves, the kind of every change.</summary>
/// <remarks>1920 × 1080 dots, 30 pictures a second, H.264 and AAC in MP4, encoded by the system's ffmpeg.</remarks>
/// <param name="engraver">Kept by the caller.</param>
/// <param name="files">Where the fonts lie; null for those beside the program.</param>
/// <param name="limits">Null for the defaults.</param>
public sealed class FilmMaker(IEngraver engraver, EngraverFiles? files = null, FilmLimits? limits = null)
{
    private const string What = "film";
    private readonly FilmLimits allowed = limits ?? new();

    /// <summary>Makes a film and puts it in place whole, or leaves what was there.</summary>
    /// <param name="request">What to show and play.</param>
    /// <param name="path">The MP4 file.</param>
    /// <param name="progress">Told the share that is done, 0 to 1, once for every second of film; may be null.</param>
    /// <param name="cancel">Ends the encoder; nothing is left behind.</param>
    /// <returns>No value, and why: no ffmpeg, no encoder in it, nothing to play, too long, no place to write.</returns>
    /// <exception cref="EngravingException">The engraver or a font is missing, or the engraver gave up.</exception>
    /// <exception cref="OperationCanceledException">It was cancelled.</exception>
    public Outcome<FilmMade> Make(FilmRequest request, string path, Action<double>? progress = null, CancellationToken cancel = default)
    {
        var duration = request.Sound.Duration;
        if (duration > allowed.Longest) return Outcome<FilmMade>.Failed(What, $"it would last {duration.Value / 60:0.0} minutes; {allowed.Longest.Value / 60:0.#} are the most.", "Give a shorter part, a quicker tempo or fewer rounds.");
        if (FfmpegFinder.Find(allowed.Ffmpeg) is not { } program)
            return Outcome<FilmMade>.Failed("ffmpeg", "a film needs the program ffmpeg, and there is none on the path.", "Install it (for instance 'apt-get install ffmpeg') and see that 'ffmpeg -version' answers.");
        if (Screen(request) is not { } screen) return Outcome<FilmMade>.Failed($"part {request.Part.Id}", $"there is no note in it that a {request.Plan.Instrument.Name} can play.", "Choose another part or another --instrument.");
        var frames = (int)Math.Ceiling(duration.Value * ScreenLayout.FramesPerSecond);
        return Encode(program, request, screen, frames, path, progress, cancel);
    }

    /// <summary>The pictures without the film, for tests; null where nothing can be played.</summary>
    internal StandScreen? Screen(FilmRequest request)
    {
        var systems = Systems(request);
        if (FilmScore.Compose(request.Part, [.. systems.Select(s => s.Places)], request.Sound.Passages) is not { } score) return null;
        var fonts = SheetFonts.From((files ?? EngraverFiles.Default).Fonts);
        return new StandScreen(score, systems, request.Plan, PlainText.Short(request.Look.Syllable, 8), fonts, request.Sound.Signs);
    }

    // Systems as short as lets their ink fill the screen's width and still leaves room for two, one below the other.
    internal ImmutableArray<EngravedSystem> Systems(FilmRequest request)
    {
        const int Shortest = 14500, Longest = 30000, Tries = 3;
        const double Room = ScreenLayout.SlotHeight - (2 * ScreenLayout.SlotAir) - ScreenLayout.ThreadRoom;
        var (maker, width) = (new SystemMaker(engraver, files), Shortest);
        var made = maker.Make(request.Part, request.Plan, request.Look, width);
        for (var i = 1; i < Tries && !made.IsEmpty; i++)
        {
            var wanted = (int)(made.Max(s => s.Places.Ink.Bottom - s.Places.Ink.Top) * ScreenLayout.MusicWidth / Room);
            if (wanted <= width || width == Longest) break;
            width = Math.Min(Longest, wanted);
            made = maker.Make(request.Part, request.Plan, request.Look, width);
        }

        return made;
    }

    private Outcome<FilmMade> Encode(string program, FilmRequest request, StandScreen screen, int frames, string path, Action<double>? progress, CancellationToken cancel)
    {
        var part = Path.GetFullPath(path) + ".part";
        var folder = Directory.CreateTempSubdirectory("seamwright-film-").FullName;
        try
        {
            Directory.CreateDirectory(Path.GetDirectoryName(part)!);
            File.Create(part).Dispose();
            var sound = Path.Combine(folder, "sound.wav");
            if (SoundFileWriter.Write(sound, request.Sound.Sound, cancel: cancel) is { Succeeded: false } unwritten) return Outcome<FilmMade>.Failed([.. unwritten.Problems.Select(p => p with { Where = path })]);
            if (Run(program, new EncoderInput(sound, part, TitleOf(request)), screen, frames, progress, cancel) is { } problem) return Outcome<FilmMade>.Failed([problem with { Where = path }]);
            if (new FileInfo(part).Length == 0) return Outcome<FilmMade>.Failed(path, "was not made: ffmpeg said that all was well, but wrote nothing.", "See that the ffmpeg on the path works by itself, then try again.");
            File.Move(part, Path.GetFullPath(path), overwrite: true);
            return Outcome<FilmMade>.Of(new(frames, new((double)frames / ScreenLayout.FramesPerSecond)));
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return Outcome<FilmMade>.Failed(path, $"cannot be written: {e.Message.Replace(part, Path.GetFullPath(path), StringComparison.Ordinal).TrimEnd('.')}.", "Choose another place for it.");
        }
        finally
        {
            Remove(part);
            Directory.Delete(folder, recursive: true);
        }
    }

    private static string TitleOf(FilmRequest request) =>
        PlainText.OneLine(request.Sound.Remark.Length > 0 ? $"{request.Plan.Line.Title} ({request.Sound.Remark})" : request.Plan.Line.Title);

    private static void Remove(string part)
    {
        try
        {
            File.Delete(part);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            // It was never there: its folder cannot be written, and that has been told.
        }
    }

    private Problem? Run(string program, EncoderInput input, StandScreen screen, int frames, Action<double>? progress, CancellationToken cancel)
    {
        using var encoder = FilmEncoder.Start(program, input, allowed, cancel, out var refused);
        if (encoder is null) return refused;
        for (var i = 0; i < frames; i++)
        {
            cancel.ThrowIfCancellationRequested();
            if (!encoder.Write(screen.Frame((i + 0.5) / ScreenLayout.FramesPerSecond))) break;
            if (i % ScreenLayout.FramesPerSecond == 0) progress?.Invoke((double)i / frames);
        }

        return encoder.Finish(cancel);
    }
}
