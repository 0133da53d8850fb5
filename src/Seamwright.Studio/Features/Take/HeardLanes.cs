using System.Globalization;
using System.Text;
using Seamwright.Core.Instruments;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Units;
using Seamwright.Engraving.Layout;

namespace Seamwright.Studio.Features.Take;

/// <summary>What was heard of one system's notes, drawn to the same axis as they stand on: slide, pitch and level.</summary>
/// <remarks>Between two heads time runs evenly from one heard beginning to the next. The slide is read off the pitch on the partial and
/// tube the plan asks for; where another sounds, the line leaves the lane and is broken there.</remarks>
internal sealed class HeardLanes
{
    /// <summary>Heights in hundredths of a millimetre.</summary>
    public const double PitchHeight = 900, LevelHeight = 700;

    /// <summary>Cents from the middle of the pitch lane to its edge.</summary>
    public const double PitchReach = 60;

    // Decibels from the loudest down to the level lane's foot.
    private const double LevelReach = 40;

    // No arm is quicker, m/s (Player.FastestArm's remark: 5.2 is beyond anyone).
    private const double FastestArm = 5.2;

    // Cents from one frame to the next; a semitone in 20 ms is 25.
    private const double SteepestPitch = 25;

    // A soft tongue's dip is about 13 dB: within it the slide is still heard.
    private const double Gone = 18;
    private const float Repeats = 0.9f;
    private const int FewestFrames = 12;

    private readonly Plan plan;
    private readonly Core.Listening.Take take;
    private readonly SystemPlaces places;
    private readonly double slideHeight, loudest;
    private readonly List<Stretch> stretches = [];

    private readonly record struct Stretch(PlannedNote Note, double X, double NextX, double Start, double End);

    public HeardLanes(Plan plan, Core.Listening.Take take, SystemPlaces places, double slideHeight)
    {
        (this.plan, this.take, this.places, this.slideHeight) = (plan, take, places, slideHeight);
        loudest = take.Track.Frames.IsEmpty ? 0 : take.Track.Frames.Max(f => f.Level.Value);
        var here = plan.Notes.Where(n => n.Note.Pass == 1 && !n.Note.NoteIds.IsDefaultOrEmpty && places.Heads.ContainsKey(n.Note.NoteIds[0])).ToList();
        for (var i = 0; i < here.Count; i++)
        {
            var heard = take.Notes[here[i].Note.Index];
            if (heard is not { Found: true, Onset: { } onset, Offset: { } offset }) continue;
            var next = here[i].Note.Index + 1 < take.Notes.Length ? take.Notes[here[i].Note.Index + 1] : null;
            var goesOn = next is { Found: true, Onset: not null } && next.Onset > onset && i + 1 < here.Count && here[i + 1].Note.Index == here[i].Note.Index + 1;
            var start = onset.Value + Arriving(here[i].Note.Index);
            var end = goesOn ? next!.Onset!.Value.Value + Arriving(here[i].Note.Index + 1) : offset.Value;
            stretches.Add(new(here[i], Head(here[i]), goesOn ? Head(here[i + 1]) : RightOf(here[i]), start, Math.Max(end, start)));
        }
    }

    /// <summary>Cents beside the planned note, the lane's middle at 0.</summary>
    public string Pitch() => Drawn((s, f) =>
    {
        if (f.Pitch is not { } hz) return null;
        var cents = hz.Above(s.Note.Note.Pitch.Frequency(plan.Instrument.A4)).Value;
        return Math.Abs(cents) > PitchReach ? null : (PitchHeight / 2) - (cents / PitchReach * PitchHeight / 2);
    }, PitchHeight * SteepestPitch / (2 * PitchReach));

    /// <summary>Level, the take's loudest moment at the top.</summary>
    public string Level() => Drawn((_, f) => Math.Clamp((loudest - f.Level.Value) / LevelReach, 0, 1) * LevelHeight, double.PositiveInfinity);

