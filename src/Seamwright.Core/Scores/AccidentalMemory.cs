using Seamwright.Core.Units;

namespace Seamwright.Core.Scores;

/// <summary>Which accidentals a bar needs (common practice): one holds for its line or space until the bar ends.</summary>
public sealed class AccidentalMemory
{
    private readonly Dictionary<int, int> said = [];
    private KeySignature key;

    /// <summary>A new bar begins.</summary>
    /// <param name="signature">The key as printed.</param>
    public void BeginBar(KeySignature signature)
    {
        key = signature;
        said.Clear();
    }

    /// <summary>Whether a note needs its sign, and remembers it.</summary>
    /// <param name="written">The pitch as printed.</param>
    /// <param name="tiedInto">A note tied from the one before needs no sign of its own.</param>
    public bool Needs(Pitch written, bool tiedInto)
    {
        if (tiedInto) return false;
        var inForce = said.TryGetValue(written.StaffIndex, out var alter) ? alter : key.AlterOf(written.Step);
        said[written.StaffIndex] = written.Alter;
        return inForce != written.Alter;
    }
}
