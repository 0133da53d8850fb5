using Seamwright.Core.Planning;

namespace Seamwright.Core.Listening;

/// <summary>How far an attempt is to be believed: a few right notes in a row are chance in a long recording.</summary>
/// <remarks>All limits are proposed defaults: small enough that a beginner's first bar counts, large enough that speech, warming up and
/// other tunes do not.</remarks>
internal sealed record Evidence
{
    private const double LeastCover = 0.5;
    private const double ShortCover = 0.75;
    private const double ShortSteady = 0.75;
    private const double HeldWithin = 0.35;
    private const double LeastSteady = 0.5;
    private const int Short = 8;
    private const double LeastScore = 3;
    private const double Slowest = 0.4;
    private const double Fastest = 2;
    private const double OtherTempo = 1.7;

    private Evidence()
    {
    }

    public required FoundAttempt Attempt { get; init; }

    public required int Notes { get; init; }

    /// <summary>Tones among its notes that are none of them.</summary>
    public required double Added { get; init; }

    /// <summary>Share of its sounding frames that lie in its notes.</summary>
    public required double Cover { get; init; }

    /// <summary>Share of its notes that hold their pitch, as speech does not.</summary>
    public required double Steady { get; init; }

    /// <summary>Whether it stands by itself.</summary>
    public bool Suffices
    {
        get
        {
            var found = Attempt.NotesFound;
            if (Cover < LeastCover || Steady < LeastSteady || (found < Short && !HoldsTogether)) return false;
            if (Attempt.Transposition != 0) return found >= LeastTransposed && Score >= 0.7 * found;
            return found >= Math.Min(3, (Notes + 1) / 2) && Score >= Math.Min(LeastScore, Notes / 2.0);
        }
    }

    private int LeastTransposed => Math.Max(Math.Min(Notes, 4), Math.Min(Attempt.Transposition % 12 == 0 ? 8 : 12, (Notes + 1) / 2));

    // A wrong note counts once for the note that is missing and once for the tone that was not asked for.
    private double Score => Attempt.NotesFound - (0.5 * (Missing + Added));

    private int Missing => Attempt.Last - Attempt.First + 1 - Attempt.NotesFound;

    private bool HoldsTogether => Cover >= ShortCover && Steady >= ShortSteady && Attempt.TempoRatio is null or (>= Slowest and <= Fastest);

    /// <summary>Whether it may be a short pass beside a real one: played in the same key at about the same tempo.</summary>
    public bool SufficesBeside(Evidence real) =>
        Attempt.NotesFound >= 2 && HoldsTogether && Score >= 0.6 * Attempt.NotesFound && Attempt.Transposition == real.Attempt.Transposition
        && !(Attempt.TempoRatio is { } a && real.Attempt.TempoRatio is { } b && Math.Abs(Math.Log(a / b)) > Math.Log(OtherTempo));

    public static Evidence Of(FoundAttempt attempt, Sounding sound, List<Tone> tones, Plan plan)
    {
        var mine = 0;
        for (var n = attempt.First; n <= attempt.Last; n++)
        {
            for (var i = attempt.Stretches[n]?.From ?? 0; i < (attempt.Stretches[n]?.To ?? 0); i++)
            {
                if (!sound.Silent[i]) mine++;
            }

            mine += Between(attempt, n, sound, plan);
        }

        var sounding = Enumerable.Range(attempt.From, attempt.To - attempt.From).Count(i => !sound.Silent[i]);
        return new()
        {
            Attempt = attempt,
            Notes = plan.Notes.Length,
            Added = AddedTo(attempt, tones),
            Cover = (double)mine / Math.Max(1, sounding),
            Steady = (double)attempt.Stretches.Count(x => x is { } y && IsHeld(y, sound)) / attempt.NotesFound,
        };
    }

    // The middle of the note, by halves: a vibrato evens out, a slide does not.
    private static bool IsHeld(Stretch s, Sounding sound)
    {
        var edge = (s.To - s.From) / 5;
        var pitches = Enumerable.Range(s.From + edge, s.To - s.From - (2 * edge)).Where(sound.HasPitch).Select(i => sound.Pitch[i]).ToList();
        if (pitches.Count < 2) return false;
        var half = pitches.Count / 2;
        return Math.Abs(pitches.Take(half).Average() - pitches.Skip(half).Average()) < HeldWithin;
    }

    private static int Between(FoundAttempt attempt, int n, Sounding sound, Plan plan)
    {
        if (n == attempt.Last || attempt.Stretches[n] is not { } a || attempt.Stretches[n + 1] is not { } b) return 0;
        return Enumerable.Range(a.To, Math.Max(0, b.From - a.To)).Count(i => attempt.IsBetween(n, i, sound, plan));
    }

    private static double AddedTo(FoundAttempt attempt, List<Tone> tones)
    {
        var found = attempt.Stretches.Where(s => s is not null).Select(s => s!.Value).ToArray();
        var added = 0.0;
        foreach (var t in tones)
        {
            if (t.To <= attempt.From) continue;
            if (t.From >= attempt.To) break;
            var inside = found.Sum(s => Math.Max(0, Math.Min(s.To, t.To) - Math.Max(s.From, t.From)));
            if (inside * 2 < t.To - t.From) added += t.Weight;
        }

        return added;
    }
}
