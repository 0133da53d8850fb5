using System.Net;
using System.Runtime.InteropServices;
using Seamwright.Audio;
using Seamwright.Core.Instruments;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Scores.MusicXml;
using Seamwright.Core.Sound;

namespace Seamwright.Tests.Studio;

public class TakeTests
{
    private static readonly Lazy<(Plan Plan, int Fault, SoundedTake Sound)> Played = new(() =>
    {
        using var file = File.OpenRead(Path.Combine(Workbench.Melodies, "paper-boats.musicxml"));
        var score = MusicXmlReader.Read(file, "paper-boats").Value;
        var plan = Planner.Plan(Unfolder.Play(PartChooser.Choose(score, Catalogue.Default).Value, score.Title).Value, Catalogue.Default).Value;
        var soft = plan.Changes.First(c => c.Kind == ChangeKind.SoftTongue && FaultAmounts.Applies(Fault.StoppedAir, c)).Index;
        return (plan, soft, Voice.Render(plan, Playing.WithFaults(plan, new Dictionary<int, Fault> { [soft] = Fault.StoppedAir })));
    });

    private static async Task<long> PieceAsync(Workbench workbench)
    {
        var answer = await workbench.PostAsync("/music/add", Workbench.FileForm("file", "paper-boats.musicxml", File.ReadAllBytes(Path.Combine(Workbench.Melodies, "paper-boats.musicxml"))));
        return long.Parse(answer.Headers.Location!.OriginalString.Split('/')[^1]);
    }

    private static short[] Sixteen() => [.. Played.Value.Sound.Samples.ToArray().Select(x => (short)Math.Clamp(Math.Round(x * 32767), -32768, 32767))];

    private static async Task<long> SendAsync(Workbench workbench, long take, long at, ReadOnlyMemory<short> samples, HttpStatusCode wanted = HttpStatusCode.OK)
    {
        var answer = await workbench.PostAsync($"/takes/{take}/samples?at={at}", new ByteArrayContent(MemoryMarshal.AsBytes(samples.Span).ToArray()));
        Assert.Equal(wanted, answer.StatusCode);
        return (await answer.JsonAsync()).GetProperty("samples").GetInt64();
    }

    private static async Task<long> BeginAsync(Workbench workbench, long piece)
    {
        var begun = await workbench.PostJsonAsync("/takes/begin", new { piece, rate = Played.Value.Sound.Rate.Value });
        return (await begun.JsonAsync()).GetProperty("id").GetInt64();
    }

