using System.Collections.Immutable;
using CsCheck;
using Seamwright.Core;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;
using static Seamwright.Tests.Scores.Files;

namespace Seamwright.Tests.Scores;

public class UnfolderTests
{
    // Each letter is a bar; what stands around it: |: :| (:3| for three times) [1 ] endings, $ segno, @ coda, >@ to coda, ! fine, DC DS jumps.
    [Theory]
    [InlineData("a b c", "a b c")]
    [InlineData("a b:|", "a b a b")]
    [InlineData("a b:| c d:|", "a b a b c d c d")]
    [InlineData("a |:b c:| d", "a b c b c d")]
    [InlineData("a |:b:3| c", "a b b b c")]
    [InlineData("a [1b]:| [2c] d", "a b a c d")]
    [InlineData("|:a [1b]:| [2c] d |:e [1f]:| [2g]", "a b a c d e f e g")]
    [InlineData("|:a [1,2b]:| [3c]", "a b a b a c")]
    [InlineData("|:a [1b]:| [2c]:| [3d]", "a b a c a d")]
    [InlineData("|:a [1b]:| c", "a b a c")]
    [InlineData("|:a [1,2b]:| c", "a b a b a c")]
    [InlineData("|:a [1b c]:| [2d e] f", "a b c a d e f")]
    [InlineData("|:a |:b:| c:| d", "a b b c a b b c d")]
    [InlineData("a b! cDC", "a b c a b")]
    [InlineData("a $b c! dDS e", "a b c d b c")]
    [InlineData("a $b >@c d eDS @f g", "a b c d e b c f g")]
    [InlineData("a >@b cDC @d", "a b c a b d")]
    [InlineData("|:a:| b! cDC", "a a b c a b")]
    [InlineData("|:a [1b]:| [2c]! dDC", "a b a c d a c")]
    [InlineData("a $b [1c]:| [2>@d] eDS @f", "a b c a b d e b d f")]
    [InlineData("a bDC |:c:|", "a b a b c c")]
    [InlineData("a bDC", "a b a b")]
    [InlineData("|:a bDC:| c", "a b a b a b c")]
    [InlineData("a! b", "a b")]
    [InlineData("a DS", "a a")]
    public void Repeats_endings_and_jumps_are_played_as_common_practice_has_it(string sheet, string played)
    {
        var line = Play(PartOf(sheet.Replace(" DS", "DS", StringComparison.Ordinal)));

        Assert.Equal(played, string.Join(' ', line.Bars.Select(b => b.Number)));
    }

    [Fact]
    public void A_jump_without_its_sign_is_said() =>
        Assert.Contains(Unfolder.Play(PartOf("a bDS"), "x").Problems, p => p.What.Contains("no segno"));

    [Fact]
    public void To_coda_without_a_coda_is_said() =>
        Assert.Contains(Unfolder.Play(PartOf("a >@b cDC"), "x").Problems, p => p.What.Contains("no coda follows"));

    [Fact]
    public void A_road_that_grows_without_end_is_stopped_and_said()
    {
        var nested = string.Concat(Enumerable.Repeat("|:b ", 6)) + string.Concat(Enumerable.Repeat("c:64| ", 6));

        var outcome = Unfolder.Play(PartOf(nested.Trim()), "x");

        Assert.Equal(UnfoldSettings.Default.MostBars, outcome.Value.Bars.Length);
        Assert.Contains(outcome.Problems, p => p.What.Contains("stops here"));
    }

