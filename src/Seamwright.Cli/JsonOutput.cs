using System.Text;

namespace Seamwright.Cli;

/// <summary>JSON on the output stream.</summary>
internal static class JsonOutput
{
    /// <summary>Lets a writer fill a buffer, then prints it whole, so that a failure half way prints nothing.</summary>
    public static void Write(Terminal terminal, Action<Stream> writer)
    {
        using var buffer = new MemoryStream();
        writer(buffer);
        terminal.Line(Encoding.UTF8.GetString(buffer.GetBuffer(), 0, (int)buffer.Length));
    }
}
