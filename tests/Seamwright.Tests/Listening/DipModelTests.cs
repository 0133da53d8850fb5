using Seamwright.Core.Listening;

namespace Seamwright.Tests.Listening;

/// <summary>The dip's model several moments at a time, against the same moment by moment.</summary>
public class DipModelTests
{
    private const double Step = 0.001;
    private const double Floor = 1e-6;
    private static readonly double[] Times = [.. Enumerable.Range(0, 101).Select(i => 0.2 + (0.002 * i))];
    private static readonly double[] Windows = [.. Times.Select((_, i) => i < 50 ? 0.013 : 0.0172)];

    public static TheoryData<double, double, double?, double> Shapes() => new()
    {
        { 0.3, 12, null, 0 }, { 0.27, 45, null, 0 }, { 0.31, 9, 0.26, 0 }, { 0.3, 60, 0.3, 0 }, { 0.21, 20, null, 0 }, { 0.3, 25, null, 0.3 }, { 0.35, 18, 0.3, 0.1 },
    };

    [Theory]
    [MemberData(nameof(Shapes))]
    public void It_shows_what_every_step_by_itself_shows(double centre, double depth, double? beside, double roomShare)
    {
        var decay = roomShare > 0 ? new Decay(0.4, roomShare) : (Decay?)null;
        var model = new DipModel(Times, Windows, -20, -23, 0.305, Floor, decay);
        var shown = new double[Times.Length + DipModel.Padding];
        var first = DipsOf(0.29, 30, beside);
        model.Read(first, shown);
        var dips = DipsOf(centre, depth, beside);
        foreach (var pointed in new[] { false, true, false })
        {
            // The same shape with and without a point: what is remembered of one is not taken for the other.
            var asked = dips with { Main = dips.Main with { Pointed = pointed } };
            model.Read(asked, shown);
            var slow = Slow(asked, decay);
            for (var i = 0; i < Times.Length; i++) Assert.Equal(slow[i], shown[i], 1e-6);
        }
    }

    private static Dips DipsOf(double centre, double depth, double? beside) =>
        new(new(centre, 0.03, 0.05, 0.012, depth), beside is { } at ? new DipShape(at, 0.04, 0.04, 0, 7) : null);

    private static double[] Slow(Dips dips, Decay? room)
    {
        var from = Times[0] - Windows.Max();
        var count = (int)Math.Ceiling((Times[^1] - Times[0] + (2 * Windows.Max())) / Step) + 2;
        var power = Enumerable.Range(0, count).Select(i => from + ((i + 0.5) * Step)).Select(t => Math.Pow(10, ((t < 0.305 ? -20 : -23) + dips.At(t)) / 10)).ToArray();
        if (room is { } r)
        {
            var (held, keeps) = (Math.Pow(10, -2), Math.Pow(10, -6 * Step / r.Seconds60));
            for (var i = 0; i < count; i++)
            {
                held = (keeps * held) + ((1 - keeps) * power[i]);
                power[i] += r.Share * (held - power[i]);
            }
        }

        return [.. Times.Select((t, i) => 10 * Math.Log10(Floor + ((UpTo(t + (Windows[i] / 2)) - UpTo(t - (Windows[i] / 2))) / Windows[i])))];

        double UpTo(double t)
        {
            var x = (t - from) / Step;
            return Step * (power.Take((int)x).Sum() + ((x - (int)x) * power[(int)x]));
        }
    }
}