    [Fact]
    public void Every_road_ends_and_its_notes_never_overlap() => Gen.Int[0, 1_000_000].Sample(seed =>
    {
        foreach (var part in InventedScores.From(seed).Parts)
        {
            var outcome = Unfolder.Play(part, "x");
            if (!outcome.Succeeded)
            {
                // A Fine or an ending may lead past every note.
                Assert.Contains(outcome.Problems, p => p.What.Contains("meets no note", StringComparison.Ordinal));
                continue;
            }

            var line = outcome.Value;
            Assert.Equal(Enumerable.Range(0, line.Notes.Length), line.Notes.Select(n => n.Index));
            Assert.All(line.Notes, n => Assert.True(n.Length > Beats.Zero && n.Duration > Seconds.Zero, $"{n}"));
            Assert.All(line.Notes.Zip(line.Notes.Skip(1)), p => Assert.True(p.First.End <= p.Second.Start && p.First.EndTime.Value <= p.Second.StartTime.Value + 1e-9, $"{p}"));
            Assert.All(line.Notes.Zip(line.Notes.Skip(1)).Where(p => p.First.SlurredToNext), p => Assert.Equal(p.First.End, p.Second.Start));
            Assert.False(line.Notes[^1].SlurredToNext);
            Assert.Equal(line.Bars.Aggregate(Beats.Zero, (a, b) => a + b.Length), line.Bars[^1].Start + line.Bars[^1].Length);
        }
    }, iter: 300);

    [Fact]
    public void Tied_notes_become_one_across_the_bar_line()
    {
        var line = Play(ReadPart(N("C3", 24) + Tied("D3", 24), N("D3", 12) + N("E3", 36)));

        Assert.Equal(["C3 2", "D3 3", "E3 3"], line.Notes.Select(n => $"{n.Pitch} {n.Length}"));
        Assert.Equal(2, line.Notes[1].NoteIds.Length);
    }

    [Fact]
    public void A_tie_leads_into_both_endings_but_not_back_to_the_start()
    {
        var part = PartOf("|:a [1b]:| [2c]", (_, n) => Note(n, "C3") with { TieToNext = n is "a" or "b" });

        Assert.Equal(["8", "8"], Play(part).Notes.Select(n => n.Length.ToString()));
        Assert.Equal([1, 2], Play(part).Notes.Select(n => n.Pass));
    }

    [Fact]
    public void Slurs_join_notes_up_to_their_last_one_and_not_over_a_rest()
    {
        var line = Play(ReadPart(Slur("C3", "start") + N("D3", 12) + Slur("E3", "stop") + N("F3", 12), Slur("G3", "start") + R(12) + Slur("A3", "stop") + R(12)));

        Assert.Equal([true, true, false, false, false, false], line.Notes.Select(n => n.SlurredToNext));
    }

    [Fact]
    public void A_slur_into_the_first_ending_also_joins_the_second()
    {
        var part = PartOf("|:a [1b]:| [2c]", (_, n) => Note(n, "C3")) with { Slurs = [new Span("a", "b")] };

        Assert.Equal(["a True", "b False", "a True", "c False"], Play(part).Notes.Select(n => $"{n.NoteIds[0]} {n.SlurredToNext}"));
    }

    [Fact]
    public void Beats_of_an_upbeat_count_towards_the_bar_line()
    {
        var line = Play(ReadPart("<measure number=\"0\" implicit=\"yes\">" + Start + N("F2", 12) + "</measure>", N("Bb2", 24) + N("C3", 24), N("F2", 36)));

        Assert.Equal(["0 4", "2 1", "2 3", "3 1"], line.Notes.Select(n => $"{n.Bar} {n.Beat}"));
    }

    [Fact]
    public void Beats_are_counted_in_the_lower_number_of_the_meter()
    {
        var line = Play(ReadPart("<attributes><divisions>2</divisions><time><beats>6</beats><beat-type>8</beat-type></time></attributes>" + N("C3", 3) + N("D3", 3)));

        Assert.Equal(["1", "4"], line.Notes.Select(n => n.Beat.ToString()));
    }

    [Fact]
    public void A_slashed_grace_note_takes_a_sixteenth_from_the_note_before()
    {
        var line = Play(ReadPart(N("C3", 24) + Grace("D3", true) + N("E3", 24)));

        Assert.Equal(["C3 0 7/4", "D3 7/4 1/4", "E3 2 2"], line.Notes.Select(n => $"{n.Pitch} {n.Start} {n.Length}"));
        Assert.Equal([false, true, false], line.Notes.Select(n => n.IsGrace));
    }

