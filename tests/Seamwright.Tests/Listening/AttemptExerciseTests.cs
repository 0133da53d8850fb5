namespace Seamwright.Tests.Listening;

/// <summary>Lines that are not tunes: one note touched again and again, smears, two notes.</summary>
public class AttemptExerciseTests
{
    private static AttemptTape Tape => new AttemptTape().Rest(0.8);

    [Fact]
    public void Touches_on_one_long_tone_are_told_apart()
    {
        const string touched = "F3:2~ F3:2~ F3:2~ F3:2~ F3:2~ F3:2~ F3:2~ F3:2";
        Tape.Play(touched).HeardAsPlayed(AttemptTape.PlanOf(touched));
    }

    [Fact]
    public void Touches_played_twice_are_two_attempts()
    {
        const string touched = "F3~ F3~ F3~ F3~ F3~ F3~ F3~ F3";
        Tape.Play(touched).Rest(2).Play(touched, 80).HeardAsPlayed(AttemptTape.PlanOf(touched));
    }

    [Fact]
    public void One_single_long_note_is_found()
    {
        Tape.Play("Bb3:8").HeardAsPlayed(AttemptTape.PlanOf("Bb3:8"));
        Tape.Play("Bb3:8", 200).HeardAsPlayed(AttemptTape.PlanOf("Bb3:8"));
    }

    [Fact]
    public void Glissandi_are_followed()
    {
        const string smears = "Bb3:2g Ab3:2g Bb3:2g G3:2g Bb3:2g Ab3:2g Bb3:4";
        Tape.Play(smears, 60).HeardAsPlayed(AttemptTape.PlanOf(smears, 60));
    }

    [Fact]
    public void Two_notes_are_found_three_times()
    {
        const string two = "Bb3:2~ Ab3:2";
        Tape.Play(two).Rest(1).Play(two).Rest(1).Play(two).HeardAsPlayed(AttemptTape.PlanOf(two));
    }

    [Fact]
    public void Semiquavers_are_found()
    {
        const string fast = "Bb2:1/4~ C3:1/4~ D3:1/4~ Eb3:1/4~ F3:1/4~ Eb3:1/4~ D3:1/4~ C3:1/4~ Bb2:1 F3:1/4~ Eb3:1/4~ D3:1/4~ C3:1/4~ Bb2:2";
        Tape.Play(fast, 100).HeardAsPlayed(AttemptTape.PlanOf(fast, 100));
    }
}
