using System.CommandLine;
using Seamwright.Core;
using Seamwright.Core.Planning;
using Seamwright.Core.Sound.PlayAlong;

namespace Seamwright.Cli.Input;

/// <summary>Everything on a command line that decides what a play-along is: shared by <c>sound</c> and <c>film</c>.</summary>
internal sealed class PlayAlongInput
{
    private readonly TempoLadder ladder = new();
    private readonly PlayAlongOptions playAlong;
    private readonly FaultOptions fault = new();

    /// <param name="turns">Whose turn comes where nothing is said: a choice of <c>--turns</c>.</param>
    /// <param name="click">When the click is heard where nothing is said: a choice of <c>--click</c>.</param>
    public PlayAlongInput(string turns, string click) => playAlong = new(turns, click);

    /// <summary>Adds every option to a command.</summary>
    /// <param name="command">Gets them.</param>
    /// <param name="plan">The command's own, which may set a tempo too.</param>
    public void AddTo(Command command, PlanOptions plan)
    {
        playAlong.AddTo(command);
        fault.AddTo(command, playAlong);
        ladder.AddTo(command, plan);
    }

    /// <summary>What happens when, and what is to be said about it; or why it cannot be.</summary>
    public Outcome<Schedule> Schedule(ParseResult result, PlannedSheet sheet)
    {
        var tempos = ladder.Tempos(result, sheet.Plan.Line.Tempo.Marks[0].QuartersPerMinute);
        var plans = tempos.Distinct().ToDictionary(t => t, sheet.At);
        var failed = plans.Values.Where(p => !p.Succeeded).SelectMany(p => p.Problems).ToList();
        if (failed.Count > 0) return Outcome<Schedule>.Failed(failed);
        var made = PlayAlongMaker.LayOut([.. tempos.Select(t => plans[t].Value)], playAlong.Settings(result));
        if (!made.Succeeded) return made;
        var spoilt = fault.Spoil(result, made.Value);

        // What is too fast is said of the quickest round only.
        return spoilt.Succeeded ? Outcome<Schedule>.Of(spoilt.Value, [.. sheet.Reading, .. plans[tempos.Max()].Problems, .. spoilt.Problems]) : spoilt;
    }
}
