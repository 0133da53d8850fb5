using System.Xml.Linq;
using Seamwright.Engraving.Report;

namespace Seamwright.Tests.Engraving;

/// <summary>How a report's blocks fill its pages.</summary>
public class ReportFlowTests
{
    [Fact]
    public void A_page_whose_next_block_does_not_fit_is_filled_to_its_foot_by_its_wide_gaps()
    {
        var flow = new Flow(10, _ => 0, 1000);
        flow.Add([Of(200, 0), Of(150, 0), Of(150, 330), Of(600, 330)]);
        Assert.Equal(["translate(10, 0)", "translate(10, 200)", "translate(10, 850)"], Places(flow, 0));
        Assert.Equal(["translate(10, 0)"], Places(flow, 1));
    }

    [Fact]
    public void Gaps_grow_by_no_more_than_the_eye_takes_for_one_column()
    {
        var flow = new Flow(0, _ => 0, 5000);
        flow.Add([Of(200, 0), Of(200, 330), Of(4000, 330)]);
        Assert.Equal("translate(0, 1430)", Places(flow, 0)[1]);
    }

    private static Block Of(double height, double before) => new(new XElement("g"), height) { Before = before };

    private static List<string> Places(Flow flow, int page) => [.. flow.Pages[page].Select(e => (string)e.Attribute("transform")!)];
}
