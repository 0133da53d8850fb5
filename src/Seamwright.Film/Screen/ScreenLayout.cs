using Seamwright.Engraving.Pictures;

namespace Seamwright.Film.Screen;

/// <summary>Where everything stands on a screen of 1920 × 1080 dots, and in which colours.</summary>
/// <remarks>Words are at least 34 dots high: on a screen half a metre wide that is 9 mm, read at two metres under 15 minutes of arc,
/// three times what good eyes need (ISO 9241-303 asks for 16 and prefers 20 for letters of long texts). The colours are the
/// report's; none ever stands without a shape, a place or a word.</remarks>
internal static class ScreenLayout
{
    public const int Width = 1920, Height = 1080, FramesPerSecond = 30;
    public const int Side = 60, MusicWidth = Width - (2 * Side);

    /// <summary>Two places for systems.</summary>
    public const int SlotTop = 112, SlotHeight = 366;

    public const int SeamUnderHead = 100, SeamOverPanel = 850;

    /// <summary>A system's ink keeps so far from the top of its place; below it runs the thread.</summary>
    public const int SlotAir = 8, ThreadRoom = 26;

    public static readonly Area Card = new(0, 856, 560, Height);
    public static readonly Area Slide = new(560, 856, Width, Height);
    public static readonly Area Turn = new(930, 16, 1290, 90);
    public static readonly Area HeadRight = new(1300, 8, Width, 96);

    public static readonly Ink Paper = Ink.Read("#faf7f0"), Dark = Ink.Read("#26221c"), Faint = Ink.Read("#665f54");
    public static readonly Ink Rule = Ink.Read("#d8cfbf"), Wash = Ink.Read("#ece4d3");

    /// <summary>The thread of air and what is lit: darker and lighter blue.</summary>
    public static readonly Ink Thread = Ink.Read("#0069a4"), Lit = Ink.Read("#bfe0f4");

    public static Area Slot(int slot) => Area.Sized(0, SlotTop + (slot * SlotHeight), Width, SlotHeight);
}