    [Fact]
    public async Task A_recording_sent_in_pieces_is_heard_and_its_fault_stands_at_its_note()
    {
        await using var workbench = await Workbench.StartAsync(demo: false);
        var take = await BeginAsync(workbench, await PieceAsync(workbench));
        var all = Sixteen();
        for (var at = 0; at < all.Length; at += 20_000) Assert.Equal(Math.Min(all.Length, at + 20_000), await SendAsync(workbench, take, at, all.AsMemory(at, Math.Min(20_000, all.Length - at))));
        var ended = await (await workbench.PostAsync($"/takes/{take}/end", null)).JsonAsync();
        var page = await workbench.PageAsync(ended.GetProperty("url").GetString()!);
        Assert.Contains($"/takes/{take}/change/{Played.Value.Fault}\" data-into=\"#panel\" data-trouble", page);
        Assert.Contains("air stopped, 1", page);
        Assert.Contains("The air stopped", await workbench.PageAsync($"/takes/{take}/change/{Played.Value.Fault}"), StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public async Task A_piece_sent_twice_is_stored_once_and_one_that_came_too_early_is_asked_for_again()
    {
        await using var workbench = await Workbench.StartAsync(demo: false);
        var take = await BeginAsync(workbench, await PieceAsync(workbench));
        var some = Sixteen().AsMemory(0, 3000);
        Assert.Equal(1000, await SendAsync(workbench, take, 0, some[..1000]));
        Assert.Equal(1500, await SendAsync(workbench, take, 500, some[500..1500]));
        Assert.Equal(1500, await SendAsync(workbench, take, 2000, some[2000..], HttpStatusCode.Conflict));
        Assert.Equal(3000, await SendAsync(workbench, take, 1500, some[1500..]));
        var file = Path.Combine(workbench.Folder, "recordings", $"take-{take}.wav");
        var read = SoundFile.Read(file, cancel: TestContext.Current.CancellationToken).Value;
        Assert.Equal(some.ToArray(), read.Samples.ToArray().Select(x => (short)Math.Round(x * 32768)));
    }

    [Fact]
    public async Task A_recording_that_was_cut_off_is_there_after_the_server_was_started_again()
    {
        var first = await Workbench.StartAsync(demo: false);
        var piece = await PieceAsync(first);
        var take = await BeginAsync(first, piece);
        await SendAsync(first, take, 0, Sixteen().AsMemory(0, 96_000));
        await first.DisposeAsync();
        await using var second = await Workbench.StartAsync(first.Folder, demo: false);
        Assert.Contains("A recording that was cut off is here", await second.PageAsync($"/music/{piece}/record"));
        Assert.Contains("The recording was cut off", await second.PageAsync($"/takes/{take}"));
    }

    [Fact]
    public async Task A_file_that_holds_no_sound_is_refused_in_words_and_nothing_is_kept()
    {
        await using var workbench = await Workbench.StartAsync(demo: false);
        var piece = await PieceAsync(workbench);
        var answer = await workbench.PostAsync($"/music/{piece}/takes/bring", Workbench.FileForm("sound", "../../notes.wav", "no sound at all"u8.ToArray()));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.StatusCode);
        Assert.Contains("This recording cannot be used", await answer.TextAsync());
        Assert.Contains("No recordings yet", await workbench.PageAsync("/takes"));
        Assert.Empty(Directory.GetFiles(Path.Combine(workbench.Folder, "recordings")));
    }

    [Fact]
    public async Task A_sound_file_that_is_brought_is_a_take()
    {
        await using var workbench = await Workbench.StartAsync(demo: false);
        var piece = await PieceAsync(workbench);
        using var wav = new MemoryStream();
        WavFile.Write(wav, new Recording(Played.Value.Sound.Samples, Played.Value.Sound.Rate));
        var answer = await workbench.PostAsync($"/music/{piece}/takes/bring", Workbench.FileForm("sound", "lesson <3>.wav", wav.ToArray()));
        Assert.Equal("/takes/1", answer.Headers.Location!.OriginalString);
        Assert.Contains("lesson &lt;3&gt;.wav", await workbench.PageAsync("/takes"));
        var excerpt = await (await workbench.GetAsync($"/takes/1/change/{Played.Value.Fault}/sound.wav")).BytesAsync();
        Assert.InRange(WavFile.Read(new MemoryStream(excerpt), "excerpt").Value.Duration.Value, 0.3, 1.8);
    }

    [Fact]
    public async Task Two_takes_are_told_apart_change_by_change()
    {
        await using var workbench = await Workbench.StartAsync(demo: false);
        var piece = await PieceAsync(workbench);
        foreach (var sound in new[] { Played.Value.Sound, Voice.Render(Played.Value.Plan, Playing.Clean(Played.Value.Plan)) }) await BringAsync(workbench, piece, new Recording(sound.Samples, sound.Rate));

        Assert.Contains("href=\"/takes/2/beside/1\"", await workbench.PageAsync("/takes/2"));
        var page = await workbench.PageAsync("/takes/2/beside/1");
        Assert.Contains("1 change is mended since the earlier take", page);
        Assert.Contains("air stopped then, clean now", page);
        Assert.Contains("No change is mended", await workbench.PageAsync("/takes/1/beside/2"));
    }

    [Fact]
    public async Task A_long_recording_shows_how_far_the_listening_is_and_each_of_its_attempts()
    {
        await using var workbench = await Workbench.StartAsync(demo: false);
        var piece = await PieceAsync(workbench);
        var sound = Played.Value.Sound;
        float[] twice = [.. sound.Samples.ToArray(), .. new float[3 * sound.Rate.Value], .. Voice.Render(Played.Value.Plan, Playing.Clean(Played.Value.Plan)).Samples.ToArray()];
        var times = 1 + (int)(100 * sound.Rate.Value / (double)twice.Length);
        await BringAsync(workbench, piece, new Recording(Enumerable.Repeat(twice, times).SelectMany(x => x).ToArray(), sound.Rate));
        var answer = await workbench.GetAsync("/takes/1");
        var work = answer.Headers.Location!.OriginalString;
        Assert.StartsWith("/work/", work);
        while ((answer = await workbench.GetAsync(work)).StatusCode == HttpStatusCode.OK) await Task.Delay(100, TestContext.Current.CancellationToken);
        Assert.Equal("/takes/1", answer.Headers.Location!.OriginalString);
        var page = await workbench.TextAsync("/takes/1");
        Assert.Contains($"This recording holds {2 * times} attempts", page);
        Assert.Contains("air stopped, 1", await workbench.TextAsync("/takes/1?attempt=1"));
        Assert.DoesNotContain("air stopped", await workbench.TextAsync("/takes/1?attempt=2"));
        Assert.Contains($"change/{Played.Value.Fault}?attempt=1", await workbench.TextAsync("/takes/1?attempt=1"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, (await workbench.GetAsync("/takes/1?attempt=99")).StatusCode);
    }

    [Fact]
    public async Task What_was_heard_becomes_the_next_exercises()
    {
        await using var workbench = await Workbench.StartAsync(demo: false);
        var piece = await PieceAsync(workbench);
        await BringAsync(workbench, piece, new Recording(Played.Value.Sound.Samples, Played.Value.Sound.Rate));
        Assert.Contains("/takes/1/next", await workbench.PageAsync("/takes/1"));
        var page = await workbench.TextAsync("/takes/1/next");
        Assert.Contains("The air did not go on evenly", page);
        Assert.Contains("<article", page);
        var kept = await workbench.PostAsync("/takes/1/next/keep?exercise=0", null);
        Assert.Contains("exercise", await workbench.TextAsync(kept.Headers.Location!.OriginalString));
        Assert.StartsWith("%PDF", System.Text.Encoding.Latin1.GetString(await workbench.MadeAsync("/takes/1/next/print")));
        Assert.Equal(HttpStatusCode.NotFound, (await workbench.PostAsync("/takes/1/next/keep?exercise=9", null)).StatusCode);
    }

    [Fact]
    public async Task A_change_of_a_piece_becomes_an_exercise()
    {
        await using var workbench = await Workbench.StartAsync(demo: false);
        var piece = await PieceAsync(workbench);
        var link = System.Text.RegularExpressions.Regex.Match(await workbench.TextAsync($"/music/{piece}/change/{Played.Value.Fault}"), "/practice\\?kind=from-tune[^\"]*").Value;
        Assert.Contains($"change={Played.Value.Fault}&", link);
        Assert.Contains("<article", await workbench.PageAsync(link));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, (await workbench.GetAsync(link.Replace($"change={Played.Value.Fault}&", "change=4000&", StringComparison.Ordinal))).StatusCode);
    }

    [Fact]
    public async Task Of_silence_nothing_is_said_and_nothing_to_practise_follows()
    {
        await using var workbench = await Workbench.StartAsync(demo: false);
        var piece = await PieceAsync(workbench);
        await BringAsync(workbench, piece, new Recording(new float[5 * 44_100], new Core.Units.SampleRate(44_100)));
        var page = await workbench.TextAsync("/takes/1");
        Assert.Contains("Nothing was heard", page);
        Assert.Contains("<p class=\"overall\">No tone is heard in this recording.</p>", page);
        Assert.DoesNotContain("Nothing to mend", page);
        Assert.DoesNotContain("/takes/1/next", page);
        Assert.Contains("the piece was not recognised", await workbench.TextAsync("/takes"));
        await workbench.PostAsync($"/music/{piece}/remove", null);
        Assert.Contains("Nothing was heard", await workbench.TextAsync("/takes/1"));
    }

    [Fact]
    public async Task With_a_take_of_nothing_there_is_nothing_to_compare()
    {
        await using var workbench = await Workbench.StartAsync(demo: false);
        var piece = await PieceAsync(workbench);
        await BringAsync(workbench, piece, new Recording(Played.Value.Sound.Samples, Played.Value.Sound.Rate));
        await BringAsync(workbench, piece, new Recording(new float[5 * 44_100], new Core.Units.SampleRate(44_100)));
        await BringAsync(workbench, piece, new Recording(Played.Value.Sound.Samples, Played.Value.Sound.Rate));
        Assert.DoesNotContain("/beside/", await workbench.TextAsync("/takes/2"));
        Assert.Contains("/takes/3/beside/1", await workbench.TextAsync("/takes/3"));
        var answer = await workbench.GetAsync("/takes/2/beside/1");
        Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.StatusCode);
        Assert.Contains("No tone is heard", await answer.TextAsync());
    }

