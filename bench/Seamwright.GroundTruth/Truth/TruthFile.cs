using System.Collections.Immutable;
using System.Text.Json;
using System.Text.Json.Serialization;

namespace Seamwright.GroundTruth.Truth;

/// <summary>Everything that is true of one take. Times are seconds from the file's first sample; what does not exist is null.</summary>
/// <remarks>Arrays compare by reference.</remarks>
internal sealed record TruthFile
{
    /// <summary>File name without its ending: NAME.wav, NAME.csv (seconds, hertz or empty, level in dB every 5 ms), NAME.json.</summary>
    public required string Name { get; init; }

    /// <summary>Where the sound comes from: simple, soundfont or real.</summary>
    public required string Source { get; init; }

    /// <summary>What was done to it afterwards: clean, noise30, reverb0.4 and so on.</summary>
    public required string Condition { get; init; }

    /// <summary>The condition in words and figures.</summary>
    public string ConditionDetail { get; init; } = "";

    /// <summary>The part that was played, MusicXML, in the same folder.</summary>
    public required string Part { get; init; }

    /// <summary>Of the catalogue.</summary>
    public required string Instrument { get; init; }

    /// <summary>The player's tempo against the part's.</summary>
    public required double TempoRatio { get; init; }

    public required double DurationSeconds { get; init; }

    public required ImmutableArray<TruthNote> Notes { get; init; }

    public required ImmutableArray<TruthChange> Changes { get; init; }

    /// <summary>For the bound of Cramér and Rao where noise was added; null elsewhere.</summary>
    public TruthNoise? Noise { get; init; }

    /// <summary>The same where the take begins so many seconds later.</summary>
    public TruthFile Later(double seconds) => this with
    {
        Notes = [.. Notes.Select(n => n with { Onset = n.Onset + seconds, Offset = n.Offset + seconds })],
        Changes = [.. Changes.Select(c => c with
        {
            Time = c.Time + seconds,
            MoveStart = c.MoveStart + seconds,
            MoveEnd = c.MoveEnd + seconds,
            GlideCentre = c.GlideCentre + seconds,
            DipCentre = c.DipCentre + seconds,
        })],
    };

    private static readonly JsonSerializerOptions Options = new()
    {
        WriteIndented = true,
        NewLine = "\n",
        PropertyNamingPolicy = JsonNamingPolicy.CamelCase,
        DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
    };

    public void Write(string path) => File.WriteAllText(path, JsonSerializer.Serialize(this, Options) + "\n");

    /// <exception cref="InvalidDataException">The file holds no truth.</exception>
    public static TruthFile Read(string path) =>
        JsonSerializer.Deserialize<TruthFile>(File.ReadAllText(path), Options) ?? throw new InvalidDataException($"{path} is empty.");
}

/// <summary>One note.</summary>
internal sealed record TruthNote
{
    public required int Index { get; init; }

    public required int Midi { get; init; }

    /// <summary>Joined to the note before: when the pitch is half way. After a rest, a stopped air or at the beginning: when the level
    /// comes within 20 dB of its own.</summary>
    public required double Onset { get; init; }

    public required double Offset { get; init; }

    /// <summary>Of its steady part.</summary>
    public required double Hertz { get; init; }

    /// <summary>Against the equal-tempered pitch that is written.</summary>
    public required double Cents { get; init; }

    /// <summary>Root mean square of its steady part against full scale.</summary>
    public required double LevelDb { get; init; }

    /// <summary>Peak amplitudes of its harmonics against full scale, from the first; empty where not measured.</summary>
    public ImmutableArray<double> Harmonics { get; init; } = [];
}

/// <summary>One change.</summary>
internal sealed record TruthChange
{
    public required int Index { get; init; }

    /// <summary>Of the plan.</summary>
    public required string Kind { get; init; }

    public required int FromMidi { get; init; }

    public required int ToMidi { get; init; }

    /// <summary>Where one note gives way to the other.</summary>
    public required double Time { get; init; }

    /// <summary>How the pitch goes: cosine (raised, in cents), arm (minimum jerk in slide travel), jump, or none over a rest.</summary>
    public required string Shape { get; init; }

    /// <summary>First and last moment at which the pitch is between the notes; equal to <see cref="Time"/> where it is not.</summary>
    public required double MoveStart { get; init; }

    public required double MoveEnd { get; init; }

    public double? Glide10to90Ms { get; init; }

    public double? GlideCentre { get; init; }

    /// <summary>Share of the 10–90 % time that lies more than 20 dB down, where nobody can see the pitch.</summary>
    public double GlideHidden { get; init; }

    public double? GlideSemitones { get; init; }

    /// <summary>Envelope below the quieter neighbour; null under 0.5 dB and over a rest.</summary>
    public double? DipDb { get; init; }

    /// <summary>At half of the depth in dB.</summary>
    public double? DipWidthMs { get; init; }

    public double? DipCentre { get; init; }

    /// <summary>Dip centre minus glide centre.</summary>
    public double? TongueOffsetMs { get; init; }

    /// <summary>Time more than 20 dB below the quieter neighbour; null where there is none.</summary>
    public double? GapMs { get; init; }

    /// <summary>Most that the new note exceeds its own level within its first 80 ms.</summary>
    public double? OvershootDb { get; init; }

    /// <summary>A wrong partial caught on the way.</summary>
    public double? CaughtHertz { get; init; }

    /// <summary>What slides against the pitch before the partial breaks; null where nothing does.</summary>
    public TruthSlide? SlideBefore { get; init; }

    /// <summary>What comes back from beyond the new note after it.</summary>
    public TruthSlide? SlideAfter { get; init; }

    /// <summary>The same as the ear's window shows it.</summary>
    public TruthEar Ear { get; init; } = new();

    /// <summary>What the verdict rules of the build that made the take say to these figures.</summary>
    public ImmutableArray<string> Verdicts { get; init; } = [];
}

/// <summary>A slide beside a break.</summary>
/// <param name="AudibleMs">From a tenth of its way on, while the ear's window shows less than 6 dB below the quieter neighbour.</param>
/// <param name="Semitones">How far it goes, positive.</param>
internal sealed record TruthSlide(double AudibleMs, double Semitones);

/// <summary>Levels in the ear's window (13 ms, or whole periods and at least two), which the verdicts' limits were measured with.</summary>
internal sealed record TruthEar
{
    public double DipDb { get; init; }

    public double Below10Ms { get; init; }

    public double GapMs { get; init; }

    /// <summary>Part of the glide's 10–90 % time that is less than 6 dB below the quieter neighbour.</summary>
    public double? AudibleGlideMs { get; init; }
}

/// <summary>Noise that was added to a take.</summary>
/// <param name="Kind">pink: its power density is <paramref name="Density"/>/f.</param>
/// <param name="SnrDb">Power of the sounding tone over the noise's, whole band.</param>
/// <param name="Density">Power in full-scale units; S(f) = Density/f in 1/Hz (one-sided).</param>
internal sealed record TruthNoise(string Kind, double SnrDb, double Density);
