using Seamwright.Core.Instruments;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Sound;
using Seamwright.Core.Units;

namespace Seamwright.VoiceCheck;

/// <summary>Every fault over the whole of its range, at pairs of notes that nobody chose: drawn by a seed over the whole range of three horns.</summary>
internal static class Grid
{
    private const int Pairs = 14, WidestLeap = 12;

    private static readonly (string Horn, string Low, string High)[] Horns = [("tenor-straight", "E2", "D5"), ("tenor-f", "C2", "Bb4"), ("bass-independent", "Bb1", "F4")];

    private static readonly PlanSettings Settings = new() { Weights = CostWeights.Presets["plain-positions"], Player = new Player { Policy = TonguePolicy.EveryNote } };

    private readonly record struct Reading(double Made, double? Heard, bool Inside, string Where);

    public static void Run(Fault[] only, double[] exactly, uint seed, bool all)
    {
        var plans = Horns.Select(h => Drawn(h, seed)).ToArray();
        Console.WriteLine($"seed {seed}: {string.Join(", ", plans.Select(p => $"{p.Instrument.Id} {p.Changes.Length} changes, {p.Changes.Count(c => FaultAmounts.Applies(Fault.Smeared, c))} that smear"))}");
        Console.WriteLine("fault        asked   partials   made: worst   heard: median  nine of ten  worst    of  missed  in goal  inside");
        List<(Fault Fault, bool Across, double Goal, Reading[] Readings)> rows = [];
        foreach (var (fault, amounts) in Faults.Asked.Where(a => only.Length == 0 || only.Contains(a.Fault)))
        {
            foreach (var amount in exactly.Length > 0 ? exactly : amounts)
            {
                var readings = plans.SelectMany(p => Heard(p, fault, amount)).ToLookup(r => r.Across, r => r.Reading);
                foreach (var across in (bool[])[false, true])
                {
                    if (!Figures.IsAsked(fault, across) || !readings[across].Any() || (across && amount < FaultAmounts.LeastAcross(fault))) continue;
                    rows.Add((fault, across, Figures.Goal(fault), [.. readings[across]]));
                    if (all) foreach (var r in rows[^1].Readings.Where(r => !InGoal(r, rows[^1].Goal) || !r.Inside)) Console.WriteLine($"   {r.Where}");
                    Row($"{fault,-12} {amount,4:0} {FaultAmounts.Of(fault)!.Unit}  {(across ? "across" : "one"),-8}", rows[^1].Readings, rows[^1].Goal);
                }
            }
        }

        Console.WriteLine();
        foreach (var group in rows.GroupBy(r => (r.Fault, r.Across))) Row($"{group.Key.Fault,-12}          {(group.Key.Across ? "across" : "one"),-8}", [.. group.SelectMany(r => r.Readings)], group.First().Goal);
        var every = rows.SelectMany(r => r.Readings.Select(x => (Good: InGoal(x, r.Goal), x.Inside))).ToArray();
        Console.WriteLine($"in all {every.Length}: within the goal {100.0 * every.Count(e => e.Good) / every.Length:0.0} %, within the ear's interval {100.0 * every.Count(e => e.Inside) / every.Length:0.0} %");
    }

    private static IEnumerable<(bool Across, Reading Reading)> Heard(Plan plan, Fault fault, double amount)
    {
        var performance = Playing.Clean(plan) with { Changes = [.. plan.Changes.Select(c => Playing.Of(plan, c, fault, amount))] };
        var take = Voice.Render(plan, performance);
        var heard = Listener.Listen(new Recording(take.Samples, take.Rate), plan);
        foreach (var change in plan.Changes.Where(c => FaultAmounts.Applies(fault, c)))
        {
            var (truth, reading) = (take.Truth.Changes[change.Index], heard.Changes[change.Index]);
            var wanted = Figures.Wanted(fault, amount);
            var made = Figures.Made(fault, truth);
            var inside = Figures.Told(fault, reading) is { } told && made >= told.Low && made <= told.High;
            yield return (!Figures.OnOnePartial(plan, change), new((made ?? double.NaN) - wanted, Figures.Heard(fault, reading) - wanted, inside, Told(plan, change, fault, truth, reading)));
        }
    }

    private static string Told(Plan plan, NoteChange change, Fault fault, ChangeTruth truth, HeardChange heard)
    {
        var (a, b) = (plan.Notes[change.FromNote], plan.Notes[change.ToNote]);
        return $"{plan.Instrument.Id} {change.Index}: {a.Note.Pitch}-{b.Note.Pitch} {a.Setting!.Label}/{a.Setting.Partial}-{b.Setting!.Label}/{b.Setting.Partial}: made {Figures.Made(fault, truth):0.0} heard {Figures.Heard(fault, heard):0.0} [{Interval(Figures.Told(fault, heard))}] dip {truth.Dip?.Value:0.0} {heard.Dip?.Value:0.0} off {(heard.DipCentre - truth.DipCentre)?.Milliseconds:+0.0;-0.0} glide {truth.Glide?.Milliseconds:0} {heard.Glide?.Milliseconds:0} off {(heard.GlideCentre - truth.GlideCentre)?.Milliseconds:+0.0;-0.0}";
    }

    private static string Interval((double Low, double High)? told) => told is { } known ? $"{known.Low:0} to {known.High:0}" : "not told";

    private static bool InGoal(Reading reading, double goal) => Math.Abs(reading.Heard ?? double.MaxValue) <= goal;

    private static void Row(string head, Reading[] readings, double goal)
    {
        var ears = readings.Where(r => r.Heard is not null).Select(r => r.Heard!.Value).OrderBy(Math.Abs).ToArray();
        var made = readings.Select(r => r.Made).MaxBy(m => double.IsNaN(m) ? double.MaxValue : Math.Abs(m));
        Console.WriteLine($"{head} {made,13:0.0} {At(0.5),15:0.0} {At(0.9),12:0.0} {ears.LastOrDefault(),6:0.0} {readings.Length,5} {readings.Count(r => r.Heard is null),7} {100.0 * readings.Count(r => InGoal(r, goal)) / readings.Length,7:0} % {100.0 * readings.Count(r => r.Inside) / readings.Length,5:0} %");

        double At(double share) => ears.Length == 0 ? double.NaN : Math.Abs(ears[(int)(share * (ears.Length - 1))]);
    }

    // Notes one after another, each at most an octave from the last, until so many pairs would smear: a slide that moves with the pitch.
    private static Plan Drawn((string Horn, string Low, string High) horn, uint seed)
    {
        var instrument = Catalogue.Find(horn.Horn)!;
        var (low, high) = (Pitch.Parse(horn.Low).Midi, Pitch.Parse(horn.High).Midi);
        var noise = new SeededNoise(seed ^ (uint)horn.Horn.Length);
        List<int> notes = [(low + high) / 2];
        while (true)
        {
            var next = notes[^1] + (int)Math.Round(WidestLeap * noise.Uniform());
            if (next < low || next > high || next == notes[^1]) continue;
            notes.Add(next);
            if (notes.Count < Pairs + 1) continue;
            var plan = VoiceCheck.Pairs.Plan(instrument, Settings, 1.1, [.. notes.Select(Pitch.FromMidi)]);
            if (plan.Changes.Count(c => FaultAmounts.Applies(Fault.Smeared, c)) >= Pairs) return plan;
        }
    }
}
