namespace Seamwright.Core.Diagnosis.Page;

/// <summary>Tells how the figures were made and which limits decide.</summary>
internal static class Measures
{
    public static void Write(VerdictSettings s, HtmlText html)
    {
        html.Line($"<p>Times are seconds from the start of the file. Levels are in dB against the loudest steady note of this take: the microphone was not calibrated, so nothing here is a sound pressure level. The level is read in a window of 13 ms, as the ear does, or two periods of the tone where those are longer; what is shorter than that cannot be told. Pitch is in cents against the equal-tempered note at the instrument's own tuning.</p>");
        html.Line($"<p>A fine legato is not a level line: the lips let go for a moment at every change. What counts is that the level never falls far, is soon back, and that the new note does not burst.</p>");
        html.Line($"<dl>");
        Limit(html, "smear", $"the part of the glide that is loud enough to be heard lasts longer than {Ms(s.SmearClear)} divided by the interval in semitones; possible from {Ms(s.SmearPossible)}, and never under {Ms(s.SmearNeverUnder)}");
        Limit(html, "air stopped", $"more than 20 dB below the quieter neighbour for {Ms(s.AirStopped)} or longer");
        Limit(html, "too hard", $"a dip deeper than {s.HardDip.Value:0} dB, or more than {Ms(s.HardBelow10)} below −10 dB");
        Limit(html, "bump", $"the new note rises more than {s.Bump.Value:0} dB above its own level within 80 ms");
        Limit(html, "tongue early, tongue late", $"tongue and arm more than {Ms(s.TongueOff)} apart; up to {Ms(s.TongueTogether)} they count as together");
        Limit(html, "out of tune", $"more than {s.OutOfTune.Value:0} cents; up to {s.InTune.Value:0} cents is in tune");
        html.Line($"</dl>");
        html.Line($"<p>Where a measurement is too uncertain to fall on one side of a limit, the report says that it cannot tell.</p>");
    }

    private static void Limit(HtmlText html, string verdict, string rule) => html.Line($"<dt>{verdict}</dt><dd>{rule}</dd>");

    private static string Ms(Units.Seconds s) => $"{s.Milliseconds:0} ms";
}
