using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Engraving;
using Seamwright.Engraving.Engines;
using Seamwright.Engraving.Fonts;

namespace Seamwright.Tests.Engraving;

/// <summary>One engraver for all tests: it takes a second to start, and serves several threads.</summary>
internal static class SharedEngraver
{
    private static readonly Lazy<IEngraver> Engraver = new(() => Engravers.ForThisSystem());

    public static IEngraver Instance => Engraver.Value;

    public static SheetFonts Fonts => SheetFonts.From(EngraverFiles.Default.Fonts);

    public static EngravedSheet Sheet(Part part, Plan? plan = null, SheetOptions? options = null, Score? header = null) =>
        new SheetMaker(Instance).Make(header ?? TestParts.Header(part), part, plan, options).Value;

    public static byte[] Pdf(EngravedSheet sheet)
    {
        using var stream = new MemoryStream();
        sheet.WritePdf(stream);
        return stream.ToArray();
    }
}
