using Seamwright.Core.Diagnosis;
using Seamwright.Core.Instruments;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Units;
using Seamwright.GroundTruth.Making;
using Seamwright.GroundTruth.Parts;

namespace Seamwright.GroundTruth.Measuring;

/// <summary>Wrong partials on natural and valve slurs from every source but our own voice: what is told of them, and of the same slurs played clean.</summary>
internal static class CrackTable
{
    private const double Apart = 100, LeadIn = 0.4, Tail = 0.6;

    private static readonly double[] Lengths = [0, 50, 80, 100, 150];

    private static readonly int[] Steps = [2, 1, -1, -2];

    private static readonly bool[] Ways = [false, true];

    private static readonly (string Horn, int Lowest, int Highest)[] Horns = [("tenor-straight", 40, 67), ("tenor-f", 36, 67), ("bass-independent", 34, 62)];

    private readonly record struct Told(string Source, ChangeKind Kind, double Length, string Answer, string Where);

    /// <summary>Makes, hears and counts.</summary>
    /// <param name="seed">The same seed gives the same slurs.</param>
    /// <param name="count">Slurs on each horn.</param>
    /// <param name="sources">Voices; each is let go of.</param>
    /// <param name="list">Whether every crack that is not told, and every one told of a clean slur, is listed.</param>
    /// <param name="to">Printed to.</param>
    public static void Print(int seed, int count, IEnumerable<IVoice> sources, bool list, TextWriter to)
    {
        var told = new List<Told>();
        foreach (var source in sources)
        {
            using (source) told.AddRange(Horns.SelectMany(h => Heard(source, h.Horn, SlurPairs.Draw(Catalogue.Find(h.Horn)!, h.Lowest, h.Highest, count, new Random(seed)), seed)));
        }

        to.WriteLine($"{"source",-24}{"kind",-13}{"",-8}{"of",5}{"told",6}{"other pitch",12}{"open",6}{"missed",8}");
        foreach (var group in told.GroupBy(t => (t.Source, t.Kind)))
        {
            foreach (var length in group.GroupBy(t => t.Length)) Row(to, group.Key.Source, group.Key.Kind, length.Key, [.. length]);
        }

        if (list) foreach (var t in told.Where(t => t.Length > 0 ? t.Answer != "told" : t.Answer != "missed")) to.WriteLine(t.Where);
    }

    private static void Row(TextWriter to, string source, ChangeKind kind, double length, Told[] told)
    {
        int Count(string answer) => told.Count(t => t.Answer == answer);
        to.WriteLine($"{source,-24}{kind,-13}{(length > 0 ? $"{length:0} ms" : "clean"),-8}{told.Length,5}{Count("told"),6}{Count("other"),12}{Count("open"),6}{Count("missed"),8}");
    }

    private static IEnumerable<Told> Heard(IVoice voice, string horn, Plan plan, int seed) =>
        Ways.SelectMany(joined => Lengths.SelectMany(length => Take(voice, horn, plan, seed, joined, length)));

    private static IEnumerable<Told> Take(IVoice voice, string horn, Plan plan, int seed, bool joined, double length)
    {
        // The same seed for every length: only the crack differs.
        var random = new Random(seed);
        var slurs = plan.Changes.Where(c => c.Kind is ChangeKind.NaturalSlur or ChangeKind.ValveSlur).Select(c => (Change: c, Slur: Of(plan, c, random, length / 1000))).Where(s => s.Slur is not null).ToList();
        var samples = new float[(int)((LeadIn + plan.Notes[^1].Note.EndTime.Value + Tail) * voice.Rate)];
        foreach (var (change, slur) in slurs)
        {
            var (first, last) = (plan.Notes[change.FromNote].Note, plan.Notes[change.ToNote].Note);
            var at = (int)((LeadIn + first.StartTime.Value) * voice.Rate);
            var sound = slur!.Play(voice, joined, (last.EndTime - first.StartTime).Value);
            for (var i = 0; i < sound.Length && at + i < samples.Length; i++) samples[at + i] += sound[i];
        }

        var heard = Listener.Listen(new Recording(samples, new SampleRate(voice.Rate)), plan);
        var judged = Diagnostician.Judge(heard, plan);
        foreach (var (change, slur) in slurs)
        {
            var (found, judgement) = (heard.Changes[change.Index], judged.Changes[change.Index]);
            var wrong = Math.Pow(2, slur!.Wrong);
            var answer = judgement.Verdicts.Contains(Verdict.Cracked) ? length > 0 && Math.Abs(found.CaughtPitch!.Value.Above(new Hertz(wrong)).Value) >= Apart ? "other" : "told"
                : judgement.Verdicts.Contains(Verdict.CannotTell) ? "open" : "missed";
            var (a, b) = (plan.Notes[change.FromNote], plan.Notes[change.ToNote]);
            var source = $"{voice.Name} {(joined ? "joined" : "bent")}";
            yield return new(source, change.Kind, length, answer,
                $"{answer,-7}{source,-23} {horn,-17} {length,4:0} ms {a.Note.Pitch}-{b.Note.Pitch} {a.Setting!.Label}/{a.Setting.Partial}-{b.Setting!.Label}/{b.Setting.Partial}: {wrong:0} Hz, heard {found.CaughtPitch?.Value:0}; {string.Join("; ", judgement.Findings.Select(f => $"{f.Verdict} {f.Basis}"))}");
        }
    }

    // Null where no other partial of the new setting lies clear of both notes.
    private static CrackedSlur? Of(Plan plan, NoteChange change, Random random, double length)
    {
        var (a, b) = (plan.Notes[change.FromNote], plan.Notes[change.ToNote]);
        var (jump, width, lead) = (0.004 + (0.010 * random.NextDouble()), 0.015 + (0.02 * random.NextDouble()), 0.02 * (random.NextDouble() - 0.5));
        var dips = (4 + (8 * random.NextDouble()), 4 + (8 * random.NextDouble()));
        var turn = random.Next(Steps.Length);
        if (a.Setting is null || b.Setting is not { } to) return null;
        var (from, into) = (Log2(plan, a), Log2(plan, b));
        for (var i = 0; i < Steps.Length; i++)
        {
            var partial = to.Partial + Steps[(turn + i) % Steps.Length];
            if (partial < 2 || partial > plan.Instrument.HighestPartial) continue;
            var wrong = Math.Log2(plan.Instrument.Sounding(to.Side, partial, to.Travel).Value);
            if (1200 * Math.Min(Math.Abs(wrong - from), Math.Abs(wrong - into)) >= Apart) return new(from, into, wrong, length, dips, width, jump, lead);
        }

        return null;
    }

    private static double Log2(Plan plan, PlannedNote note) => Math.Log2(note.Note.Pitch.Frequency(plan.Instrument.A4).Value);
}
