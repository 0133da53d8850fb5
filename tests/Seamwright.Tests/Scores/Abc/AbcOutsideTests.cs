using Seamwright.Core.Scores;

namespace Seamwright.Tests.Scores.Abc;

/// <summary>The same tunes as a general-purpose package of others plays them: every pitch and every onset.</summary>
public class AbcOutsideTests
{
    private static readonly string[] Keys = ["C", "G", "Dm", "Bb", "EbMix", "F#m", "ADor", "D Phr ^f"];
    private static readonly string[] Meters = ["4/4", "3/4", "2/4", "6/8"];

    [Fact]
    public void Invented_tunes_have_the_pitches_and_onsets_that_others_find()
    {
        var tunes = Enumerable.Range(0, 300).Select(Tune).ToList();

        var others = Outside.Read(tunes);

        for (var i = 0; i < tunes.Count; i++)
        {
            var line = Unfolder.Play(Tunes.Read(tunes[i]).Value.Parts[0], "t").Value;
            var ours = string.Join(' ', line.Notes.Select(n => $"{n.Pitch.Midi}@{n.Start.ToDouble():0.00}"));
            var theirs = string.Join(' ', others[i].Tracks[0].Select(n => $"{n[0]}@{n[1]:0.00}"));
            Assert.True(theirs == ours, $"{tunes[i]}\n{theirs}\n{ours}");
        }
    }

    // Bars of the right length out of a seed. The package lets an accidental reach no other octave, where the standard's default does.
    private static string Tune(int seed)
    {
        var random = new Random(seed);
        var meter = Meters[random.Next(Meters.Length)];
        var text = $"%abc-2.1\n%%propagate-accidentals octave\nX:1\nT:Tune {seed}\nM:{meter}\nL:1/8\nQ:1/4=100\nK:{Keys[random.Next(Keys.Length)]}\n";
        var eighths = meter switch { "4/4" => 8, "2/4" => 4, _ => 6 };
        var repeats = random.Next(2) == 0;
        if (repeats) text += "|:";
        for (var bar = 0; bar < 6; bar++)
        {
            text += Bar(random, eighths);
            text += (repeats, bar) switch { (true, 2) => "|1", (true, 3) => ":|2", (true, 4) => "||", (_, 5) => "|]", _ => "|" };
            if (bar == 2) text += "\n";
        }

        return text + "\n";
    }

    private static string Bar(Random random, int eighths)
    {
        var bar = "";
        while (eighths > 0)
        {
            var (piece, used) = random.Next(9) switch
            {
                0 when eighths >= 2 => ($"{Note(random)}>{Note(random)}", 2),
                1 when eighths >= 2 => ($"{Note(random)}<{Note(random)}", 2),
                2 when eighths >= 2 => ($"(3{Note(random)}{Note(random)}{Note(random)}", 2),
                3 when eighths >= 2 => ($"{Note(random)}2", 2),
                4 when eighths >= 3 => ($"{Note(random)}3", 3),
                5 => ($"{Note(random)}/{Note(random)}/", 1),
                6 => ("z", 1),
                7 when eighths >= 2 && Note(random, plain: true) is var tied => ($"{tied}-{tied}", 2),
                _ => (Note(random), 1),
            };
            bar += piece + (random.Next(2) == 0 ? " " : "");
            eighths -= used;
        }

        return bar;
    }

    private static string Note(Random random, bool plain = false)
    {
        var accidental = plain || random.Next(5) > 0 ? "" : new[] { "^", "_", "=" }[random.Next(3)];
        return accidental + "CDEFGABcdefgab"[random.Next(14)] + (random.Next(6) == 0 ? "," : "");
    }
}
