using System.Net;
using System.Text;
using Seamwright.Audio;
using Seamwright.Core.Exercises;
using Seamwright.Core.Instruments;
using Seamwright.Core.Listening;
using Seamwright.Core.Sound;
using Seamwright.Core.Units;

namespace Seamwright.Tests.Studio;

public class HornTests
{
    [Fact]
    public async Task A_horn_of_ones_own_is_made_changed_and_planned_with()
    {
        await using var workbench = await Workbench.StartAsync();
        Assert.Contains("Tenor trombone in B♭", await workbench.TextAsync("/horns"));
        var made = await workbench.PostAsync("/horns/tenor-f/own", null);
        Assert.Equal("/horns/own-1", made.Headers.Location!.OriginalString);
        var kept = await workbench.PostAsync("/horns/own-1", Workbench.Form(("name", "The old one"), ("a4", "442"), ("seventh", "62,5"), ("furthest", "63"), ("temperature", "24"), ("pedal-F", "F1"), ("partial-5", "-9")));
        Assert.Equal(HttpStatusCode.Redirect, kept.StatusCode);
        var horn = await HornAsync(workbench, "own-1");
        Assert.Equal(442, horn.A4.Value, 3);
        Assert.Equal(62.5, horn.TravelAt(7).Value, 1);
        Assert.Equal(-9, horn.PartialOffsets[5].Value, 3);
        Assert.Contains("The old one", await workbench.TextAsync("/music/1"));
        Assert.Equal(HttpStatusCode.Redirect, (await workbench.PostAsync("/music/1/settings", Workbench.Form(("instrument", "own-1")))).StatusCode);
        Assert.Contains("<p class=\"under\">", await workbench.TextAsync("/music/1"));
        await workbench.PostAsync("/horns/own-1", Workbench.Form(("name", "Renamed"), ("a4", "442")));
        Assert.Contains("Renamed, ", await workbench.TextAsync("/music/1"));
    }

    [Fact]
    public async Task What_no_horn_can_be_is_told_and_nothing_changes()
    {
        await using var workbench = await Workbench.StartAsync(demo: false);
        await workbench.PostAsync("/horns/alto-eb/own", null);
        var before = await HornAsync(workbench, "own-1");
        foreach (var wrong in new[] { ("a4", "300"), ("a4", "high"), ("furthest", "-3"), ("partial-3", "x"), ("name", "") })
        {
            var answer = await workbench.PostAsync("/horns/own-1", Workbench.Form(wrong, wrong.Item1 == "name" ? ("a4", "440") : ("name", "n")));
            Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.StatusCode);
            Assert.Contains("role=\"alert\"", await answer.TextAsync());
        }

        Assert.Equal(InstrumentFile.Bytes(before), InstrumentFile.Bytes(await HornAsync(workbench, "own-1")));
        Assert.Equal(HttpStatusCode.NotFound, (await workbench.PostAsync("/horns/tenor-f", Workbench.Form(("name", "mine")))).StatusCode);
        Assert.Equal(HttpStatusCode.UnprocessableEntity, (await workbench.PostAsync("/horns/bring", Workbench.FileForm("file", "horn.json", "{\"schema\": 3}"u8.ToArray()))).StatusCode);
    }

    [Fact]
    public async Task A_horn_that_was_put_away_still_plays_its_pieces_and_comes_back()
    {
        await using var workbench = await Workbench.StartAsync();
        await workbench.PostAsync("/horns/tenor-f/own", null);
        await workbench.PostAsync("/music/1/settings", Workbench.Form(("instrument", "own-1")));
        var gone = await workbench.PostAsync("/horns/own-1/remove", null);
        Assert.DoesNotContain("my own", await workbench.TextAsync("/horns"));
        Assert.Contains("my own", await workbench.TextAsync("/music/1"));
        Assert.Contains("Put it back", await workbench.TextAsync(gone.Headers.Location!.OriginalString));
        await workbench.PostAsync("/horns/1/restore", null);
        Assert.Contains("my own", await workbench.TextAsync("/horns"));
    }

    // The voice plays on a horn that the workbench does not know: what it finds is checked against that horn.
    [Fact]
    public async Task A_horn_is_read_from_a_recording_of_the_music_made_for_it()
    {
        await using var workbench = await Workbench.StartAsync(demo: false);
        var played = await workbench.PostAsync("/horns/tenor-straight/play", null);
        Assert.Equal("/music/1", played.Headers.Location!.OriginalString);
        var real = Catalogue.Find("tenor-straight")!.TunedTo(new Hertz(443.5));
        real = real with { PartialOffsets = real.PartialOffsets.SetItem(5, new Cents(9)) };
        var exercise = ExerciseMaker.Make(new ExerciseOrder { Kind = "horn-and-ear" }, Pupil.Of(real, level: 3)).Value.Exercises[0];
        var sound = Voice.Render(exercise.Plan, Playing.Clean(exercise.Plan));
        using var wav = new MemoryStream();
        WavFile.Write(wav, new Recording(sound.Samples, sound.Rate));
        await workbench.PostAsync("/music/1/takes/bring", Workbench.FileForm("sound", "mine.wav", wav.ToArray()));
        Assert.Contains("/takes/1/horn", await workbench.PageAsync("/takes/1"));
        Assert.Contains("Partial 5", await workbench.PageAsync("/takes/1/horn"));
        var kept = await workbench.PostAsync("/takes/1/horn", null);
        var found = await HornAsync(workbench, kept.Headers.Location!.OriginalString.Split('/')[^1]);
        Assert.Equal(443.5, found.A4.Value, 0.5);
        Assert.Equal(9, found.PartialOffsets[5].Value, 4.0);
        Assert.Equal(HttpStatusCode.BadRequest, (await workbench.GetAsync("/takes/1/horn?seventh=far")).StatusCode);
    }

    private static async Task<Instrument> HornAsync(Workbench workbench, string key)
    {
        using var file = new MemoryStream(Encoding.UTF8.GetBytes(await workbench.PageAsync($"/horns/{key}/file.json")));
        return InstrumentFile.Read(file, key).Value;
    }

    [Fact]
    public async Task A_chart_names_the_valve_s_places_as_the_sheets_do()
    {
        await using var workbench = await Workbench.StartAsync(demo: false);
        var page = await workbench.TextAsync("/horns/tenor-f");
        foreach (var label in new[] { "F1", "F ♭2", "F ♭3", "F5", "F ♭6" }) Assert.Contains($"<th scope=\"row\">{label}</th>", page);
    }
}
