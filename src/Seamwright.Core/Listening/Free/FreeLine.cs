using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Listening.Free;

/// <summary>Makes a line of what was heard, with its own times: one beat a second from the start of the file.</summary>
internal static class FreeLine
{
    private const int FramesASecond = (int)(1 / LiveEar.Hop);

    // A rest or a breath, not a stopped air within a phrase (proposed default).
    private const double Breath = 0.12;
    private const double Silent = 20;
    private const double Detached = 0.02;

    // An ordinary tongued beginning: 20 to 25 ms below −20 dB at the 90th percentile of one fine player's tongued slurs and non legato,
    // while staccato stays there for 52 ms.
    private const double LongestTongue = 0.04;
    private const int Neighbours = 4;

    public static Line Of(List<HeldNote> notes, IReadOnlyList<LongSlide?> slides, Sounding sound, double tuningCents, string title)
    {
        var tempo = TempoMap.Steady(60);
        var gaps = Enumerable.Range(0, Math.Max(0, notes.Count - 1)).Select(i => GapOf(notes[i], notes[i + 1], sound)).ToArray();
        return new Line
        {
            Title = title,
            Notes = [.. notes.Select((n, i) => NoteOf(n, i))],
            Tempo = tempo,
            FromRecording = true,
        };

        PlayedNote NoteOf(HeldNote note, int i)
        {
            var last = i == notes.Count - 1;
            var parted = last || IsParted(note, notes[i + 1], gaps[i], sound);
            var start = new Beats(note.From, FramesASecond);
            var length = new Beats((parted ? note.To : notes[i + 1].From) - note.From, FramesASecond);
            return new PlayedNote
            {
                Index = i,
                NoteIds = [],
                Bar = "",
                Beat = Beats.Quarter,
                Pitch = Pitch.FromMidi((int)Math.Clamp(Math.Round(note.Pitch - (tuningCents / 100)), 0, 127)),
                Start = start,
                Length = length,
                StartTime = tempo.At(start),
                Duration = tempo.Between(start, start + length),
                SlurredToNext = !parted && !(gaps[i] is >= Detached and < LongestTongue) && !IsDetached(gaps, i),
                GlissandoToNext = !parted && slides[i] is not null,
                BreathAfter = parted && !last,
            };
        }
    }

    // Seconds more than 20 dB below the quieter of the two, at their loudest: short notes fade from the start.
    private static double GapOf(HeldNote a, HeldNote b, Sounding sound)
    {
        var limit = Math.Min(LevelOf(a, sound), LevelOf(b, sound)) - Silent;
        return sound.Hop * Enumerable.Range(a.From, b.To - a.From).Count(i => i > (a.From + a.To) / 2 && i < (b.From + b.To) / 2 && sound.Db[i] < limit);
    }

    // Whether one note ended and another began: from where the first has fallen 20 dB below itself until the second has come within 20 dB of itself.
    // A loud note that dies away before a soft one is over long before it is as soft as that.
    private static bool IsParted(HeldNote a, HeldNote b, double gap, Sounding sound)
    {
        if (gap is 0 or >= Breath) return gap >= Breath;
        var (first, last) = (((a.From + a.To) / 2) + 1, (b.From + b.To) / 2);
        var (ends, begins) = (LevelOf(a, sound) - Silent, LevelOf(b, sound) - Silent);
        var from = Enumerable.Range(first, last - first).MinBy(i => sound.Db[i]);
        var to = from + 1;
        while (from > first && sound.Db[from - 1] < ends) from--;
        while (to < last && sound.Db[to] < begins) to++;
        return sound.Hop * (to - from) >= Breath;
    }

    private static double LevelOf(HeldNote note, Sounding sound)
    {
        var levels = Enumerable.Range(note.From, note.Frames).Select(i => sound.Db[i]).Order().ToArray();
        return levels[levels.Length * 9 / 10];
    }

    // Where most of the notes about it are cut off, that is how they are meant: it is no legato.
    private static bool IsDetached(double[] gaps, int i)
    {
        var near = gaps[Math.Max(0, i - Neighbours)..Math.Min(gaps.Length, i + Neighbours + 1)];
        return 2 * near.Count(g => g >= Detached) > near.Length;
    }
}
