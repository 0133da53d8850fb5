namespace Seamwright.Core.Sound.Loudness;

/// <summary>What a <see cref="LoudnessMeter"/> found in the sound so far.</summary>
/// <param name="Integrated">Gated loudness of the whole; null where no block of 400 ms lies above −70 LUFS, as in silence or in
/// anything shorter than 400 ms.</param>
/// <param name="Peak">Highest true peak of any channel; null in digital silence.</param>
public sealed record LoudnessReading(Lufs? Integrated, TruePeak? Peak);