    [Fact]
    public void A_single_grace_note_without_a_stroke_falls_on_the_beat()
    {
        var line = Play(ReadPart(N("C3", 24) + Grace("D3", false) + N("E3", 24)));

        Assert.Equal(["C3 0 2", "D3 2 1/2", "E3 5/2 3/2"], line.Notes.Select(n => $"{n.Pitch} {n.Start} {n.Length}"));
    }

    [Fact]
    public void Grace_notes_at_the_very_start_take_from_their_main_note()
    {
        var line = Play(ReadPart(Grace("D3", true) + Grace("C3", true) + N("E3", 48)));

        Assert.Equal(["D3 0 1/4", "C3 1/4 1/4", "E3 1/2 7/2"], line.Notes.Select(n => $"{n.Pitch} {n.Start} {n.Length}"));
    }

    [Fact]
    public void Many_grace_notes_share_at_most_half_of_the_rest_before_them()
    {
        var line = Play(ReadPart(N("C3", 36) + R(12) + string.Concat(Enumerable.Repeat(Grace("D3", true), 4)), N("E3", 48)));

        Assert.Equal(["7/2 1/8", "29/8 1/8", "15/4 1/8", "31/8 1/8"], line.Notes.Where(n => n.IsGrace).Select(n => $"{n.Start} {n.Length}"));
    }

    [Fact]
    public void A_fermata_holds_its_note_and_moves_all_that_follows()
    {
        var part = ReadPart("<sound tempo=\"60\"/>" + N("C3", 12) + N("D3", 12, Notations("<fermata/>")) + N("E3", 24));

        var line = Unfolder.Play(part, "x", null, new UnfoldSettings { FermataShare = 1 }).Value;

        Assert.Equal([1, 2, 2], line.Notes.Select(n => Math.Round(n.Duration.Value, 9)));
        Assert.Equal([0, 1, 3], line.Notes.Select(n => Math.Round(n.StartTime.Value, 9)));
        Assert.Equal(new Beats(2, 1), line.Notes[2].Start);
    }

    [Fact]
    public void A_fermata_adds_no_more_than_the_longest_hold()
    {
        var part = ReadPart("<sound tempo=\"20\"/>" + N("D3", 48, Notations("<fermata/>")));

        Assert.Equal(15, Play(part).Notes[0].Duration.Value, 9);
    }

    [Fact]
    public void Without_a_tempo_the_default_is_taken_and_said()
    {
        var outcome = Unfolder.Play(ReadPart(N("C3", 48)), "x");

        Assert.Equal(2.4, outcome.Value.Notes[0].Duration.Value, 9);
        Assert.Equal(Severity.Note, Assert.Single(outcome.Problems).Severity);
    }

    [Fact]
    public void An_asked_tempo_becomes_the_first_and_scales_the_others()
    {
        var part = ReadPart("<sound tempo=\"60\"/>" + N("C3", 48), "<sound tempo=\"120\"/>" + N("C3", 48));

        Assert.Equal([90, 180], Unfolder.Play(part, "x", 90).Value.Tempo.Marks.Select(m => m.QuartersPerMinute));
    }

    [Fact]
    public void An_asked_tempo_is_taken_where_the_sheet_gives_none() =>
        Assert.Equal(72, Assert.Single(Unfolder.Play(ReadPart(N("C3", 48)), "x", 72).Value.Tempo.Marks).QuartersPerMinute);

    [Theory]
    [InlineData(0)]
    [InlineData(-5)]
    [InlineData(double.NaN)]
    [InlineData(2000)]
    public void An_impossible_tempo_is_refused(double tempo) =>
        Assert.Equal(Severity.Error, Unfolder.Play(ReadPart(N("C3", 48)), "x", tempo).Problems.Single().Severity);

