using Seamwright.Audio;
using Seamwright.Core.Diagnosis;
using Seamwright.Core.Instruments;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Units;
using Seamwright.Tests.Planning;

namespace Seamwright.Tests.Listening;

/// <summary>Sound that this project did not make: a soundfont's trombone, and recordings of a real one.</summary>
public class OtherSoundTests
{
    private const string Phrase = "Bb3 B3 Bb3 B3 Ab3 B3 G3 C4 G3 G3 D4 G3 F#3 D4 F#3 F3 E4 F3 F4 F3";

    [Fact] // Debian's timgm6mb-soundfont, General MIDI program 58 (Trombone), rendered by fluidsynth without reverb and chorus.
    public void A_soundfonts_trombone_is_found_note_by_note_within_fifty_milliseconds()
    {
        var font = "/usr/share/sounds/sf2/TimGM6mb.sf2";
        if (!File.Exists(font)) Assert.Skip($"{font} is missing: install timgm6mb-soundfont.");
        var folder = Directory.CreateTempSubdirectory();
        try
        {
            int[] midi = [46, 48, 50, 51, 53, 55, 57, 58, 60, 62];
            var (mid, wav) = (Path.Combine(folder.FullName, "line.mid"), Path.Combine(folder.FullName, "line.wav"));
            File.WriteAllBytes(mid, MidiLine(midi));
            OutsideProgram.Run("fluidsynth", "-ni", "-R", "0", "-C", "0", "-r", "44100", "-q", "-F", wav, font, mid).Well();
            using var stream = File.OpenRead(wav);
            var plan = PlanOf(string.Join(' ', midi.Select(m => Pitch.FromMidi(m).ToString())), 120);
            var take = Listener.Listen(WavFile.Read(stream, "line.wav").Value, plan);
            Assert.All(take.Notes, n => Assert.True(n.Found, $"{n.Pitch} was not found"));
            var first = take.Notes[0].Onset!.Value.Value;
            Assert.All(take.Notes, n => Assert.InRange(n.Onset!.Value.Value - first - (0.5 * n.Index), -0.05, 0.05));
            Assert.All(take.Notes, n => Assert.InRange(n.Cents!.Value.Value, -40, 40));
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    [Fact] // Labelled phrases of one orchestral player (Philharmonia Orchestra sound samples, CC BY-SAA 3.0 Unported).
    public void A_fine_players_articulations_come_out_in_their_order_and_legato_is_not_blamed()
    {
        var dips = new Dictionary<string, double>();
        var blamed = new Dictionary<string, int>();
        foreach (var label in (string[])["legato", "tenuto", "tongued-slur", "staccato"])
        {
            var plan = PlanOf(Phrase, 187);
            var take = Listener.Listen(Recorded($"trombone_As3_phrase_mezzo-forte_{label}.mp3"), plan);
            Assert.All(take.Notes, n => Assert.True(n.Found, $"{label}: note {n.Index} was not found"));
            var joined = take.Changes.Take(17).ToList();
            dips[label] = Median(joined.Select(c => c.Below10!.Value.Milliseconds));
            var diagnosis = Diagnostician.Judge(take, plan);
            blamed[label] = diagnosis.Changes.Take(17).Count(c => c.Verdicts.Any(v => v is Verdict.AirStopped or Verdict.TooHard or Verdict.Bump or Verdict.Smear));
        }

        Assert.True(dips["legato"] <= dips["tenuto"] + 5 && dips["tenuto"] < dips["tongued-slur"] && dips["tongued-slur"] < dips["staccato"], string.Join(", ", dips));

        // The goal is 0 of 17; 2 is what stands today (dips of 16 and 21 dB), held here so that it cannot grow unseen.
        Assert.True(blamed["legato"] <= 2 && blamed["legato"] < blamed["tongued-slur"] && blamed["staccato"] >= 14, string.Join(", ", blamed));
    }

    private static Plan PlanOf(string notes, double tempo) =>
        Planner.Plan(TestLines.Of(string.Join(' ', notes.Split(' ').Select(n => n + "~")), tempo), Catalogue.Find("tenor-straight")!).Value;

    private static Recording Recorded(string name)
    {
        var path = Path.Combine(Repository.Root, "..", "shared", "sounds", name);
        if (!File.Exists(path)) Assert.Skip($"{name} is not beside this checkout.");
        using var wav = new MemoryStream(OutsideProgram.Run("ffmpeg", "-v", "error", "-i", path, "-f", "wav", "-c:a", "pcm_s16le", "-").Well().Output);
        return WavFile.Read(wav, name).Value;
    }

    private static double Median(IEnumerable<double> values)
    {
        var sorted = values.Order().ToList();
        return sorted[sorted.Count / 2];
    }

    // Standard MIDI file, format 0, 480 ticks a quarter at 120: each note a quarter long, 20 ticks apart.
    private static byte[] MidiLine(int[] notes)
    {
        List<byte> track = [0x00, 0xC0, 57];
        foreach (var note in notes)
        {
            track.AddRange([0x00, 0x90, (byte)note, 90]);
            track.AddRange([0x83, 0x4C, 0x80, (byte)note, 0]);
            track.AddRange([0x14, 0xB0, 0x0B, 127]);
        }

        track.AddRange([0x00, 0xFF, 0x2F, 0x00]);
        return [.. "MThd"u8, 0, 0, 0, 6, 0, 0, 0, 1, 0x01, 0xE0, .. "MTrk"u8, 0, 0, (byte)(track.Count >> 8), (byte)track.Count, .. track];
    }
}
