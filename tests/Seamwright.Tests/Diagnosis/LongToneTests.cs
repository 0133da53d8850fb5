using System.Text.Json;
using Seamwright.Core.Diagnosis;
using Seamwright.Core.Exercises;
using Seamwright.Core.Instruments;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Sound;
using Seamwright.Core.Units;

namespace Seamwright.Tests.Diagnoses;

/// <summary>The tone with the tongue imagined beside the same tone with touches.</summary>
public class LongToneTests
{
    private static readonly Plan Plan = ExerciseMaker.Make(new ExerciseOrder { Kind = "one-note", Touches = [2] }, Pupil.Of(Catalogue.Default, level: 3)).Value.Exercises[0].Plan;

    [Fact]
    public void An_exercise_names_its_tones()
    {
        Assert.Equal([new LongTone(0, 0, false), new LongTone(1, 16, true)], LongTone.Of(Plan));
        Assert.Empty(LongTone.Of(ExerciseMaker.Make(new ExerciseOrder { Kind = "two-notes" }, Pupil.Of(Catalogue.Default)).Value.Exercises[0].Plan));
    }

    [Fact]
    public void Air_that_goes_on_is_told_with_its_interval_in_words_and_json()
    {
        var (take, diagnosis) = Heard(Playing.Clean(Plan));
        var pair = Assert.Single(diagnosis.TonePairs);
        Assert.Equal(3, pair.Air.Findings.Length);
        Assert.All(pair.Air.Findings, f => Assert.Equal(Verdict.Clean, f.Verdict));
        Assert.InRange(pair.Air.Level!.Change.Value, -0.5, 0.5);
        Assert.InRange(pair.Air.BrightnessPercent!.Change, -3, 3);
        Assert.Equal(["The imagined tongue was as asked.", "All 15 light touches were as asked.", pair.Sentence(Plan)], Listed(take, diagnosis).Take(3));
        Assert.StartsWith("Touched from bar 4 against imagined from bar 1, B♭3: The air stayed the same", pair.Sentence(Plan));
        var json = Json(take, diagnosis).GetProperty("tonePairs")[0];
        Assert.Equal(16, json.GetProperty("touchedNotes")[1].GetInt32());
        Assert.True(json.GetProperty("levelDbInterval")[0].GetDouble() <= json.GetProperty("levelDb").GetDouble());
    }

    [Fact]
    public void Air_that_weakens_under_the_touches_is_told()
    {
        var softer = Playing.Clean(Plan) with { Levels = [.. Plan.Notes.Select((_, i) => new Decibels(i == 0 ? 0 : -3))] };
        var (take, diagnosis) = Heard(softer);
        var pair = Assert.Single(diagnosis.TonePairs);
        Assert.True(pair.AirChanged);
        Assert.Equal(-3, pair.Air.Level!.Change.Value, 0.5);
        Assert.Contains("dB softer", pair.Air.Sentence);
        Assert.Contains("air-changed", Json(take, diagnosis).GetProperty("tonePairs")[0].GetProperty("verdicts").EnumerateArray().Select(v => v.GetString()));
    }

    [Theory] // Missing touches must not take the ones after them along, at any tempo.
    [InlineData(1)]
    [InlineData(1.2)]
    [InlineData(0.8)]
    public void A_missing_touch_is_missed_in_its_own_place(double tempo)
    {
        int[] missing = [2, 3, 9, 15];
        var order = new FaultOrder(Fault.NoTongue, null, [.. missing]);
        var (_, diagnosis) = Heard(order.On(Plan) with { TempoRatio = tempo });
        Assert.Equal(missing, diagnosis.Changes.Where(c => c.Verdicts.Contains(Verdict.NoTouch)).Select(c => c.Index));
        Assert.Equal("4 of 15 light touches were missing; 11 were as asked.", diagnosis.Aims[1].Sentence);
    }

    [Theory]
    [InlineData(2, 10)]
    [InlineData(1, 6)]
    [InlineData(7, 5)]
    public void A_touch_in_an_imagined_tone_is_heard(int count, double depth)
    {
        var sound = Voice.Render(Plan, Playing.Clean(Plan));
        var tone = Listener.Listen(new Recording(sound.Samples, sound.Rate), Plan).Notes[0];
        var (from, to, rate) = (tone.Onset!.Value.Value, tone.Offset!.Value.Value, (double)sound.Rate.Value);
        var samples = sound.Samples.ToArray();
        for (var k = 1; k <= count; k++)
        {
            var middle = from + ((to - from) * k / (count + 1));
            for (var i = (int)((middle - 0.03) * rate); i < (middle + 0.03) * rate; i++)
                samples[i] *= (float)Math.Pow(10, -depth / 20 * (0.5 + (0.5 * Math.Cos(Math.PI * ((i / rate) - middle) / 0.03))));
        }

        var take = Listener.Listen(new Recording(samples, sound.Rate), Plan);
        var diagnosis = Diagnostician.Judge(take, Plan);
        Assert.Contains(Verdict.TongueHeard, diagnosis.Notes[0].Verdicts);
        Assert.Equal("1 of 1 imagined tongue was tongued; none was as asked.", diagnosis.Aims[0].Sentence);
        Assert.Contains(diagnosis.Notes[0].Remarks, r => r.StartsWith($"A tongue was heard {(count == 1 ? "once" : $"{count} times")}", StringComparison.Ordinal));
    }

    [Fact]
    public void An_imagined_tone_that_drifts_is_unsteady()
    {
        var take = Heard(Playing.Clean(Plan)).Take;
        var drifting = take with { Notes = take.Notes.SetItem(0, take.Notes[0] with { Drift = new Cents(17) }) };
        var diagnosis = Diagnostician.Judge(drifting, Plan);
        Assert.Contains(Verdict.Unsteady, diagnosis.Notes[0].Verdicts);
        Assert.Equal("1 of 1 imagined tongue was unsteady; none was as asked.", diagnosis.Aims[0].Sentence);
    }

    private static (Take Take, Diagnosis Diagnosis) Heard(Performance performance)
    {
        var sound = Voice.Render(Plan, performance);
        var take = Listener.Listen(new Recording(sound.Samples, sound.Rate), Plan);
        return (take, Diagnostician.Judge(take, Plan));
    }

    private static IEnumerable<string> Listed(Take take, Diagnosis diagnosis)
    {
        using var text = new StringWriter();
        TakeText.Write(take, diagnosis, Plan, text);
        var section = text.ToString().ReplaceLineEndings("\n").Split("What the exercise asked\n")[1].Split("\n\n")[0];
        return section.Replace("\n    ", " ").Split("  - ", StringSplitOptions.RemoveEmptyEntries).Select(l => l.Trim());
    }

    private static JsonElement Json(Take take, Diagnosis diagnosis)
    {
        using var stream = new MemoryStream();
        TakeJson.Write(take, diagnosis, Plan, stream);
        return JsonDocument.Parse(stream.ToArray()).RootElement;
    }
}
