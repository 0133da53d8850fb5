using System.Text;
using System.Xml.Linq;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;
using static Seamwright.Core.Diagnosis.Page.Svg;

namespace Seamwright.Core.Diagnosis.Page;

/// <summary>Draws one change: pitch, level and, where it is known, the slide, one above the other over the same time.</summary>
internal sealed class ChangePicture
{
    public const double Width = 340;
    private const double RowGap = 23, FirstTop = 20, Foot = 16, RowTitle = 48;

    // Width of the limits' words, and dB above them within which the level's line would cross them.
    private const double LimitWords = 60, Near = 5;

    // So far a word's line lies above a limit's, that its letters' tails keep clear of it.
    private const double AboveLine = 4;
    private static readonly double[] Heights = [50, 64, 50];
    private readonly Take take;
    private readonly Plan plan;
    private readonly NoteChange change;
    private readonly HeardChange heard;
    private readonly PictureTime time;
    private readonly XElement svg;

    public ChangePicture(Take take, Plan plan, NoteChange change)
    {
        (this.take, this.plan, this.change, heard) = (take, plan, change, take.Changes[change.Index]);
        var rows = heard.Arm is null ? 2 : 3;
        Height = FirstTop + Heights.Take(rows).Sum() + ((rows - 1) * RowGap) + Foot;
        time = PictureTime.Around(TakeParts.TimeOf(take, change) ?? 0, Moments());
        svg = new(Ns + "svg", new XAttribute("viewBox", $"0 0 {N(Width)} {N(Height)}"), new XAttribute("class", "picture"), new XAttribute("role", "img"));
    }

    public double Height { get; }

    /// <summary>The picture, with a title for those who cannot see it.</summary>
    public XElement Draw(string title)
    {
        svg.Add(new XAttribute("aria-label", title), new XElement(Ns + "title", title));
        DrawTime();
        DrawPitch(Row(0, PitchRange()));
        DrawLevel(Row(1, (-32, 6)));
        if (heard.Arm is { } arm) DrawSlide(arm, Row(2, SlideRange(arm)));
        DrawMarks();
        return svg;
    }

    private static PictureRow Row(int index, (double Low, double High) range)
    {
        var top = FirstTop + Heights.Take(index).Sum() + (index * RowGap);
        return new(top, top + Heights[index], range.Low, range.High);
    }

    private IEnumerable<double> Moments() =>
        new[] { heard.GlideCentre, heard.DipCentre, heard.Break?.Time, heard.Arm?.Start, heard.Arm?.End }.OfType<Seconds>().Select(s => s.Value);

    private void DrawTime()
    {
        var ticks = time.Ticks().ToList();
        foreach (var t in ticks)
        {
            for (var row = 0; row < (heard.Arm is null ? 2 : 3); row++) svg.Add(Path("grid", $"M{N(time.X(t))} {N(Row(row, (0, 1)).Top)}V{N(Row(row, (0, 1)).Bottom)}"));
            svg.Add(Text("axis", time.X(t), Height - 3, t == ticks[^1] ? $"{t:0.0} s" : $"{t:0.0}", "middle"));
        }
    }

    // Both notes, the pitch caught between them, and a little more than a semitone of air.
    private (double Low, double High) PitchRange()
    {
        double[] all = [From.Midi, To.Midi, .. heard.CaughtPitch is { } c ? [Midi(c)] : Array.Empty<double>()];
        return (all.Min() - 1.4, all.Max() + 1.4);
    }

    private Pitch From => plan.Notes[change.FromNote].Note.Pitch;

    private Pitch To => plan.Notes[change.ToNote].Note.Pitch;

    private void DrawPitch(PictureRow row)
    {
        svg.Add(Text("axis", PictureTime.Left, row.Top - 6, "pitch"));
        foreach (var pitch in new[] { From, To }.DistinctBy(p => p.Midi)) Level("target", row, pitch.Midi, pitch.ToDisplay());
        if (heard.CaughtPitch is { } caught) svg.Add(Text("word", PictureTime.Right, row.Y(Midi(caught)) + 12, $"caught: {caught.Value:0} Hz", "end"));
        svg.Add(Path("heard", Line(row, f => f.Pitch is { } p ? Midi(p) : null, 0.7)));
        if (heard.Break is { } b && time.Shows(b.Time.Value)) svg.Add(Text("word", time.X(b.Time.Value) + 5, (row.Y(From.Midi) + row.Y(To.Midi)) / 2, "broke"));
    }

