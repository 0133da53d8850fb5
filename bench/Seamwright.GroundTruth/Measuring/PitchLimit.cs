using Seamwright.Core.Listening;
using Seamwright.GroundTruth.Truth;

namespace Seamwright.GroundTruth.Measuring;

/// <summary>How well a pitch can be known at all.</summary>
/// <remarks>
/// <para>A tone x(t) = Σ A_k·cos(k(φ + ω·t) + θ_k) in Gaussian noise of one-sided density S(f). With the middle of the window at
/// t = 0 the derivative of the k-th harmonic by ω is −k·t·A_k·sin(…), whose square averages k²·A_k²·t²/2. Fisher's information is
/// J = Σ_k ∫ k²A_k²t²/2 · 2/S(k·f) dt = Σ_k k²A_k²/S_k · T³/12, since noise of density S carries 2/S of information for each
/// unit of energy. The common phase φ is orthogonal to ω on a window that lies symmetrically about 0, so the bound for ω at the
/// middle is 1/J whether the phase is known or not:</para>
/// <para>var(ω) ≥ 12 / (T³·Σ k²A_k²/S_k),  var(f) ≥ 3 / (π²·T³·Σ k²A_k²/S_k).</para>
/// <para>White noise of variance σ² at the rate fs has S = 2σ²/fs, which gives var(f) ≥ 6σ²/(π²·fs·T³·Σ k²A_k²): Rife and Boorstyn,
/// IEEE Trans. Inf. Theory 20 (1974), for one harmonic; Christensen and Jakobsson, "Multi-Pitch Estimation" (2009), for the sum.</para>
/// <para>Moving tones: if the phase is φ + ω·t + α·t²/2, the derivative by α is even in t and that by ω odd, so a steady change of
/// pitch costs nothing at the window's middle. A change of that change (γ·t³/6) is odd as well: with Legendre's polynomials the
/// information about ω falls to 4/25, so the deviation grows 2.5 times. A window over a glide must therefore be short against the
/// glide or follow its shape; a shape known up to start and length has two free figures, and the bound lies between those two.</para>
/// </remarks>
internal static class PitchLimit
{
    private const int LowMidi = 46;

    /// <summary>Least standard deviation in cents.</summary>
    /// <param name="hz">Pitch.</param>
    /// <param name="amplitudes">Peak amplitudes of the harmonics.</param>
    /// <param name="density">One-sided power density of the noise, 1/Hz, at a frequency.</param>
    /// <param name="seconds">Length of the window.</param>
    public static double Cents(double hz, IReadOnlyList<double> amplitudes, Func<double, double> density, double seconds)
    {
        var sum = 0.0;
        for (var k = 1; k <= amplitudes.Count; k++) sum += k * k * amplitudes[k - 1] * amplitudes[k - 1] / density(k * hz);
        var deviation = Math.Sqrt(3 / (Math.PI * Math.PI * Math.Pow(seconds, 3) * sum));
        return 1200 / Math.Log(2) * deviation / hz;
    }

    /// <summary>The low notes of a noisy take.</summary>
    public static IEnumerable<BoundScore> Of(TruthFile truth, FrameJudge frames, Take take)
    {
        if (truth.Noise is not { } noise) yield break;
        var heard = FrameJudge.Of(take.Track);
        var steady = frames.Sounding().Where(f => !f.Moves).ToLookup(f => f.Note.Index);
        foreach (var note in truth.Notes.Where(n => n.Midi < LowMidi && !n.Harmonics.IsEmpty))
        {
            var errors = steady[note.Index].Select(f => heard(f.Time) is { } hz ? 1200 * Math.Log2(hz / f.Hertz) : (double?)null)
                .Where(e => e is { } x && Math.Abs(x) < 50).Select(e => e!.Value).ToList();
            if (errors.Count < 20) continue;
            yield return new BoundScore(
                note.Midi,
                noise.SnrDb,
                Math.Sqrt(errors.Average(e => e * e)),
                take.Notes[note.Index].Cents?.Value - note.Cents,
                Cents(note.Hertz, note.Harmonics, f => noise.Density / f, 2 / note.Hertz),
                Cents(note.Hertz, note.Harmonics, f => noise.Density / f, errors.Count * 0.005));
        }
    }
}
