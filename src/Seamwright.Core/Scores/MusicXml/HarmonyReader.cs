using Seamwright.Core.Scores.Assembling;
using Seamwright.Core.Units;

namespace Seamwright.Core.Scores.MusicXml;

/// <summary>Chord symbols: root, kind, bass or inversion, degrees.</summary>
/// <remarks>A part that is written transposed writes its chords transposed too; they are brought to concert pitch.</remarks>
internal sealed class HarmonyReader(AttributeReader attributes, ProblemLog log)
{
    private const int MostDegrees = 8;

    public void Read(Element element, Cursor at)
    {
        var place = attributes.PlaceOf(element, at);
        var kind = element.TextOf("kind");
        if (kind == "none")
        {
            at.Bar.Chords.Add(new ChordMark(place, null));
            return;
        }

        if (Name(element.Child("root"), "root") is not { } root || ChordKinds.FromWireName(kind) is not { } known)
        {
            log.Note(at.At(place), "A chord symbol is of a kind that is not accompanied here and is left out.", detail: Header.Words($"'{kind}'"));
            return;
        }

        var chord = new Chord(root, known) { Degrees = [.. element.All("degree").Take(MostDegrees).Select(d => Degree(d, at)).OfType<ChordDegree>()] };
        var lowest = Name(element.Child("bass"), "bass") ?? Inverted(chord, Numbers.Whole(element.TextOf("inversion")));
        chord = chord with { Bass = lowest == root ? null : lowest };
        at.Bar.Chords.Add(new ChordMark(place, chord.Transposed(-attributes.Transposition)));
    }

    private static PitchName? Inverted(Chord chord, int? inversion) =>
        inversion is > 0 && inversion < chord.Tones.Length ? chord.Root + chord.Tones[inversion.Value] : null;

    private static PitchName? Name(Element? element, string what)
    {
        if (element is null || !Enum.TryParse<Step>(element.TextOf($"{what}-step"), out var step) || !Enum.IsDefined(step)) return null;
        var alter = Numbers.Decimal(element.TextOf($"{what}-alter") ?? "0");
        return alter is >= -2 and <= 2 && alter == decimal.Truncate(alter.Value) ? new PitchName(step, (int)alter) : null;
    }

    private ChordDegree? Degree(Element element, Cursor at)
    {
        var number = Numbers.Whole(element.TextOf("degree-value"));
        var alter = Numbers.Whole(element.TextOf("degree-alter") ?? "0");
        DegreeChange? change = element.TextOf("degree-type") switch
        {
            "add" => DegreeChange.Add,
            "alter" => DegreeChange.Alter,
            "subtract" => DegreeChange.Remove,
            _ => null,
        };
        if (number is >= 1 and <= 13 && alter is >= -2 and <= 2 && change is { } known) return new ChordDegree(number.Value, alter.Value, known);
        log.Note(at.Place, "A degree of a chord symbol cannot be used and is left out.");
        return null;
    }
}
