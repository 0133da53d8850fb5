using System.CommandLine;
using Seamwright.Core.Listening;
using Seamwright.Core.Sound;

namespace Seamwright.VoiceCheck;

/// <summary>Clean changes of every kind: what sounds and what is heard.</summary>
internal static class NaturalSlurs
{
    private static readonly string[] Notes =
        ["Bb2", "D3", "F3", "Bb3", "D4", "F4", "D4", "Bb3", "F3", "Bb2", "F2", "Bb2", "C3", "D3", "Eb3", "F3", "G3", "A3", "Bb3", "A3", "F3", "C4", "Bb3", "E3", "B3", "C4", "Eb4", "C4", "F4", "G4", "F4"];

    public static Command Command()
    {
        var command = new Command("changes", "Clean changes: asked, made, heard.");
        command.SetAction(_ => Run());
        return command;
    }

    private static void Run()
    {
        var plan = Pairs.Plan(Notes);
        var take = Voice.Render(plan, Playing.Clean(plan));
        var heard = Listener.Listen(new Recording(take.Samples, take.Rate), plan);
        Console.WriteLine("change            kind         glide made heard   dip made heard  width  <-6   <-10   tongue made heard  onset err  cents");
        foreach (var change in plan.Changes)
        {
            var (t, h) = (take.Truth.Changes[change.Index], heard.Changes[change.Index]);
            var (a, b) = (plan.Notes[change.FromNote], plan.Notes[change.ToNote]);
            var (note, hn) = (take.Truth.Notes[change.ToNote], heard.Notes[change.ToNote]);
            Console.WriteLine(
                $"{a.Note.Pitch}-{b.Note.Pitch} {a.Setting!.Label}/{a.Setting.Partial}-{b.Setting!.Label}/{b.Setting.Partial}".PadRight(24) + $"{change.Kind,-12} "
                + $"{t.Glide?.Milliseconds,7:0.0} {h.Glide?.Milliseconds,7:0.0} {t.Dip?.Value,7:0.0} {h.Dip?.Value,7:0.0} {t.DipWidth?.Milliseconds,6:0} {t.Below10?.Milliseconds,6:0} "
                + $"{t.TongueOffset?.Milliseconds,8:0.0} {h.TongueOffset?.Milliseconds,7:0.0} {(hn.Onset - note.Onset)?.Milliseconds,8:0.0} {note.Cents?.Value,7:0.0}");
        }
    }
}
