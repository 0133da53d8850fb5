using System.Collections.Immutable;
using System.Text.Json;
using Microsoft.ClearScript;
using Microsoft.ClearScript.V8;

namespace Seamwright.Engraving.Engines;

/// <summary>The engraver inside this process, in a V8 script engine; made at the first call and kept.</summary>
/// <remarks>Only where V8's native library is brought along: Linux on x64.</remarks>
public sealed class V8Engraver(EngraverFiles files) : IEngraver
{
    /// <summary>Sheets between two thorough collections of the script engine's heap; keeps memory flat over hundreds of sheets.</summary>
    private const int SheetsPerCollection = 25;

    private static readonly TimeSpan StartLimit = TimeSpan.FromSeconds(60);
    private readonly Lock gate = new();
    private V8ScriptEngine? engine;
    private int sheets;
    private bool disposed;

    /// <summary>Whether the native library is here.</summary>
    public static bool RunsHere => Engravers.IsLinuxX64 && NativeLibraryPaths().Any(File.Exists);

    public ImmutableArray<string> Engrave(string mei, string options)
    {
        lock (gate)
        {
            ObjectDisposedException.ThrowIf(disposed, this);
            engine ??= Start();
            try
            {
                var answer = (string)engine.Invoke("seamwrightRun", mei, options);
                return [.. JsonSerializer.Deserialize<string[]>(answer) ?? []];
            }
            catch (Exception e) when (e is ScriptEngineException or InvalidOperationException)
            {
                Drop();
                throw new EngravingException($"The engraver gave up on this piece: {e.Message}", e);
            }
            finally
            {
                if (++sheets % SheetsPerCollection == 0) engine?.CollectGarbage(exhaustive: true);
            }
        }
    }

    public void Dispose()
    {
        lock (gate)
        {
            disposed = true;
            Drop();
        }
    }

    private static IEnumerable<string> NativeLibraryPaths()
    {
        const string Name = "ClearScriptV8.linux-x64.so";
        yield return Path.Combine(AppContext.BaseDirectory, Name);
        yield return Path.Combine(AppContext.BaseDirectory, "runtimes", "linux-x64", "native", Name);
    }

    private void Drop()
    {
        engine?.Dispose();
        engine = null;
    }

    private V8ScriptEngine Start()
    {
        var (library, script) = (File.ReadAllText(files.Library), File.ReadAllText(files.Script));
        var made = new V8ScriptEngine(V8ScriptEngineFlags.EnableTaskPromiseConversion);
        try
        {
            // The library asks for random numbers only to name elements; a counter makes the same sheet come out the same.
            made.Execute("globalThis.crypto = { getRandomValues(a) { for (let i = 0; i < a.length; i++) a[i] = (i * 73 + 41) & 255; return a; } };");
            var ready = made.Evaluate(library + "\n;" + script + "\n;seamwrightStart(verovio).then(t => { globalThis.seamwrightRun = (m, o) => seamwrightEngrave(t, m, o); return true; })");
            if (ready is not Task task || !task.Wait(StartLimit)) throw new EngravingException("The engraver did not start within 60 s.");
            return made;
        }
        catch (Exception e) when (e is ScriptEngineException or AggregateException)
        {
            made.Dispose();
            throw new EngravingException($"The engraver could not be started: {e.Message}", e);
        }
    }
}
