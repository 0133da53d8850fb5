using System.Globalization;
using Seamwright.GroundTruth.Making;
using Seamwright.GroundTruth.Parts;
using Seamwright.GroundTruth.Truth;

namespace Seamwright.GroundTruth.Measuring;

/// <summary>Every sounding frame whose pitch is heard more than 25 cents off, with where it lies in its change.</summary>
internal static class WrongFrames
{
    private const double Off = 25;

    /// <summary>Writes one line a frame (comma-separated, a header first).</summary>
    /// <param name="folder">Made by <c>make</c>.</param>
    /// <param name="wanted">Which takes.</param>
    /// <param name="output">Where the lines go.</param>
    public static void Write(string folder, Func<TruthFile, bool> wanted, TextWriter output)
    {
        output.WriteLine("take,condition,source,seconds,moving,truthHz,heardHz,cents,strength,levelBelowNote,change,kind,shape,moveMs,semitones,fromMoveStartMs,fromMoveEndMs,dipDb,gapMs,fitGlideMs,fitBreak,lowHz,truthCentsPer10Ms");
        foreach (var truth in Measurement.Truths(folder).Where(wanted)) Write(folder, truth, output);
    }

    private static void Write(string folder, TruthFile truth, TextWriter output)
    {
        var recording = TakeWriter.ReadWav(Path.Combine(folder, truth.Name + ".wav"));
        var take = Core.Listening.Listener.Listen(recording, PartPlan.Read(Path.Combine(folder, truth.Part), truth.Instrument));
        var curve = Curves.ReadCsv(Path.Combine(folder, truth.Name + ".csv"));
        foreach (var (time, hz, note, moves) in new FrameJudge(truth, curve).Sounding())
        {
            var i = (int)Math.Round(time / take.Track.Hop.Value);
            var frame = i < take.Track.Frames.Length ? take.Track.Frames[i] : default;
            var cents = frame.Pitch is { } p ? 1200 * Math.Log2(p.Value / hz) : double.NaN;
            if (Math.Abs(cents) <= Off) continue;
            var c = truth.Changes.MinBy(x => Math.Max(0, Math.Max(x.MoveStart - time, time - x.MoveEnd)));
            var heard = c is null ? null : take.Changes[c.Index];
            output.WriteLine(string.Join(',', truth.Name, truth.Condition, truth.Source, F(time), moves ? 1 : 0, F(hz), F(frame.Pitch?.Value), F(cents), F(frame.Periodicity), F(note.LevelDb - curve[i].LevelDb),
                c?.Index, c?.Kind, c?.Shape, F(1000 * (c?.MoveEnd - c?.MoveStart)), F(c?.ToMidi - c?.FromMidi), F(1000 * (time - c?.MoveStart)), F(1000 * (time - c?.MoveEnd)), F(c?.DipDb), F(c?.GapMs),
                F(heard?.Glide?.Milliseconds), F(heard?.Break?.Semitones), F(Math.Min(Hz(c?.FromMidi), Hz(c?.ToMidi))), F(Around(curve, i))));
        }
    }

    // How far the truth moves from the frame before to the frame after.
    private static double? Around((double? Hertz, double LevelDb)[] curve, int i) =>
        i > 0 && i + 1 < curve.Length && curve[i - 1].Hertz is { } a && curve[i + 1].Hertz is { } b ? Math.Abs(1200 * Math.Log2(b / a)) : null;

    private static double Hz(int? midi) => 440 * Math.Pow(2, ((midi ?? 69) - 69) / 12.0);

    private static string F(double? value) => value is { } v && double.IsFinite(v) ? v.ToString("0.####", CultureInfo.InvariantCulture) : "";
}
