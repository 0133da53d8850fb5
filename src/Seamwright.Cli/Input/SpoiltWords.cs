using System.Collections.Immutable;
using System.Globalization;
using Seamwright.Core;
using Seamwright.Core.Planning;
using Seamwright.Core.Sound;

namespace Seamwright.Cli.Input;

/// <summary>What is said of examples that are wrong on purpose: where and how much, or why not.</summary>
internal static class SpoiltWords
{
    // Names of changes that a line of the terminal still bears.
    private const int MostNamed = 24;

    /// <summary>Notes: every change that is struck, with what is played where it is not what was asked, and why.</summary>
    /// <param name="order">Placed.</param>
    /// <param name="plan">At the fastest tempo at which it is played.</param>
    /// <param name="hasSlower">Whether slower rounds have more room.</param>
    public static ImmutableArray<Problem> Of(FaultOrder order, Plan plan, bool hasSlower)
    {
        var otherwise = order.Otherwise(plan).ToImmutableDictionary(o => o.Change, o => o.Much);
        List<string> notes = [Struck(order, plan, otherwise)];
        var (less, more) = (otherwise.Values.Where(m => m < order.Much).ToList(), otherwise.Values.Where(m => m > order.Much).ToList());
        var unit = FaultAmounts.Of(order.Fault)?.Unit;
        if (less.Count > 0) notes.Add($"between the notes of {Counted(less, order)} no more than {Range(less)} {unit} fits, and that is played{(hasSlower ? " in the fastest round; the cue sheet tells the others" : ": slower, more will")}.");
        if (more.Count > 0 && FaultAmounts.LeastAcross(order.Fault) is not null) notes.Add($"at {Counted(more, order)} the partial changes too, and {Range(more)} {unit} are played there: nearer to the break its own dip swallows the tongue's.");
        else if (more.Count > 0) notes.Add($"at {Counted(more, order)} a fast slide was asked for, which lets more pass: {Range(more)} {unit} are played there.");
        if (order.Fault is Fault.Smeared or Fault.SlowSlide or Fault.NoTongue && order.Changes.Count(c => !plan.StaysOnPartial(plan.Changes[c])) is > 0 and var across)
            notes.Add($"at {across} of them the partial changes too: the arm is as slow there, but a part of the pitch's way is a jump.");
        return [.. notes.Select(n => new Problem("--as", n, "", Severity.Note))];
    }

    /// <summary>Why nothing can go wrong in a part of one note.</summary>
    public static readonly Problem Alone = new("--as", "there is one note, and only changes, with the notes they lead to, can go wrong.", "Give a part of two notes or more.", Severity.Error);

    /// <summary>Why nothing can go wrong so.</summary>
    /// <param name="where">The option, with the change that was named.</param>
    /// <param name="fault">Asked for.</param>
    /// <param name="isTooShort">Whether it could, were the notes longer.</param>
    public static Problem Refusal(string where, Fault fault, bool isTooShort)
    {
        var which = where == "--as" ? "no change of this part can be" : "cannot be";
        return isTooShort
            ? new(where, $"{which} {fault.WireName()} at this tempo: between such short notes there is no room for {FaultAmounts.Of(fault)!.Least:0} {FaultAmounts.Of(fault)!.Unit} of it, the least that can be told.", "Play it slower, or name a change between longer notes.", Severity.Error)
            : new(where, $"{which} {fault.WireName()}.", Possible(fault), Severity.Error);
    }

    private static string Struck(FaultOrder order, Plan plan, ImmutableDictionary<int, double> otherwise)
    {
        var count = order.Changes.Length;
        if (order.Fault == Fault.OutOfTune) return Sharp(order, plan);
        if (count > MostNamed) return $"{order}: {count} of {plan.Changes.Length} changes are played so; the cue sheet names them.";
        var places = order.Changes.Select(c => $"{c} (bar {plan.Notes[plan.Changes[c].ToNote].Note.Bar}{Much(c)})");
        return $"{order}: {count} of {plan.Changes.Length} changes {(count == 1 ? "is" : "are")} played so: {string.Join(", ", places)}.";

        string Much(int change) => otherwise.TryGetValue(change, out var much) ? string.Create(CultureInfo.InvariantCulture, $", {much:0} {FaultAmounts.Of(order.Fault)!.Unit}") : "";
    }

    // Notes are sharp, and not the changes that lead to them.
    private static string Sharp(FaultOrder order, Plan plan)
    {
        var notes = order.Changes.Select(c => plan.Notes[plan.Changes[c].ToNote].Note).ToList();
        var some = $"{order}: {notes.Count} of {plan.Notes.Length} notes {(notes.Count == 1 ? "is" : "are")} played so";
        return notes.Count > MostNamed ? $"{some}; the cue sheet names them." : $"{some}: {string.Join(", ", notes.Select(n => $"{n.Pitch.ToDisplay()} (bar {n.Bar})"))}.";
    }

    private static string Counted(List<double> some, FaultOrder order) => some.Count == order.Changes.Length ? some.Count == 1 ? "this change" : "all of them" : $"{some.Count} of them";

    private static string Range(List<double> values) => string.Create(CultureInfo.InvariantCulture, $"{values.Min():0}") is var least && string.Create(CultureInfo.InvariantCulture, $"{values.Max():0}") is var most && least == most ? least : $"{least} to {most}";

    private static string Possible(Fault fault) => fault is Fault.Smeared or Fault.SlowSlide or Fault.NoTongue or Fault.LateTongue or Fault.EarlyTongue
        ? "Only a slide that moves with the pitch smears or needs the tongue at its moment, and nothing goes wrong so over a breath or where a note is tongued anyway."
        : fault is Fault.HurriedSlide or Fault.Tongued or Fault.UnevenAir ? "It goes against what an exercise asks, so it needs an exercise that asks it."
        : "Nothing goes wrong so over a breath or where a note is tongued anyway.";
}
