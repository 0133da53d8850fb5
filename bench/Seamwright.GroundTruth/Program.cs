using System.CommandLine;
using Seamwright.GroundTruth;

var root = Commands.Root();

// What cannot be read or written is told without the way the program took to it.
try
{
    return root.Parse(args).Invoke(new InvocationConfiguration { EnableDefaultExceptionHandler = false });
}
catch (Exception e) when (e is IOException or InvalidDataException or UnauthorizedAccessException)
{
    Console.Error.WriteLine(e.Message);
    return 1;
}
