using System.CommandLine;
using Seamwright.Core.Diagnosis;
using Seamwright.Core.Instruments;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Sound;
using Seamwright.Core.Units;

namespace Seamwright.VoiceCheck;

/// <summary>Wrong partials caught on slurs of every kind: what is told of them, by how long they are aimed at and which partial they are.</summary>
/// <remarks>A row counts what sounded: where the lips never reach the wrong partial there is none to be told.</remarks>
internal static class Cracks
{
    private const double Apart = 100;

    private static readonly double[] Lengths = [50, 60, 80, 100, 150];

    private static readonly int[] Steps = [2, 1, -1, -2];

    private static readonly string[][] Lines =
    [
        ["Bb2", "D3", "F3", "Bb3", "D4", "F4", "D4", "Bb3", "F3", "Bb2", "F2", "Bb2", "C3", "E3", "C3", "F3", "G3", "D4", "G3", "Eb4", "F4", "Eb4", "F#3", "C#4", "F#3", "Bb3", "D3", "Bb3"],
        ["C3", "D3", "C3", "Bb2", "C3", "Eb3", "B2", "D3", "E2", "F2", "Eb2", "F2", "C3", "G3", "C3", "F3", "B2", "Bb2", "D2", "E2", "C2", "F2", "B2", "C3", "F3", "C3", "E3", "B2"],
    ];

    private static readonly string[] Horns = ["tenor-straight", "tenor-f", "bass-independent"];

    private readonly record struct Told(ChangeKind Kind, double Length, int Step, string Answer, string Where);

    public static Command Command()
    {
        var list = new Option<bool>("--list") { Description = "Also every crack that is not told." };
        var command = new Command("cracks", "Wrong partials caught on slurs: told, told as another pitch, left open, missed.") { list };
        command.SetAction(r => Run(r.GetValue(list)));
        return command;
    }

    private static void Run(bool list)
    {
        var told = Lengths.SelectMany(length => Steps.SelectMany(step => Horns.SelectMany(horn => Lines.SelectMany(line => Heard(horn, line, length, step))))).ToList();
        Console.WriteLine($"{"kind",-14}{"",-12}{"of",5}{"told",6}{"other pitch",12}{"open",6}{"missed",8}");
        foreach (var kind in told.GroupBy(t => t.Kind))
        {
            foreach (var length in kind.GroupBy(t => t.Length)) Row(kind.Key, $"{length.Key:0} ms", [.. length]);
            foreach (var step in kind.GroupBy(t => t.Step)) Row(kind.Key, $"partial {step.Key:+0;-0}", [.. step]);
            Row(kind.Key, "all", [.. kind]);
        }

        if (list) foreach (var t in told.Where(t => t.Answer != "told")) Console.WriteLine(t.Where);
    }

    private static void Row(ChangeKind kind, string name, Told[] told)
    {
        int Count(string answer) => told.Count(t => t.Answer == answer);
        Console.WriteLine($"{kind,-14}{name,-12}{told.Length,5}{Count("told"),6}{Count("other"),12}{Count("open"),6}{Count("missed"),8}");
    }

    private static IEnumerable<Told> Heard(string horn, string[] line, double length, int step)
    {
        var instrument = Catalogue.Find(horn)!;
        var plan = Pairs.Plan(instrument, new PlanSettings(), 1, [.. line.Select(Pitch.Parse)]);
        var performance = Playing.Clean(plan);
        var struck = plan.Changes.Where(c => c.Kind is ChangeKind.NaturalSlur or ChangeKind.ValveSlur && Wrong(plan, c, step) is not null).ToList();
        performance = performance with { Changes = [.. plan.Changes.Select(c => struck.Contains(c) ? performance.Changes[c.Index] with { Crack = new(Wrong(plan, c, step)!.Value, Seconds.FromMilliseconds(length)) } : performance.Changes[c.Index])] };
        var take = Voice.Render(plan, performance);
        var heard = Listener.Listen(new Recording(take.Samples, take.Rate), plan);
        var judged = Diagnostician.Judge(heard, plan);
        foreach (var change in struck)
        {
            if (take.Truth.Changes[change.Index].Caught is not { } caught) continue;
            if (Off(caught, plan.Notes[change.FromNote]) < Apart || Off(caught, plan.Notes[change.ToNote]) < Apart) continue;
            var found = heard.Changes[change.Index];
            var answer = judged.Changes[change.Index].Verdicts.Contains(Verdict.Cracked) ? Math.Abs(found.CaughtPitch!.Value.Above(caught).Value) < Apart ? "told" : "other"
                : judged.Changes[change.Index].Verdicts.Any(v => v != Verdict.Clean) ? "open" : "missed";
            var (a, b) = (plan.Notes[change.FromNote], plan.Notes[change.ToNote]);
            yield return new(change.Kind, length, step, answer,
                $"{answer,-7}{horn,-17} {length,4:0} ms {a.Note.Pitch}-{b.Note.Pitch} {a.Setting!.Label}/{a.Setting.Partial}-{b.Setting!.Label}/{b.Setting.Partial} by {Wrong(plan, change, step)}: {caught.Value:0} Hz, heard {found.CaughtPitch?.Value:0}; {string.Join("; ", judged.Changes[change.Index].Findings.Select(f => $"{f.Verdict} {f.Basis}"))}");
        }
    }

    private static double Off(Hertz caught, PlannedNote note) => Math.Abs(caught.Above(note.Note.Pitch.Frequency(Hertz.A440)).Value);

    private static int? Wrong(Plan plan, NoteChange change, int step)
    {
        if (plan.Notes[change.FromNote].Setting is not { } from || plan.Notes[change.ToNote].Setting is not { } to) return null;
        var wrong = to.Partial + step;
        return wrong >= 2 && wrong <= plan.Instrument.HighestPartial && !(wrong == from.Partial && from.Side.Id == to.Side.Id) ? wrong : null;
    }
}
