namespace Seamwright.Core.Listening.Free;

/// <summary>A pitch held, with the frames it fills.</summary>
/// <param name="From">First frame.</param>
/// <param name="To">Frame after the last.</param>
/// <param name="Pitch">Median, semitones with A4 = 440 Hz at 69.</param>
internal readonly record struct HeldNote(int From, int To, double Pitch)
{
    public int Frames => To - From;
}
