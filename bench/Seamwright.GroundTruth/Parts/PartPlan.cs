using Seamwright.Core;
using Seamwright.Core.Instruments;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Scores.MusicXml;

namespace Seamwright.GroundTruth.Parts;

/// <summary>A part's file to a plan, with the same steps and defaults as the program's own <c>hear --part</c>.</summary>
internal static class PartPlan
{
    /// <summary>Writes the sketch as MusicXML.</summary>
    public static void Write(Sketch sketch, string path)
    {
        using var stream = File.Create(path);
        MusicXmlWriter.Write(SketchScore.Of(sketch), null, stream);
    }

    /// <summary>Reads a MusicXML file and plans its part.</summary>
    /// <exception cref="InvalidDataException">It cannot be read or planned.</exception>
    public static Plan Read(string path, string instrumentId)
    {
        using var stream = File.OpenRead(path);
        return Of(Must(MusicXmlReader.Read(stream, Path.GetFileName(path))), instrumentId);
    }

    /// <summary>Plans the part of a score that fits the instrument.</summary>
    /// <exception cref="InvalidDataException">It cannot be planned.</exception>
    public static Plan Of(Score score, string instrumentId)
    {
        var horn = Catalogue.Find(instrumentId) ?? throw new InvalidDataException($"There is no instrument '{instrumentId}'.");
        var part = Must(PartChooser.Choose(score, horn));
        return Must(Planner.Plan(Must(Unfolder.Play(part, score.Title)), horn));
    }

    private static T Must<T>(Outcome<T> outcome)
        where T : class =>
        outcome.Succeeded ? outcome.Value : throw new InvalidDataException(string.Join(" ", outcome.Problems));
}
