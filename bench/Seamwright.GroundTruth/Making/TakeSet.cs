using Seamwright.GroundTruth.Parts;

namespace Seamwright.GroundTruth.Making;

/// <summary>The whole set: which takes there are and how they are varied.</summary>
/// <param name="Folder">Written to; created.</param>
/// <param name="Seed">The same seed gives the same files.</param>
/// <param name="Quick">About 160 s of sound in place of 15 minutes.</param>
/// <param name="Say">One line for each thing worth saying.</param>
internal sealed record TakeSet(string Folder, int Seed, bool Quick, Action<string> Say)
{
    // The first one's trombone swings by 10 cents of its own.
    private static readonly (string Name, string Path, float LfoCents)[] Soundfonts =
    [
        ("tim", "/usr/share/sounds/sf2/TimGM6mb.sf2", 10),
        ("fluid", "/usr/share/sounds/sf2/FluidR3_GM.sf2", 0),
    ];

    private const int Drawn = 16;

    public void Make()
    {
        Directory.CreateDirectory(Folder);
        var made = new List<MadeTake>();
        made.AddRange(Simple());
        foreach (var voice in Voices()) made.AddRange(Bent(voice));
        Say($"{made.Count} takes, {made.Sum(t => t.Truth.DurationSeconds):0} s of sound in {Folder}");
    }

    private int Bars => Quick ? 3 : 5;

    private IEnumerable<MadeTake> Simple()
    {
        for (var i = 0; i < Register.All.Length * (Quick ? 1 : 3); i++)
            yield return One("simple", i, (order, plan, random) => SimpleTakes.Make(order, plan, random));
    }

    private IEnumerable<MadeTake> Bent(IVoice voice)
    {
        using (voice)
        {
            var takes = new BentTakes(voice);
            for (var i = 0; i < Register.All.Length * (Quick ? 1 : 2); i++)
                yield return One(voice.Name, i, takes.Make);
        }
    }

    private MadeTake One(string voice, int i, Func<TakeOrder, Core.Planning.Plan, Random, MadeTake> make)
    {
        var register = Register.All[i % Register.All.Length];
        var slow = i / Register.All.Length % 2 == 0 ? i % 2 == 0 : i % 2 == 1;
        var name = $"{voice}-{register.Name}-{i + 1}";
        var random = new Random(StableSeed(name));
        var sketch = Sketches.BestOf(Drawn, () => Sketches.Make(name, register, Bars, slow, random));
        PartPlan.Write(sketch, Path.Combine(Folder, name + ".musicxml"));
        var plan = PartPlan.Read(Path.Combine(Folder, name + ".musicxml"), register.InstrumentId);
        var order = new TakeOrder(name, voice.Split('-')[0], name + ".musicxml", register.InstrumentId, Math.Round(0.94 + (0.12 * random.NextDouble()), 3));
        var take = make(order, plan, random);
        TakeWriter.Write(Folder, take);
        return take;
    }

    // FNV-1a over the name, so that adding one take does not change the others.
    private int StableSeed(string name)
    {
        var hash = 2166136261u ^ (uint)Seed;
        foreach (var c in name) hash = (hash ^ c) * 16777619u;
        return (int)(hash & 0x7fffffff);
    }

    private IEnumerable<IVoice> Voices()
    {
        if (!FluidLibrary.IsThere) Say("Left out: soundfont takes; the library libfluidsynth.so.3 is missing.");
        foreach (var (name, path, lfo) in FluidLibrary.IsThere ? Soundfonts : [])
        {
            if (File.Exists(path)) yield return new SoundfontVoice(path, "soundfont-" + name, lfo);
            else Say($"Left out: soundfont takes of {Path.GetFileName(path)}; the file is missing.");
        }
    }
}
