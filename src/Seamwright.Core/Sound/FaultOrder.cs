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
    // Half of a unit: what lies nearer reads alike.
    private const double Told = 0.5;

    /// <summary>Nothing goes wrong.</summary>
    public static readonly FaultOrder Clean = new(Fault.None, null, []);

    /// <summary>Whether it is asked of a change that can go wrong so and has room for it.</summary>
    public bool Strikes(Plan plan, NoteChange change) => At(plan, change) is not null;

    /// <summary>How much of it is played at a change, in its unit: what was asked, or what there is room for. Null where it is played clean.</summary>
    /// <param name="plan">At the tempo at which it is played.</param>
    /// <param name="change">One of its changes.</param>
    public double? At(Plan plan, NoteChange change) =>
        Fault != Fault.None && IsNamed(change) && FaultAmounts.Applies(Fault, change) ? FaultRoom.Fit(plan, change, Fault, Much) : null;

    /// <summary>How much: what was asked, or the fault's own; 0 for no fault.</summary>
    public double Much => Amount ?? FaultAmounts.Of(Fault)?.Default ?? 0;

    /// <summary>Where something else than was asked is played, and how much, ascending by change.</summary>
    /// <param name="plan">At the tempo at which it is played.</param>
    public IEnumerable<(int Change, double Much)> Otherwise(Plan plan) => plan.Changes
        .Select(c => (Change: c.Index, Much: At(plan, c) ?? Much))
        .Where(c => Math.Abs(c.Much - Much) >= Told);

    /// <summary>The order with every change it strikes named, ascending; none where it strikes none. Where no place was asked for, notes that
    /// are to be out of tune lie apart, so that the take itself stays in tune.</summary>
    /// <param name="plan">What is played, at the fastest tempo at which it is.</param>
    /// <param name="isPlayed">Whether a change is heard at all, by its index; null: all are.</param>
    public FaultOrder Placed(Plan plan, Func<int, bool>? isPlayed = null)
    {
        var struck = plan.Changes.Where(c => Strikes(plan, c) && (isPlayed is null || isPlayed(c.Index))).ToList();
        return this with { Changes = Fault == Fault.OutOfTune && Changes.IsEmpty ? NotesApart.Of(plan, struck) : [.. struck.Select(c => c.Index)] };
    }

    /// <summary>For instance <c>late-tongue, 90 ms</c>.</summary>
    public override string ToString() => FaultAmounts.Of(Fault) is { } amount
        ? string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{Fault.WireName()}, {Much:0.##} {amount.Unit}") : Fault.WireName();

    /// <summary>The plan played so.</summary>
    public Performance On(Plan plan) => Playing.Clean(plan) with
    {
        Changes = [.. plan.Changes.Select(c => Playing.Of(plan, c, IsNamed(c) ? Fault : Fault.None, Amount))],
        Cents = [.. plan.Notes.Select(n => Fault == Fault.OutOfTune && n.Note.Index > 0 && Strikes(plan, plan.Changes[n.Note.Index - 1])
            ? new(Much) : default(Units.Cents))],
        Levels = Fault == Fault.UnevenAir ? AskedFaults.Levels(plan, c => Strikes(plan, c), Much) : [],
    };

    private bool IsNamed(NoteChange change) => Changes.IsEmpty || Changes.Contains(change.Index);
}
