using Seamwright.Core.Units;

namespace Seamwright.Audio.Writing;

/// <summary>A file that was written whole.</summary>
/// <param name="Path">Its whole path.</param>
/// <param name="Format">As a player knows it: <c>FLAC</c>, <c>Opus</c>.</param>
/// <param name="Duration">Of the sound.</param>
/// <param name="Bytes">Length of the file.</param>
public sealed record WrittenSound(string Path, string Format, Seconds Duration, long Bytes);
