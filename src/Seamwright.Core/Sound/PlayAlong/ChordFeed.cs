using System.Collections.Immutable;
using Seamwright.Core.Units;

namespace Seamwright.Core.Sound.PlayAlong;

/// <summary>The accompaniment's sound: soft struck tones of few partials that die away quickly.</summary>
/// <remarks>Every partial is a dying sine, made by the recurrence y[n] = 2·r·cos ω·y[n−1] − r²·y[n−2], whose impulse response it is; the higher, the
/// quicker it goes. A tone that is let go is damped within 80 ms.</remarks>
internal sealed class ChordFeed : ScheduledFeed
{
    private static readonly double[] Partials = [1, 0.35, 0.14, 0.06];

    // Time in which the first partial falls to 1/e; the k-th falls k times as fast.
    private static readonly Seconds Decay = new(0.7);
    private static readonly Seconds Attack = new(0.006);
    private static readonly Seconds Damping = new(0.08);

    private readonly ImmutableArray<StruckTone> tones;
    private readonly List<Sounding> sounding = [];
    private readonly double peak;
    private readonly Hertz a4;
    private int next;

    public ChordFeed(Schedule schedule)
        : base(schedule)
    {
        tones = ChordTrack.Of(schedule);
        a4 = schedule.Rounds[0].Plan.Instrument.A4;

        // A bass and four tones struck at once reach the level together where all their peaks meet.
        peak = Math.Pow(10, schedule.Settings.ChordLevel.Value / 20) / (Partials.Sum() * 3);
    }

    protected override void Begin()
    {
        next = 0;
        sounding.Clear();
    }

    protected override void Add(long at, Span<float> block)
    {
        var end = at + block.Length;
        for (; next < tones.Length && tones[next].At < end; next++) sounding.Add(new Sounding(tones[next], Gain(tones[next]), a4, Schedule.Rate));
        foreach (var tone in sounding) tone.Add(at, block);
        sounding.RemoveAll(t => t.End <= end);
    }

    private double Gain(StruckTone tone) => peak * (tone.IsBass ? 1 : 0.5);

    /// <summary>A tone on its way.</summary>
    private sealed class Sounding
    {
        private readonly StruckTone tone;
        private readonly long attack, damping;
        private readonly double[] before, now, first, second;
        private readonly double gain;

        public Sounding(StruckTone tone, double gain, Hertz a4, SampleRate rate)
        {
            (this.tone, this.gain, attack, damping) = (tone, gain, rate.ToSamples(Attack), rate.ToSamples(Damping));
            var count = 0;
            var frequency = Pitch.FromMidi(tone.Midi).Frequency(a4).Value;
            while (count < Partials.Length && (count + 1) * frequency < 0.45 * rate.Value) count++;
            (before, now, first, second) = (new double[count], new double[count], new double[count], new double[count]);
            for (var k = 0; k < count; k++)
            {
                var turn = 2 * Math.PI * (k + 1) * frequency / rate.Value;
                var fall = Math.Exp(-(k + 1) / (Decay.Value * rate.Value));
                (first[k], second[k]) = (2 * fall * Math.Cos(turn), -fall * fall);

                // y[0] = 0 and y[−1] so that y[1] is the first step of a sine.
                before[k] = -Partials[k] * Math.Sin(turn) / fall;
            }
        }

        public long End => tone.Until + damping;

        public void Add(long at, Span<float> block)
        {
            for (var i = (int)Math.Max(0, tone.At - at); i < block.Length && at + i < End; i++)
            {
                double sum = 0;
                for (var k = 0; k < now.Length; k++)
                {
                    sum += now[k];
                    (before[k], now[k]) = (now[k], (first[k] * now[k]) + (second[k] * before[k]));
                }

                var n = at + i;
                var rise = Math.Min(1, (n - tone.At) / (double)attack);
                var fall = Math.Clamp((End - n) / (double)damping, 0, 1);
                block[i] += (float)(gain * rise * fall * sum);
            }
        }
    }
}
