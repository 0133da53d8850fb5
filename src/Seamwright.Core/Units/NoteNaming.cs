namespace Seamwright.Core.Units;

/// <summary>How a reader calls notes.</summary>
public enum NoteLanguage
{
    /// <summary>C, D♭, F♯, B♭, B.</summary>
    English,

    /// <summary>C, Des, Fis, B, H.</summary>
    German,

    /// <summary>Do, Re♭, Fa♯, Si♭, Si.</summary>
    Latin,
}

/// <summary>How notes are named for a reader: in which language, and whether as they sound or as a B♭ treble part writes them.</summary>
/// <remarks>As with the culture of a thread, the naming in force goes with the flow of work that set it and with no other; files never
/// follow it. Octaves are counted as in scientific pitch notation in every language, though French books count one less.</remarks>
/// <param name="Language">Of the names.</param>
/// <param name="IsBFlatTreble">A major ninth above the sound, as brass-band parts are written (common practice).</param>
public sealed record NoteNaming(NoteLanguage Language, bool IsBFlatTreble = false)
{
    public static readonly NoteNaming English = new(NoteLanguage.English);

    private static readonly AsyncLocal<NoteNaming?> InForce = new();

    /// <summary>The naming in force here. Default English, at concert pitch.</summary>
    public static NoteNaming Current
    {
        get => InForce.Value ?? English;
        set => InForce.Value = value;
    }

    /// <summary>The naming in force beside music in a clef: as it is written there, so that names and notes agree.</summary>
    /// <param name="clef">Null for any but B♭ treble.</param>
    public static NoteNaming Under(Clef? clef) => Current with { IsBFlatTreble = clef == Clef.TrebleBb };

    /// <summary>Does something while this naming is in force.</summary>
    public T While<T>(Func<T> work)
    {
        var before = InForce.Value;
        InForce.Value = this;
        try
        {
            return work();
        }
        finally
        {
            InForce.Value = before;
        }
    }

    /// <summary>A pitch with its octave.</summary>
    public string Of(Pitch pitch)
    {
        var read = IsBFlatTreble ? pitch + Interval.MajorNinth : pitch;
        return NameOf(read.Step, read.Alter) + read.Octave.ToString(System.Globalization.CultureInfo.InvariantCulture);
    }

    /// <summary>A name without an octave, for instance a key's.</summary>
    public string Of(PitchName name)
    {
        var read = IsBFlatTreble ? name + Interval.MajorNinth : name;
        return NameOf(read.Step, read.Alter);
    }

    private string NameOf(Step step, int alter) => Language switch
    {
        NoteLanguage.German => German(step, alter),
        NoteLanguage.Latin => Latin(step) + Signs(alter),
        _ => step + Signs(alter),
    };

    private static string Signs(int alter) => new(alter < 0 ? '♭' : '♯', Math.Abs(alter));

    private static string Latin(Step step) => step switch
    {
        Step.C => "Do",
        Step.D => "Re",
        Step.E => "Mi",
        Step.F => "Fa",
        Step.G => "Sol",
        Step.A => "La",
        _ => "Si",
    };

    // A and E take the ending without its vowel; B♭ has a name of its own.
    private static string German(Step step, int alter) => (step, alter) switch
    {
        (Step.B, -1) => "B",
        (Step.B, -2) => "Heses",
        (Step.B, _) => "H" + Ending(alter),
        (Step.A, -1) => "As",
        (Step.A, -2) => "Ases",
        (Step.E, -1) => "Es",
        (Step.E, -2) => "Eses",
        _ => step + Ending(alter),
    };

    private static string Ending(int alter) => alter switch { -2 => "eses", -1 => "es", 1 => "is", 2 => "isis", _ => "" };
}
