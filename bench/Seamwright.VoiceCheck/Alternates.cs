using System.CommandLine;
using Seamwright.Core.Instruments;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Sound;
using Seamwright.Core.Units;

namespace Seamwright.VoiceCheck;

/// <summary>Lines of which notes are played in another setting than planned, heard against the plan: what is said of the settings.</summary>
/// <remarks>One line for each alternative of each second note, every other note as planned. Right: the setting that was played is named, or only
/// that another one was, of either note. Wrong: another one, or anything about a note that was played as planned.</remarks>
internal static class Alternates
{
    private static readonly string[][] Lines =
    [
        ["Bb3", "A3", "G3", "F3", "D3", "Eb3", "F3", "G3", "Bb3", "C4", "D4", "C4", "A3", "F3"],
        ["F4", "D4", "F4", "Eb4", "C4", "D4", "Bb3", "G3", "Bb3", "F4", "E4", "D4", "Db4", "Bb3"],
        ["Bb2", "C3", "D3", "C3", "F3", "E3", "D3", "B2", "C3", "G3", "F3", "C3", "A2", "F2"],
    ];

    private static readonly string[] Horns = ["tenor-straight", "tenor-f", "bass-independent"];

    private readonly record struct Answer(string What, string Said, string Where);

    public static Command Command()
    {
        var list = new Option<bool>("--list") { Description = "Also every wrong answer." };
        var command = new Command("alternates", "Notes played in another setting than planned: named, misnamed, not told.") { list };
        command.SetAction(r => Run(r.GetValue(list)));
        return command;
    }

    private static void Run(bool list)
    {
        var answers = Horns.SelectMany(h => Lines.SelectMany(line => Heard(Catalogue.Find(h)!, line))).ToList();
        Console.WriteLine($"{"",-44}{"of",6}{"named",7}{"only that",11}{"misnamed",10}{"silent",8}");
        foreach (var row in answers.GroupBy(a => a.What).OrderBy(g => g.Key, StringComparer.Ordinal))
            Console.WriteLine($"{row.Key,-44}{row.Count(),6}{row.Count(a => a.Said == "named"),7}{row.Count(a => a.Said == "that"),11}{row.Count(a => a.Said == "misnamed"),10}{row.Count(a => a.Said == "silent"),8}");
        if (list) foreach (var a in answers.Where(a => a.Said != "silent" && (a.Said == "misnamed" || a.What.StartsWith("as", StringComparison.Ordinal)))) Console.WriteLine($"{a.Said} {a.Where}");
    }

    private static IEnumerable<Answer> Heard(Instrument horn, string[] line)
    {
        var plan = Pairs.Plan(horn, new PlanSettings(), 0.9, [.. line.Select(Pitch.Parse)]);
        for (var take = 0; ; take++)
        {
            // Every second note in its next alternative, as long as any has one.
            var locks = plan.Notes.Select(n => n.Setting is null ? null
                : n.Note.Index % 2 == 1 && take < n.Alternatives.Length ? new NoteLock(n.Note.Index, SettingPattern.Of(n.Alternatives[take].Setting)) : new NoteLock(n.Note.Index, SettingPattern.Of(n.Setting)));
            if (!plan.Notes.Any(n => n.Note.Index % 2 == 1 && take < n.Alternatives.Length)) yield break;
            var played = Pairs.Plan(horn, new PlanSettings { Locks = [.. locks.OfType<NoteLock>()] }, 0.9, [.. line.Select(Pitch.Parse)]);
            var sound = Voice.Render(played, Playing.Clean(played));
            var heard = Listener.Listen(new Recording(sound.Samples, sound.Rate), plan);
            foreach (var change in plan.Changes) yield return Of(plan, played, change, heard);
        }
    }

    private static Answer Of(Plan plan, Plan played, NoteChange change, Take heard)
    {
        var (asked, done) = (plan.Notes[change.ToNote].Setting!, played.Notes[change.ToNote].Setting!);
        var shown = PlayedSettings.Shown(heard.Changes[change.Index], plan);
        var (planBreaks, doneBreaks) = (Breaks(plan, change), Breaks(played, change));
        var against = shown is { } broke && broke != planBreaks;
        var named = heard.Notes[change.ToNote].PlayedSetting;
        var other = !asked.Equals(done);
        var what = planBreaks == doneBreaks ? other ? "other setting, breaks or slides alike" : "as planned" : planBreaks ? "slid where a break was planned" : "broke where a slide was planned";
        var said = named is not null ? named.Side.Id == done.Side.Id && named.Partial == done.Partial && other ? "named" : "misnamed"
            : against ? planBreaks != doneBreaks || other || !plan.Notes[change.FromNote].Setting!.Equals(played.Notes[change.FromNote].Setting) ? "that" : "misnamed" : "silent";
        return new(what, said, $"{plan.Instrument.Id} {Name(plan, change)} played {Name(played, change)}: shown {shown}, named {named?.Label}/{named?.Partial}");
    }

    private static string Name(Plan plan, NoteChange c)
    {
        var (a, b) = (plan.Notes[c.FromNote], plan.Notes[c.ToNote]);
        return $"{a.Note.Pitch}-{b.Note.Pitch} {a.Setting!.Label}/{a.Setting.Partial}-{b.Setting!.Label}/{b.Setting.Partial}";
    }

    private static bool Breaks(Plan plan, NoteChange c) =>
        plan.Notes[c.FromNote].Setting is { } a && plan.Notes[c.ToNote].Setting is { } b && (a.Side.Id != b.Side.Id || a.Partial != b.Partial);
}
