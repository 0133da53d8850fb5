namespace Seamwright.Tests;

public class RigTests
{
    [Fact]
    public void The_default_instrument_exists() => Assert.Equal("tenor-f", Core.Instruments.Catalogue.Default.Id);
}
