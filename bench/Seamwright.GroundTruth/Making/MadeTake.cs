using Seamwright.GroundTruth.Truth;

namespace Seamwright.GroundTruth.Making;

/// <summary>A take in memory with its truth.</summary>
/// <param name="Samples">Mono, ±1.</param>
/// <param name="Rate">Samples a second.</param>
/// <param name="Truth">Exact.</param>
/// <param name="Curves">Exact.</param>
internal sealed record MadeTake(float[] Samples, int Rate, TruthFile Truth, Curves Curves);
