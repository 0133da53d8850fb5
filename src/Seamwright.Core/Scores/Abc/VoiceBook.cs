using Seamwright.Core.Scores.Assembling;

namespace Seamwright.Core.Scores.Abc;

/// <summary>The voices of a tune, each made when it is first named (ABC 2.1, section 7).</summary>
internal sealed class VoiceBook(TuneFields tune, ReadLimits limits, ProblemLog log)
{
    // Only so many characters of a name are told apart.
    private const int LongestId = 20;

    private readonly List<VoiceLine> voices = [];
    private readonly Dictionary<string, Staff> staves = [];
    private string key = "";
    private VoiceLine? current;
    private Action<VoiceLine, string>? setUp;

    public IReadOnlyList<VoiceLine> Voices => voices;

    /// <summary>The voice that the music belongs to; the first one where the file has named none.</summary>
    public VoiceLine Current => current ??= Find(staves.Count == 0 ? "1" : staves.Keys.First());

    /// <summary>A <c>V:</c> field of the header: what is known of a voice before its music.</summary>
    public void Describe(string value, Scan scan)
    {
        var words = Staff.Words(value);
        if (words.Count == 0) return;
        var id = Id(words);
        if (staves.Count >= limits.MostParts) throw new LimitException($"holds more than {limits.MostParts} voices.");
        staves[id] = With(staves.GetValueOrDefault(id, Staff.Plain), words, scan);
    }

    /// <summary>The header is read: voices are now made with its key.</summary>
    /// <param name="keyField">Its value.</param>
    /// <param name="prepare">Gives a new voice its key and tempo.</param>
    public void Begin(string keyField, Action<VoiceLine, string> prepare) => (key, setUp) = (keyField, prepare);

    /// <summary>A <c>V:</c> field in the music: another voice goes on from here.</summary>
    public void Switch(string value, Scan scan)
    {
        var words = Staff.Words(value);
        if (words.Count == 0) return;
        var voice = Find(Id(words));
        if (words.Count > 0) voice.SetStaff(With(voice.Staff, words, scan));
        current = voice;
    }

    private static string Id(List<string> words)
    {
        var id = OneLine.Of(words[0]);
        words.RemoveAt(0);
        return id.Length > LongestId ? id[..LongestId] : id;
    }

    private Staff With(Staff staff, List<string> words, Scan scan)
    {
        var said = new List<string>();
        var next = staff.With(words, said);
        foreach (var what in said) log.Note(scan.Here("voices"), what);
        return next;
    }

    private VoiceLine Find(string id)
    {
        if (voices.Find(v => v.Id == id) is { } known) return known;
        if (voices.Count >= limits.MostParts) throw new LimitException($"holds more than {limits.MostParts} voices.");
        var staff = staves.GetValueOrDefault(id, Staff.Plain);
        var name = staff.Name.Length > 0 ? staff.Name : staves.Count == 0 && id == "1" ? "Melody" : $"Voice {id}";
        var voice = new VoiceLine(id, new VoiceBars(new RawPart(id, name), limits, log), tune, log);
        voices.Add(voice);
        voice.Unit = tune.Unit ?? TimeFields.UsualUnit(tune.Meter);
        voice.Bars.Meter = tune.Meter;
        voice.SetStaff(staff);
        setUp?.Invoke(voice, key);
        return voice;
    }
}
