namespace Seamwright.GroundTruth.Making;

/// <summary>A take that is to be made.</summary>
/// <param name="Name">File name without ending.</param>
/// <param name="Source">simple, soundfont or real.</param>
/// <param name="PartFile">Name of the MusicXML file in the same folder.</param>
/// <param name="InstrumentId">Of the catalogue.</param>
/// <param name="TempoRatio">The player's tempo against the part's.</param>
internal sealed record TakeOrder(string Name, string Source, string PartFile, string InstrumentId, double TempoRatio);
