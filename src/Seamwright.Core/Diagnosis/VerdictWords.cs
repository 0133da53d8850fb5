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

    /// <summary>Larger is worse.</summary>
    public static int Weight(this Verdict verdict) => (int)verdict.Gravity();
}
