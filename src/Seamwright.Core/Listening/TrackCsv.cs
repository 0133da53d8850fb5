using System.Globalization;

namespace Seamwright.Core.Listening;

/// <summary>A track as comma-separated values: <c>seconds,hertz,level_db</c>, one line a frame, every 5 ms; hertz is empty where no
/// pitch is heard, the level is relative to full scale.</summary>
public static class TrackCsv
{
    public const string Header = "seconds,hertz,level_db";

    public static void Write(Track track, TextWriter output)
    {
        output.WriteLine(Header);
        for (var i = 0; i < track.Frames.Length; i++)
        {
            var f = track.Frames[i];
            output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{track.TimeOf(i).Value:0.000},{f.Pitch?.Value:0.000},{f.Level.Value:0.0}"));
        }
    }
}
