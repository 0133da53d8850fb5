using System.Globalization;

namespace Seamwright.Cli;

/// <summary>How far a long piece of work is: one line that grows on a terminal, elsewhere a line for each quarter.</summary>
/// <param name="terminal">Where it speaks; the error stream, so that results stay clean.</param>
/// <param name="what">The work's name.</param>
internal sealed class ProgressLine(Terminal terminal, string what) : IDisposable
{
    private const int Quarters = 4;
    private int shown = -1;

    /// <summary>Shows a share, 0 to 1; never less than before.</summary>
    public void Show(double share)
    {
        var steps = terminal.IsLive ? 100 : Quarters;
        var step = (int)(share * steps);
        if (step <= shown) return;
        shown = step;
        var percent = (step * 100 / steps).ToString(CultureInfo.InvariantCulture);
        if (terminal.IsLive) terminal.Error.Write($"\r{what}: {percent} % ");
        else terminal.Error.WriteLine($"{what}: {percent} %");
    }

    /// <summary>Clears the line of a terminal.</summary>
    public void Dispose()
    {
        if (terminal.IsLive && shown >= 0) terminal.Error.Write($"\r{new string(' ', what.Length + 8)}\r");
        shown = -1;
    }
}
