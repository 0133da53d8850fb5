using Seamwright.Core.Planning;

namespace Seamwright.Core.Listening;

/// <summary>How far from the written notes the player may be playing.</summary>
/// <param name="Transposition">Whole semitones above what is written.</param>
/// <param name="Semitones">The same with the player's tuning: what is added to a written pitch.</param>
internal readonly record struct Key(int Transposition, double Semitones);

/// <summary>Finds the keys in which a recording may hold a part.</summary>
/// <remarks>Neighbouring tones and neighbouring notes of the same interval vote for the distance between them, longer runs of them with
/// more weight; a part played a third higher gathers its votes at +4, whatever else the recording holds.</remarks>
internal static class Keys
{
    private const int Furthest = 24;
    private const int BinsPerSemitone = 10;
    private const int Most = 4;
    private const double SameInterval = 0.4;
    private const double WorthTrying = 0.3;
    private const double Tuning = 0.6;
    private const double LongestRest = 2;
    private const float LeastWeight = 0.3f;
    private const double RunWeight = 4;

    /// <summary>As written first, then the likelier the sooner.</summary>
    public static List<Key> Of(List<Tone> tones, Plan plan, double hop)
    {
        var votes = Smooth(Votes([.. tones.Where(t => t.Weight >= LeastWeight)], plan, hop));
        var keys = new List<Key> { new(0, AsWritten(tones, plan, votes)) };
        var most = votes.Max();
        foreach (var bin in Peaks(votes).Where(b => votes[b] >= Math.Max(WorthTrying * most, 2)).OrderByDescending(b => votes[b]))
        {
            var away = Away(bin);
            if (Math.Abs(away) > Tuning && keys.Count < Most && keys.TrueForAll(k => Math.Abs(k.Semitones - away) > Tuning)) keys.Add(new((int)Math.Round(away), away));
        }

        return keys;
    }

    private static double[] Votes(List<Tone> tones, Plan plan, double hop)
    {
        var votes = new double[(2 * Furthest * BinsPerSemitone) + 1];
        var written = plan.Notes.Select(n => n.Note.Pitch.Midi).ToArray();
        var (joined, next) = (new bool[tones.Count], new bool[tones.Count]);
        for (var i = 1; i < written.Length; i++)
        {
            next.AsSpan().Clear();
            if (written[i] != written[i - 1]) Vote(tones, written, i, hop, joined, next, votes);
            (joined, next) = (next, joined);
        }

        return votes;
    }

    // joined[j] tells whether tone j ended a pair with the written note before: then this pair makes a run.
    private static void Vote(List<Tone> tones, int[] written, int i, double hop, bool[] joined, bool[] next, double[] votes)
    {
        for (var j = 1; j < tones.Count; j++)
        {
            var (a, b) = (tones[j - 1], tones[j]);
            if ((b.From - a.To) * hop > LongestRest || Math.Abs(b.Pitch - a.Pitch - (written[i] - written[i - 1])) > SameInterval) continue;
            var bin = (int)Math.Round((((a.Pitch - written[i - 1] + b.Pitch - written[i]) / 2) + Furthest) * BinsPerSemitone);
            if (bin < 0 || bin >= votes.Length) continue;
            next[j] = true;
            votes[bin] += joined[j - 1] ? RunWeight : 1;
        }
    }

    private static double[] Smooth(double[] votes)
    {
        var smooth = new double[votes.Length];
        for (var b = 0; b < votes.Length; b++)
        {
            for (var k = -3; k <= 3; k++)
            {
                if (b + k >= 0 && b + k < votes.Length) smooth[b] += votes[b + k] * (1 - (Math.Abs(k) / 4.0));
            }
        }

        return smooth;
    }

    private static IEnumerable<int> Peaks(double[] votes)
    {
        for (var b = 1; b < votes.Length - 1; b++)
        {
            if (votes[b] > 0 && votes[b] >= votes[b - 1] && votes[b] > votes[b + 1]) yield return b;
        }
    }

    private static double Away(int bin) => ((double)bin / BinsPerSemitone) - Furthest;

    // The player's own tuning: where the votes near 0 are thickest; on one pitch alone, where its tones lie.
    private static double AsWritten(List<Tone> tones, Plan plan, double[] votes)
    {
        var near = Enumerable.Range(0, votes.Length).Where(b => Math.Abs(Away(b)) <= Tuning).MaxBy(b => votes[b] - (0.01 * Math.Abs(Away(b))));
        if (votes[near] > 0) return Away(near);
        if (plan.Notes.Any(n => n.Note.Pitch.Midi != plan.Notes[0].Note.Pitch.Midi)) return 0;
        var off = tones.Where(t => t.Weight >= LeastWeight).Select(t => t.Pitch - plan.Notes[0].Note.Pitch.Midi).Where(d => Math.Abs(d) <= Tuning).Order().ToList();
        return off.Count == 0 ? 0 : off[off.Count / 2];
    }
}
