using System.CommandLine;
using Seamwright.VoiceCheck;

return new RootCommand("What the voice is asked for against what it does.")
{
    NaturalSlurs.Command(), TonguedSlurs.Command(), Cracks.Command(), CleanTakes.Command(), Alternates.Command(), Faults.Command(), ShortNotes.Command(), Loop.Command(), Pictures.Command(), Speed.Command(),
}.Parse(args).Invoke();
