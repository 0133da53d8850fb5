using System.Diagnostics;
using System.Runtime.InteropServices;

namespace Seamwright.GroundTruth.Making;

/// <summary>The system's ffmpeg, without a shell: codecs there and back.</summary>
internal static class Ffmpeg
{
    private static readonly Lazy<bool> Found = new(() =>
    {
        try
        {
            return Run("-version").Length > 0;
        }
        catch (Exception e) when (e is System.ComponentModel.Win32Exception or InvalidDataException)
        {
            return false;
        }
    });

    public static bool IsThere => Found.Value;

    /// <summary>Any sound file as mono samples.</summary>
    public static float[] Decode(string path, int rate) =>
        MemoryMarshal.Cast<byte, float>(Run("-v", "error", "-i", path, "-ac", "1", "-ar", $"{rate}", "-f", "f32le", "pipe:1")).ToArray();

    /// <summary>Samples through a lossy codec, brought back to their own place in time by the lag of best correlation.</summary>
    /// <param name="wav">A file of the sound.</param>
    /// <param name="sound">The same sound.</param>
    /// <param name="rate">Samples a second.</param>
    /// <param name="codec">Of ffmpeg.</param>
    /// <param name="container">Ending of the file in between.</param>
    /// <param name="bitRate">As ffmpeg wants it.</param>
    public static float[] Through(string wav, float[] sound, int rate, string codec, string container, string bitRate)
    {
        var between = wav + "." + container;
        try
        {
            Run("-v", "error", "-y", "-i", wav, "-c:a", codec, "-b:a", bitRate, between);
            return Aligned(Decode(between, rate), sound, rate);
        }
        finally
        {
            File.Delete(between);
        }
    }

    private static float[] Aligned(float[] decoded, float[] sound, int rate)
    {
        var most = rate / 15;
        var best = Enumerable.Range(-most, (2 * most) + 1).MaxBy(lag => Correlation(decoded, sound, lag));
        var aligned = new float[sound.Length];
        for (var i = 0; i < aligned.Length; i++)
            if (i + best >= 0 && i + best < decoded.Length) aligned[i] = decoded[i + best];
        return aligned;
    }

    // Every seventh sample of the first four seconds tells the lag well enough.
    private static double Correlation(float[] decoded, float[] sound, int lag)
    {
        var sum = 0.0;
        for (var i = Math.Max(0, -lag); i < Math.Min(200_000, Math.Min(sound.Length, decoded.Length - lag)); i += 7) sum += sound[i] * decoded[i + lag];
        return sum;
    }

    private static byte[] Run(params string[] arguments)
    {
        using var process = Process.Start(new ProcessStartInfo("ffmpeg", arguments) { RedirectStandardOutput = true, RedirectStandardInput = true, RedirectStandardError = true })!;
        process.StandardInput.Close();
        var complaint = process.StandardError.ReadToEndAsync();
        using var output = new MemoryStream();
        process.StandardOutput.BaseStream.CopyTo(output);
        process.WaitForExit();
        return process.ExitCode == 0 ? output.ToArray() : throw new InvalidDataException($"ffmpeg {string.Join(' ', arguments)}: {complaint.Result}");
    }
}
