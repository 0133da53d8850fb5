using System.Collections.Immutable;
using PdfSharp.Drawing;
using Seamwright.Core;

namespace Seamwright.Engraving;

/// <summary>A picture for the cover.</summary>
public sealed class BookImage
{
    /// <summary>Largest file, in bytes.</summary>
    public const int MostBytes = 20 << 20;

    private BookImage(ImmutableArray<byte> bytes, int width, int height) => (Bytes, Width, Height) = (bytes, width, height);

    public ImmutableArray<byte> Bytes { get; }

    /// <summary>Dots.</summary>
    public int Width { get; }

    /// <summary>Dots.</summary>
    public int Height { get; }

    /// <summary>Reads a picture.</summary>
    /// <param name="content">A PNG or JPEG file of at most <see cref="MostBytes"/>.</param>
    /// <param name="name">For messages.</param>
    /// <returns>An error for anything else.</returns>
    public static Outcome<BookImage> Read(Stream content, string name)
    {
        using var copy = new MemoryStream();
        var block = new byte[1 << 16];
        for (int read; (read = content.Read(block)) > 0 && copy.Length <= MostBytes;) copy.Write(block, 0, read);
        var bytes = copy.ToArray();
        if (bytes.Length > MostBytes) return Outcome<BookImage>.Failed(name, $"is larger than {MostBytes >> 20} MB.", "Save it smaller: 1,500 dots across are plenty.");
        if (!IsPng(bytes) && !IsJpeg(bytes)) return Outcome<BookImage>.Failed(name, "is neither a PNG nor a JPEG picture.", "Save it as one of these.");
        try
        {
            using var image = XImage.FromStream(new MemoryStream(bytes));
            return Outcome<BookImage>.Of(new BookImage([.. bytes], image.PixelWidth, image.PixelHeight));
        }
        catch (Exception e) when (e is not OutOfMemoryException)
        {
            // The package throws many kinds for a damaged file.
            return Outcome<BookImage>.Failed(name, "is a damaged picture, or of a kind that cannot be printed.", "Save it again as PNG or JPEG.");
        }
    }

    private static bool IsPng(byte[] b) => b.AsSpan().StartsWith<byte>([0x89, 0x50, 0x4E, 0x47]);

    private static bool IsJpeg(byte[] b) => b.AsSpan().StartsWith<byte>([0xFF, 0xD8, 0xFF]);
}
