using Seamwright.Core.Instruments;
using Seamwright.VoiceTrial.Playing;

namespace Seamwright.VoiceTrial.Trials;

/// <summary>Slides, lip slurs and contrary motion: is what was asked for what is heard?</summary>
internal static class ChangesTrial
{
    private static readonly Instrument Tenor = Catalogue.Default;

    public static void Run(TextWriter output)
    {
        output.WriteLine("Slides on one partial, no tongue          asked ms  heard ms  middle off ms  end cents  dip dB and place");
        foreach (var partial in (ReadOnlySpan<int>)[3, 4, 6, 8])
        {
            for (var k = 1; k <= 6; k++)
            {
                var change = new Change(new(partial, 1), new(partial, 1 + k), 0.16 + (0.025 * (k - 1)), 0);
                Report($"partial {partial}, out by {k}", change, output);
                if (k is 1 or 3) Report($"partial {partial}, in by {k}", change with { From = change.To, To = change.From }, output);
            }
        }

        output.WriteLine("Lip slurs, lips over in 60 ms");
        foreach (var (a, b) in (ReadOnlySpan<(int, int)>)[(2, 3), (3, 4), (4, 5), (5, 6), (4, 6), (6, 8), (8, 9), (8, 10)])
        {
            Report($"{a} to {b}, first position", new Change(new(a, 1), new(b, 1), 0, 0.06), output);
            Report($"{b} to {a}, first position", new Change(new(b, 1), new(a, 1), 0, 0.06), output);
        }

        output.WriteLine("Contrary motion, lips over in 60 ms");
        foreach (var (a, b) in (ReadOnlySpan<(End, End)>)[(new(4, 1), new(5, 3)), (new(3, 1), new(4, 4)), (new(4, 2), new(6, 5)), (new(6, 1), new(8, 4))])
        {
            Report($"{a.Partial} in {a.Position} up to {b.Partial} in {b.Position}", new Change(a, b, 0.2, 0.06), output);
            Report($"{b.Partial} in {b.Position} down to {a.Partial} in {a.Position}", new Change(b, a, 0.2, 0.06), output);
        }

        output.WriteLine("A touch of the tongue on a slide of a semitone: breath left; asked: a dip at its offset");
        foreach (var left in (ReadOnlySpan<double>)[0.7, 0.5, 0.3, 0.1, 0])
        {
            foreach (var offset in (ReadOnlySpan<double>)[-0.09, 0, 0.09])
                Report($"partial 4, {left:0.0} of the breath, at {1000 * offset:0} ms", new Change(new(4, 1), new(4, 2), 0.16, 0, left, 0.09, offset), output);
        }
    }

    private static void Report(string name, Change change, TextWriter output)
    {
        var ear = new Ear(Tenor);
        if (change.Controls(Tenor, ear) is not { } controls)
        {
            output.WriteLine($"  {name,-40} does not speak in tune at an end");
            return;
        }

        var heard = HeardChange.Of(new Performer(Tenor).Play(Change.Seconds, controls), Tenor, change);
        output.WriteLine($"  {name,-40} {heard}");
        if (change.From.Partial == change.To.Partial || heard.MiddleOffMs is not { } late) return;

        // A player who knows how late the break comes begins so much sooner; twice, for the lateness itself moves.
        var lead = late / 1000;
        for (var i = 0; i < 2; i++)
        {
            if (i > 0) lead += (heard.MiddleOffMs ?? 0) / 1000;
            heard = HeardChange.Of(new Performer(Tenor).Play(Change.Seconds, (change with { Lead = lead }).Controls(Tenor, ear)!), Tenor, change);
        }

        output.WriteLine($"  {$"    the same, begun sooner by {1000 * lead:0} ms",-40} {heard}");
    }
}
