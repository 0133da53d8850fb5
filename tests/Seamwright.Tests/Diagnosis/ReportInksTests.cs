using Seamwright.Core.Diagnosis.Page;

namespace Seamwright.Tests.Diagnoses;

/// <summary>The report's colours against figures that others published.</summary>
public class ReportInksTests
{
    // Machado, Oliveira and Fernandes, IEEE Trans. Vis. Comput. Graph. 15 (2009), severity 1.0, in linear light.
    private static readonly Dictionary<string, double[]> Eyes = new()
    {
        ["usual"] = [1, 0, 0, 0, 1, 0, 0, 0, 1],
        ["protan"] = [0.152286, 1.052583, -0.204868, 0.114503, 0.786281, 0.099216, -0.003882, -0.048116, 1.051998],
        ["deutan"] = [0.367322, 0.860646, -0.227968, 0.280085, 0.672501, 0.047413, -0.011820, 0.042940, 0.968881],
        ["tritan"] = [1.255528, -0.076749, -0.178779, -0.078411, 0.930809, 0.147602, 0.004733, 0.691367, 0.303900],
    };

    public static TheoryData<string> Grounds => ["day", "night", "printed"];

    public static TheoryData<string, string> GroundsAndEyes =>
        new(from ground in (string[])["day", "night", "printed"] from eye in Eyes.Keys select (ground, eye));

    /// <summary>WCAG 2.2, success criterion 1.4.3.</summary>
    [Theory]
    [MemberData(nameof(Grounds))]
    public void Every_colour_that_words_are_set_in_keeps_four_and_a_half_to_one(string ground)
    {
        var inks = Of(ground);
        foreach (var colour in (string[])[inks.Ink, inks.Faint, inks.Clean, inks.Watch, inks.Fault, inks.Open])
            Assert.True(Contrast(colour, inks.Paper) >= 4.5, $"{colour} on {inks.Paper}: {Contrast(colour, inks.Paper):0.00}");

        // Labels of the level's limits stand on the area under it.
        Assert.True(Contrast(inks.Faint, inks.Wash) >= 4.5, $"{inks.Faint} on {inks.Wash}: {Contrast(inks.Faint, inks.Wash):0.00}");
    }

    /// <summary>Differences in CIELAB (1976); 2.3 is just noticed (Mahy et al., Color Res. Appl. 19 (1994)), five times that is asked for.</summary>
    [Theory]
    [MemberData(nameof(GroundsAndEyes))]
    public void The_four_colours_of_verdicts_differ_to_every_kind_of_eye(string ground, string eye)
    {
        var inks = Of(ground);
        string[] four = [inks.Clean, inks.Watch, inks.Fault, inks.Open];
        foreach (var (a, b) in four.SelectMany((a, i) => four.Skip(i + 1).Select(b => (a, b))))
            Assert.True(Distance(a, b, Eyes[eye]) >= 11.5, $"{a} and {b}: {Distance(a, b, Eyes[eye]):0.0}");
    }

    [Fact]
    public void Contrast_is_reckoned_as_published()
    {
        // WCAG 2.2: black on white is 21 to 1; #767676 on white is the lightest grey that passes.
        Assert.Equal(21, Contrast("#000000", "#ffffff"), 0.001);
        Assert.Equal(4.54, Contrast("#767676", "#ffffff"), 0.005);
    }

    private static ReportInks Of(string ground) => ground switch { "day" => ReportInks.Day, "night" => ReportInks.Night, _ => ReportInks.Printed };

    private static double[] Linear(string colour) => [.. Enumerable.Range(0, 3).Select(i => Convert.ToInt32(colour.Substring(1 + (2 * i), 2), 16) / 255.0).Select(v => v <= 0.04045 ? v / 12.92 : Math.Pow((v + 0.055) / 1.055, 2.4))];

    private static double Luminance(double[] c) => (0.2126 * c[0]) + (0.7152 * c[1]) + (0.0722 * c[2]);

    private static double Contrast(string a, string b)
    {
        var (x, y) = (Luminance(Linear(a)), Luminance(Linear(b)));
        return (Math.Max(x, y) + 0.05) / (Math.Min(x, y) + 0.05);
    }

    private static double Distance(string a, string b, double[] eye) => Math.Sqrt(Lab(Seen(a, eye)).Zip(Lab(Seen(b, eye)), (x, y) => (x - y) * (x - y)).Sum());

    private static double[] Seen(string colour, double[] eye)
    {
        var c = Linear(colour);
        return [.. Enumerable.Range(0, 3).Select(row => Math.Clamp(Enumerable.Range(0, 3).Sum(i => eye[(3 * row) + i] * c[i]), 0, 1))];
    }

    // sRGB to CIE XYZ, D65 (IEC 61966-2-1).
    private static double[] Lab(double[] c)
    {
        static double F(double t) => t > 216.0 / 24389 ? Math.Cbrt(t) : ((24389.0 / 27 * t) + 16) / 116;
        var x = F(((0.4124 * c[0]) + (0.3576 * c[1]) + (0.1805 * c[2])) / 0.9505);
        var y = F(Luminance(c));
        var z = F(((0.0193 * c[0]) + (0.1192 * c[1]) + (0.9505 * c[2])) / 1.089);
        return [(116 * y) - 16, 500 * (x - y), 200 * (y - z)];
    }
}
