using System.Collections.Immutable;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Exercises;

/// <summary>Music and tempos of a study in phrases: settings for the quickest tempo, breaths for the slowest.</summary>
internal sealed record LegatoStudy(Part Part, ImmutableArray<double> Tempos)
{
    /// <summary>Writes one.</summary>
    /// <param name="pupil">Whose arm and settings.</param>
    /// <param name="key">Signature.</param>
    /// <param name="meter">Throughout.</param>
    /// <param name="tempos">Ordered; null finds a ladder.</param>
    /// <param name="sections">At a slowest tempo; later ones are quicker than the first and are left out where the arm could keep them
    /// only below ♩ = 60, or where with them the whole belongs to a higher level than the pupil's.</param>
    /// <param name="free">Whether a note may come in more places than one, as in wide steps it may.</param>
    /// <param name="scale">Notes whose places in a scale are taken where the arm keeps ♩ = 60 with them; null takes the music's own.</param>
    public static LegatoStudy Of(Pupil pupil, KeySignature key, Meter meter, ImmutableArray<double>? tempos, Func<double, ImmutableArray<LegatoSection>> sections, bool free = false, IEnumerable<Pitch>? scale = null)
    {
        pupil = Manner.InScales(free ? pupil : Places.Own(pupil));
        if (scale is not null && ScalePlaces.Of(pupil, key, scale) is { } homely && Keeps(homely)) pupil = homely;
        if (tempos is { } ordered)
        {
            var wished = sections(ordered[0]);
            return new(LegatoWriting.Whole(key, meter, wished, QuickestTempo.PlanAt(LegatoWriting.Bare(key, meter, wished), pupil, ordered[^1], free)), ordered);
        }

        var (all, top, plan) = Fit(sections);
        if (all.Length > 1 && (top < QuickestTempo.Slow || (plan is not null && !QuickestTempo.IsWithin(plan, pupil)))) (all, top, plan) = Fit(t => [sections(t)[0]]);
        return new(LegatoWriting.Whole(key, meter, all, plan), QuickestTempo.UpTo(top));

        bool Keeps(Pupil who) => QuickestTempo.PlanAt(LegatoWriting.Bare(key, meter, sections(QuickestTempo.Slow)), who, tempos is { } wish ? wish[^1] : QuickestTempo.Slow) is { } plan
            && plan.Notes.All(n => n.Setting is not null) && plan.Changes.All(c => c.Plausible);

        // Where the arm is slower than the first guess, the breaths come closer together.
        (ImmutableArray<LegatoSection> Sections, double Top, Plan? Plan) Fit(Func<double, ImmutableArray<LegatoSection>> at)
        {
            var found = at(QuickestTempo.Slow);
            var (quickest, planned) = QuickestTempo.TopOf(LegatoWriting.Bare(key, meter, found), pupil, free);
            if (quickest >= QuickestTempo.Slow) return (found, quickest, planned);
            found = at(quickest);
            return (found, quickest, QuickestTempo.PlanAt(LegatoWriting.Bare(key, meter, found), pupil, quickest, free));
        }
    }
}
