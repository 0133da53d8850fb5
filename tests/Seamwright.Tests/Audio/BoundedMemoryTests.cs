namespace Seamwright.Tests.Audio;

/// <summary>Alone, because the heap is everybody's.</summary>
[CollectionDefinition(nameof(BoundedMemoryTests), DisableParallelization = true)]
[Collection(nameof(BoundedMemoryTests))]
public class BoundedMemoryTests
{
    [Fact]
    public void An_hour_streams_in_a_few_megabytes()
    {
        const long Hour = 3600L * 48000;
        var buffer = new float[1 << 16];
        var before = GC.GetTotalMemory(forceFullCollection: true);
        using var stream = SoundStreamTests.Stream(new SoundStreamTests.Played(2, Hour, (_, t) => 0.3f * MathF.Sin(t)) { At = 48000 });
        long total = 0, most = 0;
        for (int read; (read = stream.Read(buffer)) > 0; total += read)
        {
            if (total % (1 << 24) == 0) most = Math.Max(most, GC.GetTotalMemory(forceFullCollection: true) - before);
        }

        Assert.Equal(Hour, total);
        Assert.InRange(most, 1, 10 << 20);
    }
}
