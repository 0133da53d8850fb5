using Seamwright.Core;
using Seamwright.Core.Diagnosis;
using Seamwright.Core.Instruments;
using Seamwright.Core.Listening;
using Seamwright.Core.Listening.Free;
using Seamwright.Core.Planning;

namespace Seamwright.Cli.Input;

/// <summary>A recording, measured and judged.</summary>
/// <param name="Plan">What was asked.</param>
/// <param name="Take">What was heard.</param>
/// <param name="Diagnosis">What it means.</param>
internal sealed record HeardTake(Plan Plan, Take Take, Diagnosis Diagnosis)
{
    /// <summary>Listens and judges; problems of the file are carried into the take.</summary>
    public static HeardTake Of(Recording recording, Plan plan, IEnumerable<Problem> fileProblems)
    {
        var take = Listener.Listen(recording, plan);
        take = take with { Problems = [.. fileProblems, .. take.Problems] };
        return new HeardTake(plan, take, Diagnostician.Judge(take, plan));
    }

    /// <summary>As the other, without a part.</summary>
    public static HeardTake Of(Recording recording, Instrument instrument, IEnumerable<Problem> fileProblems)
    {
        var free = FreeListener.Listen(recording, instrument);
        var take = free.Take with { Problems = [.. fileProblems, .. free.Take.Problems] };
        return new HeardTake(free.Plan, take, Diagnostician.Judge(take, free.Plan));
    }

    public void WriteJson(Stream stream) => TakeJson.Write(Take, Diagnosis, Plan, stream);

    public void WriteText(TextWriter writer) => TakeText.Write(Take, Diagnosis, Plan, writer);

    public void WriteText(Stream stream)
    {
        using var writer = new StreamWriter(stream, leaveOpen: true);
        WriteText(writer);
    }

    public void WriteTrack(string path) => Files.Write(path, stream =>
    {
        using var writer = new StreamWriter(stream, leaveOpen: true);
        TrackCsv.Write(Take.Track, writer);
    });

    public void WriteReport(string path) => Files.Write(path, stream =>
    {
        using var writer = new StreamWriter(stream, leaveOpen: true);
        ReportPage.Write(Take, Diagnosis, Plan, Plan.Line.Title, writer);
    });
}
