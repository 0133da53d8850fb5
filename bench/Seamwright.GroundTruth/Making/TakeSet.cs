using System.Collections.Immutable;
using Seamwright.GroundTruth.Parts;
using Seamwright.GroundTruth.Truth;

namespace Seamwright.GroundTruth.Making;

/// <summary>The whole set: which takes there are and how they are varied.</summary>
/// <param name="Folder">Written to; created.</param>
/// <param name="Seed">The same seed gives the same files.</param>
/// <param name="Quick">About 160 s of sound in place of 15 minutes.</param>
/// <param name="Recordings">Folder of real notes; takes of them are left out where it is missing.</param>
/// <param name="Say">One line for each thing worth saying.</param>
internal sealed record TakeSet(string Folder, int Seed, bool Quick, string Recordings, Action<string> Say)
{
    // The first one's trombone swings by 10 cents of its own.
    private static readonly (string Name, string Path, float LfoCents)[] Soundfonts =
    [
        ("tim", "/usr/share/sounds/sf2/TimGM6mb.sf2", 10),
        ("fluid", "/usr/share/sounds/sf2/FluidR3_GM.sf2", 0),
    ];

    private const int Drawn = 16;

    private int Bars => Quick ? 2 : 4;

    public void Make()
    {
        Directory.CreateDirectory(Folder);
        var clean = Simple().ToList();
        foreach (var voice in Voices()) clean.AddRange(Bent(voice));
        var varied = Variants(clean).ToList();
        Say($"{clean.Count} clean takes, {clean.Sum(t => t.Truth.DurationSeconds):0} s; {varied.Count} under other conditions, {varied.Sum(t => t.Truth.DurationSeconds):0} s; in {Folder}");
    }

    private IEnumerable<MadeTake> Simple()
    {
        for (var i = 0; i < (Quick ? 5 : 8); i++)
            yield return One("simple", i, (order, plan, random) => SimpleTakes.Make(order, plan, random));
    }

    private IEnumerable<MadeTake> Bent(IVoice voice)
    {
        using (voice)
        {
            var takes = new BentTakes(voice);
            for (var i = 0; i < (Quick ? 3 : 5); i++)
                yield return One(voice.Name, Quick ? (2 * i) + (voice.Name.Length % 2) : i, takes.Make);
        }
    }

    private IEnumerable<MadeTake> Variants(List<MadeTake> clean)
    {
        var number = 0;
        foreach (var variant in Variant.All)
        {
            number++;
            var share = Quick ? variant.QuickShare : variant.Share;
            if (share == 0) continue;
            if (variant.NeedsCodec && !Ffmpeg.IsThere)
            {
                Say($"Left out: {variant.Name}; ffmpeg is missing.");
                continue;
            }

            for (var i = number % share; i < clean.Count; i += share)
            {
                var take = variant.Of(clean[i], Path.Combine(Folder, clean[i].Truth.Name + ".wav"), new Random(StableSeed(clean[i].Truth.Name + variant.Name)));
                TakeWriter.Write(Folder, take);
                yield return take;
            }
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
        var take = WithHarmonics(make(order, plan, random));
        TakeWriter.Write(Folder, take);
        return take;
    }

    // What the bound for the pitch of low notes needs.
    private static MadeTake WithHarmonics(MadeTake take) => take with
    {
        Truth = take.Truth with { Notes = [.. take.Truth.Notes.Select(n => n.Midi < Measuring.Pool.LowMidi ? n with { Harmonics = Harmonics(take, n) } : n)] },
    };

    private static ImmutableArray<double> Harmonics(MadeTake take, TruthNote note)
    {
        var middle = (note.Onset + note.Offset) / 2;
        var half = Math.Min(0.1, (note.Offset - note.Onset) / 4);
        var stretch = take.Samples.AsSpan((int)((middle - half) * take.Rate), (int)(2 * half * take.Rate));
        return [.. Demodulator.Harmonics(stretch, take.Rate, note.Hertz, 40).Select(a => Math.Round(a, 7))];
    }

    // FNV-1a over the name, so that adding one take does not change the others.
    private int StableSeed(string name)
    {
        var hash = 2166136261u ^ (uint)Seed;
        foreach (var c in name) hash = (hash ^ c) * 16777619u;
        return (int)(hash & 0x7fffffff);
    }

    /// <summary>Every source but our own that is there; what is missing is said.</summary>
    public IEnumerable<IVoice> Voices()
    {
        if (!FluidLibrary.IsThere) Say("Left out: soundfont takes; the library libfluidsynth.so.3 is missing.");
        foreach (var (name, path, lfo) in FluidLibrary.IsThere ? Soundfonts : [])
        {
            if (File.Exists(path)) yield return new SoundfontVoice(path, "soundfont-" + name, lfo);
            else Say($"Left out: soundfont takes of {Path.GetFileName(path)}; the file is missing.");
        }

        if (RealVoice.Load(Recordings, Say) is { } real) yield return real;
    }
}
