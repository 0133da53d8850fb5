namespace Seamwright.Core.Listening;

/// <summary>Finds what sounds all the time (a drone, a hum, a fan) and counts it as silence.</summary>
/// <remarks>A background never stops: where anything in the recording is clearly quieter than it, it is none. It keeps its level, and
/// its pitch if it has one; a player's soft passage does neither.</remarks>
internal static class Background
{
    private const double QuietShare = 0.03;
    private const double LoudShare = 0.95;
    private const double LeastContrast = 10;

    // A hum of the mains (50 or 60 Hz, IEC 60038, or twice that) is known by its pitch, and may come nearer to the notes.
    private const double MainsContrast = 3;
    private const double Band = 4;
    private const double ShortestPause = 0.15;
    private const double OnePitch = 0.8;

    /// <summary>The silences, and the frames where only the background sounds.</summary>
    public static bool[] AddTo(bool[] silent, float[] pitch, double[] db, double hop)
    {
        var known = silent.Count(s => s);
        if (db.Length == 0 || known > QuietShare * db.Length) return silent;
        var limit = OrderStatistic.At(db, (int)(QuietShare * (db.Length - 1))) + Band;
        var contrast = OrderStatistic.At(db, (int)(LoudShare * (db.Length - 1))) - limit;
        if (contrast < MainsContrast) return silent;
        var quiet = LongRuns(db, limit, (int)(ShortestPause / hop));
        if (!KeepsItsPitch(quiet, pitch, contrast < LeastContrast)) return silent;
        return [.. silent.Select((s, i) => s || quiet[i])];
    }

    private static bool[] LongRuns(double[] db, double limit, int shortest)
    {
        var quiet = new bool[db.Length];
        for (var i = 0; i < db.Length; i++)
        {
            var start = i;
            while (i < db.Length && db[i] < limit) i++;
            if (i - start >= shortest) quiet.AsSpan(start, i - start).Fill(true);
        }

        return quiet;
    }

    private static bool KeepsItsPitch(bool[] quiet, float[] pitch, bool ofTheMains)
    {
        var heard = new List<float>();
        for (var i = 0; i < quiet.Length; i++)
        {
            if (quiet[i] && !float.IsNaN(pitch[i])) heard.Add(pitch[i]);
        }

        if (heard.Count == 0) return !ofTheMains && quiet.Contains(true);
        heard.Sort();
        var middle = heard[heard.Count / 2];
        if (ofTheMains && !IsOfTheMains(middle)) return false;

        // The tracker may hear one steady sound an octave or a twelfth off.
        return heard.Count(p => Math.Abs(p - middle) < 0.5 || Math.Abs(Math.Abs(p - middle) - 12) < 0.5 || Math.Abs(Math.Abs(p - middle) - 19) < 0.5) >= OnePitch * heard.Count;
    }

    private static bool IsOfTheMains(float semitones) =>
        new[] { 50.0, 60, 100, 120 }.Any(hz => Math.Abs(semitones - 69 - (12 * Math.Log2(hz / 440))) < 0.25);
}
