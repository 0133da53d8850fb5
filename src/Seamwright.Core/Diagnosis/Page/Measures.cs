using System.Collections.Immutable;

namespace Seamwright.Core.Diagnosis.Page;

/// <summary>Tells how the figures were made and which limits decide.</summary>
internal static class Measures
{
    public static ImmutableArray<string> Paragraphs { get; } =
    [
        "Times are seconds from the start of the file. Levels are in dB and relative, in a picture to the quieter of its two notes (0 dB): the microphone was not calibrated, so no sound pressure level (dB SPL) is known. The level is read in a window of 13 ms, as the ear does, or two periods of the tone where those are longer; what is shorter than that cannot be told. Pitch is in cents against the equal-tempered note at the instrument's own tuning.",
        "A figure such as “62 ms, 55 to 69” is the best estimate and its 90 % interval: in nine cases of ten the truth lies between the last two. Glide: 10 to 90 % of the pitch's way. Dip: depth below the quieter note. Tongue: middle of the dip against the middle of the glide; + is late. Silence: time more than 20 dB down. The slide is inferred from the pitch where both notes lie on one partial.",
        "A fine legato is not a level line: the lips let go for a moment at every change. What counts is that the level never falls far, is soon back, and that the new note does not burst.",
    ];

    public static ImmutableArray<(string Verdict, string Rule)> Limits(VerdictSettings s) =>
    [
        ("smear", $"the part of the glide that is loud enough to be heard lasts longer than {Ms(s.SmearClear)} divided by the interval in semitones; possible from {Ms(s.SmearPossible)}, and never under {Ms(s.SmearNeverUnder)}"),
        ("air stopped", $"more than 20 dB below the quieter neighbour for {Ms(s.AirStopped)} or longer"),
        ("too hard", $"a dip deeper than {s.HardDip.Value:0} dB, or more than {Ms(s.HardBelow10)} below −10 dB"),
        ("bump", $"the new note rises more than {s.Bump.Value:0} dB above its own level within 80 ms"),
        ("tongue early, tongue late", $"tongue and arm more than {Ms(s.TongueOff)} apart; up to {Ms(s.TongueTogether)} they count as together"),
        ("added note", $"a pitch between the two that neither of them has, held for {Ms(s.AddedNote)} or longer; a shorter one is cracked"),
        ("out of tune", $"more than {s.OutOfTune.Value:0} cents; up to {s.InTune.Value:0} cents is in tune"),
        ("cannot tell", "the interval reaches across a limit, so that the recording does not settle on which side the truth lies"),
    ];

    private static string Ms(Units.Seconds s) => $"{s.Milliseconds:0} ms";
}
