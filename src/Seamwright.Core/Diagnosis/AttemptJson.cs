using System.Text.Json;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;

namespace Seamwright.Core.Diagnosis;

/// <summary>Attempts, what belongs to no note, and the room, in <c>seamwright.take/1</c>.</summary>
internal static class AttemptJson
{
    /// <summary>Writes <c>attempts</c>; the best one's notes and changes stand at the top already.</summary>
    public static void WriteAttempts(Utf8JsonWriter json, Take take, Diagnosis diagnosis, Plan plan)
    {
        if (take.Attempts.IsEmpty || diagnosis.Attempts.Length != take.Attempts.Length) return;
        json.WriteStartArray("attempts");
        for (var i = 0; i < take.Attempts.Length; i++) WriteAttempt(json, take.Attempts[i], diagnosis.Attempts[i], plan);
        json.WriteEndArray();
    }

    /// <summary>Writes <c>unmatched</c> where there is any.</summary>
    public static void WriteUnmatched(Utf8JsonWriter json, IReadOnlyCollection<UnmatchedStretch> stretches)
    {
        if (stretches.Count == 0) return;
        json.WriteStartArray("unmatched");
        foreach (var stretch in stretches)
        {
            json.WriteStartObject();
            HeardJson.Number(json, "startSeconds", stretch.Start.Value, 3);
            HeardJson.Number(json, "endSeconds", stretch.End.Value, 3);
            json.WriteString("kind", stretch.Kind == UnmatchedKind.Tones ? "tones" : "noise");
            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    /// <summary>Writes <c>damage</c> where there is any.</summary>
    public static void WriteDamage(Utf8JsonWriter json, IReadOnlyCollection<DamagedSpan> spans)
    {
        if (spans.Count == 0) return;
        json.WriteStartArray("damage");
        foreach (var span in spans)
        {
            json.WriteStartObject();
            HeardJson.Number(json, "startSeconds", span.Start.Value, 3);
            HeardJson.Number(json, "endSeconds", span.End.Value, 3);
            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    /// <summary>Writes <c>room</c> where it is known.</summary>
    public static void WriteRoom(Utf8JsonWriter json, RoomSound? room)
    {
        if (room is null) return;
        json.WriteStartObject("room");
        HeardJson.Number(json, "noiseDb", room.Noise.Value, 1);
        HeardJson.Number(json, "toneToNoiseDb", room.ToneToNoise.Value, 1);
        HeardJson.Number(json, "reverberationSeconds", room.Reverberation?.Value, 2);
        HeardJson.Number(json, "echoMs", room.EchoDelay?.Milliseconds, 1);
        HeardJson.Number(json, "echoDb", room.EchoLevel?.Value, 1);
        HeardJson.Number(json, "clippedShare", room.Clipped, 6);
        json.WriteEndObject();
    }

    private static void WriteAttempt(Utf8JsonWriter json, Attempt attempt, AttemptJudgement judgement, Plan plan)
    {
        json.WriteStartObject();
        HeardJson.Number(json, "startSeconds", attempt.Start.Value, 3);
        HeardJson.Number(json, "endSeconds", attempt.End.Value, 3);
        json.WriteNumber("transposition", attempt.Transposition);
        HeardJson.Number(json, "tempoRatio", attempt.TempoRatio, 3);
        json.WriteNumber("notesFound", attempt.NotesFound);
        json.WriteBoolean("best", judgement.Best);
        if (!judgement.Best) WriteHeard(json, attempt, judgement, plan);
        json.WriteEndObject();

        // An hour's attempts are megabytes: none waits in memory for the last.
        json.Flush();
    }

    // Notes and changes outside the pass are left out: their indices tell.
    private static void WriteHeard(Utf8JsonWriter json, Attempt attempt, AttemptJudgement judgement, Plan plan)
    {
        json.WriteStartArray("notes");
        foreach (var note in attempt.Notes.Where(n => n.Found)) HeardJson.WriteNote(json, note, judgement.Notes[note.Index]);
        json.WriteEndArray();
        json.WriteStartArray("changes");
        foreach (var change in attempt.Changes.Where(c => c.Found)) HeardJson.WriteChange(json, change, judgement.Changes[change.Index], plan.Changes[change.Index]);
        json.WriteEndArray();
    }
}
