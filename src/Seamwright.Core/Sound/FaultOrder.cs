using System.Collections.Immutable;
using Seamwright.Core.Planning;

namespace Seamwright.Core.Sound;

/// <summary>A fault asked for: which, how much, and where.</summary>
/// <param name="Fault">What is to go wrong.</param>
/// <param name="Amount">In the unit and range of <see cref="FaultAmounts"/>; null: its default.</param>
/// <param name="Changes">Indices of the changes it is asked of; empty: every change.</param>
/// <remarks>Two orders are equal where they were made from the same array of changes.</remarks>
public sealed record FaultOrder(Fault Fault, double? Amount, ImmutableArray<int> Changes)
{
    /// <summary>Nothing goes wrong.</summary>
    public static readonly FaultOrder Clean = new(Fault.None, null, []);

    /// <summary>Whether it is asked of a change that can go wrong so.</summary>
    public bool Strikes(NoteChange change) => Fault != Fault.None && (Changes.IsEmpty || Changes.Contains(change.Index)) && FaultAmounts.Applies(Fault, change);

    /// <summary>How much: what was asked, or the fault's own; 0 for no fault.</summary>
    public double Much => Amount ?? FaultAmounts.Of(Fault)?.Default ?? 0;

    /// <summary>The order with every change it strikes named, ascending; none where it strikes none. Where no place was asked for, notes that
    /// are to be out of tune lie apart, so that the take itself stays in tune.</summary>
    /// <param name="plan">What is played.</param>
    /// <param name="isPlayed">Whether a change is heard at all, by its index; null: all are.</param>
    public FaultOrder Placed(Plan plan, Func<int, bool>? isPlayed = null)
    {
        var struck = plan.Changes.Where(c => Strikes(c) && (isPlayed is null || isPlayed(c.Index))).ToList();
        return this with { Changes = Fault == Fault.OutOfTune && Changes.IsEmpty ? NotesApart.Of(plan, struck) : [.. struck.Select(c => c.Index)] };
    }

    /// <summary>For instance <c>late-tongue, 90 ms</c>.</summary>
    public override string ToString() => FaultAmounts.Of(Fault) is { } amount
        ? string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{Fault.WireName()}, {Much:0.##} {amount.Unit}") : Fault.WireName();

    /// <summary>The plan played so.</summary>
    public Performance On(Plan plan) => Playing.Clean(plan) with
    {
        Changes = [.. plan.Changes.Select(c => Playing.Of(plan, c, Strikes(c) ? Fault : Fault.None, Amount))],
        Cents = [.. plan.Notes.Select(n => Fault == Fault.OutOfTune && n.Note.Index > 0 && Strikes(plan.Changes[n.Note.Index - 1])
            ? new(Much) : default(Units.Cents))],
        Levels = Fault == Fault.UnevenAir ? AskedFaults.Levels(plan, Strikes, Much) : [],
    };
}
