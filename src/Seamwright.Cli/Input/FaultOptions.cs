using System.Collections.Immutable;
using System.CommandLine;
using System.CommandLine.Parsing;
using System.Globalization;
using Seamwright.Core;
using Seamwright.Core.Planning;
using Seamwright.Core.Sound;
using Seamwright.Core.Sound.PlayAlong;

namespace Seamwright.Cli.Input;

/// <summary><c>--as</c>, <c>--amount</c> and <c>--change</c>: how the example goes wrong, if it is to.</summary>
internal sealed class FaultOptions
{
    private readonly Option<string> fault = CommonOptions.Choice("--as", "How the example's changes are played", "clean", [.. FaultNames.All]);
    private readonly Option<double?> amount = new("--amount") { Description = $"How much of it: {Amounts()}", HelpName = "N" };
    private readonly Option<string[]> changes = new("--change") { Description = "Only this change: N leads from note N, as plan numbers them (#), to the next (repeatable). Default: every change that can go wrong so; for sharp, some notes that lie apart.", HelpName = "N" };

    public FaultOptions()
    {
        amount.CustomParser = result =>
        {
            if (Parsed(result.Tokens[0].Value) is { } value) return value;
            result.AddError($"--amount is '{result.Tokens[0].Value}'; it must be a number, with a point for decimals.");
            return null;
        };
        changes.Validators.Add(r =>
        {
            foreach (var token in r.Tokens.Where(t => !int.TryParse(t.Value, NumberStyles.None, CultureInfo.InvariantCulture, out _)))
                r.AddError($"--change is '{token.Value}'; it must be the number of the note that the change leads from, as 'plan' tells them: 0 is the first.");
        });
    }

    /// <param name="command">Gets the options.</param>
    /// <param name="playAlong">Says whether there is an example.</param>
    public void AddTo(Command command, PlayAlongOptions playAlong)
    {
        foreach (var option in (Option[])[fault, amount, changes]) command.Add(option);
        command.Validators.Add(r =>
        {
            if (FaultNames.Find(r.GetValue(fault) ?? "clean") is not { } asked) return;
            foreach (var error in Errors(r, asked, playAlong.HasExample(r))) r.AddError(error);
        });
    }

    /// <summary>The schedule with the faults that were asked for and a note that tells them, or why they cannot be.</summary>
    public Outcome<Schedule> Spoil(ParseResult result, Schedule schedule)
    {
        // Where the fastest round has room, every round has.
        var (asked, plan) = (FaultNames.Find(result.GetValue(fault)!)!.Value, schedule.Rounds.MaxBy(r => r.Tempo)!.Plan);
        if (asked == Fault.None) return Outcome<Schedule>.Of(schedule);
        ImmutableArray<int> named = [.. (result.GetValue(changes) ?? []).Select(t => int.Parse(t, CultureInfo.InvariantCulture)).Distinct().Order()];
        if (plan.Changes.IsEmpty) return Outcome<Schedule>.Failed([SpoiltWords.Alone]);
        if (named.FirstOrDefault(c => c >= plan.Changes.Length, -1) is >= 0 and var beyond)
            return Outcome<Schedule>.Failed($"--change {beyond}", $"there are {plan.Changes.Length} changes.", $"Give a number from 0 to {plan.Changes.Length - 1}, as 'plan' tells them.");
        var order = new FaultOrder(asked, result.GetValue(amount), named).Placed(plan, schedule.Plays);
        return Unstruck(named, order, schedule, plan) is { } problem ? Outcome<Schedule>.Failed([problem]) : Outcome<Schedule>.Of(schedule with { Faults = order }, SpoiltWords.Of(order, plan, schedule.Rounds.Any(r => r.Tempo < schedule.Rounds.Max(o => o.Tempo))));
    }

    private IEnumerable<string> Errors(CommandResult r, Fault asked, bool hasExample)
    {
        var (much, somewhere) = (r.GetResult(amount), r.GetResult(changes) is not null);
        if (asked == Fault.None)
        {
            if (much is not null || somewhere) yield return $"{(much is not null ? "--amount" : "--change")} needs --as with a fault: {string.Join(", ", FaultNames.All.Skip(1))}.";
            yield break;
        }

        if (!hasExample) yield return $"--as {asked.WireName()} and --turns you exclude each other: nobody plays an example that could go wrong.";
        if (much is { Tokens: [var token] } && Parsed(token.Value) is { } m && FaultAmounts.Of(asked) is { } range && (m < range.Least || m > range.Most))
            yield return string.Create(CultureInfo.InvariantCulture, $"--amount of {asked.WireName()} must be {range.Least} to {range.Most} {range.Unit}, not {m}: {range.Meaning}.");
    }

    private static double? Parsed(string text) =>
        double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out var value) && double.IsFinite(value) ? value : null;

    // One that was named and is not played so is told; where none was, that nothing can be.
    private static Problem? Unstruck(ImmutableArray<int> named, FaultOrder order, Schedule schedule, Plan plan)
    {
        foreach (var change in named.Where(c => !order.Changes.Contains(c)))
        {
            return !schedule.Plays(change) ? new($"--change {change}", "leads from one phrase to the next, and no example plays it.", "Add --turns example, or name another change.", Severity.Error)
                : SpoiltWords.Refusal($"--change {change}", order.Fault, isTooShort: FaultAmounts.Applies(order.Fault, plan.Changes[change]));
        }

        return order.Changes.IsEmpty ? SpoiltWords.Refusal("--as", order.Fault, isTooShort: plan.Changes.Any(c => FaultAmounts.Applies(order.Fault, c) && schedule.Plays(c.Index))) : null;
    }

    private static string Amounts() => string.Join("; ", FaultNames.All.Select(n => (Name: n, Amount: FaultAmounts.Of(FaultNames.Find(n)!.Value))).Where(n => n.Amount is not null)
        .Select(n => $"{n.Name} {n.Amount!.Least} to {n.Amount.Most} {n.Amount.Unit} ({n.Amount.Default})")) + ". In brackets: the default.";
}
