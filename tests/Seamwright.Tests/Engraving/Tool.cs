using System.ComponentModel;
using System.Diagnostics;

namespace Seamwright.Tests.Engraving;

/// <summary>Programs of the system that look at a PDF with other eyes than ours.</summary>
internal static class Tool
{
    public static bool Exists(string name)
    {
        try
        {
            using var process = Process.Start(new ProcessStartInfo(name, "-v") { RedirectStandardError = true, RedirectStandardOutput = true });
            process!.WaitForExit();
            return true;
        }
        catch (Win32Exception)
        {
            return false;
        }
    }

    public static string PdfToText(byte[] pdf, bool layout = true) => InFolder(pdf, folder =>
    {
        Run("pdftotext", [.. layout ? ["-layout"] : Array.Empty<string>(), Path.Combine(folder, "in.pdf"), Path.Combine(folder, "out.txt")]);
        return File.ReadAllText(Path.Combine(folder, "out.txt"));
    });

    /// <summary>The pages as grey pictures in the PGM format, one byte a dot after a header.</summary>
    public static IReadOnlyList<byte[]> Pictures(byte[] pdf, int dotsPerInch) => InFolder(pdf, folder =>
    {
        Run("pdftoppm", "-gray", "-r", $"{dotsPerInch}", Path.Combine(folder, "in.pdf"), Path.Combine(folder, "page"));
        return Directory.GetFiles(folder, "page*.pgm").Order(StringComparer.Ordinal).Select(File.ReadAllBytes).ToList();
    });

    private static T InFolder<T>(byte[] pdf, Func<string, T> work)
    {
        var folder = Directory.CreateTempSubdirectory("seamwright-");
        try
        {
            File.WriteAllBytes(Path.Combine(folder.FullName, "in.pdf"), pdf);
            return work(folder.FullName);
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    private static void Run(string name, params string[] arguments)
    {
        using var process = Process.Start(name, arguments);
        process.WaitForExit();
        Assert.Equal(0, process.ExitCode);
    }
}
