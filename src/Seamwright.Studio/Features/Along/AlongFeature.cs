using System.Buffers.Binary;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;
using Seamwright.Audio;
using Seamwright.Core;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Sound.PlayAlong;
using Seamwright.Studio.Features.Piece;
using Seamwright.Studio.Serving;

namespace Seamwright.Studio.Features.Along;

/// <summary>The play-along of a piece in the browser: each voice of it apart, so that each has its own level, and the map of its moments.</summary>
internal static class AlongFeature
{
    private const double Slowest = 10, Fastest = 400;

    /// <summary>Samples a second, beside a voice's samples.</summary>
    public const string RateHeader = "Samples-Rate";

    // A sixth of a second at 48 kHz.
    private const int AtOnce = 8192;

    public static void MapAlong(this IEndpointRouteBuilder app)
    {
        app.MapGet("/music/{id:long}/along/moments.json", (PlannedPieces planned, long id, [AsParameters] Wish wish) => On(planned, id, wish, s =>
        {
            using var json = new MemoryStream();
            TimeMapJson.Write(s, "", json);
            return Results.Bytes(json.ToArray(), "application/json");
        }));
        app.MapGet("/music/{id:long}/along/{voice}.samples", (PlannedPieces planned, HttpResponse response, long id, string voice, [AsParameters] Wish wish) => On(planned, id, wish, s =>
            Alone(s.Settings, voice) is { } alone ? Running(s with { Settings = alone }, response) : Pages.NotFound()));
        app.MapGet("/music/{id:long}/along/{voice}.wav", (PlannedPieces planned, long id, string voice, [AsParameters] Wish wish) => On(planned, id, wish, s =>
            Alone(s.Settings, voice) is { } alone ? Wav(s with { Settings = alone }) : Pages.NotFound()));
    }

    /// <summary>How it is to be played.</summary>
    /// <param name="Tempo">Quarter notes a minute; null as planned.</param>
    /// <param name="Turns"><c>example</c> all through, <c>turns</c> phrase by phrase, or <c>you</c> alone. Default <c>example</c>.</param>
    /// <param name="CountIn">Bars, 0 to 8. Default 1.</param>
    internal sealed record Wish(double? Tempo, string? Turns, int? CountIn);

    private static IResult On(PlannedPieces planned, long id, Wish wish, Func<Schedule, IResult> use)
    {
        if (planned.Of(id) is not { } piece) return Pages.NotFound();
        if (!piece.Succeeded) return Told(piece.Problems);
        if (wish.Tempo is { } t && !(t is >= Slowest and <= Fastest)) return Pages.Words(StatusCodes.Status400BadRequest, $"{t} quarter notes a minute cannot be played; {Slowest} to {Fastest} can.");
        var plan = wish.Tempo is { } tempo && tempo != piece.Value.Plan.Line.Tempo.Marks[0].QuartersPerMinute ? piece.Value.Sheet.At(tempo) : Outcome<Plan>.Of(piece.Value.Plan);
        if (!plan.Succeeded) return Told(plan.Problems);
        var settings = new PlayAlongSettings { CountIn = wish.CountIn ?? 1, Drone = DroneNotes.Both, Turns = wish.Turns switch { "turns" => Core.Sound.PlayAlong.Turns.ExampleThenYou, "you" => Core.Sound.PlayAlong.Turns.YouOnly, _ => Core.Sound.PlayAlong.Turns.ExampleOnly } };
        var schedule = PlayAlongMaker.LayOut([plan.Value], settings);
        return schedule.Succeeded ? use(schedule.Value) : Told(schedule.Problems);
    }

    // The times stay those of the whole; only what sounds differs.
    private static PlayAlongSettings? Alone(PlayAlongSettings all, string voice)
    {
        var silent = all with { Click = ClickUse.None, Drone = DroneNotes.None, Chords = false };
        return voice switch
        {
            "example" => silent,
            "click" => silent with { Click = ClickUse.Throughout, Turns = Turns.YouOnly },
            "drone" => silent with { Drone = DroneNotes.Both, Turns = Turns.YouOnly },
            "chords" => silent with { Chords = true, Turns = Turns.YouOnly },
            _ => null,
        };
    }

    // 16 bits, little-endian, as they are made: the browser begins to play long before the last of them.
    private static IResult Running(Schedule schedule, HttpResponse response)
    {
        response.Headers[RateHeader] = schedule.Rate.Value.ToString(System.Globalization.CultureInfo.InvariantCulture);
        response.ContentLength = schedule.Length * (long)sizeof(short);
        return Results.Stream(async stream =>
        {
            var feed = PlayAlongMaker.Sound(schedule);
            var (samples, bytes) = (new float[AtOnce], new byte[AtOnce * sizeof(short)]);
            for (long at = 0; at < schedule.Length && !response.HttpContext.RequestAborted.IsCancellationRequested;)
            {
                var read = feed.Read(samples.AsSpan(0, (int)Math.Min(AtOnce, schedule.Length - at)));
                if (read == 0) break;
                for (var i = 0; i < read; i++) BinaryPrimitives.WriteInt16LittleEndian(bytes.AsSpan(i * sizeof(short)), (short)Math.Clamp(Math.Round(samples[i] * short.MaxValue), short.MinValue, short.MaxValue));
                await stream.WriteAsync(bytes.AsMemory(0, read * sizeof(short))).ConfigureAwait(false);
                at += read;
            }
        }, "application/octet-stream");
    }

    private static IResult Wav(Schedule schedule)
    {
        var feed = PlayAlongMaker.Sound(schedule);
        var samples = new float[schedule.Length];
        for (var at = 0; at < samples.Length;)
        {
            var read = feed.Read(samples.AsSpan(at));
            if (read == 0) break;
            at += read;
        }

        var wav = new MemoryStream();
        WavFile.Write(wav, new Recording(samples, schedule.Rate));
        return Results.Bytes(wav.ToArray(), "audio/wav");
    }

    private static IResult Told(IEnumerable<Problem> problems) => Pages.Words(StatusCodes.Status422UnprocessableEntity, string.Join(" ", problems));
}
