using System.CommandLine;
using Seamwright.Core.Diagnosis;
using Seamwright.Core.Exercises;
using Seamwright.Core.Instruments;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Sound;

namespace Seamwright.VoiceCheck;

/// <summary>Every kind of exercise played by the voice and heard: what was asked against what was said.</summary>
internal static class Loop
{
    private static readonly Fault[] Faults =
    [
        Fault.None, Fault.HurriedSlide, Fault.Tongued, Fault.SlowSlide, Fault.NoTongue, Fault.LateTongue, Fault.EarlyTongue, Fault.HardTongue,
        Fault.StoppedAir, Fault.Cracked, Fault.UnevenAir,
    ];

    public static Command Command()
    {
        var kinds = new Option<string[]>("--kind") { Description = "Only these kinds." };
        var horns = new Option<string[]>("-i") { Description = "Only these instruments." };
        var faults = new Option<Fault[]>("--as") { Description = "Only these faults." };
        var all = new Option<bool>("--all") { Description = "Every change that is not as it should be." };
        var command = new Command("exercises", "Exercises played, faulty and clean, and heard.") { kinds, horns, faults, all };
        command.SetAction(r => Run(r.GetValue(kinds) ?? [], r.GetValue(horns) ?? [], r.GetValue(faults) ?? [], r.GetValue(all)));
        return command;
    }

    private static void Run(string[] kinds, string[] horns, Fault[] faults, bool all)
    {
        Console.WriteLine($"{"kind",-16} {"instrument",-18} {"as",-13} {"asked",6} {"struck",6} {"caught",6} {"open",5}   {"others",6} {"blamed",6} {"open",5}   note blamed");
        foreach (var horn in horns.Length > 0 ? horns : ["tenor-f", "bass-independent", "alto-eb"])
        {
            foreach (var kind in ExerciseMaker.Kinds.Where(k => kinds.Length == 0 || kinds.Contains(k.Name)))
            {
                var made = ExerciseMaker.Make(new ExerciseOrder { Kind = kind.Name }, Pupil.Of(Catalogue.Find(horn)!, level: 3));
                if (!made.Succeeded) Console.WriteLine($"{kind.Name,-16} {horn,-18} {string.Join(" ", made.Problems)}");
                else foreach (var exercise in made.Value.Exercises.Take(2)) Row(exercise, faults.Length > 0 ? faults : Faults, all);
            }
        }
    }

    private static void Row(Exercise exercise, Fault[] faults, bool all)
    {
        var plan = exercise.Plan;
        foreach (var fault in faults)
        {
            var order = new FaultOrder(fault, null, []);
            if (fault != Fault.None) order = order with { Changes = [.. plan.Changes.Where(c => order.Strikes(plan, c)).Where((_, i) => i % 3 == 0).Select(c => c.Index)] };
            if (fault != Fault.None && order.Changes.IsEmpty) continue;
            var take = Voice.Render(plan, order.On(plan));
            var heard = Listener.Listen(new Recording(take.Samples, take.Rate), plan);
            var diagnosis = Diagnostician.Judge(heard, plan);
            var judged = diagnosis.Changes.Where(c => c.Kind != ChangeKind.Breath).ToLookup(c => order.Strikes(plan, plan.Changes[c.Index]));
            Console.WriteLine($"{exercise.Kind,-16} {plan.Instrument.Id,-18} {fault,-13} {plan.Changes.Count(c => c.Intent is not null),6} {judged[true].Count(),6} {judged[true].Count(Blamed),6} {judged[true].Count(Open),5}   {judged[false].Count(),6} {judged[false].Count(Blamed),6} {judged[false].Count(Open),5}   {diagnosis.Notes.Count(n => n.Verdicts.Any(v => v is not (Verdict.Clean or Verdict.CannotTell)))}  {exercise.Id}");
            if (all) foreach (var line in diagnosis.Aims.Select(a => a.Sentence).Concat(diagnosis.TonePairs.Select(p => p.Sentence(plan)))) Console.WriteLine($"   - {line}");
            if (all) foreach (var c in diagnosis.Changes.Where(c => c.Kind != ChangeKind.Breath && Blamed(c) != order.Strikes(plan, plan.Changes[c.Index]))) Tell(plan, heard, c, order);
        }
    }

    private static void Tell(Plan plan, Take heard, ChangeJudgement c, FaultOrder order)
    {
        var (change, h) = (plan.Changes[c.Index], heard.Changes[c.Index]);
        var (a, b) = (plan.Notes[change.FromNote], plan.Notes[change.ToNote]);
        Console.WriteLine($"   {(order.Strikes(plan, change) ? "STRUCK" : "other ")} {c.Index}: {a.Note.Pitch}-{b.Note.Pitch} {a.Setting!.Label}/{a.Setting.Partial}-{b.Setting!.Label}/{b.Setting.Partial} {c.Intent} time {change.TimeAvailable.Milliseconds:0} move {change.MoveTime.Milliseconds:0} smear {change.SmearIfUntongued.Milliseconds:0}: {string.Join("; ", c.Findings.Select(f => $"{f.Verdict} {f.Basis}"))} [glide {h.Glide?.Milliseconds:0} heard {h.AudibleGlide?.Milliseconds:0} dip {h.Dip?.Value:0.0} gap {h.Gap?.Milliseconds:0} off {h.TongueOffset?.Milliseconds:0} jump {Jump(plan, a.Setting, b.Setting):0.00}]");
    }

    private static double Jump(Plan plan, SlideSetting a, SlideSetting b)
    {
        var half = new Core.Units.Centimetres((a.Travel.Value + b.Travel.Value) / 2);
        return 12 * Math.Log2(plan.Instrument.Sounding(b.Side, b.Partial, half).Value / plan.Instrument.Sounding(a.Side, a.Partial, half).Value);
    }

    private static bool Blamed(ChangeJudgement c) => c.Verdicts.Any(v => v is not (Verdict.Clean or Verdict.CannotTell));

    private static bool Open(ChangeJudgement c) => !Blamed(c) && c.Verdicts.Contains(Verdict.CannotTell);
}
