using System.Globalization;
using System.Xml.Linq;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Engraving.Notation;

/// <summary>The words of MEI 5 (Music Encoding Initiative, CMN module) for our values.</summary>
internal static class Mei
{
    public static readonly XNamespace Ns = "http://www.music-encoding.org/ns/mei";
    private static readonly XName Id = XNamespace.Xml + "id";

    public static XElement Element(string name, params object?[] content) => new(Ns + name, content);

    public static XAttribute IdOf(string id) => new(Id, id);

    public static XAttribute Is(string name, object value) => new(name, Convert.ToString(value, CultureInfo.InvariantCulture)!);

    public static string Duration(NoteValue value) => value.Base < 0 ? "breve" : $"{1 << value.Base}";

    public static string Alter(int alter) => alter switch
    {
        -2 => "ff",
        -1 => "f",
        1 => "s",
        2 => "x",
        _ => "n",
    };

    public static string Fifths(int fifths) => fifths == 0 ? "0" : $"{Math.Abs(fifths)}{(fifths < 0 ? 'f' : 's')}";

    public static string Step(Step step) => step.ToString().ToLowerInvariant();

    public static XElement KeyOf(KeySignature key) => Element("keySig", Is("sig", Fifths(key.Fifths)));

    public static XElement MeterOf(Meter meter) => Element(
        "meterSig",
        Is("count", meter.Beats),
        Is("unit", meter.BeatUnit),
        meter.Symbol == MeterSymbol.Numbers ? null : Is("sym", meter.Symbol == MeterSymbol.Cut ? "cut" : "common"));

    public static XElement ClefOf(Clef clef)
    {
        var (shape, line, octaveDown) = clef switch
        {
            Clef.Bass => ("F", 4, false),
            Clef.BassOctaveDown => ("F", 4, true),
            Clef.Tenor => ("C", 4, false),
            Clef.Alto => ("C", 3, false),
            Clef.TrebleOctaveDown => ("G", 2, true),
            _ => ("G", 2, false),
        };
        return Element("clef", Is("shape", shape), Is("line", line), octaveDown ? Is("dis", 8) : null, octaveDown ? Is("dis.place", "below") : null);
    }

    /// <summary>A place in a bar as MEI counts it: 1 at the left edge, in the meter's own beats.</summary>
    public static string Timestamp(Beats offset, Meter meter) =>
        (1 + (offset.ToDouble() / meter.Beat.ToDouble())).ToString("0.######", CultureInfo.InvariantCulture);
}
