using System.Net.WebSockets;
using System.Runtime.InteropServices;
using System.Text.Json;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;
using Seamwright.Core.Units;
using Seamwright.Studio.Serving;

namespace Seamwright.Studio.Features.Live;

/// <summary>Pitch, level and touches while somebody plays.</summary>
internal static class LiveFeature
{
    private const int LeastRate = 8_000, MostRate = 192_000, LargestBlock = 64_000;

    // What an ear has heard it keeps; a new one begins in a silence after this time.
    private const double LongestEar = 120;

    public static void MapLive(this IEndpointRouteBuilder app)
    {
        app.MapGet("/live", () => Pages.Of<LivePage>());
        app.Map("/live/sound", Hear);
    }

    /// <summary>Takes blocks of 32-bit samples, gives back frames as JSON: <c>[seconds, hertz or null, decibels]</c> each, and touches.</summary>
    private static async Task Hear(HttpContext context, int rate)
    {
        if (!context.WebSockets.IsWebSocketRequest || rate is < LeastRate or > MostRate)
        {
            context.Response.StatusCode = StatusCodes.Status400BadRequest;
            return;
        }

        using var socket = await context.WebSockets.AcceptWebSocketAsync();
        var listening = new LiveListening(new SampleRate(rate), new Seconds(LongestEar));
        var block = new byte[LargestBlock];
        while (await Next(socket, block, context.RequestAborted) is { } length)
        {
            var told = listening.Push(MemoryMarshal.Cast<byte, float>(block.AsSpan(0, length - (length % 4))));
            if (told is not null) await socket.SendAsync(JsonSerializer.SerializeToUtf8Bytes(told), WebSocketMessageType.Text, endOfMessage: true, context.RequestAborted);
        }
    }

    // Null at the end.
    private static async Task<int?> Next(WebSocket socket, byte[] block, CancellationToken stop)
    {
        try
        {
            var length = 0;
            while (true)
            {
                var got = await socket.ReceiveAsync(block.AsMemory(length), stop);
                if (got.MessageType == WebSocketMessageType.Close) return null;
                length += got.Count;
                if (got.EndOfMessage) return length;
                if (length == block.Length) return null;
            }
        }
        catch (Exception e) when (e is WebSocketException or OperationCanceledException)
        {
            return null;
        }
    }
}
