namespace Seamwright.Core.Exercises;

/// <summary>Why a key suits or does not, in a sentence.</summary>
public static class KeyWords
{
    /// <summary>Against the key as written; for that key itself, or where there is none, its own figures.</summary>
    public static string Of(KeyOption option, KeyOption? written)
    {
        if (written is null || option.Semitones == 0) return $"{Own(option.Score)}.";
        var (better, worse) = (new List<string>(), new List<string>());
        Compare(option.Score, written.Score, better, worse);
        return (better.Count, worse.Count) switch
        {
            (0, 0) => "Lies as the key as written does.",
            (_, 0) => $"Better: {string.Join(", ", better)}.",
            (0, _) => $"Worse: {string.Join(", ", worse)}.",
            _ => $"Better: {string.Join(", ", better)}. Worse: {string.Join(", ", worse)}.",
        };
    }

    /// <summary><c>3 semitones up</c>, <c>an octave and 2 semitones down</c>, <c>as written</c>.</summary>
    public static string Moved(int semitones)
    {
        if (semitones == 0) return "as written";
        var (octaves, rest) = (Math.Abs(semitones) / 12, Math.Abs(semitones) % 12);
        string[] parts =
        [
            .. octaves == 0 ? [] : new[] { octaves == 1 ? "an octave" : $"{octaves} octaves" },
            .. rest == 0 ? [] : new[] { rest == 1 ? "a semitone" : $"{rest} semitones" },
        ];
        return $"{string.Join(" and ", parts)} {(semitones > 0 ? "up" : "down")}";
    }

    /// <summary>A key's own figures, without a capital or a stop.</summary>
    public static string Own(KeyScore s) =>
        $"{s.Smears} of {s.Joined} changes would smear, the arm goes {s.ArmPerMinute:0} m a minute, {Far(s)}, {Signature(s)}{(s.Hurried > 0 ? $", {(s.Hurried == 1 ? "1 change is" : $"{s.Hurried} changes are")} too fast for the arm" : "")}";

    private static void Compare(KeyScore a, KeyScore b, List<string> better, List<string> worse)
    {
        Add(a.Smears - b.Smears, 1, $"{a.Smears} of {a.Joined} changes would smear, not {b.Smears}");
        Add(a.ArmPerMinute - b.ArmPerMinute, 1, $"the arm goes {a.ArmPerMinute:0} m a minute, not {b.ArmPerMinute:0}");
        Add(a.Far - b.Far, 1, $"{Far(a)} against {b.Far}");
        Add(a.Register - b.Register, 0.05, a.Register < b.Register ? "nearer to the middle of the range" : "nearer to an end of the range");
        Add(a.Accidentals - b.Accidentals, 0.5, $"{Signature(a)} against {b.Accidentals:0.#}");
        Add(a.Hurried - b.Hurried, 1, $"{a.Hurried} changes too fast for the arm, not {b.Hurried}");

        void Add(double difference, double least, string words)
        {
            if (Math.Abs(difference) >= least) (difference < 0 ? better : worse).Add(words);
        }
    }

    private static string Far(KeyScore s) => s.Far switch
    {
        0 => "no note beyond fifth position",
        1 => "1 note beyond fifth position",
        _ => $"{s.Far} notes beyond fifth position",
    };

    private static string Signature(KeyScore s) => s.Accidentals == 1 ? "1 accidental in the signature" : $"{s.Accidentals:0.#} accidentals in the signature";
}
