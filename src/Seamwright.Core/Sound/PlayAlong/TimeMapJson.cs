using System.Text.Encodings.Web;
using System.Text.Json;
using Seamwright.Core.Planning;

namespace Seamwright.Core.Sound.PlayAlong;

/// <summary>A time map as JSON, schema <c>seamwright.time-map/1</c>; docs/time-map.md tells every field.</summary>
public static class TimeMapJson
{
    public const string Schema = "seamwright.time-map/1";

    /// <summary>Writes UTF-8 JSON; seconds to 0.1 ms.</summary>
    /// <param name="schedule">What happens when.</param>
    /// <param name="sound">Name of the sound file it belongs to, without folders.</param>
    /// <param name="output">Left open.</param>
    public static void Write(Schedule schedule, string sound, Stream output)
    {
        using var json = new Utf8JsonWriter(output, new JsonWriterOptions { Indented = true, Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping });
        var plan = schedule.Rounds[0].Plan;
        json.WriteStartObject();
        json.WriteString("schema", Schema);
        json.WriteString("title", plan.Line.Title);
        json.WriteString("sound", sound);
        json.WriteString("instrument", plan.Instrument.Id);
        json.WriteString("key", CueSheet.KeyOf(plan));
        Number(json, "seconds", schedule, schedule.WithRing);
        if (schedule.Faults.Fault != Fault.None) WriteFaults(json, schedule);
        WriteRounds(json, schedule);
        WriteSections(json, schedule);
        json.WriteStartArray("moments");
        foreach (var moment in TimeMap.Of(schedule)) WriteMoment(json, schedule, moment);
        json.WriteEndArray();
        json.WriteEndObject();
    }

    private static void WriteFaults(Utf8JsonWriter json, Schedule schedule)
    {
        var faults = schedule.Faults;
        json.WriteStartObject("wrongOnPurpose");
        json.WriteString("fault", faults.Fault.WireName());
        json.WriteNumber("amount", faults.Much);
        json.WriteString("unit", FaultAmounts.Of(faults.Fault)!.Unit);
        json.WriteStartArray("changes");
        foreach (var change in faults.Changes) json.WriteNumberValue(change);
        json.WriteEndArray();
        json.WriteStartArray("otherwise");
        foreach (var (round, change, much) in schedule.Rounds.SelectMany((r, i) => faults.Otherwise(r.Plan).Select(o => (i + 1, o.Change, o.Much))))
        {
            json.WriteStartObject();
            json.WriteNumber("round", round);
            json.WriteNumber("change", change);
            json.WriteNumber("amount", Math.Round(much, 1));
            json.WriteEndObject();
        }

        json.WriteEndArray();
        json.WriteEndObject();
    }

    private static void WriteRounds(Utf8JsonWriter json, Schedule schedule)
    {
        json.WriteStartArray("rounds");
        for (var i = 0; i < schedule.Rounds.Length; i++)
        {
            var round = schedule.Rounds[i];
            json.WriteStartObject();
            json.WriteNumber("round", i + 1);
            json.WriteNumber("tempo", Math.Round(round.Tempo, 2));
            Number(json, "from", schedule, round.Start);
            Number(json, "to", schedule, round.End);
            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    private static void WriteSections(Utf8JsonWriter json, Schedule schedule)
    {
        json.WriteStartArray("sections");
        foreach (var section in schedule.Sections)
        {
            json.WriteStartObject();
            json.WriteString("kind", section.Kind.WireName());
            json.WriteNumber("round", section.Round);
            if (section.PhraseNumber > 0) json.WriteNumber("phrase", section.PhraseNumber);
            Number(json, "from", schedule, section.Start);
            Number(json, "to", schedule, section.End);
            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    private static void WriteMoment(Utf8JsonWriter json, Schedule schedule, Moment moment)
    {
        var section = schedule.Sections[moment.Section];
        var plan = schedule.PlanOf(section);
        json.WriteStartObject();
        json.WriteNumber("at", Math.Round(moment.Time.Value, 4));
        json.WriteNumber("section", moment.Section);
        json.WriteNumber("round", section.Round);
        if (section.Phrase is not null) json.WriteString("bar", moment.Bar);
        if (moment.Beat is { } beat) json.WriteString("beat", beat.ToString());
        if (moment.OnBeat) json.WriteBoolean("onBeat", true);
        if (moment.Note is { } index)
        {
            var note = plan.Notes[index].Note;
            json.WriteNumber("note", index);
            json.WriteStartArray("noteIds");
            foreach (var id in note.NoteIds) json.WriteStringValue(id);
            json.WriteEndArray();
            json.WriteNumber("pass", note.Pass);
            if (moment.Begins) json.WriteBoolean("begins", true);
            if (index > 0) json.WriteString("change", plan.Changes[index - 1].Kind.WireName());
        }

        json.WriteEndObject();
    }

    private static void Number(Utf8JsonWriter json, string name, Schedule schedule, long samples) =>
        json.WriteNumber(name, Math.Round(schedule.Rate.ToSeconds(samples).Value, 4));

    private static string WireName(this SectionKind kind) => kind switch
    {
        SectionKind.CountIn => "count-in",
        SectionKind.Example => "example",
        SectionKind.You => "you",
        _ => "wait",
    };
}
