using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Sound;

namespace Seamwright.Tests.Listening;

/// <summary>Pitch and level frames of made-up practice, without sound: fast enough for an hour of it.</summary>
internal sealed class AttemptTrack
{
    private const double Hop = 0.005;
    private readonly List<float> pitch = [];
    private readonly List<double> db = [];
    private SeededNoise noise = new(3);

    public int Frames => pitch.Count;

    public Sounding Sounding => new([.. pitch], [.. db], [.. db.Select(d => d < -60)], Hop);

    /// <summary>Plays the plan's notes from one on, until a time after it began; gives the frame at which each begins.</summary>
    public Dictionary<int, int> Play(Plan plan, int from = 0, double until = double.PositiveInfinity, double tempo = 1)
    {
        var begins = new Dictionary<int, int>();
        var (start, first) = (plan.Notes[from].Note.StartTime.Value, pitch.Count);
        foreach (var note in plan.Notes.Skip(from).Select(n => n.Note))
        {
            var time = (note.StartTime.Value - start) / tempo;
            if (time >= until) break;
            begins[note.Index] = pitch.Count;
            var end = first + (int)(Math.Min(until, (note.EndTime.Value - start) / tempo) / Hop);
            var length = end - pitch.Count;
            for (var i = 0; i < length; i++)
            {
                pitch.Add(note.Pitch.Midi + (0.05f * noise.Uniform()));
                db.Add(-20 - (12 * Math.Max(0, 1 - (Math.Min(i, length - 1 - i) / 4.0))) + (0.2 * noise.Uniform()));
            }
        }

        return begins;
    }

    public void Rest(double seconds)
    {
        for (var i = 0; i < seconds / Hop; i++)
        {
            pitch.Add(float.NaN);
            db.Add(-80 + noise.Uniform());
        }
    }
}
