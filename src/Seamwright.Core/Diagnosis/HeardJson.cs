using System.Text.Json;
using Seamwright.Core.Instruments;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Diagnosis;

/// <summary>One note and one change as objects of <c>seamwright.take/1</c>.</summary>
internal static class HeardJson
{
    public static void WriteNote(Utf8JsonWriter json, HeardNote note, NoteJudgement judgement)
    {
        json.WriteStartObject();
        json.WriteNumber("index", note.Index);
        json.WriteString("pitch", note.Pitch.ToString());
        json.WriteBoolean("found", note.Found);
        if (note.Instead is { } other) json.WriteString("instead", other.ToString());
        Number(json, "onset", note.Onset?.Value, 4);
        Number(json, "offset", note.Offset?.Value, 4);
        Number(json, "cents", note.Cents?.Value, 1);
        Interval(json, "centsInterval", note.CentsBounds, c => c.Value, 1);
        if (judgement.Cents != note.Cents) Number(json, "ownCents", judgement.Cents?.Value, 1);
        Number(json, "driftCents", note.Drift?.Value, 1);
        Interval(json, "driftCentsInterval", note.DriftBounds, c => c.Value, 1);
        WriteVibrato(json, note.Vibrato);
        Number(json, "levelDb", note.Level?.Value, 1);
        Number(json, "brightness", note.Brightness, 3);
        Number(json, "toneToNoiseDb", note.ToneToNoise?.Value, 1);
        WritePlayedSetting(json, note.PlayedSetting);
        Number(json, "slideMm", judgement.SlideCorrection?.Millimetres, 1);
        WriteFindings(json, judgement.Findings, judgement.Advice, judgement.Remarks);
        json.WriteEndObject();
    }

    public static void WriteChange(Utf8JsonWriter json, HeardChange heard, ChangeJudgement judgement, NoteChange planned)
    {
        json.WriteStartObject();
        json.WriteNumber("index", heard.Index);
        json.WriteNumber("fromNote", planned.FromNote);
        json.WriteNumber("toNote", planned.ToNote);
        json.WriteString("kind", judgement.Kind.WireName());
        if (judgement.Intent is { } intent) json.WriteString("intent", intent.WireName());
        WriteGlide(json, heard);
        WriteDip(json, heard);
        Number(json, "caughtHz", heard.CaughtPitch?.Value, 2);
        Number(json, "caughtMs", heard.CaughtFor?.Milliseconds, 1);
        if (heard.Broke is { } broke) json.WriteBoolean("broke", broke);
        WriteBreak(json, heard.Break);
        WriteArm(json, heard.Arm);
        WriteDoubts(json, heard);
        WriteFindings(json, judgement.Findings, judgement.Advice, judgement.Remarks);
        json.WriteEndObject();
    }

    /// <summary>A number, rounded; nothing where it is not known.</summary>
    /// <remarks>Adding 0 turns a rounded −0 into 0.</remarks>
    public static void Number(Utf8JsonWriter json, string name, double? value, int digits)
    {
        if (value is { } v && double.IsFinite(v)) json.WriteNumber(name, Math.Round(v, digits) + 0.0);
    }

    public static void Interval<T>(Utf8JsonWriter json, string name, Bounds<T>? bounds, Func<T, double> value, int digits)
    {
        if (bounds is not { } b) return;
        var (low, high) = (value(b.Low), value(b.High));
        if (!double.IsFinite(low) || !double.IsFinite(high)) return;
        json.WriteStartArray(name);
        json.WriteNumberValue(Math.Round(low, digits) + 0.0);
        json.WriteNumberValue(Math.Round(high, digits) + 0.0);
        json.WriteEndArray();
    }

    private static double Ms(Seconds s) => s.Milliseconds;

    private static void WriteGlide(Utf8JsonWriter json, HeardChange heard)
    {
        Number(json, "glideMs", heard.Glide?.Milliseconds, 1);
        Interval(json, "glideMsInterval", heard.GlideBounds, Ms, 1);
        Number(json, "glideCentre", heard.GlideCentre?.Value, 4);
        Interval(json, "glideCentreInterval", heard.GlideCentreBounds, s => s.Value, 4);
        Number(json, "glideSemitones", heard.GlideSemitones, 2);
        Number(json, "audibleGlideMs", heard.AudibleGlide?.Milliseconds, 1);
        Interval(json, "audibleGlideMsInterval", heard.AudibleGlideBounds, Ms, 1);
        Slide(json, "slideBeforeBreak", heard.SlideBefore);
        Slide(json, "slideAfterBreak", heard.SlideAfter);
    }

