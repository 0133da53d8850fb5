using System.Collections.Immutable;
using Seamwright.Core.Instruments;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Units;

namespace Seamwright.Core.Diagnosis;

/// <summary>One change to be judged: what was heard, what was asked, and the limits.</summary>
/// <param name="Heard">The measurements.</param>
/// <param name="Change">What was asked.</param>
/// <param name="From">The first note as heard.</param>
/// <param name="To">The second note as heard.</param>
/// <param name="Plan">Where it stands.</param>
/// <param name="Limits">What it is compared with.</param>
internal sealed record ChangeCase(HeardChange Heard, NoteChange Change, HeardNote From, HeardNote To, Plan Plan, VerdictSettings Limits)
{
    /// <summary>All notes of the pass as heard; empty where they are not at hand.</summary>
    public ImmutableArray<HeardNote> Notes { get; init; } = [];

    /// <summary>Whether the plan stays on one tube and one partial over a moving slide; null where a note has no setting.</summary>
    public bool? SlidesAsPlanned => Settings is var (a, b) ? a.Side.Id == b.Side.Id && a.Partial == b.Partial && Change.SlideMotion != SlideMotion.Still : null;

    /// <summary>Whether the plan changes partial or tube so that something breaks: not where two tubes meet half way; null where a note has no setting.</summary>
    public bool? BreaksAsPlanned => Settings is var (a, b) ? (a.Side.Id != b.Side.Id || a.Partial != b.Partial) && !MeetsOnTheWay(a, b) : null;

    /// <summary>Whether the plan leaves the slide where it is.</summary>
    public bool SlideStill => Change.SlideMotion == SlideMotion.Still;

    /// <summary>Semitones the pitch glides, without sign: a jump from one partial to another is no glide.</summary>
    public double Semitones
    {
        get
        {
            var interval = Math.Abs(Plan.Notes[Change.ToNote].Note.Pitch.Midi - Plan.Notes[Change.FromNote].Note.Pitch.Midi);
            var glide = Math.Abs(Heard.GlideSemitones ?? interval);
            return Heard is { Broke: true, Break: { } b } ? Math.Min(glide, Math.Max(0, interval - Math.Abs(b.Semitones))) : glide;
        }
    }

    /// <summary>Whether a touch of the tongue was asked for; where nobody knows what was asked it may have been.</summary>
    public bool TongueAsked => TongueFigure.IsAsked(Plan, Change);

    /// <summary>Where the tongue is to touch against the middle of the arm's movement.</summary>
    public Seconds TongueAim => Change.TongueOffset is { } off && Change.Kind == ChangeKind.SoftTongue ? off + (0.5 * Change.MoveTime) : Seconds.Zero;

    private bool MeetsOnTheWay(SlideSetting a, SlideSetting b) =>
        Separations.Between(Plan.Instrument, Plan.Notes[Change.FromNote].Note.Pitch, a, Plan.Notes[Change.ToNote].Note.Pitch, b) == Separation.ValveMeets;

    private (SlideSetting From, SlideSetting To)? Settings =>
        Plan.Notes[Change.FromNote].Setting is { } a && Plan.Notes[Change.ToNote].Setting is { } b ? (a, b) : null;
}