    [Fact]
    public void Going_back_restores_tempo_and_dynamics_of_the_sheet()
    {
        const string Loud = "<direction><direction-type><dynamics><f/></dynamics></direction-type></direction>";
        const string Soft = "<direction><direction-type><dynamics><p/></dynamics></direction-type></direction>";
        var part = ReadPart(Soft + "<sound tempo=\"60\"/>" + N("C3", 48), "<barline location=\"left\"><repeat direction=\"forward\"/></barline>" + N("D3", 48),
            Loud + "<sound tempo=\"120\"/>" + N("E3", 48) + "<barline location=\"right\"><repeat direction=\"backward\"/></barline>");

        var line = Play(part);

        Assert.Equal(["p", "p", "f", "p", "f"], line.Notes.Select(n => n.Dynamic));
        Assert.Equal([4, 4, 2, 4, 2], line.Notes.Select(n => Math.Round(n.Duration.Value, 9)));
    }

    [Fact]
    public void A_part_without_notes_cannot_be_played() =>
        Assert.Equal(Severity.Error, Unfolder.Play(ReadPart(R(48)), "x").Problems.Single().Severity);

    [Fact]
    public void Settings_out_of_range_are_all_said() =>
        Assert.Equal(2, Unfolder.Play(ReadPart(N("C3", 48)), "x", null, new UnfoldSettings { DefaultTempo = 0, MostBars = 0 }).Problems.Length);

    private static string Tied(string pitch, int duration) => N(pitch, duration).Replace("<voice>", "<tie type=\"start\"/><voice>", StringComparison.Ordinal);

    private static string Slur(string pitch, string type) => N(pitch, 12, Notations($"<slur type=\"{type}\" number=\"1\"/>"));

    private static string Grace(string pitch, bool slash) =>
        $"<note><grace{(slash ? " slash=\"yes\"" : "")}/>{P(pitch)}<voice>1</voice><type>eighth</type></note>";

    private static Note Note(string id, string pitch) =>
        new() { Id = id, Offset = Beats.Zero, Duration = new Beats(4, 1), Value = NoteValue.Whole, Pitch = Pitch.Parse(pitch) };

    private static Part PartOf(string sheet, Func<int, string, Note>? note = null)
    {
        var bars = new List<Bar>();
        int[] open = [];
        foreach (var word in sheet.Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            var name = word.First(char.IsAsciiLetterLower).ToString();
            if (word.Contains('[', StringComparison.Ordinal))
                open = [.. word[(word.IndexOf('[', StringComparison.Ordinal) + 1)..].TakeWhile(c => char.IsAsciiDigit(c) || c == ',').Where(char.IsAsciiDigit).Select(c => c - '0')];
            var back = word.IndexOf(':', word.IndexOf(name, StringComparison.Ordinal));
            var times = back < 0 ? 0 : word[back + 1] == '|' ? 2 : int.Parse(word[(back + 1)..word.LastIndexOf('|')]);
            bars.Add(new Bar
            {
                Index = bars.Count,
                Number = name,
                Start = new Beats(4 * bars.Count, 1),
                Length = new Beats(4, 1),
                Meter = Meter.CommonTime,
                Key = new KeySignature(0),
                Events = [note?.Invoke(bars.Count, name) ?? Note($"{name}{bars.Count}", "C3")],
                Road = new BarRoad
                {
                    RepeatStarts = word.Contains("|:", StringComparison.Ordinal),
                    RepeatTimes = times,
                    Endings = [.. open],
                    EndingStarts = word.Contains('[', StringComparison.Ordinal),
                    EndingStops = word.Contains(']', StringComparison.Ordinal),
                    Segno = word.Contains('$', StringComparison.Ordinal),
                    ToCoda = word.Contains(">@", StringComparison.Ordinal),
                    Coda = word.Replace(">@", "", StringComparison.Ordinal).Contains('@', StringComparison.Ordinal),
                    Fine = word.Contains('!', StringComparison.Ordinal),
                    Jump = word.Contains("DC", StringComparison.Ordinal) ? Jump.DaCapo : word.Contains("DS", StringComparison.Ordinal) ? Jump.DalSegno : Jump.None,
                },
            });
            if (word.Contains(']', StringComparison.Ordinal)) open = [];
        }

        return new Part { Id = "P1", Name = "Trombone", Bars = bars.ToImmutableArray() };
    }
}
