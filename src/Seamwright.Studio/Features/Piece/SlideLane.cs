using System.Globalization;
using System.Text;
using Seamwright.Core.Planning;
using Seamwright.Engraving.Layout;

namespace Seamwright.Studio.Features.Piece;

/// <summary>The slide's way under one system, drawn to the same axis as its notes: closed at the top, further out further down.</summary>
/// <remarks>Time runs evenly between two note heads, so the arm's minimum-jerk movement is seen where it happens. Of a repeated
/// passage the first time is drawn.</remarks>
internal sealed class SlideLane
{
    /// <summary>Height of the lane in hundredths of a millimetre.</summary>
    public const double Height = 1500;

    private const int PiecesOfMove = 12;
    private readonly Plan plan;
    private readonly SystemPlaces places;
    private readonly double reach;
    private readonly List<(PlannedNote Note, double X)> notes;

    public SlideLane(Plan plan, SystemPlaces places)
    {
        (this.plan, this.places) = (plan, places);
        reach = plan.Instrument.FurthestTravel.Value;
        notes = [.. plan.Notes.Where(n => n.Note.Pass == 1 && !n.Note.NoteIds.IsDefaultOrEmpty && places.Heads.ContainsKey(n.Note.NoteIds[0]))
            .Select(n => (n, places.Heads[n.Note.NoteIds[0]].CentreX))];
    }

    /// <summary>Notes of this system with their places.</summary>
    public IReadOnlyList<(PlannedNote Note, double X)> Notes => notes;

    /// <summary>The lane from its own top down: a line and a number for each position, and the way.</summary>
    public string Drawing()
    {
        var svg = new StringBuilder();
        foreach (var (position, y) in Lines)
            svg.Append(CultureInfo.InvariantCulture, $"<path class=\"at\" d=\"M{places.Staff.Left:0} {y:0}H{places.Staff.Right:0}\"/><text class=\"at\" x=\"{places.Staff.Left - 90:0}\" y=\"{y + 70:0}\" text-anchor=\"end\" font-size=\"200\">{position}</text>");
        return svg.Append($"<path class=\"way\" d=\"{Path()}\"/>").ToString();
    }

    // Positions of the open horn.
    private IEnumerable<(int Position, double Y)> Lines =>
        Enumerable.Range(1, 8).Select(p => (Position: p, Travel: plan.Instrument.TravelAt(p).Value)).Where(p => p.Travel <= reach + 0.5).Select(p => (p.Position, YOf(p.Travel)));

    /// <summary>Depth of a travel below the lane's top.</summary>
    private double YOf(double travelCm) => Height * travelCm / reach;

    /// <summary>The way as one path; it breaks where a note cannot be played.</summary>
    private string Path()
    {
        var d = new StringBuilder();
        for (var i = 0; i < notes.Count; i++)
        {
            var (note, x) = notes[i];
            if (note.Setting is not { } setting) continue;
            var y = YOf(setting.Travel.Value);
            var fresh = i == 0 || notes[i - 1].Note.Setting is null || notes[i].Note.Note.Index != notes[i - 1].Note.Note.Index + 1;
            if (fresh) Go(d, 'M', x - (i == 0 ? Lead(x) : 0), y);
            else Move(d, i);
            Go(d, 'L', i + 1 < notes.Count ? HoldEnd(i) : places.Staff.Right, y);
        }

        return d.ToString();
    }

    /// <summary>Where the arm begins to leave a note for the next.</summary>
    private double HoldEnd(int i)
    {
        var (note, x) = notes[i];
        var (next, nextX) = notes[i + 1];
        if (next.Note.Index != note.Note.Index + 1) return nextX;
        var change = plan.Changes[note.Note.Index];
        var time = change.TimeAvailable.Value;
        return time <= 0 ? nextX : nextX - ((nextX - x) * Math.Min(1, change.MoveTime.Value / time));
    }

    private void Move(StringBuilder d, int i)
    {
        var (from, to) = (notes[i - 1].Note.Setting!.Travel.Value, notes[i].Note.Setting!.Travel.Value);
        var (start, end) = (HoldEnd(i - 1), notes[i].X);
        for (var k = 1; k <= PiecesOfMove; k++)
        {
            var share = (double)k / PiecesOfMove;
            Go(d, 'L', start + ((end - start) * share), YOf(from + ((to - from) * MinimumJerk.Progress(share))));
        }
    }

    private double Lead(double x) => Math.Min(300, Math.Max(0, x - places.Staff.Left));

    private static void Go(StringBuilder d, char step, double x, double y) =>
        d.Append(step).Append(x.ToString("0", CultureInfo.InvariantCulture)).Append(' ').Append(y.ToString("0", CultureInfo.InvariantCulture));
}
