using System.Collections.Immutable;
using Seamwright.Core.Planning;

namespace Seamwright.Core.Sound;

/// <summary>A fault asked for: which, how much, and where.</summary>
/// <param name="Fault">What is to go wrong.</param>
/// <param name="Amount">In the unit and range of <see cref="FaultAmounts"/>; null: its default.</param>
/// <param name="Changes">Indices of the changes it is asked of; empty: every change.</param>
public sealed record FaultOrder(Fault Fault, double? Amount, ImmutableArray<int> Changes)
{
    /// <summary>Nothing goes wrong.</summary>
    public static readonly FaultOrder Clean = new(Fault.None, null, []);

    /// <summary>Whether it is asked of a change that can go wrong so.</summary>
    public bool Strikes(NoteChange change) => Fault != Fault.None && (Changes.IsEmpty || Changes.Contains(change.Index)) && FaultAmounts.Applies(Fault, change);

    /// <summary>The plan played so.</summary>
    public Performance On(Plan plan) => Playing.Clean(plan) with
    {
        Changes = [.. plan.Changes.Select(c => Playing.Of(plan, c, Strikes(c) ? Fault : Fault.None, Amount))],
        Cents = [.. plan.Notes.Select(n => Fault == Fault.OutOfTune && n.Note.Index > 0 && Strikes(plan.Changes[n.Note.Index - 1])
            ? new(Amount ?? FaultAmounts.Of(Fault)!.Default) : default(Units.Cents))],
        Levels = Fault == Fault.UnevenAir ? AskedFaults.Levels(plan, Strikes, Amount ?? FaultAmounts.Of(Fault)!.Default) : [],
    };
}
