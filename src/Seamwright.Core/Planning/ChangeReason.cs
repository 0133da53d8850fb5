using Seamwright.Core.Instruments;
using Seamwright.Core.Units;

namespace Seamwright.Core.Planning;

/// <summary>Says in one sentence, in a pupil's words, why a change is of its kind.</summary>
internal static class ChangeReason
{
    /// <summary>The sentence for a change between two notes that both have settings.</summary>
    public static string Of(
        Instrument instrument, Pitch from, SlideSetting a, Pitch to, SlideSetting b, Joint joint, ChangeKind kind, Separation separation)
    {
        var pair = $"{Words(from)} to {Words(to)}";
        var what = separation == Separation.ValveMeets ? $"{Valves(a, b)}, but {Meeting(instrument, to.Midi - from.Midi, a, b)}" : What(a, b, separation);
        return kind switch
        {
            ChangeKind.Breath => $"{pair}: there is a rest or a breath between them, so begin the new note afresh.",
            ChangeKind.Glissando => $"{pair}: the slide is meant to be heard here, so keep the air going and do not touch.",
            ChangeKind.Tongued when joint.Kind == JointKind.Detached => $"{pair}: not slurred, so tongue the new note as usual.",
            ChangeKind.Tongued => $"{pair} {what}: it would smear, so in this exercise tongue it as usual.",
            ChangeKind.ValveSlur => $"{pair} {what}: the valve separates the notes by itself.",
            ChangeKind.NaturalSlur => $"{pair} {what}: it slurs by itself, no tongue.",
            _ => SoftTongue(pair, what, joint, separation),
        };
    }

    private static string SoftTongue(string pair, string what, Joint joint, Separation separation)
    {
        if (separation.WouldSmear()) return $"{pair} {what}: it would smear, so touch it with the tongue.";
        if (separation == Separation.SamePitch) return $"{pair} is the same note again: only a light touch of the tongue separates it.";
        var why = joint.Kind == JointKind.Touched ? "the notes are marked to be touched" : "every note gets the same light touch here";
        return $"{pair} {what} and would slur by itself, but {why}.";
    }

    private static string What(SlideSetting a, SlideSetting b, Separation separation)
    {
        var (cm, way) = (Far(a, b), Way(a, b));
        return separation switch
        {
            Separation.Valve => Valves(a, b),
            Separation.SamePartial => $"stays on the {Ordinal(a.Partial)} partial and the slide goes {way} {cm:0.0} cm",
            Separation.StillSlide => $"goes from the {Ordinal(a.Partial)} to the {Ordinal(b.Partial)} partial and the slide stays",
            Separation.Contrary => $"goes {Updown(a, b)} to the {Ordinal(b.Partial)} partial while the slide goes {way}, against the pitch",
            Separation.SameDirection => $"goes to the {Ordinal(b.Partial)} partial and the slide goes {way} {cm:0.0} cm, the same way as the pitch",
            _ => "is the same note again",
        };
    }

    private static string Meeting(Instrument instrument, int interval, SlideSetting a, SlideSetting b)
    {
        if (interval == 0) return $"the note stays the same and the slide goes {Way(a, b)} {Far(a, b):0.0} cm";
        var jump = Separations.JumpHalfWay(instrument, a, b).Value / 100;
        var apart = $"{Math.Abs(jump):0.0}";
        if (jump * Math.Sign(interval) <= -Separations.SeparatingJump) return $"with the slide half way the new tube sounds {apart} semitones {(jump > 0 ? "above" : "below")} the old one, against the pitch";
        return apart == "0.0" ? "with the slide half way both tubes sound the same" : $"with the slide half way both tubes sound {apart} semitones apart";
    }

    private static double Far(SlideSetting a, SlideSetting b) => Math.Abs((b.Travel - a.Travel).Value);

    private static string Way(SlideSetting a, SlideSetting b) => b.Travel > a.Travel ? "out" : "in";

    private static string Updown(SlideSetting a, SlideSetting b) => b.Partial > a.Partial ? "up" : "down";

    private static string Valves(SlideSetting a, SlideSetting b)
    {
        if (b.Valves.IsEmpty) return $"lets the {a.Side.Label} valve go";
        return a.Valves.IsEmpty ? $"takes the {b.Side.Label} valve" : $"changes from the {a.Side.Label} to the {b.Side.Label} tubing";
    }

    private static string Ordinal(int n) => n switch
    {
        1 => "1st",
        2 => "2nd",
        3 => "3rd",
        _ => $"{n}th",
    };

    // The octave is left out, a pupil sees it on the staff.
    private static string Words(Pitch p) => p.Name.ToDisplay();
}
