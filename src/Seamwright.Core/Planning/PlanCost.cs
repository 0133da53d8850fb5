using System.Collections.Immutable;
using Seamwright.Core.Instruments;
using Seamwright.Core.Scores;

namespace Seamwright.Core.Planning;

/// <summary>The cost of one given way to play a line, added up plainly: what <see cref="Lattice"/> must agree with.</summary>
public static class PlanCost
{
    /// <summary>Sum over notes, changes and reversals. A note without a setting parts what is before it from what is after.</summary>
    /// <param name="line">The line.</param>
    /// <param name="chosen">One setting for each note, null where there is none.</param>
    /// <param name="instrument">For usual settings, and for what sounds between two.</param>
    /// <param name="settings">Player and weights.</param>
    public static double Of(Line line, IReadOnlyList<SlideSetting?> chosen, Instrument instrument, PlanSettings settings)
    {
        if (chosen.Count != line.Notes.Length) throw new ArgumentException("One setting for each note is needed.", nameof(chosen));
        var model = new CostModel(instrument, settings.Player, settings.Weights);
        ImmutableArray<Joint> joints = Joint.Of(line, settings.Player);
        var total = 0.0;
        var motion = SlideMotion.Still;
        for (var i = 0; i < chosen.Count; i++)
        {
            if (chosen[i] is not { } setting)
            {
                motion = SlideMotion.Still;
                continue;
            }

            total += model.OfNote(line.Notes[i].Pitch, setting);
            if (i == 0 || chosen[i - 1] is not { } before) continue;
            total += model.OfChange(line.Notes[i - 1].Pitch, before, line.Notes[i].Pitch, setting, joints[i - 1]);
            var next = CostModel.MotionOf(before, setting, joints[i - 1]);
            if (CostModel.Reverses(motion, next)) total += model.OfReversal;
            motion = next;
        }

        return total;
    }
}
