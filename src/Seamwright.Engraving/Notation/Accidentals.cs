using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Engraving.Notation;

/// <summary>Whether a note's accidental is printed.</summary>
internal enum AccidentalPrint
{
    /// <summary>Signature or bar say it already.</summary>
    Silent,
    Printed,

    /// <summary>Not needed, but a reader may doubt: in brackets.</summary>
    Reminder,
}

/// <summary>Follows the accidentals of one staff, note by note.</summary>
/// <remarks>Common practice: an accidental holds to the bar line, in its own octave only, and over the bar line through a tie.
/// Reminders are given where a letter was altered in the bar before, or in another octave of the same bar.</remarks>
internal sealed class Accidentals
{
    private readonly Dictionary<int, int> inBar = [];
    private Dictionary<int, int> before = [];
    private readonly HashSet<int> reminded = [];
    private KeySignature key;

    /// <summary>Begins a bar.</summary>
    public void StartBar(KeySignature signature)
    {
        before = inBar.Where(p => p.Value != signature.AlterOf(StepOf(p.Key))).ToDictionary(p => p.Key, p => p.Value);
        inBar.Clear();
        reminded.Clear();
        key = signature;
    }

    /// <summary>Decides for the next note.</summary>
    /// <param name="written">Printed pitch.</param>
    /// <param name="tiedFromBefore">Whether a tie leads into it.</param>
    /// <param name="courtesy">Whether the source asks for the accidental in any case.</param>
    public AccidentalPrint Next(Pitch written, bool tiedFromBefore, bool courtesy)
    {
        var place = written.StaffIndex;
        if (tiedFromBefore) return courtesy ? AccidentalPrint.Reminder : AccidentalPrint.Silent;
        var inForce = inBar.GetValueOrDefault(place, key.AlterOf(written.Step));
        var doubtful = IsDoubtful(written);
        inBar[place] = written.Alter;
        reminded.Add(place);
        if (written.Alter != inForce) return AccidentalPrint.Printed;
        if (courtesy) return AccidentalPrint.Printed;
        return doubtful ? AccidentalPrint.Reminder : AccidentalPrint.Silent;
    }

    private bool IsDoubtful(Pitch written)
    {
        if (reminded.Contains(written.StaffIndex)) return false;
        var alteredBefore = before.TryGetValue(written.StaffIndex, out var old) && old != written.Alter;
        return alteredBefore || inBar.Any(p => StepOf(p.Key) == written.Step && p.Value != written.Alter);
    }

    private static Step StepOf(int staffIndex) => (Step)(((staffIndex % 7) + 7) % 7);
}
