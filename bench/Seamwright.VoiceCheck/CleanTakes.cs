using System.CommandLine;
using Seamwright.Core.Diagnosis;
using Seamwright.Core.Exercises;
using Seamwright.Core.Instruments;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Sound;

namespace Seamwright.VoiceCheck;

/// <summary>Clean playing of tunes and exercises: whatever is said of it is wrong.</summary>
internal static class CleanTakes
{
    private static readonly string[] Horns = ["tenor-straight", "tenor-f", "bass-independent", "alto-eb"];

    // What is said of every clean take, too.
    private static readonly string[] Fair = ["The slide went", "The arm moved evenly"];

    public static Command Command()
    {
        var folder = new Option<string>("--tunes") { Description = "Folder of MusicXML files.", DefaultValueFactory = _ => Path.Combine("src", "Seamwright.Cli", "Melodies"), HelpName = "DIR" };
        var horns = new Option<string[]>("-i") { Description = "Only these instruments." };
        var level = new Option<int>("--level") { Description = "Of the exercises.", DefaultValueFactory = _ => 3 };
        var most = new Option<int>("--most") { Description = "Exercises of a kind.", DefaultValueFactory = _ => 2 };
        var command = new Command("clean", "Tunes and exercises played as planned: what is told wrongly.") { folder, horns, level, most };
        command.SetAction(r => Run(r.GetValue(folder)!, r.GetValue(horns) is { Length: > 0 } some ? some : Horns, r.GetValue(level), r.GetValue(most)));
        return command;
    }

    private static void Run(string folder, string[] horns, int level, int most)
    {
        var (takes, changes, told, open, remarks) = (0, 0, 0, 0, 0);
        foreach (var (name, plan) in horns.Select(h => Catalogue.Find(h)!).SelectMany(h => Tunes(folder, h).Concat(Exercises(h, level, most))))
        {
            var take = Voice.Render(plan, Playing.Clean(plan));
            var diagnosis = Diagnostician.Judge(Listener.Listen(new Recording(take.Samples, take.Rate), plan), plan);
            var judged = diagnosis.Changes.Where(c => c.Kind != ChangeKind.Breath).ToList();
            (takes, changes) = (takes + 1, changes + judged.Count);
            open += judged.Count(c => c.Verdicts.Contains(Verdict.CannotTell)) + diagnosis.Notes.Count(n => n.Verdicts.Contains(Verdict.CannotTell));
            foreach (var c in judged)
            {
                foreach (var f in c.Findings.Where(f => f.Verdict is not (Verdict.Clean or Verdict.CannotTell))) Say(ref told, c.Index, $"{f.Verdict} {f.Basis}");
                foreach (var remark in c.Remarks.Where(Unfair)) Say(ref remarks, c.Index, remark);
            }

            foreach (var n in diagnosis.Notes)
            {
                foreach (var f in n.Findings.Where(f => f.Verdict is not (Verdict.Clean or Verdict.CannotTell))) Say(ref told, n.Index, $"{f.Verdict} {f.Basis}");
                foreach (var remark in n.Remarks.Where(Unfair)) Say(ref remarks, n.Index, remark);
            }

            void Say(ref int count, int index, string what)
            {
                count++;
                var note = plan.Notes[index];
                var next = index + 1 < plan.Notes.Length ? plan.Notes[index + 1] : note;
                Console.WriteLine($"{plan.Instrument.Id} {name} bar {note.Note.Bar} {index}: {note.Note.Pitch}-{next.Note.Pitch} {note.Setting?.Label}/{note.Setting?.Partial}-{next.Setting?.Label}/{next.Setting?.Partial} {note.Note.Duration.Milliseconds:0} ms: {what}");
            }
        }

        Console.WriteLine($"{takes} takes, {changes} changes: {told} verdicts, {remarks} remarks, {open} left open");
    }

    private static bool Unfair(string remark) => !Fair.Any(f => remark.StartsWith(f, StringComparison.Ordinal));

    private static IEnumerable<(string Name, Plan Plan)> Tunes(string folder, Instrument horn)
    {
        if (!Directory.Exists(folder)) throw new DirectoryNotFoundException($"There is no folder {folder}: run this where the sources are, or name a folder of tunes with --tunes.");
        foreach (var path in Directory.GetFiles(folder, "*.musicxml").Order(StringComparer.Ordinal))
        {
            using var stream = File.OpenRead(path);
            var score = AnyScore.Read(stream, Path.GetFileName(path));
            if (!score.Succeeded || PartChooser.Choose(score.Value, horn) is not { Succeeded: true } part) continue;
            if (Unfolder.Play(part.Value, score.Value.Title) is not { Succeeded: true } line) continue;
            if (Planner.Plan(line.Value, horn) is { Succeeded: true } plan) yield return (Path.GetFileNameWithoutExtension(path), plan.Value);
        }
    }

    private static IEnumerable<(string Name, Plan Plan)> Exercises(Instrument horn, int level, int most)
    {
        foreach (var kind in ExerciseMaker.Kinds)
        {
            var made = ExerciseMaker.Make(new ExerciseOrder { Kind = kind.Name }, Pupil.Of(horn, level: level));
            if (!made.Succeeded) continue;
            foreach (var exercise in made.Value.Exercises.Take(most)) yield return (exercise.Id, exercise.Plan);
        }
    }
}
