using Seamwright.Core.Planning;

namespace Seamwright.Core.Listening;

/// <summary>Cuts a long tone with touches into its notes: by the touches that are heard, and by the beat where one is missing.</summary>
/// <remarks>All notes of such a run have one pitch, so where a touch is missing alignment cannot know which: it would take the next
/// touch for it and end in another tone. Here the run is one stretch of sound that goes on, its beat is followed from touch to touch, and a place
/// without a dip stays a place: what is measured there says that no touch was heard.</remarks>
internal static class TouchedRuns
{
    private const float SamePitch = 0.7f;

    // A hard touch hides the pitch so long, seconds; a longer hole ends the tone.
    private const double LongestHole = 0.2;
    private const double LeastDip = 1;

    // dB under the tone: a room that rings on at the same pitch is no tone.
    private const double FarBelow = 20;

    // Share of the time between two touches within which the next is looked for, either side of its beat.
    private const double Reach = 0.35;
    private const double FastestTempo = 1.5, SlowestTempo = 0.6, TempoStep = 0.01;

    // How far the touches may pull the beat: one that is off its place should not take all the following with it.
    private const double Pull = 0.5;

    /// <summary>Cuts every such run anew where its tone is found.</summary>
    /// <param name="stretches">Of each note of the plan; those of such runs are replaced.</param>
    /// <param name="semitones">From a written pitch to the one played.</param>
    /// <param name="sound">The recording.</param>
    /// <param name="plan">What was asked.</param>
    /// <param name="places">Where the level dips.</param>
    public static void Recut(Stretch?[] stretches, double semitones, Sounding sound, Plan plan, Boundary[] places)
    {
        foreach (var (first, last) in Of(plan))
        {
            if (ToneOf(stretches[first..(last + 1)], plan.Notes[first].Note.Pitch.Midi + semitones, sound) is not { } tone) continue;
            var starts = Enumerable.Range(first, last - first + 1).Select(i => (plan.Notes[i].Note.StartTime - plan.Notes[first].Note.StartTime).Value / sound.Hop).ToArray();
            var whole = (plan.Notes[last].Note.EndTime - plan.Notes[first].Note.StartTime).Value / sound.Hop;
            var dips = places.Where(p => p.DipDb >= LeastDip && p.Frame > tone.From && p.Frame < tone.To).ToArray();
            var cuts = Cuts(starts, whole, tone, dips);
            if (cuts is null) continue;
            for (var i = first; i <= last; i++) stretches[i] = new Stretch(cuts[i - first], i < last ? cuts[i - first + 1] : tone.To);
        }
    }

    /// <summary>First and last note of every touched tone that silence or another pitch parts from its neighbours.</summary>
    internal static IEnumerable<(int First, int Last)> Of(Plan plan) => LongTone.Of(plan)
        .Where(t => t.Touched && (t.First == 0 || Parts(plan.Changes[t.First - 1])) && (t.Last == plan.Changes.Length || Parts(plan.Changes[t.Last])))
        .Select(t => (t.First, t.Last));

    private static bool Parts(NoteChange change) => change.Kind == ChangeKind.Breath || change.PitchMotion != PitchMotion.Same;

    // From the longest piece that was found, outward while the pitch goes on.
    private static Stretch? ToneOf(Stretch?[] found, double pitch, Sounding sound)
    {
        var pieces = found.OfType<Stretch>().ToList();
        if (pieces.Count == 0) return null;
        var seed = pieces.MaxBy(p => p.To - p.From);
        var level = sound.Db[seed.From..seed.To].Order().ElementAt((seed.To - seed.From) / 2) - FarBelow;
        var middle = Enumerable.Range(seed.From, seed.To - seed.From).FirstOrDefault(f => IsTone(sound, f, pitch, level), -1);
        return middle < 0 ? null : new Stretch(End(middle, -1), End(middle, 1) + 1);

        int End(int from, int step)
        {
            var (end, hole) = (from, sound.Frames(LongestHole));
            for (var f = from + step; f >= 0 && f < sound.Count && Math.Abs(f - end) <= hole; f += step)
            {
                if (IsTone(sound, f, pitch, level)) end = f;
            }

            return end;
        }
    }

    private static bool IsTone(Sounding sound, int frame, double pitch, double level) => sound.Db[frame] >= level && sound.HasPitch(frame) && Math.Abs(sound.Pitch[frame] - pitch) < SamePitch;

    // The tempo at which most touches lie near their beats; the tone's own length decides between equals.
    private static int[]? Cuts(double[] starts, double whole, Stretch tone, Boundary[] dips)
    {
        var own = (tone.To - tone.From) / whole;
        if (own is < 1 / FastestTempo or > 1 / SlowestTempo) return null;
        var (best, most) = (Followed(starts, tone, dips, own), double.NegativeInfinity);
        for (var stretch = 1 / FastestTempo; stretch <= 1 / SlowestTempo; stretch += TempoStep)
        {
            var tried = Followed(starts, tone, dips, stretch);
            var score = tried.Score - Math.Abs(Math.Log(stretch / own));
            if (score > most) (best, most) = (tried, score);
        }

        return best.Cuts[^1] < tone.To - 1 ? best.Cuts : null;
    }

    private static (int[] Cuts, double Score) Followed(double[] starts, Stretch tone, Boundary[] dips, double stretch)
    {
        var (cuts, score, late) = (new int[starts.Length], 0.0, 0.0);
        cuts[0] = tone.From;
        for (var i = 1; i < starts.Length; i++)
        {
            var beat = tone.From + (starts[i] * stretch) + late;
            var reach = Reach * (starts[i] - starts[i - 1]) * stretch;
            var near = dips.Where(d => d.Frame > cuts[i - 1] && Math.Abs(d.Frame - beat) <= reach).ToArray();
            cuts[i] = Math.Max(cuts[i - 1] + 1, (int)Math.Round(beat));
            if (near.Length == 0) continue;
            var touch = near.MaxBy(d => Math.Min(d.DipDb, 6) - (6 * Math.Abs(d.Frame - beat) / reach));
            cuts[i] = touch.Frame;
            late += Pull * (touch.Frame - beat);
            score += 1 - Math.Pow((touch.Frame - beat) / reach, 2);
        }

        return (cuts, score);
    }
}
