using System.Collections.Immutable;
using Seamwright.Core.Instruments;
using Seamwright.Core.Planning;
using Seamwright.Engraving;
using Seamwright.Engraving.Fonts;
using Seamwright.Film.Score;

namespace Seamwright.Film.Screen;

/// <summary>What a player sees on the stand, frame by frame.</summary>
/// <remarks>Everything that stands still is painted once. A frame wipes and redraws only the regions in which something is different
/// from the frame before, and only those are turned into video; nothing is allocated for a frame in which no new word comes.</remarks>
internal sealed class StandScreen
{
    private const double FadeTime = 0.4;
    private readonly FilmScore score;
    private readonly MusicSlots music;
    private readonly SlidePicture slide;
    private readonly ChangeCards cards;
    private readonly HeadLine head;
    private readonly Canvas ground = new(ScreenLayout.Width, ScreenLayout.Height), seen = new(ScreenLayout.Width, ScreenLayout.Height);
    private readonly VideoFrame frame = new(ScreenLayout.Width, ScreenLayout.Height);
    private readonly SlotState[] slots = [new(), new()];
    private readonly ImmutableArray<TurnSign> signs;
    private Area inBand, inThread, inLight, inSlide, inCard, inHead, inTurn;
    private (int Visit, int Needle, int Change) shownMusic = (-1, 0, 0);
    private (int Hand, SlideSetting? Setting) shownSlide = (-1, null);
    private (int Change, bool Lit) shownCard = (-2, false);
    private int shownBar = -2;
    private int nextTurn, shownSign = -1;

    /// <param name="score">What is seen when.</param>
    /// <param name="systems">As the score's places were taken from.</param>
    /// <param name="plan">Gives instrument and title.</param>
    /// <param name="syllable">Of the soft tongue.</param>
    /// <param name="fonts">The sheet's own.</param>
    /// <param name="signs">Whose turn it is, in time; may be empty.</param>
    public StandScreen(FilmScore score, ImmutableArray<EngravedSystem> systems, Plan plan, string syllable, SheetFonts fonts, ImmutableArray<TurnSign> signs)
    {
        (this.score, this.signs) = (score, signs);
        var pen = new Draughtsman(fonts);
        (music, cards, head) = (new MusicSlots(systems), new ChangeCards(syllable, pen), new HeadLine(PlainText.OneLine(plan.Line.Title), !signs.IsEmpty, pen));
        slide = new SlidePicture(plan.Instrument, score.Slide.Moves.Select(m => m.To), pen);
        ground.Fill(ground.Whole, ScreenLayout.Paper);
        head.DrawStill(ground);
        slide.DrawStill(ground, ScreenLayout.Slide);
        seen.CopyFrom(ground, ground.Whole);
        frame.Take(seen, seen.Whole);
    }

    /// <summary>Where things lie, for tests.</summary>
    public MusicSlots Music => music;

    /// <summary>Where the hand lies, for tests.</summary>
    public SlidePicture Slide => slide;

    /// <summary>The frame at a time, planes Y, Cb, Cr of 1920 × 1080 dots; valid until the next call.</summary>
    /// <param name="time">Seconds of film, never less than at the call before.</param>
    public byte[] Frame(double time)
    {
        var moment = score.At(time);
        TurnSlots(time);
        ShowMusic(moment);
        ShowSlide(moment);
        ShowCard(moment);
        ShowBar(moment);
        ShowSign(time);
        return frame.Bytes;
    }

    private void TurnSlots(double time)
    {
        while (nextTurn < score.Turns.Length && score.Turns[nextTurn].Time <= time)
        {
            var turn = score.Turns[nextTurn++];
            slots[turn.Slot].Begin(turn.System, turn.Time);
        }

        for (var i = 0; i < slots.Length; i++)
        {
            if (slots[i].Advance(time, FadeTime)) SetSlot(i);
        }
    }

