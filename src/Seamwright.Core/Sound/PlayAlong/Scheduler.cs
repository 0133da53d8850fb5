using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Sound.PlayAlong;

/// <summary>Lays rounds, count-ins, examples and the pupil's turns one after another.</summary>
/// <remarks>The beat goes on from section to section: where a phrase begins at another place of its bar than the one where the section
/// before it ended, the beats between are waited for. A round ends with its bar, and each has its count-in; before an upbeat the
/// count-in goes on through the beats that it lacks.</remarks>
internal sealed class Scheduler
{
    // What still sounds after the last note dies away in this time.
    private static readonly Seconds DyingAway = new(0.8);

    private readonly PlayAlongSettings settings;
    private readonly List<Section> sections = [];
    private readonly List<ScheduledBeat> beats = [];
    private readonly List<Round> rounds = [];
    private Plan plan = null!;
    private int phraseNumber;
    private long now;

    private Scheduler(PlayAlongSettings settings) => this.settings = settings;

    public static Schedule Of(IEnumerable<Plan> plans, PlayAlongSettings settings)
    {
        var scheduler = new Scheduler(settings);
        foreach (var plan in plans) scheduler.AddRound(plan);
        return new Schedule
        {
            Settings = settings,
            Rounds = [.. scheduler.rounds],
            Sections = [.. scheduler.sections],
            Beats = [.. scheduler.beats],
            Length = scheduler.now + settings.Rate.ToSamples(DyingAway),
        };
    }

    private Line Line => plan.Line;

    private void AddRound(Plan next)
    {
        if (rounds.Count > 0) FinishBar();
        (plan, phraseNumber) = (next, 1);
        var start = now;
        CountIn();
        var phrases = settings.Turns == Turns.ExampleThenYou ? Phrases.Of(Line, settings.PhraseBars) : [Phrases.Whole(Line)];
        for (var i = 0; i < phrases.Length; i++, phraseNumber++)
        {
            if (i > 0) Wait(phrases[i - 1], phrases[i]);
            if (settings.Turns != Turns.YouOnly) Perform(SectionKind.Example, phrases[i]);
            if (settings.Turns == Turns.ExampleThenYou) Wait(phrases[i], phrases[i]);
            if (settings.Turns != Turns.ExampleOnly) Perform(SectionKind.You, phrases[i]);
        }

        rounds.Add(new Round(plan, start, now));
    }

    private void CountIn()
    {
        var first = Line.Bars[0];
        var pulses = Pulses.Of(first.Meter);
        var bars = settings.CountIn ?? (settings.Click == ClickUse.None ? 0 : pulses.Length < 3 ? 2 : 1);
        var steps = Enumerable.Range(0, bars).SelectMany(_ => Clicks.In(first.Meter, Beats.Zero, first.Meter.BarLength, settings.Subdivision));
        var length = first.Meter.BarLength * bars;
        if (bars > 0 && first.Shift > Beats.Zero)
        {
            steps = steps.Concat(Clicks.In(first.Meter, Beats.Zero, first.Shift, settings.Subdivision));
            length += first.Shift;
        }

        Count(SectionKind.CountIn, steps, length, Beats.Zero);
    }

    private void Wait(Phrase before, Phrase next)
    {
        var (endMeter, end) = Where(before.To, ending: true);
        var (startMeter, start) = Where(next.From, ending: false);
        if (end > Beats.Zero && end <= start && endMeter == startMeter)
        {
            Count(SectionKind.Wait, Clicks.In(endMeter, end, start, settings.Subdivision), start - end, next.From);
            return;
        }

        var rest = end > Beats.Zero ? endMeter.BarLength - end : Beats.Zero;
        var steps = end > Beats.Zero ? Clicks.In(endMeter, end, endMeter.BarLength, settings.Subdivision) : [];
        Count(SectionKind.Wait, steps.Concat(Clicks.In(startMeter, Beats.Zero, start, settings.Subdivision)), rest + start, next.From);
    }

    private void FinishBar()
    {
        var last = sections[^1].Phrase!;
        var (meter, end) = Where(last.To, ending: true);
        phraseNumber = 0;
        if (end > Beats.Zero) Count(SectionKind.Wait, Clicks.In(meter, end, meter.BarLength, settings.Subdivision), meter.BarLength - end, last.To);
    }

    // Where in a whole bar a place lies: 0 on a bar line.
    private (Meter Meter, Beats Position) Where(Beats place, bool ending)
    {
        var index = Phrases.IndexOfBar(Line, place);
        if (ending && index > 0 && Line.Bars[index].Start == place) index--;
        var bar = Line.Bars[index];
        var position = place - bar.Start + bar.Shift;
        while (position >= bar.Meter.BarLength) position -= bar.Meter.BarLength;
        return (bar.Meter, position);
    }

    private void Count(SectionKind kind, IEnumerable<BarClick> steps, Beats length, Beats tempoFrom)
    {
        if (length == Beats.Zero) return;
        var quarter = 60 / Line.Tempo.Marks.Last(m => m.At <= tempoFrom || m == Line.Tempo.Marks[0]).QuartersPerMinute;
        var at = Beats.Zero;
        foreach (var step in steps)
        {
            beats.Add(new ScheduledBeat(now + Samples(at), step.Strength, sections.Count, "", step.Number, null));
            at += step.Length;
        }

        Add(kind, null, Samples(length));

        long Samples(Beats b) => settings.Rate.ToSamples(new Seconds(b.ToDouble() * quarter));
    }

    private void Perform(SectionKind kind, Phrase phrase)
    {
        foreach (var bar in Line.Bars.Skip(Phrases.IndexOfBar(Line, phrase.From)).TakeWhile(b => b.Start < phrase.To))
        {
            foreach (var click in Clicks.In(bar.Meter, bar.Shift, bar.Shift + bar.Length, settings.Subdivision))
            {
                var place = bar.Start + click.Offset - bar.Shift;
                if (place < phrase.From || place >= phrase.To) continue;
                var at = now + settings.Rate.ToSamples(Line.Tempo.Between(phrase.From, place));
                beats.Add(new ScheduledBeat(at, click.Strength, sections.Count, bar.Number, click.Number, place));
            }
        }

        Add(kind, phrase, settings.Rate.ToSamples(Line.Tempo.Between(phrase.From, phrase.To)));
    }

    private void Add(SectionKind kind, Phrase? phrase, long length)
    {
        sections.Add(new Section { Kind = kind, Round = rounds.Count + 1, PhraseNumber = phraseNumber, Phrase = phrase, Start = now, Length = length });
        now += length;
    }
}