    private void DrawLevel(PictureRow row)
    {
        var zero = QuieterNote();
        svg.Add(Text("axis", PictureTime.Left, row.Top - 6, "level, dB"));
        var line = Line(row, f => f.Level.Value - zero, double.MaxValue);
        if (line.Length > 0) svg.Add(Path("under", $"{line}V{N(row.Bottom)}H{N(FirstX())}Z"));
        Level("target", row, 0, "0");
        Level("limit", row, -10, "−10");
        Level("limit", row, -20, "−20");
        svg.Add(Path("heard", line));
        var (left, right) = (Lowest(PictureTime.Left, PictureTime.Left + LimitWords), Lowest(PictureTime.Right - LimitWords, PictureTime.Right));
        var (x, anchor) = right < zero - Near && left > right ? (PictureTime.Left + 2, "start") : (PictureTime.Right - 2, "end");
        svg.Add(Text("axis", x, row.Y(-10) - AboveLine, "hard if long", anchor));
        svg.Add(Text("axis", x, row.Y(-20) - AboveLine, "air stopped", anchor));
    }

    // How low the level's line comes between two places.
    private double Lowest(double from, double to) =>
        Frames().Where(f => time.X(f.Time) >= from && time.X(f.Time) <= to).Select(f => f.Frame.Level.Value).DefaultIfEmpty(double.MinValue).Min();

    private double QuieterNote()
    {
        var levels = new[] { take.Notes[change.FromNote].Level, take.Notes[change.ToNote].Level }.OfType<Decibels>().Select(l => l.Value).ToList();
        if (levels.Count > 0) return levels.Min();
        return Frames().Select(f => f.Frame.Level.Value).DefaultIfEmpty(0).Max();
    }

    private (double Low, double High) SlideRange(HeardArm arm)
    {
        double[] all = [arm.From.Value, arm.To.Value, .. Planned() is { } p ? [p.From, p.To] : Array.Empty<double>()];
        var air = Math.Max(2, 0.12 * (all.Max() - all.Min()));
        return (all.Min() - air, all.Max() + air);
    }

    private void DrawSlide(HeardArm arm, PictureRow row)
    {
        svg.Add(Text("axis", PictureTime.Left, row.Top - 6, "slide, cm"));
        foreach (var cm in Math.Abs((arm.To - arm.From).Value) < 1 ? [arm.From] : new[] { arm.From, arm.To }) Level("grid", row, cm.Value, $"{cm.Value:0.0}");
        if (Planned() is { } asked) svg.Add(Path("planned", Movement(row, asked.Start, asked.End, asked.From, asked.To)));
        svg.Add(Path("heard", Travelled(arm, row)));
        foreach (var (moment, cm) in new[] { (arm.Start, arm.From), (arm.End, arm.To) })
        {
            if (time.Shows(moment.Value)) svg.Add(Path("end", $"M{N(time.X(moment.Value))} {N(row.Y(cm.Value) - 5)}V{N(row.Y(cm.Value) + 5)}"));
        }
    }

    // The movement as planned ends where the second note begins at the player's tempo.
    private (double Start, double End, double From, double To)? Planned()
    {
        if (heard.Arm is not { Lead: { } lead } arm || change.MoveTime.Value <= 0) return null;
        if (plan.Notes[change.FromNote].Setting is not { } from || plan.Notes[change.ToNote].Setting is not { } to) return null;
        var end = ((arm.Start.Value + arm.End.Value) / 2) - lead.Value;
        return (end - change.MoveTime.Value, end, from.Travel.Value, to.Travel.Value);
    }

    private string Travelled(HeardArm arm, PictureRow row)
    {
        if (!arm.Path.Any(p => p is not null)) return Movement(row, arm.Start.Value, arm.End.Value, arm.From.Value, arm.To.Value);
        const double Step = 0.005;
        return Joined(arm.Path.Select((p, i) => (arm.PathStart.Value + (i * Step), p?.Value)), row, double.MaxValue);
    }

    // Minimum jerk: 10τ³ − 15τ⁴ + 6τ⁵ of the way (Flash and Hogan, J. Neurosci. 5 (1985)).
    private string Movement(PictureRow row, double start, double end, double from, double to) =>
        Joined(Enumerable.Range(0, 101).Select(i => time.From + ((time.To - time.From) * i / 100)).Select(t =>
        {
            var tau = Math.Clamp((t - start) / Math.Max(1e-6, end - start), 0, 1);
            return (t, (double?)(from + ((to - from) * tau * tau * tau * (10 - (15 * tau) + (6 * tau * tau)))));
        }), row, double.MaxValue);

