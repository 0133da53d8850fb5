using Seamwright.Core.Planning;

namespace Seamwright.Core.Diagnosis;

/// <summary>How far a verdict reaches.</summary>
internal enum Gravity
{
    Clean, Unknown, Watch, Fault,
}

/// <summary>Verdicts and kinds in a reader's words.</summary>
internal static class VerdictWords
{
    /// <summary><c>smear possible</c>: as in files, with spaces.</summary>
    public static string Words(this Verdict verdict) => verdict.WireName().Replace('-', ' ');

    public static string Words(this ChangeKind kind) => kind.WireName().Replace('-', ' ');

    public static Gravity Gravity(this Verdict verdict) => verdict switch
    {
        Verdict.Clean => Core.Diagnosis.Gravity.Clean,
        Verdict.CannotTell => Core.Diagnosis.Gravity.Unknown,
        Verdict.SmearPossible => Core.Diagnosis.Gravity.Watch,
        _ => Core.Diagnosis.Gravity.Fault,
    };

    /// <summary>How much a verdict disturbs, 0 to 6; 0.01 where nothing is said. Proposed defaults.</summary>
    public static double Badness(this Verdict verdict) => verdict switch
    {
        Verdict.AirStopped => 6,
        Verdict.Cracked or Verdict.WrongNote or Verdict.AddedNote => 5,
        Verdict.Smear => 4,
        Verdict.TooHard or Verdict.TongueEarly or Verdict.TongueLate => 3,
        Verdict.NoTongue or Verdict.Bump or Verdict.Slid or Verdict.Broke => 2.5,
        Verdict.TongueHeard or Verdict.NoTouch or Verdict.TooShortSlide => 2,
        Verdict.AirChanged or Verdict.Crept or Verdict.Unsteady or Verdict.OutOfTune => 1.5,
        Verdict.SmearPossible => 1,
        Verdict.CannotTell => 0.01,
        _ => 0,
    };

    /// <summary>Larger is worse.</summary>
    public static int Weight(this Verdict verdict) => (int)verdict.Gravity();
}