    private void SetSlot(int slot)
    {
        var (area, state) = (ScreenLayout.Slot(slot), slots[slot]);
        ground.Fill(area, ScreenLayout.Paper);
        if (state.Before >= 0 && state.Strength < 256) music.Set(ground, slot, state.Before, 256 - state.Strength);
        music.Set(ground, slot, state.System, state.Strength);
        seen.CopyFrom(ground, area);
        frame.Take(seen, area);
        shownMusic = (-1, 0, 0);
    }

    private void ShowMusic(FilmMoment moment)
    {
        var visit = score.Visits[moment.Visit];
        var now = (moment.Visit, music.NeedleAt(moment.CursorX), moment.IsLit ? moment.Change : -1);
        if (now == shownMusic) return;
        shownMusic = now;
        Wipe(ref inBand);
        Wipe(ref inThread);
        Wipe(ref inLight);
        if (moment.IsLit) inLight = LightMark(score.Changes[moment.Change], visit);
        inBand = music.Band(seen, visit, moment.CursorX);
        inThread = music.Thread(seen, visit, moment.CursorX);
        frame.Take(seen, inLight);
        frame.Take(seen, inBand);
        frame.Take(seen, inThread);
    }

    // The mark may stand in the other place, where the next system waits.
    private Area LightMark(LitChange change, SystemVisit visit)
    {
        var here = music.Light(seen, visit.Slot, visit.System, change.NoteId);
        var other = 1 - visit.Slot;
        return !here.IsEmpty || slots[other].System < 0 ? here : music.Light(seen, other, slots[other].System, change.NoteId);
    }

    private void ShowSlide(FilmMoment moment)
    {
        var now = (slide.HandAt(moment.Travel), moment.Setting);
        if (now == shownSlide) return;
        shownSlide = now;
        Wipe(ref inSlide);
        inSlide = slide.DrawMoving(seen, ScreenLayout.Slide, moment.Travel, moment.Setting);
        frame.Take(seen, inSlide);
    }

    private void ShowCard(FilmMoment moment)
    {
        var now = (moment.Change, moment.IsLit);
        if (now == shownCard) return;
        shownCard = now;
        Wipe(ref inCard);
        if (moment.Change < 0) return;
        inCard = cards.Draw(seen, ScreenLayout.Card, score.Changes[moment.Change].Change, moment.IsLit);
        frame.Take(seen, inCard);
    }

    private void ShowBar(FilmMoment moment)
    {
        if (moment.Bar == shownBar || moment.Bar < 0) return;
        shownBar = moment.Bar;
        Wipe(ref inHead);
        inHead = head.Draw(seen, score.Bars[moment.Bar]);
        frame.Take(seen, inHead);
    }

    private void ShowSign(double time)
    {
        var next = shownSign;
        while (next + 1 < signs.Length && signs[next + 1].Time <= time) next++;
        if (next == shownSign) return;
        shownSign = next;
        Wipe(ref inTurn);
        inTurn = head.Draw(seen, signs[next]);
        frame.Take(seen, inTurn);
    }

    private void Wipe(ref Area area)
    {
        seen.CopyFrom(ground, area);
        frame.Take(seen, area);
        area = default;
    }

    /// <summary>One place for a system, and how far the one that comes has come.</summary>
    private sealed class SlotState
    {
        private double since;

        public int Before { get; private set; } = -1;

        public int System { get; private set; } = -1;

        /// <summary>0 to 256.</summary>
        public int Strength { get; private set; } = 256;

        public void Begin(int system, double time) => (Before, System, Strength, since) = (System, system, -1, time);

        /// <returns>Whether it looks different now.</returns>
        public bool Advance(double time, double fadeTime)
        {
            var strength = double.IsInfinity(since) || System < 0 ? 256 : (int)(256 * Math.Clamp((time - since) / fadeTime, 0, 1));
            if (System < 0 || strength == Strength) return false;
            Strength = strength;
            return true;
        }
    }
}
