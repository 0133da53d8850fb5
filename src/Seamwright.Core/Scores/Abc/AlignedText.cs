namespace Seamwright.Core.Scores.Abc;

/// <summary>Lines of words (<c>w:</c>) and symbols (<c>s:</c>) given to the notes before them (ABC 2.1, sections 4.15 and 5).</summary>
internal static class AlignedText
{
    /// <summary>One step along the notes.</summary>
    /// <param name="Text">What the note gets; empty for a note that is passed over.</param>
    /// <param name="ToNextBar">The rest of the bar is passed over instead.</param>
    internal readonly record struct Step(string Text, bool ToNextBar = false);

    /// <summary>Syllables of a line of words; one that goes on ends with a hyphen.</summary>
    public static List<Step> Syllables(string text)
    {
        var steps = new List<Step>();
        var syllable = "";
        for (var i = 0; i < text.Length; i++)
        {
            var c = text[i];
            if (c == '\\' && i + 1 < text.Length)
            {
                syllable += text[++i] == '-' ? "-" : $"\\{text[i]}";
            }
            else if (c is ' ' or '\t' or '-' or '_' or '*' or '|')
            {
                if (syllable.Length > 0) steps.Add(new Step(TextStrings.Plain(syllable) + (c == '-' ? "-" : "")));
                else if (c == '-') Join(steps);
                if (c is '_' or '*' || (c == '-' && syllable.Length == 0)) steps.Add(new Step(""));
                if (c == '|') steps.Add(new Step("", ToNextBar: true));
                syllable = "";
            }
            else
            {
                syllable += c == '~' ? ' ' : c;
            }
        }

        if (syllable.Length > 0) steps.Add(new Step(TextStrings.Plain(syllable)));
        return steps;
    }

    /// <summary>Symbols of a line: named ones with their sign, chords and texts with their quotes.</summary>
    public static List<Step> Symbols(string text)
    {
        var steps = new List<Step>();
        var scan = new Scan(text, 0);
        while (!scan.Ended)
        {
            var c = scan.Next;
            scan.Skip();
            if (c is '!' or '"') steps.Add(new Step(c + (scan.Until(c) ?? scan.Rest())));
            else if (c == '*') steps.Add(new Step(""));
            else if (c == '|') steps.Add(new Step("", ToNextBar: true));
        }

        return steps;
    }

    /// <summary>Gives each note its step.</summary>
    /// <param name="notes">All notes of the voice.</param>
    /// <param name="first">The first of them that the line is for.</param>
    /// <param name="steps">In order.</param>
    /// <param name="give">Called for each note that gets something.</param>
    /// <returns>How many steps found no note.</returns>
    public static int Give(IReadOnlyList<SungNote> notes, int first, IReadOnlyList<Step> steps, Action<SungNote, string> give)
    {
        var note = first;
        var bar = first < notes.Count ? notes[first].Bar.Index : 0;
        var lost = 0;
        foreach (var step in steps)
        {
            if (step.ToNextBar)
            {
                bar++;
                while (note < notes.Count && notes[note].Bar.Index < bar) note++;
                continue;
            }

            if (note >= notes.Count)
            {
                if (step.Text.Length > 0) lost++;
                continue;
            }

            if (step.Text.Length > 0) give(notes[note], step.Text);
            note++;
        }

        return lost;
    }

    // A hyphen that stands apart says that the word before it goes on.
    private static void Join(List<Step> steps)
    {
        var last = steps.FindLastIndex(s => s.Text.Length > 0);
        if (last >= 0 && !steps[last].Text.EndsWith('-')) steps[last] = new Step(steps[last].Text + "-");
    }
}
