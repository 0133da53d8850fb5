using Seamwright.Core.Planning;
using Seamwright.Core.Scores;

namespace Seamwright.Core.Exercises;

/// <summary>Writes phrases: slurs, breaths, and what is asked of every change.</summary>
/// <param name="key">Of the first bar.</param>
/// <param name="meter">Throughout.</param>
/// <param name="plan">Settings of the notes in the order of writing; null writes notes alone.</param>
internal sealed class LegatoWriting(KeySignature key, Meter meter, Plan? plan)
{
    private readonly ExerciseWriting pen = new(key, meter);
    private int note;

    /// <summary>A whole part without settings, for planning.</summary>
    public static Part Bare(KeySignature key, Meter meter, IEnumerable<LegatoSection> sections) => Whole(key, meter, sections, null);

    /// <summary>A whole part: the soft tongue where the slide would be heard, natural slurs elsewhere.</summary>
    public static Part Whole(KeySignature key, Meter meter, IEnumerable<LegatoSection> sections, Plan? plan)
    {
        var writing = new LegatoWriting(key, meter, plan);
        foreach (var section in sections) writing.Section(section, plan is null ? null : ChangeIntent.SoftTongue);
        return writing.Finish();
    }

    /// <summary>Writes a section.</summary>
    /// <param name="section">A heading may be empty.</param>
    /// <param name="wished">Asked of every change that would smear; null asks nothing.</param>
    /// <param name="again">Whether these are the first notes of the plan again rather than further ones.</param>
    public void Section(LegatoSection section, ChangeIntent? wished, bool again = false)
    {
        if (again) note = 0;
        if (section.Heading.Length > 0) pen.Section(section.Heading);
        foreach (var phrase in section.Phrases) Phrase(phrase, wished);
    }

    /// <summary>A bar of rest.</summary>
    public void Pause() => pen.Rest(pen.BarLength);

    public Part Finish() => pen.Finish();

    private void Phrase(LegatoPhrase phrase, ChangeIntent? wished)
    {
        var last = phrase.Notes.Length - 1;
        while (last > 0 && phrase.Notes[last].Pitch is null) last--;
        Span? first = null, before = null;
        for (var i = 0; i < phrase.Notes.Length; i++)
        {
            var (pitch, length) = phrase.Notes[i];
            if (pitch is null)
            {
                Slur(first, before);
                (first, before) = (null, null);
                pen.Rest(length);
                continue;
            }

            var intent = before is null || wished is not { } w ? (ChangeIntent?)null : Asking.IntentAt(plan, note, w);
            var span = pen.Note(pitch.Value, length, intent, Asking.SettingAt(plan, note), breath: i == last);
            if (intent == ChangeIntent.SlowSlide) pen.Glissando(before!, span);
            first ??= span;
            before = span;
            note++;
        }

        Slur(first, before);
        pen.FillBar();
    }

    private void Slur(Span? first, Span? last)
    {
        if (first is not null && last is not null && first != last) pen.Slur(first, last);
    }
}
