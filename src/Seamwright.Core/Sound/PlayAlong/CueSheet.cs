using Seamwright.Core.Planning;
using Seamwright.Core.Units;

namespace Seamwright.Core.Sound.PlayAlong;

/// <summary>When each bar of each round comes, for reading beside the sound.</summary>
public static class CueSheet
{
    private const int Width = 78;

    /// <summary>Writes the sheet, no line wider than 80 columns unless the title is.</summary>
    public static void Write(Schedule schedule, TextWriter writer)
    {
        var plan = schedule.Rounds[0].Plan;
        writer.WriteLine(plan.Line.Title.Length > 0 ? plan.Line.Title : "Untitled");
        writer.WriteLine($"{KeyOf(plan)}, {plan.Instrument.Id}, {Clock(schedule, schedule.WithRing)} in all");
        if (schedule.Faults.Fault != Fault.None) WriteFaults(schedule, writer);
        var moments = TimeMap.Of(schedule);
        var next = 0;
        for (var s = 0; s < schedule.Sections.Length; s++)
        {
            var section = schedule.Sections[s];
            if (s == 0 || section.Round != schedule.Sections[s - 1].Round) WriteRound(schedule, section.Round, writer);
            var bars = new List<string>();
            for (; next < moments.Length && moments[next].Section == s; next++)
            {
                var m = moments[next];
                if (section.Phrase is not null && (bars.Count == 0 || m.Beat == Beats.Quarter || m.Bar != moments[next - 1].Bar)) bars.Add($"{m.Bar} {Clock(schedule, schedule.Rate.ToSamples(m.Time))}".Trim());
            }

            WriteSection(schedule, section, bars, writer);
        }
    }

    /// <summary>The key of a plan's first bar, for instance <c>B♭ major</c>.</summary>
    public static string KeyOf(Plan plan) => plan.Line.Bars[0].Key.ToDisplay();

    private static void WriteFaults(Schedule schedule, TextWriter writer)
    {
        var faults = schedule.Faults;
        Wrap(writer, $"The examples are wrong on purpose: {faults}, at {(faults.Changes.Length == 1 ? "change" : "changes")}", [.. faults.Changes.Select(c => $"{c}")]);
        var rounds = schedule.Rounds.Select(r => faults.Otherwise(r.Plan).ToList()).ToList();
        for (var i = 0; i < rounds.Count; i++)
        {
            if (rounds[i].Count == 0 || (i > 0 && rounds[i].SequenceEqual(rounds[i - 1]))) continue;
            var where = rounds.TrueForAll(r => r.SequenceEqual(rounds[0])) ? "As the notes allow, at change" : $"In round {i + 1} as the notes allow, at change";
            Wrap(writer, where, [.. rounds[i].Select(c => $"{c.Change}: {c.Much:0} {FaultAmounts.Of(faults.Fault)!.Unit}")]);
        }
    }

    private static void Wrap(TextWriter writer, string line, string[] items)
    {
        for (var i = 0; i < items.Length; i++)
        {
            var item = items[i] + (i + 1 < items.Length ? "," : ".");
            if (line.Length + 1 + item.Length > Width)
            {
                writer.WriteLine(line);
                line = " ";
            }

            line += " " + item;
        }

        writer.WriteLine(line);
    }

    private static void WriteRound(Schedule schedule, int round, TextWriter writer)
    {
        writer.WriteLine();
        writer.WriteLine($"Round {round}, quarter = {schedule.Rounds[round - 1].Tempo:0.##}");
    }

    private static void WriteSection(Schedule schedule, Section section, List<string> bars, TextWriter writer)
    {
        var who = section.Kind switch
        {
            SectionKind.CountIn => "count-in",
            SectionKind.Wait => "wait",
            SectionKind.Example => "example",
            _ => "you",
        };
        var phrase = section.Phrase is not null ? $"phrase {section.PhraseNumber}, " : "";
        var head = $"  {Clock(schedule, section.Start),8}  {phrase}{who}";
        writer.WriteLine(head);
        var line = "";
        foreach (var bar in bars)
        {
            if (line.Length > 0 && 12 + line.Length + 3 + bar.Length > Width)
            {
                writer.WriteLine(new string(' ', 12) + line);
                line = "";
            }

            line += (line.Length > 0 ? "   " : bars[0] == bar ? "bar " : "    ") + bar;
        }

        if (line.Length > 0) writer.WriteLine(new string(' ', 12) + line);
    }

    /// <summary>A sample's time as minutes, seconds and tenths: <c>1:04.5</c>.</summary>
    public static string Clock(Schedule schedule, long samples)
    {
        var tenths = (long)Math.Round(schedule.Rate.ToSeconds(samples).Value * 10);
        return $"{tenths / 600}:{tenths / 10 % 60:00}.{tenths % 10}";
    }
}
