namespace Seamwright.Core.Sound;

/// <summary>What can go wrong at a note change, for demonstrations and for testing ears.</summary>
public enum Fault
{
    /// <summary>Nothing: the change as a fine player makes it.</summary>
    None,

    /// <summary>A slow arm and hardly a tongue: the slide is heard.</summary>
    Smeared,

    /// <summary>The tongue is as it should be, but the arm is so slow that the slide is heard on both sides of it.</summary>
    SlowSlide,

    /// <summary>The tongue touches after the arm is half way.</summary>
    LateTongue,

    /// <summary>The tongue touches before the arm is half way.</summary>
    EarlyTongue,

    /// <summary>The tongue cuts deep and the new note bursts.</summary>
    HardTongue,

    /// <summary>The air stops between the notes.</summary>
    StoppedAir,

    /// <summary>The air goes on and no tongue hides the slide.</summary>
    NoTongue,

    /// <summary>A wrong partial is caught on the way.</summary>
    Cracked,

    /// <summary>The change is clean but the note it leads to is sharp.</summary>
    OutOfTune,

    /// <summary>A slide that was to be slow is over almost at once.</summary>
    HurriedSlide,

    /// <summary>The tongue cuts where an exercise wants none.</summary>
    Tongued,

    /// <summary>With the touch on a long tone the air becomes weaker, and with the next strong again.</summary>
    UnevenAir,
}
