using Seamwright.Audio;
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
    /// <summary>Listens while the file is read, and judges; problems of the file are carried into the take.</summary>
    public static HeardTake Of(SoundStream sound, Plan plan)
    {
        var ear = new LiveEar(sound.Rate, expected: Listener.PitchesOf(plan));
        Fill(ear, sound);
        var take = Listener.Listen(ear, plan).Completed();
        take = take with { Problems = [.. sound.Problems, .. take.Problems] };
        return new HeardTake(plan, take, Diagnostician.Judge(take, plan));
    }

    /// <summary>As the other, without a part.</summary>
    public static HeardTake Of(SoundStream sound, Instrument instrument)
    {
        var ear = new LiveEar(sound.Rate);
        Fill(ear, sound);
        var free = FreeListener.Listen(ear, instrument);
        var take = free.Take with { Problems = [.. sound.Problems, .. free.Take.Problems] };
        return new HeardTake(free.Plan, take, Diagnostician.Judge(take, free.Plan));
    }

    private static void Fill(LiveEar ear, SoundStream sound)
    {
        var block = new float[1 << 15];
        for (var read = sound.Read(block); read > 0; read = sound.Read(block)) ear.Push(block.AsSpan(0, read));
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
}
