namespace Seamwright.Core.Diagnosis.Page;

/// <summary>Where times, pitches and levels lie in one row of the trace.</summary>
internal sealed record TraceScale
{
    public required double From { get; init; }

    public required double To { get; init; }

    /// <summary>Units of the drawing over the time from <see cref="From"/> to <see cref="To"/>.</summary>
    public required double Width { get; init; }

    /// <summary>Lowest and highest pitch, as MIDI numbers with fractions.</summary>
    public required double LowMidi { get; init; }

    public required double HighMidi { get; init; }

    /// <summary>What the level axis calls 0 dB, in dB against full scale.</summary>
    public required double TopDb { get; init; }

    public const double Left = 40, PitchTop = 12, PitchBottom = 132, MarkLane = 150, LevelTop = 196, LevelBottom = 246, Height = 266;

    /// <summary>The level axis reaches so far down, and up for notes that burst.</summary>
    public const double FloorDb = 40, HeadDb = 6;

    public double X(double time) => Left + ((time - From) / (To - From) * Width);

    public double PitchY(double midi) => PitchBottom - ((midi - LowMidi) / (HighMidi - LowMidi) * (PitchBottom - PitchTop));

    public double LevelY(double db) => LevelTop + (Math.Clamp(TopDb + HeadDb - db, 0, HeadDb + FloorDb) / (HeadDb + FloorDb) * (LevelBottom - LevelTop));

    public bool Holds(double midi) => midi >= LowMidi && midi <= HighMidi;

    public bool Shows(double time) => time >= From && time <= To;
}
