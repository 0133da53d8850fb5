using Seamwright.Studio.Store;

namespace Seamwright.Studio.Features.Record;

/// <summary>Finds recordings whose page or server went away: what had come is a take like any other.</summary>
internal sealed class Recovery(Takes takes, TakeFiles files, TimeProvider clock)
{
    // A page sends every second; before its first samples it may count in for long.
    private static readonly TimeSpan Silence = TimeSpan.FromSeconds(30), Beginning = TimeSpan.FromMinutes(3);

    /// <summary>At a start of the server nothing records: whatever still says so was cut off.</summary>
    public void All()
    {
        foreach (var take in takes.List().Where(t => t.State == TakeState.Recording)) Cut(take);
    }

    /// <summary>Where nothing has come for long, the page was closed without a word or its computer sleeps: what is there can be heard, and if
    /// the page wakes it goes on.</summary>
    public void Left()
    {
        var now = clock.GetUtcNow();
        foreach (var take in takes.List().Where(t => t.State == TakeState.Recording))
        {
            if (files.LastCame(take) is { } last ? now - last > Silence : now - take.BegunAt > Beginning) Cut(take);
        }
    }

    /// <summary>The page of one says that it goes away.</summary>
    public void Cut(long id)
    {
        if (takes.Find(id) is { State: TakeState.Recording } take) Cut(take);
    }

    private void Cut(Store.Take take)
    {
        var samples = files.Samples(take);
        if (samples == 0 || take.Rate == 0) takes.Delete(take.Id);
        else takes.End(take.Id, TakeState.Interrupted, samples / (double)take.Rate);
    }
}
