using System.CommandLine;
using Seamwright.Core.Diagnosis;
using Seamwright.Core.Instruments;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Sound;
using Seamwright.Core.Units;

namespace Seamwright.VoiceCheck;

/// <summary>Faults between notes that are too short for them: what is told against what is made.</summary>
internal static class ShortNotes
{
    private static readonly double[] Lengths = [1, 0.6, 0.4, 0.3, 0.2, 0.15];

    public static Command Command()
    {
        var all = new Option<bool>("--all") { Description = "Every change, not only the worst figures." };
        var only = new Option<Fault[]>("--as") { Description = "Only these faults." };
        var every = new Option<int>("--every") { Description = "Every how manieth change is struck.", DefaultValueFactory = _ => 1 };
        var command = new Command("short", "Faults between short notes, told and made.") { all, only, every };
        command.SetAction(r => Run(r.GetValue(only) ?? [], r.GetValue(every), r.GetValue(all)));
        return command;
    }

    private static void Run(Fault[] only, int every, bool all)
    {
        Console.WriteLine("fault        asked   notes  struck  least  made: half  worst  heard: half  goal  none  blamed  others blamed");
        foreach (var (fault, amounts) in Faults.Asked.Where(a => only.Length == 0 || only.Contains(a.Fault)))
        {
            foreach (var amount in amounts.Where((a, i) => i % 2 == 0 || a == amounts[^1]))
            {
                foreach (var length in Lengths) Row(Plan(length), fault, amount, length, every, all);
            }
        }
    }

    private static Plan Plan(double length) => Pairs.Plan(
        Catalogue.Find("tenor-f")!,
        new PlanSettings { Weights = CostWeights.Presets["plain-positions"], Player = new Player { Policy = TonguePolicy.EveryNote, ValvesAllowed = false } },
        length,
        [.. "Bb2 A2 C3 D3 C3 F3 E3 Bb3 A3 G3 Bb3 E3 Bb3 D4 C#4 C4 F4 E4 F4 G2 A2 F2 G2 B2 C3 F#3 D4 C4".Split(' ').Select(Pitch.Parse)]);

    private static void Row(Plan plan, Fault fault, double amount, double length, int every, bool all)
    {
        var order = new FaultOrder(fault, amount, [.. plan.Changes.Where(c => c.Index % every == 0).Select(c => c.Index)]).Placed(plan);
        var asked = order.Changes.Select(c => plan.Changes[c]).Where(c => Figures.IsAsked(fault, !plan.StaysOnPartial(c))).ToList();
        if (asked.Count == 0) return;
        var take = Voice.Render(plan, order.On(plan));
        var heard = Listener.Listen(new Recording(take.Samples, take.Rate), plan);
        var judged = Diagnostician.Judge(heard, plan).Changes;
        List<double> made = [], ears = [];
        foreach (var change in asked)
        {
            var told = Figures.Wanted(fault, order.At(plan, change)!.Value);
            made.Add((Figures.Made(fault, take.Truth.Changes[change.Index]) ?? double.NaN) - told);
            ears.Add((Figures.Heard(fault, heard.Changes[change.Index]) ?? double.NaN) - told);
            if (all) Console.WriteLine($"   {change.Index} {plan.Notes[change.FromNote].Note.Pitch}-{plan.Notes[change.ToNote].Note.Pitch} {(plan.StaysOnPartial(change) ? "one" : "across")}: told {told:0} made {made[^1] + told:0.0} heard {ears[^1] + told:0.0} {string.Join(", ", judged[change.Index].Verdicts)}");
        }

        var others = judged.Where(c => !order.Changes.Contains(c.Index)).ToList();
        if (all) foreach (var c in others.Where(Blamed)) Console.WriteLine($"   not struck {c.Index}: {string.Join("; ", c.Findings.Select(f => $"{f.Verdict} {f.Basis}"))}");
        var goal = Figures.Goal(fault);
        Console.WriteLine($"{fault,-12} {amount,4:0} {FaultAmounts.Of(fault)!.Unit} {length,6:0.00} s {asked.Count,6} {Least(plan, order, asked),6:0} {Off(made, 0.5),8:0.0} {Off(made, 1),7:0.0} {Off(ears, 0.5),9:0.0} {ears.Count(e => Math.Abs(e) <= goal),6} {ears.Count(double.IsNaN),5} {asked.Count(c => Blamed(judged[c.Index])),7} {others.Count,7} {others.Count(Blamed),6}");
    }

    private static double Least(Plan plan, FaultOrder order, List<NoteChange> asked) => asked.Min(c => order.At(plan, c)!.Value);

    private static bool Blamed(ChangeJudgement c) => c.Verdicts.Any(v => v is not (Verdict.Clean or Verdict.CannotTell));

    private static double Off(List<double> values, double share) =>
        values.OrderBy(o => double.IsNaN(o) ? double.MaxValue : Math.Abs(o)).ElementAt((int)(share * (values.Count - 1)));
}
