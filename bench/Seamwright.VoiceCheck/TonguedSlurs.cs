using System.CommandLine;
using Seamwright.Core.Diagnosis;
using Seamwright.Core.Instruments;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Sound;
using Seamwright.Core.Units;

namespace Seamwright.VoiceCheck;

/// <summary>Slurs that break by themselves, clean, tongued and cracked: what is told of them.</summary>
/// <remarks>A tongue takes the sound away before the new note speaks; how long before its middle lies is varied, and how deep it is.</remarks>
internal static class TonguedSlurs
{
    private static readonly double[] Depths = [10, 13, 16, 19, 22], Before = [0, 15, 30, 45, 60];

    private static readonly string[] Notes =
        ["Bb2", "D3", "F3", "Bb3", "D4", "F4", "D4", "Bb3", "F3", "Bb2", "F2", "Bb2", "C3", "E3", "C3", "F3", "G3", "D4", "G3", "Eb4", "F4", "Eb4", "F#3", "C#4", "F#3", "Bb3", "D3", "Bb3"];

    private static readonly string[] Horns = ["tenor-straight", "tenor-f", "bass-independent"];

    public static Command Command()
    {
        var command = new Command("tongues", "What is told of natural and valve slurs that are clean, tongued or cracked.");
        command.SetAction(_ => Run());
        return command;
    }

    private static void Run()
    {
        Console.WriteLine("                               of  tongued  open  air stopped  hard  cracked  other   off: median, worst to either side, ms");
        foreach (var natural in (bool[])[true, false])
        {
            var kind = natural ? ChangeKind.NaturalSlur : ChangeKind.ValveSlur;
            Row(kind, "clean", c => c);
            foreach (var depth in Depths)
            {
                foreach (var before in Before)
                    Row(kind, $"{depth:0} dB {before:0} ms before", c => c with { Dip = new(depth), DipWidth = Seconds.FromMilliseconds(50), DipOffset = Seconds.FromMilliseconds(-before), Lips = Seconds.FromMilliseconds(20) });
            }

            Row(kind, "cracked", c => c, Fault.Cracked);
        }
    }

    private static void Row(ChangeKind kind, string name, Func<ChangeExecution, ChangeExecution> played, Fault fault = Fault.None)
    {
        var told = Horns.SelectMany(horn => Told(horn, kind, played, fault)).ToList();
        int Count(params Verdict[] any) => told.Count(t => t.Judgement.Verdicts.Any(any.Contains));
        var off = told.Select(t => t.Off).OfType<double>().Order().ToList();
        Console.WriteLine($"{(kind == ChangeKind.NaturalSlur ? "natural" : "valve"),-8}{name,-20}{told.Count,5}{Count(Verdict.TongueHeard),9}{Count(Verdict.CannotTell),6}{Count(Verdict.AirStopped),13}{Count(Verdict.TooHard),6}{Count(Verdict.Cracked),9}"
            + $"{told.Count(t => t.Judgement.Verdicts.Any(v => v is not (Verdict.Clean or Verdict.TongueHeard or Verdict.CannotTell or Verdict.AirStopped or Verdict.TooHard or Verdict.Cracked))),7}"
            + (name == "clean" ? string.Concat(told.Where(t => t.Judgement.Verdicts.Contains(Verdict.TongueHeard)).Select(t => $"\n   {t.Where}")) : "")
            + (off.Count == 0 ? "" : $"{off[off.Count / 2],8:0}{off[0],6:0}{off[^1],5:0}"));
    }

    private static IEnumerable<(ChangeJudgement Judgement, double? Off, string Where)> Told(string horn, ChangeKind kind, Func<ChangeExecution, ChangeExecution> played, Fault fault)
    {
        var plan = Pairs.Plan(Catalogue.Find(horn)!, new PlanSettings(), 1, [.. Notes.Select(Pitch.Parse)]);
        var performance = Playing.Clean(plan) with { Changes = [.. plan.Changes.Select(c => c.Kind == kind ? played(Playing.Of(plan, c, fault)) : Playing.Of(plan, c, Fault.None))] };
        var take = Voice.Render(plan, performance);
        var heard = Listener.Listen(new Recording(take.Samples, take.Rate), plan);
        var judged = Diagnostician.Judge(heard, plan);
        return plan.Changes.Where(c => c.Kind == kind).Select(c => (judged.Changes[c.Index], heard.Changes[c.Index].TongueOffset?.Milliseconds, Where(c)));

        string Where(NoteChange c) =>
            $"{horn} {plan.Notes[c.FromNote].Note.Pitch}-{plan.Notes[c.ToNote].Note.Pitch}: made {take.Truth.Changes[c.Index].TongueOffset?.Milliseconds:0} ms, heard {heard.Changes[c.Index].TongueOffset?.Milliseconds:0} ms, {string.Join("; ", judged.Changes[c.Index].Findings.Select(f => f.Basis))}";
    }
}
