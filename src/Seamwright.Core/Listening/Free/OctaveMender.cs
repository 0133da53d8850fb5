namespace Seamwright.Core.Listening.Free;

/// <summary>Sets the track right where its pitch lies an octave or a twelfth off the note that is held there.</summary>
internal static class OctaveMender
{
    private const int Beside = 12;
    private const double Near = 0.5;
    private static readonly double[] Slips = [12, 12 * 1.584962500721156, 24];

    public static void Mend(RoughTrack track, Sounding sound, List<HeldNote> notes)
    {
        for (var i = 0; i < track.Count; i++)
        {
            // What the tones' search has moved by whole octaves already.
            if (track.Hz[i] > 0 && Math.Abs(sound.Pitch[i] - Semitones(track.Hz[i])) > 6) track.Hz[i] = 440 * Math.Pow(2, (sound.Pitch[i] - 69) / 12);
        }

        foreach (var note in notes)
        {
            for (var i = Math.Max(0, note.From - Beside); i < Math.Min(track.Count, note.To + Beside); i++)
            {
                if (track.Hz[i] > 0) MendFrame(track, sound, i, note.Pitch);
            }
        }
    }

    private static void MendFrame(RoughTrack track, Sounding sound, int i, double held)
    {
        var heard = Semitones(track.Hz[i]);
        foreach (var slip in Slips)
        {
            var off = heard - held;
            if (Math.Abs(Math.Abs(off) - slip) > Near) continue;
            var moved = off > 0 ? -slip : slip;
            track.Hz[i] *= Math.Pow(2, moved / 12);
            sound.Pitch[i] = (float)(heard + moved);
            return;
        }
    }

    private static double Semitones(double hz) => 69 + (12 * Math.Log2(hz / 440));
}