    private static void WriteDip(Utf8JsonWriter json, HeardChange heard)
    {
        Number(json, "dipDb", heard.Dip?.Value, 1);
        Interval(json, "dipDbInterval", heard.DipBounds, d => d.Value, 1);
        Heard(json, "heardDipDb", Readings.Dip(heard), 1);
        Heard(json, "below10Ms", Readings.Below10(heard), 1000);
        Heard(json, "below20Ms", Readings.Gap(heard), 1000);
        Number(json, "dipWidthMs", heard.DipWidth?.Milliseconds, 1);
        Interval(json, "dipWidthMsInterval", heard.DipWidthBounds, Ms, 1);
        Number(json, "dipCentre", heard.DipCentre?.Value, 4);
        Interval(json, "dipCentreInterval", heard.DipCentreBounds, s => s.Value, 4);
        Number(json, "tongueOffsetMs", heard.TongueOffset?.Milliseconds, 1);
        Interval(json, "tongueOffsetMsInterval", heard.TongueOffsetBounds, Ms, 1);
        Number(json, "gapMs", heard.Gap?.Milliseconds, 1);
        Interval(json, "gapMsInterval", heard.GapBounds, Ms, 1);
        Number(json, "overshootDb", heard.Overshoot?.Value, 1);
        Interval(json, "overshootDbInterval", heard.OvershootBounds, d => d.Value, 1);
    }

    private static void Slide(Utf8JsonWriter json, string name, HeardSlide? slide)
    {
        if (slide is not { } s) return;
        json.WriteStartObject(name);
        Number(json, "audibleMs", s.Audible.Milliseconds, 1);
        Interval<Seconds>(json, "audibleMsInterval", s.Bounds, Ms, 1);
        Number(json, "semitones", s.Semitones, 2);
        json.WriteEndObject();
    }

    // As the ear's window shows it: what limits are compared with.
    private static void Heard(Utf8JsonWriter json, string name, Reading? reading, double scale)
    {
        if (reading is not { } r) return;
        Number(json, name, scale * r.Value, 1);
        if (r.HasInterval) Interval<double>(json, name + "Interval", new(scale * r.Low, scale * r.High), x => x, 1);
    }

    private static void WriteVibrato(Utf8JsonWriter json, Vibrato? vibrato)
    {
        if (vibrato is not { } v) return;
        json.WriteStartObject("vibrato");
        Number(json, "rateHz", v.Rate.Value, 2);
        Number(json, "extentCents", v.Extent.Value, 1);
        json.WriteEndObject();
    }

    private static void WritePlayedSetting(Utf8JsonWriter json, SlideSetting? setting)
    {
        if (setting is null) return;
        json.WriteStartObject("playedSetting");
        InstrumentJson.WriteSetting(json, setting);
        json.WriteEndObject();
    }

    private static void WriteBreak(Utf8JsonWriter json, PartialBreak? broke)
    {
        if (broke is not { } b) return;
        json.WriteStartObject("break");
        Number(json, "time", b.Time.Value, 4);
        Number(json, "semitones", b.Semitones, 2);
        json.WriteEndObject();
    }

    private static void WriteArm(Utf8JsonWriter json, HeardArm? arm)
    {
        if (arm is null) return;
        json.WriteStartObject("arm");
        Number(json, "startSeconds", arm.Start.Value, 4);
        Number(json, "middle", (arm.Start.Value + arm.End.Value) / 2, 4);
        Number(json, "endSeconds", arm.End.Value, 4);
        Number(json, "durationMs", arm.Duration.Milliseconds, 1);
        Interval(json, "durationMsInterval", arm.DurationBounds, Ms, 1);
        Number(json, "peakSpeed", arm.PeakSpeed, 2);
        Interval(json, "peakSpeedInterval", arm.PeakSpeedBounds, s => s, 2);
        Number(json, "fromCm", arm.From.Value, 1);
        Number(json, "toCm", arm.To.Value, 1);
        Number(json, "leadMs", arm.Lead?.Milliseconds, 1);
        json.WriteBoolean("crept", arm.Crept);
        json.WriteEndObject();
    }

    private static void WriteDoubts(Utf8JsonWriter json, HeardChange heard)
    {
        if (heard.Doubts.IsDefaultOrEmpty) return;
        json.WriteStartArray("doubts");
        foreach (var doubt in heard.Doubts) json.WriteStringValue(doubt.WireName());
        json.WriteEndArray();
    }

    private static void WriteFindings(Utf8JsonWriter json, IEnumerable<Finding> findings, string advice, IReadOnlyCollection<string> remarks)
    {
        json.WriteStartArray("verdicts");
        foreach (var finding in findings) json.WriteStringValue(finding.Verdict.WireName());
        json.WriteEndArray();
        json.WriteStartArray("basis");
        foreach (var finding in findings) json.WriteStringValue(finding.Basis);
        json.WriteEndArray();
        json.WriteString("advice", advice);
        if (remarks.Count == 0) return;
        json.WriteStartArray("remarks");
        foreach (var remark in remarks) json.WriteStringValue(remark);
        json.WriteEndArray();
    }
}
