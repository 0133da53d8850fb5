using System.Collections.Immutable;

namespace Seamwright.Studio.Features.Help;

/// <summary>Help for one page.</summary>
/// <param name="Topic">In the address.</param>
/// <param name="Title">Of the page it explains.</param>
/// <param name="Paragraphs">A heading, empty for none, and what it says.</param>
public sealed record HelpText(string Topic, string Title, ImmutableArray<(string Heading, string Words)> Paragraphs);

/// <summary>All help there is.</summary>
internal static class HelpTexts
{
    public static ImmutableArray<HelpText> All { get; } =
    [
        new("music", "Music",
        [
            ("", "Here lies all the music you brought. Drop a file anywhere on the page, or choose it: MusicXML, which every notation program can write, MIDI, or ABC."),
            ("Writing", "A short melody can be written in letters, in ABC notation: C D E F are notes from middle C up, C, D, an octave lower, C2 is twice as long, C/2 half; K: names the key, | is a bar line and ( ) is a slur. The music is engraved while you type."),
            ("Finding", "Type a few letters of a title, a composer or a tag. Tags are given on a piece's own page, under “Its card”."),
            ("Names of notes", "At the foot of every page stands what notes are called: B♭ and B, B and H, or Si♭ and Si, and whether as they sound or as a part in B♭ treble clef writes them. Octaves are counted so that middle C is C4 in each of them."),
            ("Twice", "A file that is here already is not added again. For a second one with settings of its own, for instance for another pupil, make a copy: “Its card” on its page has the button."),
            ("Putting away", "What you put away can be put back: the page says so at once. The pieces marked as invented are ours, to try things with, and go with one press."),
        ]),
        new("piece", "A piece",
        [
            ("", "Above the staff stand the slide positions, below it a sign for each change: how the new note parts from the one before. The line under the staff is the arm's way: up is in, down is out."),
            ("Signs", "What stands in this piece is explained above its music. An open eye: a natural slur, it parts by itself. A small valve: a valve parts it. A filled cup: the slide would be heard, so the tongue touches softly, with the syllable under it."),
            ("Other positions", "Choose a note, and its other positions stand beside the music with what each costs. Press one and the note is fixed there; everything around it is planned anew."),
            ("Hearing", "Choose a sign to hear the change clean, and with each fault it can have. Play along: set the tempo and the bars, the level of each voice, and press Play."),
            ("Players", "Choose who plays under “How it is played”: their horn, arm, clef and syllable come with them, and what is recorded is theirs."),
            ("To take along", "The sheet as PDF, the part as MusicXML and MIDI, a play-along, or everything in one file."),
            ("Keys", "Tab comes to the music in one step; there the arrows go from note to note, Home and End to the first and the last, Enter opens one."),
        ]),
        new("record", "Record",
        [
            ("", "Choose the microphone and play a loud note: the bar shows the level. If it says that the tops are cut off, go further away or turn the microphone down. Then rest for a moment: if it says that it is never quiet, the room is loud, and quiet moments of your playing will be hidden in it."),
            ("While it runs", "The recording is stored while you play, a second at a time. If the page, the computer or the workbench stops, what you played is here when you come back."),
            ("A telephone", "A recording made elsewhere can be brought as a file."),
        ]),
        new("takes", "Takes",
        [
            ("", "A take is one recording of a piece. Its page shows the music again with what was heard under each note, the slide as planned and as heard, the pitch and the level."),
            ("What to do first", "Three sentences at the top say what to work on first. Under “To mend” stands every change with something to mend; the keys n and p, or the buttons above each, go from one to the next. Press a kind of trouble over the music to see and go through that kind alone; press it again to see all."),
            ("Broken off", "A take that ends early is judged as far as it goes. One in which the piece is not found says so, and nothing about the playing."),
            ("Attempts", "Where a recording holds several attempts at the music, the fullest is told, with what it left out from the others; each of them can be looked at by itself."),
            ("What to practise next", "The three worst faults become exercises, each with its reason; a fault of one change becomes that change as a ladder. Keep one, and it is played along with, recorded and judged by what it asks."),
            ("Figures", "Each figure has an interval: in nine cases of ten the truth lies inside. Where that is not enough for a verdict, the page says that it cannot be told."),
            ("Levels", "Levels are relative to the recording. No microphone that was never calibrated can tell how loud it is for your ears."),
        ]),
        new("practice", "Practice",
        [
            ("", "Exercises for a horn and a level, made by the same plan as every piece: nothing is asked that the arm, the horn or the range cannot do. Level 1 is a first year, 6 the profession."),
            ("Choosing", "The form shows what the chosen kind can be asked for: key, scale and register, a chord, a figure in degrees such as 1 2 3 1, positions such as 1-4, and for every kind a ladder of tempos such as 60 72 84 96. What is left empty follows the level."),
            ("Printing", "All exercises of the page are bound into one book, with what they are good for and how to practise them. Or put them into a book of yours, and go on choosing."),
            ("Keeping", "A kept exercise is a piece like any other, with its own page: play along with it, record it, and it is judged by what it asks. Where a smear is wanted, a smear is right."),
            ("From a piece", "Choose “from tune” and a piece: its hardest changes become ladders, the two notes alone, then their bar, then their phrase."),
        ]),
        new("books", "Books",
        [
            ("", "A book holds orders of exercises in the order you choose. Each is made anew when the book is printed: if a player's card changes, so does what is made for them."),
            ("Order and chapters", "Up, down and take out stand beside each order. What you write under “Chapter that begins here” heads a chapter and stands in the contents."),
            ("The pack", "One file to hand out: the book, a play-along and the music of every exercise, and a page that opens in any browser. It takes a while; it can be stopped, and it goes on when you leave the page."),
        ]),
        new("players", "Players",
        [
            ("", "A player has a horn, a level, a range, an arm and a way of tonguing. Choose them at a piece, and the plan and its recordings are theirs; choose them on the practice page, and the exercises are."),
            ("Range", "The lowest and the highest note, such as F2-D4, at concert pitch. Empty, it is what the level asks: 1 is a first year, 6 the profession."),
            ("Furthest position", "How far the arm reaches. Children of nine to eleven usually reach the sixth position."),
            ("Taking along and deleting", "“Everything of theirs” is one file with the card, what was told of each take, and the recordings. “Delete for good” takes all of it from this computer and cannot be undone."),
        ]),
        new("horns", "Horns",
        [
            ("", "Each horn is reckoned from its tubes: how far out each position lies, what each partial gives there, and how many cents it is off."),
            ("One of your own", "Make one from any horn here and set its tuning, the temperature of the air, how far your 7th position is by a ruler, how far the slide goes, and each partial. What is empty is as the physics has it."),
            ("From a recording", "“Read my horn from a recording” makes music for it: lip slurs with the slide closed, then a slow chromatic scale by ear. Record it, and the take's page shows the horn before and after; nothing changes before you keep it."),
            ("What a recording cannot tell", "Tuning slide and warmth of the air move every note alike. Shares of the slide's length can be heard, centimetres cannot: one measure by a ruler makes them."),
        ]),
        new("live", "Live",
        [
            ("", "Pitch above, level below, as you play. Choose a note to see how far you are from it. Every dip of the level while the tone goes on counts as a touch; its depth stands beside it."),
            ("What to try", "Hold a long tone and only imagine the tongue: the lower line stays straight. Then touch lightly: it dips a little and comes back, and the upper line does not move."),
        ]),
    ];

    public static HelpText? Find(string topic) => All.FirstOrDefault(t => t.Topic == topic);
}