    /// <summary>The slide as it was heard, closed at the top.</summary>
    public string Slide() => Drawn((s, f) =>
    {
        if (f.Pitch is not { } hz || s.Note.Setting is not { } setting) return null;
        return Travel(setting, hz) is { } cm ? slideHeight * cm / plan.Instrument.FurthestTravel.Value : null;
    }, slideHeight * FastestArm * 100 * take.Track.Hop.Value / plan.Instrument.FurthestTravel.Value);

    // Joined notes are heard to begin where the arm is half way; on the sheet the arm arrives with the beat.
    private double Arriving(int note)
    {
        if (note == 0) return 0;
        var change = plan.Changes[note - 1];
        return change.Kind is ChangeKind.Breath or ChangeKind.Tongued ? 0 : change.MoveTime.Value / 2;
    }

    // A little beyond both ends is drawn at them; what lies further is another partial.
    private double? Travel(SlideSetting setting, Hertz heard)
    {
        var (cm, furthest) = (plan.Instrument.TravelFor(setting.Side, setting.Partial, heard).Value, plan.Instrument.FurthestTravel.Value);
        return cm < -4 || cm > furthest + 4 ? null : Math.Clamp(cm, -1.5, furthest + 1.5);
    }

    // Where the tone is all but gone, or its periods do not repeat, a pitch is read but not heard; and what would outrun any arm is no arm.
    private string Drawn(Func<Stretch, Frame, double?> height, double steepest)
    {
        var d = new StringBuilder();
        foreach (var s in stretches)
        {
            var (from, to) = (FrameAt(s.Start), FrameAt(s.End));
            var (usual, fewest) = (Usual(from, to), Math.Min(FewestFrames, (to - from) / 3));
            var piece = new List<(double X, double Y)>();
            for (var f = from; f < to; f++)
            {
                var frame = take.Track.Frames[f];
                var heard = double.IsPositiveInfinity(steepest) || (frame.Periodicity >= Repeats && frame.Level.Value >= usual - Gone);
                var y = heard ? height(s, frame) : null;
                if (y is null || (piece.Count > 0 && Math.Abs(y.Value - piece[^1].Y) > steepest)) Close(piece, d, fewest);
                if (y is not { } at) continue;
                var share = (take.Track.TimeOf(f).Value - s.Start) / Math.Max(1e-6, s.End - s.Start);
                piece.Add((s.X + ((s.NextX - s.X) * share), at));
            }

            Close(piece, d, fewest);
        }

        return d.ToString();
    }

    // A few frames by themselves are what is left of the note before, or a break, and not a way.
    private static void Close(List<(double X, double Y)> piece, StringBuilder d, int fewest)
    {
        if (piece.Count >= fewest)
        {
            for (var i = 0; i < piece.Count; i++) d.Append(i == 0 ? 'M' : 'L').Append(N(piece[i].X)).Append(' ').Append(N(piece[i].Y));
        }

        piece.Clear();
    }

    // The level half of a note's frames reach.
    private double Usual(int from, int to)
    {
        var levels = take.Track.Frames[from..Math.Max(from, to)].Select(f => f.Level.Value).Order().ToList();
        return levels.Count == 0 ? 0 : levels[levels.Count / 2];
    }

    private int FrameAt(double time) => Math.Clamp((int)Math.Round((time - take.Track.Start.Value) / take.Track.Hop.Value), 0, Math.Max(0, take.Track.Frames.Length - 1));

    private double Head(PlannedNote note) => places.Heads[note.Note.NoteIds[0]].CentreX;

    private double RightOf(PlannedNote note)
    {
        var x = Head(note);
        return places.Bars.Where(b => b.Left <= x && x <= b.Right).Select(b => (double?)b.Right).FirstOrDefault() ?? places.Staff.Right;
    }

    private static string N(double value) => value.ToString("0", CultureInfo.InvariantCulture);
}
