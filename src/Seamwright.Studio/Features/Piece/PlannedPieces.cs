using System.Security.Cryptography;
using Seamwright.Core;
using Seamwright.Core.Instruments;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;
using Seamwright.Engraving;
using Seamwright.Engraving.Engines;
using Seamwright.Studio.Features.Music;
using Seamwright.Studio.Store;

namespace Seamwright.Studio.Features.Piece;

/// <summary>A piece, read, moved and planned.</summary>
/// <param name="Stored">Its card.</param>
/// <param name="Settings">How it is played and shown.</param>
/// <param name="Sheet">The part chosen, in its key, with its plan.</param>
/// <param name="Problems">What reading and planning said, each once.</param>
/// <param name="Stamp">The same for the same notes, settings and instrument.</param>
public sealed record PlannedPiece(Store.Piece Stored, PieceSettings Settings, PlannedSheet Sheet, IReadOnlyList<Problem> Problems, string Stamp)
{
    public Score Score => Sheet.Score;

    public Part Part => Sheet.Part;

    public Plan Plan => Sheet.Plan;

    /// <summary>The one clef it is written in; null where there are several.</summary>
    public Clef? Clef => Look.Clef ?? (Part.Bars.SelectMany(b => b.Clefs).Select(c => (Clef?)c.Clef).Distinct().ToList() is [var only] ? only : null);

    /// <summary>Notes are named as its music writes them.</summary>
    public NoteNaming Naming => NoteNaming.Under(Clef);

    public SheetOptions Look => new() { Clef = ClefNames.Find(Settings.Clef), Syllable = Settings.Syllable, QuartersPerMinute = Settings.Tempo };
}

/// <summary>Plans pieces, and remembers those asked for last.</summary>
internal sealed class PlannedPieces(Pieces pieces, Horns horns, IEngraver engraver)
{
    private const int Kept = 8, KeptSheets = 64;
    private readonly Lock gate = new();
    private readonly LinkedList<(string Key, object Value)> plans = new(), sheets = new();

    /// <summary>The piece as its settings want it.</summary>
    /// <returns>Null where there is no such piece.</returns>
    public Outcome<PlannedPiece>? Of(long id) => Of(id, null);

    /// <summary>The piece as other settings want it.</summary>
    /// <param name="id">Of the piece.</param>
    /// <param name="settings">As JSON; null for its own.</param>
    /// <param name="evenRemoved">Also where it was put away.</param>
    public Outcome<PlannedPiece>? Of(long id, string? settings, bool evenRemoved = false)
    {
        if (pieces.Find(id, evenRemoved) is not { } piece) return null;
        if (settings is not null) piece = piece with { Settings = settings };
        var horn = horns.OrUsual(PieceSettings.Read(piece.Settings).Instrument);
        var stamp = StampOf(piece, horn);
        return Remembered(plans, Kept, stamp, () => Make(piece, horn, stamp));
    }

    /// <summary>Its music on a screen, from a place on.</summary>
    /// <param name="piece">Planned.</param>
    /// <param name="width">Of a system, in hundredths of a millimetre.</param>
    /// <param name="place">Of the first system; within the part.</param>
    public ScreenMusic Music(PlannedPiece piece, int width, ScreenPlace place) =>
        Remembered(sheets, KeptSheets, $"{piece.Stamp} {width} {place}", () => new ScreenMaker(engraver).MakeFrom(piece.Part, piece.Plan, piece.Look, width, place));

    // An own horn and a melody may be changed under the same name: their contents tell. Remarks call notes as the user does.
    private string StampOf(Store.Piece piece, Instrument horn) =>
        $"{piece.Id} {piece.Title} {piece.Settings} {NoteNaming.Current} {Convert.ToHexString(SHA256.HashData([.. InstrumentFile.Bytes(horn), .. pieces.Content(piece.Id)!]))}";

    private Outcome<PlannedPiece> Make(Store.Piece stored, Instrument horn, string stamp)
    {
        var settings = PieceSettings.Read(stored.Settings);
        var score = PieceFile.Read(pieces.Content(stored.Id)!, stored.FileName);
        if (!score.Succeeded) return Outcome<PlannedPiece>.Failed(score.Problems);
        var (part, voice) = settings.PartIn(score.Value);
        Outcome<PlannedPiece> Planned()
        {
            var made = PlannedSheet.Make(score.Value with { Title = stored.Title }, horn, part, voice, settings.Tempo, settings.Plan(), score.Problems, settings.Wish());
            return made.Succeeded ? Outcome<PlannedPiece>.Of(new PlannedPiece(stored, settings, made.Value, [.. made.Problems.Distinct()], stamp)) : Outcome<PlannedPiece>.Failed(made.Problems);
        }

        // Reasons name notes; only the part tells how they are written.
        var first = Planned();
        return first.Succeeded && first.Value.Naming is var naming && naming != NoteNaming.Current ? naming.While(Planned) : first;
    }

    private T Remembered<T>(LinkedList<(string Key, object Value)> memory, int kept, string key, Func<T> make)
        where T : class
    {
        lock (gate)
        {
            for (var node = memory.First; node is not null; node = node.Next)
            {
                if (node.Value.Key != key) continue;
                memory.Remove(node);
                memory.AddFirst(node);
                return (T)node.Value.Value;
            }
        }

        var made = make();
        lock (gate)
        {
            memory.AddFirst((key, made));
            while (memory.Count > kept) memory.RemoveLast();
        }

        return made;
    }
}
