using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;
using Seamwright.Core.Listening;
using Seamwright.GroundTruth.Making;
using Seamwright.GroundTruth.Measuring;
using Seamwright.GroundTruth.Parts;
using Seamwright.GroundTruth.Truth;

namespace Seamwright.GroundTruth.Peers;

/// <summary>Our track and other trackers' on the same takes with the same scoring, each moved by its own best constant lag.</summary>
internal static class PeerTable
{
    private sealed record Row(string Name, FrameCounts Stable, FrameCounts Moving, FrameCounts Low, FrameCounts Hard, FrameCounts Asked, FrameCounts Doubled, double Speed, double LagMs);

    // The goal is asked of the first, twice its errors of the second.
    private static readonly string[] Asked = ["clean", "noise40", "noise30"], Doubled = ["noise20", "reverb0.4"];

    private static readonly JsonSerializerOptions Options = new(JsonSerializerOptions.Web) { WriteIndented = true };

    /// <summary>Runs them all.</summary>
    /// <param name="folder">Made by <c>make</c>.</param>
    /// <param name="output">For the table.</param>
    /// <param name="json">For the same rows, or null.</param>
    public static void Print(string folder, TextWriter output, string? json)
    {
        var truths = Measurement.Truths(folder);
        var files = truths.Select(t => Path.Combine(folder, t.Name + ".wav")).ToList();
        var recordings = files.ConvertAll(TakeWriter.ReadWav);
        var judges = truths.Select(t => new FrameJudge(t, Curves.ReadCsv(Path.Combine(folder, t.Name + ".csv")))).ToList();
        var seconds = truths.Sum(t => t.DurationSeconds);
        var rows = Runs(folder, truths, recordings, [.. files.Zip(recordings, (f, r) => (f, r.Rate.Value))], output)
            .Select(run => Scored(run, truths, judges, seconds)).ToList();
        Write(rows, seconds, truths.Count, output);
        if (json is not null) File.WriteAllText(json, JsonSerializer.Serialize(rows, Options) + "\n");
    }

    private static IEnumerable<PeerRun> Runs(
        string folder, IReadOnlyList<TruthFile> truths, List<Recording> recordings, IReadOnlyList<(string Path, int Rate)> files, TextWriter output)
    {
        yield return Ours(folder, truths, recordings);
        yield return AutocorrelationPeer.Run(recordings);
        (string What, Func<PeerRun?> Run)[] others =
        [
            ("aubiopitch (Debian: aubio-tools)", () => AubioPeer.Run("yinfft", 4096, files)),
            ("aubiopitch (Debian: aubio-tools)", () => AubioPeer.Run("yinfast", 4096, files)),
            ("aubiopitch (Debian: aubio-tools)", () => AubioPeer.Run("yinfast", 2048, files)),
            ($"pitchy (npm ci in {NodePeer.Folder})", () => NodePeer.Run("pitchy", "McLeod (pitchy, 4096)", files)),
            ($"essentia.js (npm ci in {NodePeer.Folder})", () => NodePeer.Run("essentia", "YIN-FFT (essentia.js, 4096)", files)),
        ];
        foreach (var (what, run) in others)
        {
            if (run() is { } done) yield return done;
            else output.WriteLine($"Left out: {what} is missing.");
        }
    }

    private static PeerRun Ours(string folder, IReadOnlyList<TruthFile> truths, List<Recording> recordings)
    {
        var plans = truths.Select(t => PartPlan.Read(Path.Combine(folder, t.Part), t.Instrument)).ToList();
        var cost = 0.0;
        var tracks = ImmutableArray.CreateBuilder<PeerTrack>();
        TakeJudge.Listen(recordings[0], plans[0]);
        for (var i = 0; i < truths.Count; i++)
        {
            var (take, spent) = TakeJudge.Listen(recordings[i], plans[i]);
            cost += spent;
            tracks.Add(new PeerTrack(take.Track.Start.Value, take.Track.Hop.Value, [.. take.Track.Frames.Select(f => f.Pitch?.Value ?? 0)]));
        }

        return new PeerRun("Seamwright (whole of Listen)", tracks.ToImmutable(), cost, IsOurs: true);
    }

