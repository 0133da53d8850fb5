using System.Collections.Immutable;
using Seamwright.Core.Planning;
using Seamwright.Engraving;
using Seamwright.Engraving.Layout;
using Seamwright.Engraving.Pictures;
using Seamwright.Film.Score;

namespace Seamwright.Film.Screen;

/// <summary>The two places for systems: which stand there, the cursor's band and thread of air, and the light behind a mark.</summary>
/// <remarks>The thread runs under the system from where the air began to where it is now: unbroken through every slur and soft
/// tongue, with a stitch's gap where a note is tongued and a wide one where the player breathes.</remarks>
internal sealed class MusicSlots
{
    private const int BandHalf = 19, ThreadHeight = 8, BreathGap = 34, TongueGap = 12, LightAir = 11, StaffAir = 34;
    private const int Kept = 6;
    private readonly ImmutableArray<EngravedSystem> systems;
    private readonly Dictionary<int, Picture> pictures = [];
    private readonly Queue<int> age = new();

    /// <param name="systems">In sheet order, at least one.</param>
    public MusicSlots(ImmutableArray<EngravedSystem> systems)
    {
        this.systems = systems;
        Scale = Math.Min(
            ScreenLayout.MusicWidth / systems.Max(s => s.Places.Staff.Right),
            (ScreenLayout.SlotHeight - (2 * ScreenLayout.SlotAir) - ScreenLayout.ThreadRoom) / systems.Max(s => s.Places.Ink.Bottom - s.Places.Ink.Top));
    }

    /// <summary>Dots for a hundredth of a millimetre.</summary>
    public double Scale { get; }

    /// <summary>Where a place of a system lies on the screen.</summary>
    public double XOf(double x) => ScreenLayout.Side + (x * Scale);

    /// <summary>As <see cref="XOf"/>, downward.</summary>
    public double YOf(int system, int slot, double y) =>
        ScreenLayout.Slot(slot).Top + ScreenLayout.SlotAir + ((y - systems[system].Places.Ink.Top) * Scale);

    /// <summary>Sets a system into its place.</summary>
    /// <param name="canvas">Drawn on, over clean paper.</param>
    /// <param name="slot">0 or 1.</param>
    /// <param name="system">Which.</param>
    /// <param name="strength">0 to 256.</param>
    public void Set(Canvas canvas, int slot, int system, int strength)
    {
        var area = ScreenLayout.Slot(slot);
        canvas.Lay(PictureOf(system), area.Left, area.Top, strength);
    }

    /// <summary>Lights the mark of a change, if its system stands there.</summary>
    public Area Light(Canvas canvas, int slot, int system, string noteId)
    {
        if (!systems[system].Places.Marks.TryGetValue(noteId, out var box)) return default;
        return canvas.Tint(Around(system, slot, box), ScreenLayout.Lit);
    }

    /// <summary>Where the needle's middle is.</summary>
    public int NeedleAt(double cursorX) => (int)Math.Round(XOf(cursorX));

    /// <summary>Draws the band that lies over the note that sounds, like a strip of tinted glass.</summary>
    public Area Band(Canvas canvas, SystemVisit visit, double cursorX)
    {
        var staff = systems[visit.System].Places.Staff;
        var (x, top) = (NeedleAt(cursorX), (int)YOf(visit.System, visit.Slot, staff.Top) - StaffAir);
        return canvas.Tint(new(x - BandHalf, top, x + BandHalf, ThreadTop(visit)), ScreenLayout.Rule);
    }

    /// <summary>Draws the thread of air up to the cursor, and its end.</summary>
    public Area Thread(Canvas canvas, SystemVisit visit, double cursorX)
    {
        var (needle, top, from) = (NeedleAt(cursorX), ThreadTop(visit), NeedleAt(visit.Points[0].X));
        var drawn = canvas.Fill(new(needle - 5, top - 6, needle + 5, top + ThreadHeight + 6), ScreenLayout.Thread);
        foreach (var seam in visit.Seams)
        {
            var at = NeedleAt(seam.X);
            if (at >= needle) break;
            drawn = drawn.With(canvas.Fill(new(from, top, at - GapOf(seam.Kind), top + ThreadHeight), ScreenLayout.Thread));
            from = at;
        }

        return drawn.With(canvas.Fill(new(from, top, needle, top + ThreadHeight), ScreenLayout.Thread));
    }

    /// <summary>Top of the thread under a visit's system.</summary>
    public int ThreadTop(SystemVisit visit) => (int)YOf(visit.System, visit.Slot, systems[visit.System].Places.Ink.Bottom) + 12;

    private static int GapOf(ChangeKind kind) => kind == ChangeKind.Breath ? BreathGap : TongueGap;

    private Area Around(int system, int slot, Box box) => new(
        (int)XOf(box.Left) - LightAir,
        (int)YOf(system, slot, box.Top) - LightAir,
        (int)XOf(box.Right) + LightAir,
        (int)YOf(system, slot, box.Bottom) + LightAir);

    // A long piece has more systems than should be kept in memory; they come in order.
    private Picture PictureOf(int system)
    {
        if (pictures.TryGetValue(system, out var known)) return known;
        if (age.Count >= Kept) pictures.Remove(age.Dequeue());
        age.Enqueue(system);
        return pictures[system] = systems[system].Paint(Scale, ScreenLayout.Width, ScreenLayout.SlotHeight, ScreenLayout.Side, ScreenLayout.SlotAir, ScreenLayout.Dark);
    }
}
