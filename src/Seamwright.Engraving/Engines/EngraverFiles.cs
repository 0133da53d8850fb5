namespace Seamwright.Engraving.Engines;

/// <summary>Where the files lie that npm brought and the build put beside the program.</summary>
/// <param name="Folder">Holds the engraver, our own script for it, and <c>fonts</c>.</param>
public sealed record EngraverFiles(string Folder)
{
    /// <summary>Beside the running program.</summary>
    public static EngraverFiles Default { get; } = new(Path.Combine(AppContext.BaseDirectory, "engraving"));

    /// <summary>The engraving library: a separate file that a user may replace by another build of it (LGPL-3.0-or-later).</summary>
    public string Library => Existing("verovio-toolkit-wasm.js");

    /// <summary>Our script that serves it.</summary>
    public string Script => Existing("engrave.cjs");

    public string Fonts => Path.Combine(Folder, "fonts");

    private string Existing(string name)
    {
        var path = Path.Combine(Folder, name);
        return File.Exists(path)
            ? path
            : throw new EngravingException($"The engraver's file {path} is missing. Build again, or restore the folder 'engraving' beside the program.");
    }
}