    private static Row Scored(PeerRun run, IReadOnlyList<TruthFile> truths, List<FrameJudge> judges, double seconds)
    {
        // A coarse search over the clean takes, then a fine one around its best.
        var clean = Enumerable.Range(0, truths.Count).Where(i => truths[i].Condition == "clean").ToList();
        var coarse = Enumerable.Range(-20, 61).Select(k => k * 0.0025).MaxBy(lag => Right(run, judges, clean, lag));
        var lag = Enumerable.Range(-4, 9).Select(k => coarse + (k * 0.0005)).MaxBy(l => Right(run, judges, clean, l));

        // Ours gets no such help: it must have none.
        var taken = run.IsOurs ? 0 : lag;
        var (stable, moving, low, hard) = (default(FrameCounts), default(FrameCounts), default(FrameCounts), default(FrameCounts));
        var (asked, doubled) = (default(FrameCounts), default(FrameCounts));
        for (var i = 0; i < truths.Count; i++)
        {
            var track = run.Tracks[i];
            var counts = judges[i].Count(t => track.At(t + taken));
            (stable, moving, low) = (stable + counts.Stable, moving + counts.Moving, low + counts.Low);
            if (truths[i].Condition != "clean") hard += counts.Stable + counts.Moving;
            if (Asked.Contains(truths[i].Condition)) asked += counts.Stable + counts.Moving;
            if (Doubled.Contains(truths[i].Condition)) doubled += counts.Stable + counts.Moving;
        }

        return new Row(run.Name, stable, moving, low, hard, asked, doubled, seconds / Math.Max(run.Cost, 1e-9), 1000 * lag);
    }

    private static int Right(PeerRun run, List<FrameJudge> judges, List<int> takes, double lag)
    {
        var sum = 0;
        foreach (var i in takes)
        {
            var (stable, moving, _) = judges[i].Count(t => run.Tracks[i].At(t + lag));
            sum += stable.In25 + moving.In25;
        }

        return sum;
    }

    private static void Write(List<Row> rows, double seconds, int takes, TextWriter output)
    {
        output.WriteLine();
        output.WriteLine($"Pitch on {takes} takes, {seconds:0} s: per cent of sounding frames");
        output.WriteLine($"{"",-29}{"all",6}{"",6}{"",6}{"oct.",6}{"moving",7}{"",6}{"low",6}{"hard",6}");
        output.WriteLine($"{"tracker",-29}{"50",6}{"25",6}{"10",6}{"err.",6}{"50",7}{"25",6}{"25",6}{"25",6} x real lag");
        foreach (var r in rows)
        {
            var all = r.Stable + r.Moving;
            output.WriteLine(string.Create(CultureInfo.InvariantCulture,
                $"{r.Name,-29}{P(all.In50, all),6}{P(all.In25, all),6}{P(all.In10, all),6}{P(all.Octave, all),6}{P(r.Moving.In50, r.Moving),7}{P(r.Moving.In25, r.Moving),6}{P(r.Low.In25, r.Low),6}{P(r.Hard.In25, r.Hard),6}{r.Speed,6:0}{r.LagMs,5:0}"));
        }

        output.WriteLine("moving: within 30 ms of a glide; low: notes below Bb2; hard: noise, rooms, codecs.");
        output.WriteLine("x real: seconds of sound a second of one core; lag: ms, best for it, taken out of all but ours.");
        if (rows.Count < 2) return;
        output.WriteLine("Frames not within 25 cents, stable and moving:");
        Ratio("clean, 40 and 30 dB (goal 0.25)", r => r.Asked);
        Ratio("20 dB and the room of 0.4 s (0.5)", r => r.Doubled);
        Ratio("all", r => r.Stable + r.Moving);

        void Ratio(string label, Func<Row, FrameCounts> of)
        {
            double Wrong(Row row) => 100.0 * (of(row).Total - of(row).In25) / of(row).Total;
            if (of(rows[0]).Total == 0) return;
            var (ours, best) = (Wrong(rows[0]), rows.Skip(1).Min(Wrong));
            output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"  {label,-35} ours {ours:0.00} %, best peer {best:0.00} %, ratio {ours / best:0.00}"));
        }
    }

    private static string P(int part, FrameCounts of) => of.Total == 0 ? "-" : (100.0 * part / of.Total).ToString("0.0", CultureInfo.InvariantCulture);
}
