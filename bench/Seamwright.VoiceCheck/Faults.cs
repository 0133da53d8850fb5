using System.CommandLine;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Sound;
using Seamwright.Core.Units;

namespace Seamwright.VoiceCheck;

/// <summary>Faults asked for against faults made and heard.</summary>
internal static class Faults
{
    // Up and down on one partial by one to four semitones, in three registers, and the slide with the partial.
    private static readonly string[] Notes = ["Bb2", "A2", "C3", "D3", "C3", "F3", "E3", "Bb3", "A3", "G3", "Bb3", "E3", "Bb3", "D4", "C#4", "C4", "F4", "E4", "F4"];

    // Over the range of each, ends included.
    internal static readonly (Fault Fault, double[] Amounts)[] Asked =
    [
        (Fault.Smeared, [30, 40, 80, 120, 165, 240, 320]), (Fault.SlowSlide, [30, 80, 120, 165, 240, 320]), (Fault.NoTongue, [30, 40, 80, 130, 200, 320]),
        (Fault.LateTongue, [10, 12, 15, 18, 20, 22, 25, 30, 35, 40, 45, 60, 75, 90, 130, 150]), (Fault.EarlyTongue, [10, 15, 20, 25, 30, 35, 40, 45, 60, 75, 90, 130, 150]),
        (Fault.HardTongue, [17, 20, 22, 25, 27]), (Fault.StoppedAir, [20, 30, 50, 70, 150, 300]),
    ];

    public static Command Command()
    {
        var all = new Option<bool>("--all") { Description = "Every change, not only the worst figures." };
        var only = new Option<Fault[]>("--as") { Description = "Only these faults." };
        var steady = new Option<bool>("--steady") { Description = "Held notes neither wander nor are uneven." };
        var notes = new Option<string[]>("--notes") { Description = "Other notes than the usual ones.", AllowMultipleArgumentsPerToken = true };
        var grid = new Option<bool>("--grid") { Description = "Pairs of notes drawn over the whole range of three horns, not only the usual ones." };
        var seed = new Option<uint>("--seed") { Description = "Of the pairs that are drawn.", DefaultValueFactory = _ => 1 };
        var amount = new Option<double[]>("--amount") { Description = "Only these amounts, with --grid." };
        var command = new Command("faults", "Faults asked for, made and heard.") { all, only, steady, notes, grid, seed, amount };
        command.SetAction(r =>
        {
            if (r.GetValue(grid)) Grid.Run(r.GetValue(only) ?? [], r.GetValue(amount) ?? [], r.GetValue(seed), r.GetValue(all));
            else Run(r.GetValue(notes) is { Length: > 1 } asked ? asked : Notes, r.GetValue(all), r.GetValue(only) ?? [], r.GetValue(steady) ? new() { Wander = new(0), Unevenness = new(0) } : new());
        });
        return command;
    }

    private static void Run(string[] notes, bool all, Fault[] only, VoiceSettings settings)
    {
        var plan = Pairs.Plan(new PlanSettings { Weights = CostWeights.Presets["plain-positions"], Player = new Player { Policy = TonguePolicy.EveryNote, ValvesAllowed = false } }, 1.5, notes);
        Console.WriteLine("fault        asked   partials    made: median worst     heard: median worst   of  missed inside   goal");
        foreach (var (fault, amounts) in Asked.Where(a => only.Length == 0 || only.Contains(a.Fault)))
        {
            foreach (var amount in amounts) Rows(plan, settings, fault, amount, all);
        }
    }

    private static void Rows(Plan plan, VoiceSettings settings, Fault fault, double amount, bool all)
    {
        var performance = Playing.Clean(plan) with { Changes = [.. plan.Changes.Select(c => Playing.Of(plan, c, fault, amount))] };
        var take = Voice.Render(plan, performance, settings);
        var heard = Listener.Listen(new Recording(take.Samples, take.Rate), plan);
        foreach (var across in (bool[])[false, true])
        {
            if (!Figures.IsAsked(fault, across) || (across && amount < FaultAmounts.LeastAcross(fault))) continue;
            Row(plan, [.. plan.Changes.Where(c => FaultAmounts.Applies(fault, c) && Figures.OnOnePartial(plan, c) != across)], take, heard, (fault, amount), all);
        }
    }

    private static void Row(Plan plan, NoteChange[] changes, SoundedTake take, Take heard, (Fault Fault, double Amount) asked, bool all)
    {
        var (fault, amount) = asked;
        List<double> made = [], ears = [];
        var (missed, inside) = (0, 0);
        foreach (var change in changes)
        {
            var (truth, reading) = (take.Truth.Changes[change.Index], heard.Changes[change.Index]);
            var wanted = Figures.Wanted(fault, amount);
            var (done, got) = (Figures.Made(fault, truth), Figures.Heard(fault, reading));
            if (Figures.Told(fault, reading) is { } told && done >= told.Low && done <= told.High) inside++;
            if (done is { } d) made.Add(d - wanted);
            if (got is { } g) ears.Add(g - wanted);
            else missed++;
            if (all) Console.WriteLine($"   {plan.Notes[change.FromNote].Note.Pitch}-{plan.Notes[change.ToNote].Note.Pitch,-5} {plan.Notes[change.FromNote].Setting!.Label}/{plan.Notes[change.FromNote].Setting!.Partial}-{plan.Notes[change.ToNote].Setting!.Label}/{plan.Notes[change.ToNote].Setting!.Partial}: made {done:0.0} heard {got:0.0} [{truth.Dip?.Value:0.0} {reading.Dip?.Value:0.0} w {truth.DipWidth?.Milliseconds:0} {reading.DipWidth?.Milliseconds:0} gap {truth.Gap?.Milliseconds:0} {reading.Gap?.Milliseconds:0} over {truth.Overshoot?.Value:0.0} {reading.Overshoot?.Value:0.0} ear {reading.EarDip?.Value:0.0}; dip {(reading.DipCentre - truth.DipCentre)?.Milliseconds:+0.0;-0.0} glide {(reading.GlideCentre - truth.GlideCentre)?.Milliseconds:+0.0;-0.0} off; tongue {Bound(reading.TongueOffsetBounds)}]");
        }

        var goal = fault == Fault.HardTongue ? "1 dB" : "5 ms";
        var partials = changes.Length > 0 && Figures.OnOnePartial(plan, changes[0]) ? "one" : "across";
        Console.WriteLine($"{fault,-12} {amount,4:0} {FaultAmounts.Of(fault)!.Unit}  {partials,-8} {Median(made),14:0.0} {Worst(made),6:0.0} {Median(ears),16:0.0} {Worst(ears),6:0.0} {made.Count,5} {missed,6} {inside,6}   {goal}");
    }

    private static string Bound(Bounds<Seconds>? b) => b is { } known ? $"{known.Low.Milliseconds:0} to {known.High.Milliseconds:0}" : "not told";

    private static double Median(List<double> values) => values.Count == 0 ? double.NaN : values.Select(Math.Abs).Order().ElementAt(values.Count / 2);

    private static double Worst(List<double> values) => values.Count == 0 ? double.NaN : values.MaxBy(Math.Abs);
}
