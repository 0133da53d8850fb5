using System.CommandLine;
using Seamwright.VoiceCheck;

var root = new RootCommand("What the voice is asked for against what it does.")
{
    NaturalSlurs.Command(), TonguedSlurs.Command(), Cracks.Command(), CleanTakes.Command(), Alternates.Command(), Faults.Command(), ShortNotes.Command(), Loop.Command(), Pictures.Command(), Speed.Command(),
};

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
