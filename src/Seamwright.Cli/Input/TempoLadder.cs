using System.CommandLine;
using Seamwright.Core.Sound.PlayAlong;

namespace Seamwright.Cli.Input;

/// <summary><c>--speed</c>, <c>--from</c>, <c>--to</c> and <c>--rounds</c>: the tempo of each round.</summary>
internal sealed class TempoLadder
{
    private const int UsualRounds = 4;

    private readonly Option<double?> speed = CommonOptions.Number("--speed", "Per cent of the part's own tempo, 10 to 300.", 10, 300);
    private readonly Option<double?> from = CommonOptions.Number("--from", "First tempo of a ladder, quarter notes a minute.", 10, 400);
    private readonly Option<double?> to = CommonOptions.Number("--to", "Last tempo of a ladder.", 10, 400);
    private readonly Option<int?> rounds = CommonOptions.Whole("--rounds", $"Times through the part; default 1, {UsualRounds} on a ladder.", 1, PlayAlongMaker.MostRounds);

    public void AddTo(Command command, PlanOptions plan)
    {
        foreach (var option in (Option[])[speed, from, to, rounds]) command.Add(option);
        command.Validators.Add(r =>
        {
            var ladder = r.GetResult(from) is not null || r.GetResult(to) is not null;
            if (ladder && (r.GetResult(from) is null || r.GetResult(to) is null)) r.AddError("A ladder of tempos needs both --from and --to.");
            if (new[] { ladder, r.GetResult(speed) is not null, plan.HasTempo(r) }.Count(x => x) > 1) r.AddError("--tempo, --speed and --from with --to each set the tempo: give one of them.");
            if (ladder && r.GetResult(rounds) is { Tokens: [{ Value: "1" }] }) r.AddError("A ladder of tempos needs two rounds at least.");
        });
    }

    /// <summary>The first tempo of each round, in quarter notes a minute.</summary>
    /// <param name="result">The parsed command line.</param>
    /// <param name="written">The tempo that the part is planned at.</param>
    public IReadOnlyList<double> Tempos(ParseResult result, double written)
    {
        if (result.GetValue(from) is not { } first || result.GetValue(to) is not { } last)
            return [.. Enumerable.Repeat(written * (result.GetValue(speed) ?? 100) / 100, result.GetValue(rounds) ?? 1)];
        var count = result.GetValue(rounds) ?? UsualRounds;
        return [.. Enumerable.Range(0, count).Select(i => first + ((last - first) * i / (count - 1)))];
    }
}