    // The tongue hangs from the level, the arm stands on the slide, or on the pitch where the slide is not known.
    private void DrawMarks()
    {
        var bottom = Height - Foot;
        if (heard.DipCentre is { } dip && time.Shows(dip.Value))
        {
            double x = time.X(dip.Value), y = Row(1, (0, 1)).Top;
            Post(x, bottom);
            Doubt(heard.DipCentreBounds, y - 2);
            svg.Add(Path("tongue", $"M{N(x - 4.5)} {N(y - 10)}H{N(x + 4.5)}L{N(x)} {N(y - 2)}Z"));
            Word(x, y - 5, AsksForTongue ? "tongue's dip" : "dip");
        }

        if (ArmMiddle() is { } middle && time.Shows(middle.Time))
        {
            double x = time.X(middle.Time), y = Row(heard.Arm is null ? 0 : 2, (0, 1)).Top - 6;
            Post(x, bottom);
            if (heard.Arm is null) Doubt(heard.GlideCentreBounds, y);
            svg.Add(Path("arm", $"M{N(x)} {N(y - 5)}L{N(x + 5)} {N(y)}L{N(x)} {N(y + 5)}L{N(x - 5)} {N(y)}Z"));
            Word(x, y + 3.5, middle.Word);
        }
    }

    private bool AsksForTongue => change.Kind is ChangeKind.SoftTongue or ChangeKind.Tongued || change.Intent is ChangeIntent.SoftTongue or ChangeIntent.TouchedTone;

    private (double Time, string Word)? ArmMiddle() => heard.Arm is { } arm
        ? ((arm.Start.Value + arm.End.Value) / 2, "arm half way")
        : heard.GlideCentre is { } g ? (g.Value, "pitch half way") : null;

    private void Post(double x, double bottom) => svg.Add(Path("post", $"M{N(x)} {N(FirstTop)}V{N(bottom)}"));

    private void Doubt(Bounds<Seconds>? bounds, double y)
    {
        if (bounds is not { } b || time.X(b.High.Value) - time.X(b.Low.Value) < 3) return;
        svg.Add(Path("doubt", $"M{N(time.X(b.Low.Value))} {N(y)}H{N(time.X(b.High.Value))}"));
    }

    private void Word(double x, double y, string word)
    {
        var left = x > PictureTime.Left + 190;
        svg.Add(Text("word", left ? x - 8 : Math.Max(x + 8, PictureTime.Left + RowTitle), y, word, left ? "end" : "start"));
    }

    private void Level(string look, PictureRow row, double value, string label)
    {
        svg.Add(Path(look, $"M{N(PictureTime.Left)} {N(row.Y(value))}H{N(PictureTime.Right)}"));
        svg.Add(Text("axis", PictureTime.Left - 4, row.Y(value) + 3.5, label, "end"));
    }

    private string Line(PictureRow row, Func<Frame, double?> value, double mostJump) => Joined(Frames().Select(f => (f.Time, value(f.Frame))), row, mostJump);

    // A jump of more than so much from point to point is a break, not a line; so is a value outside the row, but the level only sinks to its floor.
    private string Joined(IEnumerable<(double Time, double? Value)> points, PictureRow row, double mostJump)
    {
        var path = new StringBuilder();
        double? before = null;
        foreach (var (t, value) in points)
        {
            if (value is not { } v || !time.Shows(t) || (mostJump < double.MaxValue && !row.Holds(v)))
            {
                before = null;
                continue;
            }

            path.Append($"{(before is { } b && Math.Abs(v - b) < mostJump ? 'L' : 'M')}{N(time.X(t))} {N(row.Y(v))}");
            before = v;
        }

        return path.ToString();
    }

    private double FirstX() => time.X(Frames().Select(f => f.Time).DefaultIfEmpty(time.From).First());

    private IEnumerable<(double Time, Frame Frame)> Frames()
    {
        var track = take.Track;
        if (track.Frames.IsEmpty || track.Hop.Value <= 0) yield break;
        var first = Math.Max(0, (int)Math.Ceiling((time.From - track.Start.Value) / track.Hop.Value));
        for (var i = first; i < track.Frames.Length && track.TimeOf(i).Value <= time.To; i++) yield return (track.TimeOf(i).Value, track.Frames[i]);
    }

    private double Midi(Hertz f) => 69 + (f.Above(plan.Instrument.A4).Value / 100);
}
