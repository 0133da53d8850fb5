using Seamwright.Core.Instruments;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Planning;

/// <summary>Turns two planned notes and what lies between them into a <see cref="NoteChange"/>.</summary>
internal static class Changes
{
    /// <summary>The change from note <paramref name="from"/> to <paramref name="to"/>.</summary>
    public static NoteChange Between(Instrument instrument, PlayedNote from, SlideSetting? a, PlayedNote to, SlideSetting? b, Joint joint, Player player)
    {
        if (a is null || b is null) return Unplanned(from, to, joint);
        var separation = Separations.Between(instrument, from.Pitch, a, to.Pitch, b);
        var kind = KindOf(joint, separation, player.Policy);
        var move = ArmMove.Between(a, b, joint, player);
        var smear = Smear.Untongued(instrument, separation, a, b, move);
        return new NoteChange
        {
            Index = from.Index,
            FromNote = from.Index,
            ToNote = to.Index,
            Kind = kind,
            Intent = joint.Asked,
            Reason = ChangeReason.Of(instrument, from.Pitch, a, to.Pitch, b, joint, kind, separation),
            Travel = move.Travel,
            PitchMotion = MotionOf(from.Pitch, to.Pitch),
            SlideMotion = Separations.Motion(a, b),
            TimeAvailable = joint.Available,
            MoveTime = move.Time,
            PeakSpeed = move.PeakSpeed,
            TongueOffset = TongueOffset(kind, move, player),
            SmearIfUntongued = smear,
            Difficulty = ChangeDifficulty.Of(kind, separation, a, b, move, smear, to.Pitch.Midi - from.Pitch.Midi, player.FastestArm),
            Plausible = move.PeakSpeed <= player.FastestArm,
        };
    }

    /// <summary>The kind of a change, from what the music asks, what the instrument does, and the teacher's way.</summary>
    public static ChangeKind KindOf(Joint joint, Separation separation, TonguePolicy policy)
    {
        switch (joint.Kind)
        {
            case JointKind.Parted: return ChangeKind.Breath;
            case not JointKind.Parted when joint.Asked is { } asked && KindFor(asked, separation) is { } kind: return kind;
            case JointKind.Detached: return ChangeKind.Tongued;
            case JointKind.Glissando when separation == Separation.SamePartial: return ChangeKind.Glissando;
            case JointKind.Touched: return ChangeKind.SoftTongue;
        }

        if (separation == Separation.SamePitch || policy == TonguePolicy.EveryNote) return ChangeKind.SoftTongue;
        if (separation == Separation.Valve) return ChangeKind.ValveSlur;
        if (!separation.WouldSmear()) return ChangeKind.NaturalSlur;
        return policy == TonguePolicy.NaturalSlursOnly ? ChangeKind.Tongued : ChangeKind.SoftTongue;
    }

    // An exercise overrules the teacher's way of tonguing; where it asks for what the settings do not give, the music rules.
    private static ChangeKind? KindFor(ChangeIntent asked, Separation separation) => asked switch
    {
        ChangeIntent.SlowSlide or ChangeIntent.FastSlide when separation.WouldSmear() => ChangeKind.Glissando,
        ChangeIntent.SoftTongue or ChangeIntent.TouchedTone => ChangeKind.SoftTongue,
        ChangeIntent.NaturalSlur when separation == Separation.Valve => ChangeKind.ValveSlur,
        ChangeIntent.NaturalSlur when separation is Separation.StillSlide or Separation.Contrary => ChangeKind.NaturalSlur,
        _ => null,
    };

    // The arm arrives with the beat, so its movement lies in the note before; the tongue touches a share of the way along it.
    private static Seconds? TongueOffset(ChangeKind kind, ArmMove move, Player player) => kind switch
    {
        ChangeKind.SoftTongue => -((1 - player.TongueAt) * move.Time),
        ChangeKind.Tongued => Seconds.Zero,
        _ => null,
    };

    private static PitchMotion MotionOf(Pitch from, Pitch to) => Math.Sign(to.Midi - from.Midi) switch
    {
        > 0 => PitchMotion.Up,
        < 0 => PitchMotion.Down,
        _ => PitchMotion.Same,
    };

    private static NoteChange Unplanned(PlayedNote from, PlayedNote to, Joint joint) => new()
    {
        Index = from.Index,
        FromNote = from.Index,
        ToNote = to.Index,
        Kind = joint.Kind == JointKind.Parted ? ChangeKind.Breath : ChangeKind.Tongued,
        Reason = "One of the two notes cannot be played on this instrument, so nothing is planned here.",
        Travel = null,
        PitchMotion = MotionOf(from.Pitch, to.Pitch),
        SlideMotion = SlideMotion.Still,
        TimeAvailable = joint.Available,
        MoveTime = Seconds.Zero,
        PeakSpeed = 0,
        TongueOffset = null,
        SmearIfUntongued = Seconds.Zero,
        Difficulty = 0,
        Plausible = true,
    };
}
