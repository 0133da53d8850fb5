namespace Seamwright.Tests.Engraving;

/// <summary>Programs of the system that look at a PDF with other eyes than ours.</summary>
internal static class Tool
{
    public static string PdfToText(byte[] pdf, bool layout = true) => InFolder(pdf, folder =>
    {
        OutsideProgram.Run("pdftotext", [.. layout ? ["-layout"] : Array.Empty<string>(), Path.Combine(folder, "in.pdf"), Path.Combine(folder, "out.txt")]).Well();
        return File.ReadAllText(Path.Combine(folder, "out.txt"));
    });

    /// <summary>The pages as grey pictures in the PGM format, one byte a dot after a header.</summary>
    public static IReadOnlyList<byte[]> Pictures(byte[] pdf, int dotsPerInch) => InFolder(pdf, folder =>
    {
        OutsideProgram.Run("pdftoppm", "-gray", "-r", $"{dotsPerInch}", Path.Combine(folder, "in.pdf"), Path.Combine(folder, "page")).Well();
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
}
