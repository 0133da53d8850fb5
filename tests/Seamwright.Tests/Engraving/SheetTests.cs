using Seamwright.Core.Instruments;
using Seamwright.Engraving;
using Seamwright.Engraving.Engines;

namespace Seamwright.Tests.Engraving;

public class SheetLookTests
{
    [Fact]
    public void Every_test_part_becomes_a_sheet_to_look_at()
    {
        using var engraver = Engravers.ForThisSystem();
        var maker = new SheetMaker(engraver);
        var folder = Environment.GetEnvironmentVariable("SHEETS_TO");
        if (folder is null) Assert.Skip("SHEETS_TO names no folder to write the sheets to.");
        foreach (var (name, i) in TestParts.Texts.Keys.Where(k => k.StartsWith(Environment.GetEnvironmentVariable("ONLY") ?? "", StringComparison.Ordinal)).Order().Select((n, i) => (n, i)))
        {
            foreach (var paper in Enum.GetValues<Paper>())
            {
                var part = TestParts.Named(name);
                var instrument = name switch { "low" => Catalogue.Find("bass-independent")!, "high" => Catalogue.Find("alto-eb-bb")!, _ => Catalogue.Default };
                var plan = TestPlans.For(part, instrument, repeatDiffers: name == "repeats");
                var made = maker.Make(TestParts.Header(part), part, plan, new() { Paper = paper, TeacherLine = i % 2 == 0 ? "For the Thursday group" : "" });
                using var file = File.Create(Path.Combine(folder, $"{name}-{paper}.pdf"));
                made.Value.WritePdf(file);
                File.WriteAllText(Path.Combine(folder, $"{name}-{paper}.svg"), made.Value.Pages[0]);
            }
        }
    }
}
