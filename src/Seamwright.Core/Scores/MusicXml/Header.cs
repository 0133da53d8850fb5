using Seamwright.Core.Scores.Assembling;

namespace Seamwright.Core.Scores.MusicXml;

/// <summary>Title, composer and rights, wherever files keep them.</summary>
internal static class Header
{
    public static Score Read(Element root, IEnumerable<Part> parts)
    {
        var work = Words(root.Child("work")?.TextOf("work-title"));
        var movement = Words(root.TextOf("movement-title"));
        var title = work.Length > 0 ? work : movement.Length > 0 ? movement : Credit(root, "title");
        var identification = root.Child("identification");
        return new Score
        {
            Title = title,
            Subtitle = work.Length > 0 && movement != work ? movement : Credit(root, "subtitle"),
            Composer = Words(identification?.All("creator").FirstOrDefault(c => c.Attribute("type") is "composer" or null)?.Text),
            Rights = Words(identification?.TextOf("rights")),
            Parts = [.. parts],
        };
    }

    /// <inheritdoc cref="OneLine.Of"/>
    public static string Words(string? text) => OneLine.Of(text);

    private static string Credit(Element root, string kind) =>
        Words(root.All("credit").FirstOrDefault(c => c.TextOf("credit-type") == kind)?.TextOf("credit-words"));
}
