using System.Collections.Immutable;
using Seamwright.Core.Sound;
using Seamwright.Core.Units;
using Seamwright.GroundTruth.Truth;

namespace Seamwright.GroundTruth.Making;

/// <summary>A real trombone's held notes, made steady and bent again: each phrase takes the recorded note that lies nearest.</summary>
/// <remarks>The truth is the warp that was imposed and what little wandering the steady note still has. The beginning is a gain of
/// 25 ms; bending moves the formants with the pitch.</remarks>
internal sealed class RealVoice : IVoice
{
    private const double Attack = 0.025, SilenceDb = 80;
    private readonly ImmutableArray<RealNote> notes;

    private RealVoice(ImmutableArray<RealNote> notes) => this.notes = notes;

    public string Name => "real";

    public int Rate => 44_100;

    /// <summary>Reads every single note of a folder: files named INSTRUMENT_NOTE_LENGTH_DYNAMIC_normal.mp3.</summary>
    /// <param name="folder">Of recordings.</param>
    /// <param name="say">Told what is left out, and why.</param>
    /// <returns>Null where nothing can be used.</returns>
    public static RealVoice? Load(string folder, Action<string> say)
    {
        if (!Directory.Exists(folder))
        {
            say($"Left out: real takes; there is no folder {folder}.");
            return null;
        }

        if (!Ffmpeg.IsThere)
        {
            say("Left out: real takes; ffmpeg is missing.");
            return null;
        }

        var notes = ImmutableArray.CreateBuilder<RealNote>();
        foreach (var file in Directory.GetFiles(folder, "*_normal.mp3").Order(StringComparer.Ordinal))
        {
            if (PitchOf(file) is not { } pitch) continue;
            if (RealNote.Of(Ffmpeg.Decode(file, 44_100), 44_100, pitch.Frequency(Hertz.A440).Value) is { } note && note.Wandering.Max(Math.Abs) < 12) notes.Add(note);
        }

        say($"{notes.Count} real notes from {notes.Min(n => n.Hertz):0} to {notes.Max(n => n.Hertz):0} Hz");
        return notes.Count == 0 ? null : new RealVoice(notes.ToImmutable());
    }

    public PhraseSound Render(Func<double, double> log2Hz, double length)
    {
        var samples = new float[(int)(length * Rate)];
        var asked = Enumerable.Range(0, (int)(length * 100)).Select(i => log2Hz(i / 100.0)).ToArray();
        var middle = (asked.Max() + asked.Min()) / 2;

        // Several dynamics of one pitch lie equally near: the pitch asked for, to the cent, picks one.
        var near = notes.OrderBy(n => Math.Abs(Math.Log2(n.Hertz) - middle)).Take(3).ToList();
        var note = near[(int)Math.Abs(asked[0] * 1e6) % near.Count];
        var count = (int)(length / Curves.Step) + 1;
        var pitch = new double[count];
        var place = 0.0;
        var (next, perStep) = (0, Curves.Step * Rate);
        for (var i = 0; i < samples.Length; i++)
        {
            var wanted = log2Hz(i / (double)Rate);
            while (next < count && next * perStep <= i)
            {
                pitch[next++] = wanted + (Interpolation.Linear(note.Wandering, (place / Rate / Demodulator.Hop) - 0.5) / 1200);
            }

            samples[i] = Interpolation.Sinc(note.Loop, place, wrap: true);
            place = (place + (Math.Pow(2, wanted) / note.Hertz)) % note.Loop.Length;
        }

        while (next < count) pitch[next++] = log2Hz(length);
        var attack = LevelShape.Silence(-1e6, 0.02, SilenceDb, Attack, Attack);
        for (var i = 0; i < samples.Length; i++) samples[i] *= (float)Math.Pow(10, attack.At(i / (double)Rate) / 20);
        return new PhraseSound(samples, pitch, [.. Enumerable.Range(0, count).Select(i => attack.At(i * Curves.Step))]);
    }

    public void Dispose()
    {
    }

    // As3 is A sharp 3.
    private static Pitch? PitchOf(string file)
    {
        var parts = Path.GetFileNameWithoutExtension(file).Split('_');
        return parts.Length > 1 && Pitch.TryParse(parts[1].Replace("s", "#", StringComparison.Ordinal), out var pitch) ? pitch : null;
    }
}
