using System.Text.Json;
using Seamwright.Core.Sound.PlayAlong;
using static Seamwright.Tests.Scores.Files;

namespace Seamwright.Tests.Sound.PlayAlong;

public class TimeMapTests
{
    public static TheoryData<string, int> Settings { get; } = new() { { "evening-ferry", 1 }, { "over-the-hill", 2 }, { "crooked-lane", 3 }, { "long-bridge", 4 }, { "lantern-walk", 1 } };

    [Theory]
    [MemberData(nameof(Settings))]
    public void It_is_monotone_and_complete(string melody, int division)
    {
        var schedule = Parts.Schedule(Parts.Melody(melody), new PlayAlongSettings { Subdivision = division }, 63, 77.7);
        var moments = TimeMap.Of(schedule);
        Assert.Equal(0, moments[0].Time.Value);
        Assert.All(moments.Zip(moments.Skip(1)), p => Assert.True(p.Second.Time.Value - p.First.Time.Value > 0.00099, $"{p.First}"));

        // Every section, every beat and every note of both turns of both rounds has its moment, at its own time.
        var at = moments.ToDictionary(m => schedule.Rate.ToSamples(m.Time));
        Assert.All(schedule.Sections, s => Assert.Contains(s.Start, at));
        Assert.All(schedule.Beats, b => Assert.Contains(moments, m => Math.Abs(m.Time.Value - (b.At / 48_000.0)) < 0.001));
        foreach (var (section, index) in schedule.Sections.Select((s, i) => (s, i)).Where(s => s.s.Phrase is not null))
        {
            var begun = moments.Where(m => m.Section == index && m.Begins).ToList();
            Assert.Equal(Enumerable.Range(section.Phrase!.FirstNote, section.Phrase.LastNote - section.Phrase.FirstNote + 1), begun.Select(m => m.Note!.Value));
            var notes = schedule.PlanOf(section).Line.Notes;
            Assert.All(begun, m => Assert.Equal((notes[m.Note!.Value].Bar, notes[m.Note.Value].Beat), (m.Bar, m.Beat!.Value)));
            Assert.All(begun, m => Assert.Equal(schedule.TimeOf(section, notes[m.Note!.Value].Start) / 48_000.0, m.Time.Value, 0.001));
        }
    }

    [Fact]
    public void A_rest_holds_no_note_and_its_bar_goes_on()
    {
        var schedule = Parts.Schedule(Parts.Written("4/4", N("C3", 12) + R(24) + N("D3", 12)), new PlayAlongSettings { Turns = Turns.ExampleOnly, CountIn = 0 });
        Assert.Equal("0:0 1:- 2:- 3:1", string.Join(' ', TimeMap.Of(schedule).Select(m => $"{m.Time.Value}:{m.Note?.ToString() ?? "-"}")));
    }

    [Fact]
    public void The_file_says_it_all()
    {
        var schedule = Parts.Schedule(Parts.Melody("evening-ferry"), new PlayAlongSettings(), 60, 72);
        var stream = new MemoryStream();
        TimeMapJson.Write(schedule, "ferry.wav", stream);
        var json = JsonDocument.Parse(stream.ToArray()).RootElement;

        Assert.Equal("seamwright.time-map/1", json.GetProperty("schema").GetString());
        Assert.Equal(schedule.Length / 48_000.0, json.GetProperty("seconds").GetDouble(), 4);
        Assert.Equal([60.0, 72.0], json.GetProperty("rounds").EnumerateArray().Select(r => r.GetProperty("tempo").GetDouble()));
        Assert.Equal(schedule.Sections.Length, json.GetProperty("sections").GetArrayLength());
        var moments = json.GetProperty("moments").EnumerateArray().ToList();
        var times = moments.Select(m => m.GetProperty("at").GetDouble()).ToList();
        Assert.All(times.Zip(times.Skip(1)), p => Assert.True(p.First < p.Second));
        var first = moments.First(m => m.TryGetProperty("begins", out _));
        Assert.Equal(("1", "n1", 1), (first.GetProperty("bar").GetString(), first.GetProperty("noteIds")[0].GetString(), first.GetProperty("round").GetInt32()));
        Assert.False(first.TryGetProperty("change", out _));
        Assert.Contains(moments, m => m.TryGetProperty("change", out var c) && c.GetString() == "soft-tongue");
    }

    [Fact]
    public void The_cue_sheet_tells_every_bar_of_every_round()
    {
        var schedule = Parts.Schedule(Parts.Melody("evening-ferry"), new PlayAlongSettings(), 60, 120);
        var writer = new StringWriter();
        CueSheet.Write(schedule, writer);
        Golden.Check("evening-ferry.cues.txt", writer.ToString());
        Assert.All(writer.ToString().Split('\n'), line => Assert.True(line.TrimEnd().Length <= 80, line));
    }
}
