using System.Collections.Immutable;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;

namespace Seamwright.Core.Diagnosis;

/// <summary>A tone with the tongue imagined beside the same tone with touches, as an exercise asked for both.</summary>
/// <param name="Imagined">Notes of the first.</param>
/// <param name="Touched">Notes of the second.</param>
/// <param name="Air">What the touches did to the air.</param>
public sealed record TonePair(LongTone Imagined, LongTone Touched, AirComparison Air)
{
    // Seconds: shorter tones are too short whatever the touches.
    private const double LongEnough = 4;

    /// <summary>Every touched tone of a take with the nearest imagined one on its pitch before it, else after it.</summary>
    public static ImmutableArray<TonePair> Of(Take take, Plan plan)
    {
        var tones = LongTone.Of(plan).ToList();
        var pairs = ImmutableArray.CreateBuilder<TonePair>();
        foreach (var touched in tones.Where(t => t.Touched))
        {
            var imagined = tones.Where(t => !t.Touched && Pitch(t) == Pitch(touched)).OrderBy(t => t.First > touched.First).ThenBy(t => Math.Abs(t.First - touched.First)).ToList();
            if (imagined.Count == 0 || HeardTone.Of(take, imagined[0]) is not { } held || HeardTone.Of(take, touched) is not { } tongued) continue;
            var air = TouchPair.Compare(held, tongued);
            var tooFast = air.Level is null && (held.To - held.From).Value >= LongEnough && (tongued.To - tongued.From).Value >= LongEnough;
            pairs.Add(new(imagined[0], touched, tooFast ? air with { Sentence = "The touches follow each other too fast to hear the air between them." } : air));
        }

        return pairs.ToImmutable();

        int Pitch(LongTone tone) => plan.Notes[tone.First].Note.Pitch.Midi;
    }

    /// <summary>Whether the air surely changed.</summary>
    public bool AirChanged => Air.Findings.Any(f => f.Verdict == Verdict.AirChanged);

    /// <summary><c>Bar 4 against bar 1, B♭3: The air stayed the same …</c></summary>
    public string Sentence(Plan plan)
    {
        var (a, b) = (plan.Notes[Imagined.First].Note, plan.Notes[Touched.First].Note);
        return $"Touched from bar {b.Bar} against imagined from bar {a.Bar}, {a.Pitch.ToDisplay()}: {Air.Sentence}";
    }
}
