using Seamwright.Core.Listening;

namespace Seamwright.Core.Diagnosis;

/// <summary>Several passes at one line, in a reader's words.</summary>
internal static class Attempts
{
    /// <summary>Which attempt the take's own notes and changes tell of; −1 where there are no attempts.</summary>
    public static int BestOf(Take take)
    {
        if (take.ToldAttempt is { } known) return known;
        for (var i = 0; i < take.Attempts.Length; i++)
        {
            if (take.Attempts[i].Notes == take.Notes) return i; // the very same array
        }

        var first = take.Notes.FirstOrDefault(n => n.Onset is not null);
        for (var i = 0; i < take.Attempts.Length; i++)
        {
            if (first is not null && take.Attempts[i].Notes[first.Index].Onset == first.Onset) return i;
        }

        return take.Attempts.IsEmpty ? -1 : take.Attempts.IndexOf(take.Attempts.MaxBy(a => a.NotesFound)!);
    }

    /// <summary>What to add to the summary; empty for one pass as written.</summary>
    public static string Words(Take take, int best)
    {
        if (best < 0) return "";
        var transposed = take.Attempts[best].Transposition;
        var key = transposed == 0 ? "" : $" It was played {Transposed(transposed)}.";
        if (take.Attempts.Length == 1) return key;
        var most = take.Attempts[best].NotesFound;
        if (take.IsAsked) return $"{key} This is attempt {best + 1} of {take.Attempts.Length}, as asked for.";
        var equals = take.Attempts.Count(a => a.NotesFound == most) > 1;
        var rest = take.Notes.Count(n => n.Found) > most ? "; what it left out is told from the others" : "";
        return $"{key} This is attempt {best + 1} of {take.Attempts.Length}, {(equals ? "the last of the fullest" : "the fullest")}{rest}.";
    }

    /// <summary><c>as written</c>, <c>an octave down</c>, <c>3 semitones up</c>.</summary>
    public static string Transposed(int semitones)
    {
        var way = semitones > 0 ? "up" : "down";
        return Math.Abs(semitones) switch
        {
            0 => "as written",
            1 => $"a semitone {way}",
            12 => $"an octave {way}",
            24 => $"two octaves {way}",
            var n => $"{n} semitones {way}",
        };
    }

    /// <summary><c>1:02.5</c>: a time in a file.</summary>
    public static string Clock(double seconds)
    {
        var tenths = (long)Math.Round(Math.Max(0, seconds) * 10);
        return $"{tenths / 600}:{tenths / 10 % 60:00}.{tenths % 10}";
    }
}
