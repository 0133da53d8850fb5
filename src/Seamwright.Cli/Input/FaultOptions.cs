using System.Collections.Immutable;
using System.CommandLine;
using System.Globalization;
using Seamwright.Core;
using Seamwright.Core.Planning;
using Seamwright.Core.Sound;

namespace Seamwright.Cli.Input;

/// <summary>How the example goes wrong, if it is to.</summary>
internal sealed class FaultOptions
{
    private static readonly (string Name, Fault Fault)[] Names =
    [
        ("clean", Fault.None), ("smeared", Fault.Smeared), ("slow-slide", Fault.SlowSlide), ("late-tongue", Fault.LateTongue), ("early-tongue", Fault.EarlyTongue),
        ("hard-tongue", Fault.HardTongue), ("stopped-air", Fault.StoppedAir), ("no-tongue", Fault.NoTongue), ("cracked", Fault.Cracked), ("sharp", Fault.OutOfTune),
        ("hurried-slide", Fault.HurriedSlide), ("tongued", Fault.Tongued), ("uneven-air", Fault.UnevenAir),
    ];

    private readonly Option<string> fault = CommonOptions.Choice("--as", "How the example's changes are played", "clean", [.. Names.Select(n => n.Name)]);
    private readonly Option<double?> amount = CommonOptions.Number("--amount", $"How much of it: {Amounts()}", 1, 320);
    private readonly Option<string[]> changes = new("--change") { Description = "Only this change, by its number as hear tells it: change N leads from note N of plan to the next (repeatable). Default: every change that can go wrong so.", HelpName = "N" };

    public void AddTo(Command command)
    {
        foreach (var option in (Option[])[fault, amount, changes]) command.Add(option);
    }

    /// <summary>What was asked for, or why it cannot be.</summary>
    public Outcome<FaultOrder> Order(ParseResult result, Plan plan)
    {
        var (name, asked) = (result.GetValue(fault)!, Names.Single(n => n.Name == result.GetValue(fault)).Fault);
        var (much, into) = (result.GetValue(amount), result.GetValue(changes) ?? []);
        if (asked == Fault.None)
        {
            return much is null && into.Length == 0
                ? Outcome<FaultOrder>.Of(FaultOrder.Clean, [])
                : Outcome<FaultOrder>.Failed("--as", "is clean, so there is nothing to say how much or where of.", $"Name a fault: {string.Join(", ", Names.Skip(1).Select(n => n.Name))}.");
        }

        if (much is { } m && FaultAmounts.Of(asked) is { } range && (m < range.Least || m > range.Most))
            return Outcome<FaultOrder>.Failed("--amount", $"is {m.ToString(CultureInfo.InvariantCulture)}.", $"For {name} it is {range.Least} to {range.Most} {range.Unit}: {range.Meaning}.");
        var indices = ImmutableArray.CreateBuilder<int>();
        foreach (var text in into)
        {
            if (!int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var change) || change >= plan.Changes.Length)
                return Outcome<FaultOrder>.Failed("--change", $"is '{text}'.", $"Give the number of a change from 0 to {plan.Changes.Length - 1}, as 'hear' tells them.");
            indices.Add(change);
        }

        var order = new FaultOrder(asked, much, indices.ToImmutable());
        var struck = plan.Changes.Count(order.Strikes);
        return struck > 0
            ? Outcome<FaultOrder>.Of(order, [new Problem("--as", $"{name}: {struck} of {plan.Changes.Length} changes are played so.", "", Severity.Note)])
            : Outcome<FaultOrder>.Failed("--as", $"no change asked for can be {name}.", "Only a slide that moves with the pitch smears or needs the tongue at its moment; hurried-slide, tongued and uneven-air go against what an exercise asks; and nothing goes wrong over a breath.");
    }

    private static string Amounts() => string.Join("; ", Names.Where(n => FaultAmounts.Of(n.Fault) is not null).Select(n =>
    {
        var a = FaultAmounts.Of(n.Fault)!;
        return $"{n.Name} {a.Least} to {a.Most} {a.Unit} ({a.Default})";
    })) + ". In brackets: the default.";
}
