using System.Collections.Immutable;
using System.Net;

namespace Seamwright.Studio;

/// <summary>Where the workbench listens and keeps its things.</summary>
public sealed record StudioSettings
{
    /// <summary>Loopback, any free port.</summary>
    public const string DefaultUrl = "http://127.0.0.1:0";

    /// <summary>At least one address, <c>http</c> only: nothing leaves the machine unless another address is named.</summary>
    public ImmutableArray<string> Urls { get; init; } = [DefaultUrl];

    /// <summary>The folder of the database and the recordings; made where it is missing.</summary>
    public required string DataFolder { get; init; }

    /// <summary>Melodies that are put in on the first start, marked as invented; null for none.</summary>
    public string? DemoFolder { get; init; }

    /// <summary>Largest file of music, in bytes. Default 20 MB.</summary>
    public long LargestMusic { get; init; } = 20_000_000;

    /// <summary>Largest recording that is taken, in bytes. Default 1 GB: an hour in stereo at 48 kHz with 24 bits.</summary>
    public long LargestRecording { get; init; } = 1_100_000_000;

    /// <summary>Names a browser may call the server by: those of loopback, and what the addresses say.</summary>
    /// <remarks>A page of a stranger's that points its own name at this machine is refused by it.</remarks>
    public ImmutableHashSet<string> HostNames =>
        [.. Urls.Select(u => new Uri(u.Replace("://*", "://0.0.0.0", StringComparison.Ordinal).Replace("://+", "://0.0.0.0", StringComparison.Ordinal)).Host).SelectMany(NamesOf), "localhost", "127.0.0.1", "[::1]"];

    private static IEnumerable<string> NamesOf(string host)
    {
        if (host is not ("0.0.0.0" or "[::]")) return [host];
        var here = Dns.GetHostName();
        return [here, here + ".local", .. Dns.GetHostAddresses(here).Select(a => a.AddressFamily == System.Net.Sockets.AddressFamily.InterNetworkV6 ? $"[{a}]" : a.ToString())];
    }
}
