using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using Seamwright.Engraving.Engines;
using Seamwright.Studio.Features.Along;
using Seamwright.Studio.Features.Books;
using Seamwright.Studio.Features.Help;
using Seamwright.Studio.Features.Instruments;
using Seamwright.Studio.Features.Live;
using Seamwright.Studio.Features.Music;
using Seamwright.Studio.Features.People;
using Seamwright.Studio.Features.Piece;
using Seamwright.Studio.Features.Practice;
using Seamwright.Studio.Features.Record;
using Seamwright.Studio.Features.Settings;
using Seamwright.Studio.Features.Take;
using Seamwright.Studio.Features.Working;
using Seamwright.Studio.Features.Write;
using Seamwright.Studio.Serving;
using Seamwright.Studio.Store;

namespace Seamwright.Studio;

/// <summary>Puts the workbench together.</summary>
public static class StudioHost
{
    /// <summary>A server that is ready to run; nothing listens yet.</summary>
    /// <param name="settings">Where it listens and keeps its things.</param>
    /// <param name="clock">Dates what is stored.</param>
    /// <param name="adjust">For tests: the last word about the host.</param>
    /// <exception cref="IOException">The data folder cannot be made, read or written.</exception>
    public static WebApplication Build(StudioSettings settings, TimeProvider clock, Action<WebApplicationBuilder>? adjust = null)
    {
        // No settings file and no environment has a say: what the command line says is all there is.
        var builder = WebApplication.CreateSlimBuilder(new WebApplicationOptions { Args = [], ApplicationName = "Seamwright.Studio", ContentRootPath = AppContext.BaseDirectory });
        builder.Logging.ClearProviders();
        builder.WebHost.UseUrls([.. settings.Urls]);
        builder.WebHost.ConfigureKestrel(k =>
        {
            k.AddServerHeader = false;
            k.Limits.MaxRequestBodySize = settings.LargestMusic + 100_000;
        });
        AddServices(builder.Services, settings, clock);
        adjust?.Invoke(builder);
        var app = builder.Build();
        app.Services.GetRequiredService<DataLock>();
        app.UseMiddleware<Gate>();
        app.UseMiddleware<Unexpected>();
        app.UseMiddleware<Naming>();
        app.UseWebSockets();
        app.MapOwnFiles();
        app.MapMusic();
        app.MapWriting();
        app.MapPiece();
        app.MapDownloads();
        app.MapWorking();
        app.MapRecording();
        app.MapTake();
        app.MapNext();
        app.MapAlong();
        app.MapLive();
        app.MapPractice();
        app.MapBooks();
        app.MapHorns();
        app.MapPlayers();
        app.MapHelp();
        app.MapSettings();
        app.MapFallback(() => Pages.NotFound());
        FirstStart.Fill(app.Services, settings);
        app.Services.GetRequiredService<Recovery>().All();
        return app;
    }

    private static void AddServices(IServiceCollection services, StudioSettings settings, TimeProvider clock)
    {
        services.AddRazorComponents();
        services.Configure<RouteHandlerOptions>(o => o.ThrowOnBadRequest = true);
        services.AddSingleton(settings);
        services.AddSingleton(clock);
        services.AddSingleton(_ => DataLock.Take(settings.DataFolder));
        services.AddSingleton(_ => new Database(settings.DataFolder));
        services.AddSingleton<Pieces>();
        services.AddSingleton<Preferences>();
        services.AddSingleton<Horns>();
        services.AddSingleton<Players>();
        services.AddSingleton(_ => Engravers.ForThisSystem());
        services.AddSingleton<PlannedPieces>();
        services.AddSingleton<PracticeMaker>();
        services.AddSingleton<Books>();
        services.AddSingleton<BookBinder>();
        services.AddSingleton<Takes>();
        services.AddSingleton(_ => new TakeFiles(settings.DataFolder));
        services.AddSingleton<Recovery>();
        services.AddSingleton<HeardTakes>();
        services.AddSingleton<NextMaker>();
        services.AddSingleton<Works>();
        services.AddHttpContextAccessor();
    }
}
