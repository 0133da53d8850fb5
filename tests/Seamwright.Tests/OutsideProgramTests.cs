using System.Diagnostics;

namespace Seamwright.Tests;

public class OutsideProgramTests
{
    [Fact]
    public void A_program_that_hangs_is_ended_with_all_that_it_started()
    {
        var how = new ProcessStartInfo("/bin/sh", ["-c", "sleep 300 & echo $!; wait"]);
        var watch = Stopwatch.StartNew();
        var told = Assert.Throws<TimeoutException>(() => OutsideProgram.Run(how, longest: TimeSpan.FromSeconds(0.5)));
        Assert.Contains("/bin/sh did not end within 0.5 s", told.Message);
        Assert.True(watch.Elapsed < TimeSpan.FromSeconds(60));
    }

    [Fact]
    public void It_reads_what_it_is_given_and_nothing_else()
    {
        var ran = OutsideProgram.Run(new ProcessStartInfo("/bin/sh", ["-c", "cat; echo complaint >&2; exit 3"]), "é\n");
        Assert.Equal((3, "é\n", "complaint\n"), (ran.Code, ran.Text, ran.Error));
        Assert.Equal("", OutsideProgram.Run("/bin/cat").Well().Text);
    }

    [Fact]
    public void Much_is_read_and_written_at_once()
    {
        var much = string.Concat(Enumerable.Repeat("a line\n", 100_000));
        Assert.Equal(much, OutsideProgram.Run(new ProcessStartInfo("/bin/sh", ["-c", "tee /dev/stderr"]), much).Well().Text);
    }
}
