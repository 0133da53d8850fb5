using System.Globalization;
using System.Text.RegularExpressions;
using Seamwright.Core.Units;

namespace Seamwright.Core.Exercises;

/// <summary>Reads patterns of scale degrees.</summary>
internal sealed partial class DegreePatternReader
{
    private const int MostNotes = 32;
    private const int MostSteps = 15;
    private readonly List<Problem> problems = [];
    private readonly List<DegreeNote> figure = [];
    private Beats value = Beats.Quarter, at = Beats.Zero;
    private bool triplet;

    /// <summary>As <see cref="DegreePattern.Read"/>.</summary>
    public static Outcome<DegreePattern> Read(string text) => new DegreePatternReader().ReadAll(text);

    [GeneratedRegex(@"\S+")]
    private static partial Regex Words();

    [GeneratedRegex(@"^(?<alter>[#♯]{0,2}|[b♭]{0,2})(?<degree>\d{1,2})(?<octave>'{0,2}|,{0,2})(:(?<value>.*))?$", RegexOptions.ExplicitCapture)]
    private static partial Regex NoteShape();

    [GeneratedRegex(@"^(?<base>1|2|4|8|16)(?<dot>\.?)(?<triplet>t?)$", RegexOptions.ExplicitCapture)]
    private static partial Regex ValueShape();

    private Outcome<DegreePattern> ReadAll(string text)
    {
        var words = Words().Matches(text).Select(m => (m.Value, Place: m.Index + 1)).ToList();
        var end = words.FindIndex(w => w.Value is "up" or "down");
        var notes = end < 0 ? words : words[..end];
        foreach (var (word, place) in notes) ReadNote(word, place);
        if (triplet && !IsPlain(at)) Wrong(text.Length, "the last triplet is not finished.", "Triplets come in threes: write so many that they fill a beat.");
        if (figure.TrueForAll(n => n.Degree is null)) Wrong(1, "there is no note in it.", "Begin with scale degrees, for instance: 1 2 3 1 up 6 down.");
        if (figure.Count > MostNotes) Wrong(notes[MostNotes].Place, $"the figure has {figure.Count} notes and rests.", $"Write at most {MostNotes}.");
        var (up, down) = end < 0 ? (1, 0) : ReadSteps(words[end..]);
        return problems.Count == 0 ? Outcome<DegreePattern>.Of(new DegreePattern([.. figure], up, down)) : Outcome<DegreePattern>.Failed(problems);
    }

    private void ReadNote(string word, int place)
    {
        if (word == "-" || word.StartsWith("-:", StringComparison.Ordinal))
        {
            if (word.Length > 2) ReadValue(word[2..], place + 2);
            else if (word.Length == 2) ReadValue("", place + 2);
            Add(new(null, 0, 0, value));
            return;
        }

        if (NoteShape().Match(word) is not { Success: true } m)
        {
            Wrong(place, $"'{word}' is neither a degree nor a rest.", "Write a degree from 1 to 15, with # or b before it, ' or , after it and a value after a colon (b3':8), or - for a rest.");
            return;
        }

        var degree = int.Parse(m.Groups["degree"].Value, CultureInfo.InvariantCulture);
        if (degree is < 1 or > MostSteps) Wrong(place, $"{degree} is no degree.", "Write 1 to 15.");
        if (m.Groups["value"].Success) ReadValue(m.Groups["value"].Value, place + m.Groups["value"].Index);
        var (alter, octave) = (m.Groups["alter"].Value, m.Groups["octave"].Value);
        Add(new(degree, octave.StartsWith('\'') ? octave.Length : -octave.Length, alter.Length == 0 ? 0 : alter[0] is '#' or '♯' ? alter.Length : -alter.Length, value));
    }

    private void Add(DegreeNote note)
    {
        figure.Add(note);
        at += note.Length;
    }

    private void ReadValue(string text, int place)
    {
        if (ValueShape().Match(text) is not { Success: true } m || (m.Groups["dot"].Length > 0 && m.Groups["triplet"].Length > 0))
        {
            Wrong(place, $"'{text}' is no note value.", "Write 1, 2, 4, 8 or 16 (a whole note to a sixteenth), with a dot or with t for a triplet: 4, 8., 8t.");
            return;
        }

        if (triplet && m.Groups["triplet"].Length == 0 && !IsPlain(at)) Wrong(place, "the triplet before it is not finished.", "Triplets come in threes: write so many that they fill a beat.");
        triplet = m.Groups["triplet"].Length > 0;
        var plain = new Beats(4, int.Parse(m.Groups["base"].Value, CultureInfo.InvariantCulture));
        value = m.Groups["dot"].Length > 0 ? plain.Times(3, 2) : triplet ? plain.Times(2, 3) : plain;
    }

    private (int Up, int Down) ReadSteps(List<(string Value, int Place)> words)
    {
        var (up, down, i) = (0, 0, 0);
        if (words[0].Value == "up") (up, i) = (Steps(words, 0), 2);
        if (i < words.Count && words[i].Value == "down")
        {
            (down, i) = up > 0 ? (up, i + 1) : (Steps(words, i), i + 2);
        }

        if (i < words.Count) Wrong(words[i].Place, $"'{words[i].Value}' cannot stand here.", "End with: up and a number, up and a number and down, or down and a number.");
        return (up, down);
    }

    private int Steps(List<(string Value, int Place)> words, int word)
    {
        if (word + 1 < words.Count && int.TryParse(words[word + 1].Value, NumberStyles.None, CultureInfo.InvariantCulture, out var steps) && steps is >= 1 and <= MostSteps) return steps;
        Wrong(words[word].Place, $"'{words[word].Value}' needs to know on how many steps the figure begins.", $"Write a number from 1 to {MostSteps} after it.");
        return 1;
    }

    private static bool IsPlain(Beats place) => place.Denominator % 3 != 0;

    private void Wrong(int place, string what, string hint) => problems.Add(new($"pattern, character {Math.Max(1, place)}", what, hint, Severity.Error));
}
