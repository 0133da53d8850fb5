using System.Diagnostics;
using System.Globalization;
using Seamwright.Core.Scores.MusicXml;
using Seamwright.Engraving;
using Seamwright.Film;
using Seamwright.Film.Screen;
using Seamwright.Tests.Cli;
using Seamwright.Tests.Engraving;

namespace Seamwright.Tests.Film;

public sealed class FilmCommandTests : IDisposable
{
    private const string Tune = "tempo=@96 Bb3:4( C4:4 D4:4> Eb4:4 | F4:2) r:4 D4:4 |";
    private readonly string folder = Directory.CreateTempSubdirectory("seamwright-film").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Fact]
    public void A_film_has_the_size_the_pace_and_the_length_of_its_sound()
    {
        NeedFfmpeg();
        var (part, target) = (Written(Tune), Path.Combine(folder, "film.mp4"));
        var (code, output, error) = CommandLine.Run("film", part, "-o", target);
        Assert.True(code == 0, error);
        Assert.Contains("written to", output);
        var sound = FilmParts.Sound(FilmParts.Planned(Tune)).Duration.Value;
        Assert.Equal("h264,1920,1080,yuv420p,30/1", Probe(target, "v", "codec_name,width,height,pix_fmt,r_frame_rate"));
        Assert.Equal("aac", Probe(target, "a", "codec_name"));
        Assert.Equal(sound, double.Parse(Probe(target, "v", "duration"), CultureInfo.InvariantCulture), 1 / 30.0);
        Assert.Equal(sound, double.Parse(Probe(target, "a", "duration"), CultureInfo.InvariantCulture), 1 / 30.0);
        Assert.Equal(["film.mp4", "tune.musicxml"], Directory.GetFileSystemEntries(folder).Select(Path.GetFileName).Order());
    }

    [Fact]
    public void A_frame_taken_from_a_film_shows_cursor_and_hand_where_they_belong()
    {
        NeedFfmpeg();
        var sheet = FilmParts.Planned(Tune);
        var request = new FilmRequest(sheet.Part, sheet.Plan, FilmParts.Sound(sheet), new SheetOptions());
        var (maker, target) = (new FilmMaker(SharedEngraver.Instance), Path.Combine(folder, "film.mp4"));
        Assert.True(maker.Make(request, target, null, TestContext.Current.CancellationToken).Succeeded);
        var screen = maker.Screen(request)!;
        foreach (var note in sheet.Plan.Notes)
        {
            // The frame that shows the middle of the note.
            var frame = (int)((FilmParts.LeadIn.Value + note.Note.StartTime.Value + (note.Note.Duration.Value / 2)) * ScreenLayout.FramesPerSecond);
            var shown = Frame(target, frame);
            var meant = screen.Frame((frame + 0.5) / ScreenLayout.FramesPerSecond);
            var dots = ScreenLayout.Width * ScreenLayout.Height;
            var far = Enumerable.Range(0, dots).Count(i => Math.Abs(shown[i] - meant[i]) > 40);
            Assert.True(far < dots / 10_000, $"{far} dots of frame {frame} differ");
            var hand = ScreenLayout.Slide.Left + screen.Slide.HandAt(note.Setting!.Travel.Value);
            StandScreenTests.Near(StandScreenTests.Light(ScreenLayout.Dark), shown[((ScreenLayout.Slide.Top + 116) * ScreenLayout.Width) + hand], 12);
        }
    }

    [Fact]
    public void Without_ffmpeg_on_the_path_a_message_says_so()
    {
        var (code, error) = RunAlone("film", Written(Tune), "-o", Path.Combine(folder, "film.mp4"));
        Assert.Equal(1, code);
        Assert.Contains("needs the program ffmpeg", error);
        Assert.False(File.Exists(Path.Combine(folder, "film.mp4")));
    }

    [Theory]
    [InlineData("head -c 9000000 >/dev/null; echo 'no room left' >&2; exit 3", "exit code 3, saying \"no room left\"")]
    [InlineData("echo \"Unknown encoder 'libx264'\" >&2; exit 1", "no encoder 'libx264'")]
    [InlineData("cat >/dev/null; exit 5", "exit code 5")]
    [InlineData("exec sleep 600", "took nothing more")]
    [InlineData("cat >/dev/null", "film.mp4: was not made: ffmpeg said that all was well, but wrote nothing")]
    public void Where_ffmpeg_fails_the_old_film_stays_and_nothing_else_is_left(string script, string message)
    {
        if (OperatingSystem.IsWindows()) Assert.Skip("reason: the stand-in for ffmpeg is a shell script.");
        var (program, target) = (Path.Combine(folder, "stand-in"), Path.Combine(folder, "film.mp4"));
        File.WriteAllText(program, "#!/bin/sh\n" + script + "\n");
        if (!OperatingSystem.IsWindows()) File.SetUnixFileMode(program, UnixFileMode.UserRead | UnixFileMode.UserExecute);
        File.WriteAllText(target, "older");
        var made = Make(Tune, target, new FilmLimits { Ffmpeg = program, Patience = new(script.Contains("sleep", StringComparison.Ordinal) ? 0.5 : 60) });
        Assert.Contains(message, Assert.Single(made).ToString());
        Assert.Equal("older", File.ReadAllText(target));
        Assert.Equal(["film.mp4", "stand-in"], Directory.GetFileSystemEntries(folder).Select(Path.GetFileName).Order());
    }

    [Fact]
    public void The_words_of_ffmpeg_about_a_missing_encoder_are_those_we_look_for()
    {
        NeedFfmpeg();
        Assert.Contains("Unknown encoder 'nosuch'", OutsideProgram.Run("ffmpeg", "-hide_banner", "-f", "lavfi", "-i", "color=d=0.1", "-c:v", "nosuch", "-f", "null", "-").Error);
    }

    [Fact]
    public void A_film_that_is_stopped_leaves_nothing()
    {
        NeedFfmpeg();
        using var stop = new CancellationTokenSource();
        var sheet = FilmParts.Planned(Tune);
        var request = new FilmRequest(sheet.Part, sheet.Plan, FilmParts.Sound(sheet), new SheetOptions());
        Assert.Throws<OperationCanceledException>(() => new FilmMaker(SharedEngraver.Instance).Make(request, Path.Combine(folder, "film.mp4"), share => stop.Cancel(), stop.Token));
        Assert.Empty(Directory.GetFileSystemEntries(folder));
    }

    [Fact]
    public void A_part_that_cannot_be_played_gives_no_film()
    {
        NeedFfmpeg();
        var sheet = FilmParts.Planned("C7:1 | D7:1 |");
        var silence = new FilmSound(new Core.Sound.SamplesFeed(new float[48_000], new(48_000)), new(1), [new(sheet.Plan, Core.Units.Seconds.Zero)]);
        var made = new FilmMaker(SharedEngraver.Instance).Make(new(sheet.Part, sheet.Plan, silence, new SheetOptions()), Path.Combine(folder, "film.mp4"), null, TestContext.Current.CancellationToken);
        Assert.Contains("no note in it", Assert.Single(made.Problems).ToString());
    }

    [Fact]
    public void A_film_that_would_last_too_long_is_refused() =>
        Assert.Contains("are the most", Assert.Single(Make(Tune, Path.Combine(folder, "film.mp4"), new FilmLimits { Longest = new(1) })).ToString());

    [Fact]
    public void A_place_that_cannot_be_written_is_told()
    {
        NeedFfmpeg();
        var part = Written(Tune);
        var (code, _, error) = CommandLine.Run("film", part, "-o", Path.Combine(part, "film.mp4"));
        Assert.Equal(1, code);
        Assert.Contains("cannot be written", OneLine(error));
    }

    [Fact]
    public void The_part_itself_is_never_replaced()
    {
        var own = Path.Combine(folder, "own.mp4");
        File.Copy(Written(Tune), own);
        var (code, _, error) = CommandLine.Run("film", own, "-o", Path.Combine(folder, ".", "own.mp4"));
        Assert.Equal(1, code);
        Assert.Contains("is not replaced", OneLine(error));
    }

    [Fact]
    public void Only_mp4_is_written() => Assert.Equal(2, CommandLine.Run("film", Written(Tune), "-o", Path.Combine(folder, "film.mkv")).Code);

    private static System.Collections.Immutable.ImmutableArray<Core.Problem> Make(string tune, string target, FilmLimits limits)
    {
        var sheet = FilmParts.Planned(tune);
        return new FilmMaker(SharedEngraver.Instance, null, limits).Make(new(sheet.Part, sheet.Plan, FilmParts.Sound(sheet), new SheetOptions()), target).Problems;
    }

    private string Written(string tune)
    {
        var path = Path.Combine(folder, "tune.musicxml");
        using var file = File.Create(path);
        MusicXmlWriter.Write(TestParts.Header(PartBuilder.Parse("Trombone", tune)), new Dictionary<string, NoteMark>(), file);
        return path;
    }

    private static string OneLine(string text) => string.Join(' ', text.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));

    private static void NeedFfmpeg()
    {
        if (!OutsideProgram.IsInstalled("ffmpeg") || !OutsideProgram.IsInstalled("ffprobe")) Assert.Skip("reason: ffmpeg or ffprobe is missing; install ffmpeg.");
    }

    private static byte[] Frame(string film, int index)
    {
        var bytes = OutsideProgram.Run("ffmpeg", "-v", "error", "-i", film, "-vf", $"select=eq(n\\,{index})", "-frames:v", "1", "-f", "rawvideo", "-pix_fmt", "yuv420p", "pipe:1").Output;
        Assert.Equal(ScreenLayout.Width * ScreenLayout.Height * 3 / 2, bytes.Length);
        return bytes;
    }

    private static string Probe(string film, string stream, string entries) =>
        OutsideProgram.Run("ffprobe", "-v", "error", "-select_streams", stream, "-show_entries", "stream=" + entries, "-of", "csv=p=0", film).Text.Trim();

    // In a process of its own, with an empty path.
    private static (int Code, string Error) RunAlone(params string[] arguments)
    {
        var how = new ProcessStartInfo(Path.Combine(AppContext.BaseDirectory, "seamwright"), arguments);
        how.Environment["PATH"] = "";
        how.Environment["DOTNET_ROOT"] = Path.GetFullPath(Path.Combine(Path.GetDirectoryName(typeof(object).Assembly.Location)!, "..", "..", ".."));
        var ran = OutsideProgram.Run(how);
        return (ran.Code, ran.Error);
    }
}
