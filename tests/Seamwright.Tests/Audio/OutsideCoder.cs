using System.Runtime.InteropServices;

namespace Seamwright.Tests.Audio;

/// <summary>The system's ffmpeg as an encoder for the tests and as an outside decoder to compare with.</summary>
internal static class OutsideCoder
{
    public const string Program = "/usr/bin/ffmpeg";

    private static readonly Lazy<string> Encoders = new(() => System.Text.Encoding.UTF8.GetString(Run("-hide_banner", "-encoders")));

    public static void Need(string encoder)
    {
        if (!File.Exists(Program)) Assert.Skip("reason: ffmpeg is missing");
        if (!Encoders.Value.Contains($" {encoder} ", StringComparison.Ordinal)) Assert.Skip($"reason: this ffmpeg has no encoder {encoder}");
    }

    /// <summary>Its own decode of a file, channels interleaved, at the file's rate.</summary>
    /// <remarks>Opus by its reference implementation: the other one in ffmpeg departs from it below 12 kHz.</remarks>
    public static float[] Decode(string path) =>
        MemoryMarshal.Cast<byte, float>(Run([.. path.EndsWith(".opus", StringComparison.Ordinal) ? ["-c:a", "libopus"] : Array.Empty<string>(), "-v", "quiet", "-i", path, "-map", "0:a:0", "-c:a", "pcm_f32le", "-f", "f32le", "-"])).ToArray();

    public static byte[] Run(params string[] arguments)
    {
        var ran = OutsideProgram.Run(Program, arguments);
        return arguments.Contains("quiet") ? ran.Output : ran.Well().Output;
    }
}
