using System.Collections.Immutable;

namespace Seamwright.Core.Instruments;

/// <summary>The air in the instrument, which sets the speed of sound and so how far the slide must go.</summary>
/// <remarks>The default, dry air at 20 °C, is what published travel tables assume.</remarks>
public sealed record Air
{
    public static readonly Air Standard = new();

    /// <summary>°C, 0 to 30 (the range of the formula). Default 20.</summary>
    public double TemperatureC { get; init; } = 20;

    /// <summary>Relative humidity, 0 to 1. Default 0.</summary>
    public double Humidity { get; init; }

    /// <summary>kPa, 75 to 102 (the range of the formula). Default 101.325.</summary>
    public double PressureKPa { get; init; } = 101.325;

    /// <summary>Carbon dioxide in parts per million, 0 to 10,000 (the formula's limit of 1 %). Default 400.</summary>
    public double CarbonDioxidePpm { get; init; } = 400;

    /// <summary>Speed of sound in m/s by O. Cramer, "The variation of the specific heat ratio and the speed of sound in air with
    /// temperature, pressure, humidity, and CO2 concentration", J. Acoust. Soc. Am. 93 (1993) 2510–2516, eq. 15.</summary>
    /// <remarks>Checked against <see cref="SimpleSpeedOfSound"/>; valid for 0–30 °C, 75–102 kPa, up to 1 % CO2.</remarks>
    public double SpeedOfSound
    {
        get
        {
            var t = TemperatureC;
            var p = PressureKPa * 1000;
            var xc = CarbonDioxidePpm * 1e-6;
            var xw = Humidity * WaterAtSaturation(t, p);
            return 331.5024 + (0.603055 * t) - (0.000528 * t * t)
                + ((51.471935 + (0.1495874 * t) - (0.000782 * t * t)) * xw)
                + ((-1.82e-7 + (3.73e-8 * t) - (2.93e-10 * t * t)) * p)
                + ((-85.20931 - (0.228525 * t) + (5.91e-5 * t * t)) * xc)
                - (2.835149 * xw * xw) - (2.15e-13 * p * p) + (29.179762 * xc * xc) + (0.000486 * xw * p * xc);
        }
    }

    /// <summary>Speed of sound in dry air by the simple form of ISO 9613-1: 343.2·√(T/293.15 K) m/s.</summary>
    public static double SimpleSpeedOfSound(double temperatureC) => 343.2 * Math.Sqrt((temperatureC + 273.15) / 293.15);

    /// <summary>Every value out of its range.</summary>
    /// <param name="where">Where the values come from, for the message.</param>
    public ImmutableArray<Problem> Validate(string where)
    {
        var problems = ImmutableArray.CreateBuilder<Problem>();
        Check(TemperatureC is >= 0 and <= 30, "temperatureC", TemperatureC, "0 to 30 °C");
        Check(Humidity is >= 0 and <= 1, "humidity", Humidity, "0 to 1");
        Check(PressureKPa is >= 75 and <= 102, "pressureKPa", PressureKPa, "75 to 102 kPa");
        Check(CarbonDioxidePpm is >= 0 and <= 10000, "carbonDioxidePpm", CarbonDioxidePpm, "0 to 10000");
        return problems.ToImmutable();

        void Check(bool ok, string name, double value, string range)
        {
            if (!ok) problems.Add(new Problem($"{where}.{name}", $"is {value}.", $"The speed-of-sound formula holds for {range}.", Severity.Error));
        }
    }

    // Mole fraction of water vapour at 100 % humidity: enhancement factor times saturation pressure (Davis 1992, as in Cramer 1993).
    private static double WaterAtSaturation(double t, double p)
    {
        var kelvin = t + 273.15;
        var enhancement = 1.00062 + (3.14e-8 * p) + (5.6e-7 * t * t);
        var saturation = Math.Exp((1.2811805e-5 * kelvin * kelvin) - (1.9509874e-2 * kelvin) + 34.04926034 - (6.3536311e3 / kelvin));
        return enhancement * saturation / p;
    }
}
