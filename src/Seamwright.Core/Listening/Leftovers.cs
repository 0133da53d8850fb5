using System.Collections.Immutable;
using Seamwright.Core.Planning;

namespace Seamwright.Core.Listening;

/// <summary>What sounds in a recording outside every attempt.</summary>
internal static class Leftovers
{
    private const double Joined = 0.25;
    private const double Edge = 0.06;
    private const double Bridge = 0.15;
    private const double ShortestAlone = 0.015;
    private const double ShortestBeside = 0.1;
    private const double Beside = 0.1;
    private const double LongestTail = 3;
    private const double TailRise = 2;
    private const double WholeTone = 0.35;
    private const double MostlySliding = 0.8;

    /// <summary>In order of time.</summary>
    public static ImmutableArray<UnmatchedStretch> Of(Sounding sound, Plan plan, List<Tone> tones, List<FoundAttempt> attempts)
    {
        var taken = Taken(sound, plan, attempts);
        var held = Held(sound, tones);
        var found = ImmutableArray.CreateBuilder<UnmatchedStretch>();
        var bridge = sound.Frames(Bridge);
        for (var i = 0; i < sound.Count; i++)
        {
            if (taken[i] || sound.Silent[i]) continue;
            var (start, last) = (i, i);
            for (; i < sound.Count && !taken[i] && i - last <= bridge; i++)
            {
                if (!sound.Silent[i]) last = i;
            }

            if (last + 1 - start >= Shortest(sound, taken, start, last)) found.Add(Stretch(sound, held, start, last + 1));
            i = last;
        }

        return found.ToImmutable();
    }

    private static int Shortest(Sounding sound, bool[] taken, int start, int last)
    {
        var near = sound.Frames(Beside);
        var beside = taken[Math.Max(0, start - near)] || taken[Math.Min(taken.Length - 1, last + near)];
        return sound.Frames(beside ? ShortestBeside : ShortestAlone);
    }

    private static UnmatchedStretch Stretch(Sounding sound, bool[] held, int from, int to)
    {
        var (tone, all) = (0, 0);
        for (var i = from; i < to; i++)
        {
            if (sound.Silent[i]) continue;
            all++;
            if (held[i]) tone++;
        }

        return new(new(from * sound.Hop), new(to * sound.Hop), tone * 2 >= all ? UnmatchedKind.Tones : UnmatchedKind.Noise);
    }

    private static bool[] Held(Sounding sound, List<Tone> tones)
    {
        var held = new bool[sound.Count];
        foreach (var t in tones)
        {
            if (t.Weight > WholeTone) held.AsSpan(t.From, t.To - t.From).Fill(true);
        }

        return held;
    }

    // The notes, the changes between them, and the last note's ringing on.
    private static bool[] Taken(Sounding sound, Plan plan, List<FoundAttempt> attempts)
    {
        var taken = new bool[sound.Count];
        foreach (var attempt in attempts)
        {
            for (var i = 0; i < attempt.Stretches.Length; i++)
            {
                if (attempt.Stretches[i] is not { } s) continue;
                var next = i + 1 < attempt.Stretches.Length ? attempt.Stretches[i + 1] : null;
                var to = next is { } n && (n.From - s.To) * sound.Hop <= Joined ? n.From : TailOf(sound, s);
                Fill(taken, s.From - sound.Frames(Edge), to + sound.Frames(Edge));
                if (next is { } after && IsSlide(attempt, i, s.To, after.From, sound, plan)) Fill(taken, s.To, after.From);
            }
        }

        return taken;
    }

    private static bool IsSlide(FoundAttempt attempt, int note, int from, int to, Sounding sound, Plan plan)
    {
        var frames = Enumerable.Range(from, Math.Max(0, to - from)).Where(f => !sound.Silent[f]).ToList();
        return frames.Count(f => attempt.IsBetween(note, f, sound, plan)) >= MostlySliding * frames.Count;
    }

    private static int TailOf(Sounding sound, Stretch s)
    {
        var lowest = double.PositiveInfinity;
        var i = s.To;
        for (; i < Math.Min(sound.Count, s.To + sound.Frames(LongestTail)) && !sound.Silent[i] && sound.Db[i] <= lowest + TailRise; i++)
            lowest = Math.Min(lowest, sound.Db[i]);
        return i;
    }

    private static void Fill(bool[] taken, int from, int to)
    {
        for (var i = Math.Max(0, from); i < Math.Min(taken.Length, to); i++) taken[i] = true;
    }
}