    [Fact]
    public async Task A_take_that_breaks_off_is_judged_as_far_as_it_goes_and_nowhere_called_unknown()
    {
        await using var workbench = await Workbench.StartAsync(demo: false);
        var piece = await PieceAsync(workbench);
        var upTo = Played.Value.Sound.Samples[..(int)(0.35 * Played.Value.Sound.Samples.Length)];
        await BringAsync(workbench, piece, new Recording(upTo, Played.Value.Sound.Rate));
        var page = await workbench.TextAsync("/takes/1");
        Assert.Contains("the take is judged as far as it goes", page);
        Assert.DoesNotContain("recognised", page);
        Assert.DoesNotContain("cannot tell", page);
        Assert.Contains("What to practise next", page);
        Assert.DoesNotContain("not recognised", await workbench.TextAsync("/takes"));
    }

    [Fact]
    public async Task A_recording_whose_page_went_without_a_word_can_be_heard_while_the_server_runs_on()
    {
        await using var workbench = await Workbench.StartAsync(demo: false);
        var piece = await PieceAsync(workbench);
        var take = await BeginAsync(workbench, piece);
        await SendAsync(workbench, take, 0, Sixteen().AsMemory(0, 3 * Played.Value.Sound.Rate.Value));
        Assert.Contains("0:03, running, or its page went away", await workbench.TextAsync("/takes"));
        File.SetLastWriteTimeUtc(Path.Combine(workbench.Folder, "recordings", $"take-{take}.wav"), new DateTime(2026, 1, 1, 0, 0, 0, DateTimeKind.Utc));
        Assert.Contains("0:03, cut off", await workbench.TextAsync("/takes"));

        // The computer slept: its page wakes and goes on.
        await SendAsync(workbench, take, 3 * Played.Value.Sound.Rate.Value, Sixteen().AsMemory(3 * Played.Value.Sound.Rate.Value));
        await workbench.PostAsync($"/takes/{take}/end", null);
        Assert.DoesNotContain("cut off", await workbench.TextAsync("/takes"));
    }

    [Fact]
    public async Task A_refused_recording_is_called_by_its_name_and_the_way_leads_back_to_recording()
    {
        await using var workbench = await Workbench.StartAsync(demo: false);
        var piece = await PieceAsync(workbench);
        var answer = await workbench.PostAsync($"/music/{piece}/takes/bring", Workbench.FileForm("sound", "lesson.mp3", "no sound at all"u8.ToArray()));
        var page = WebUtility.HtmlDecode(await answer.TextAsync());
        Assert.Contains("“lesson.mp3” ", page);
        Assert.Contains($"<a href=\"/music/{piece}/record\">", page);
    }

    private static async Task BringAsync(Workbench workbench, long piece, Recording recording)
    {
        using var wav = new MemoryStream();
        WavFile.Write(wav, recording);
        await workbench.PostAsync($"/music/{piece}/takes/bring", Workbench.FileForm("sound", "take.wav", wav.ToArray()));
    }
}
