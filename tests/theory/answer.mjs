// Reads questions as JSON from standard input and answers them with the library, so that one process serves a whole test.
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";

const { Chord, Interval, Key, Note, Scale } = createRequire(import.meta.url)("tonal");
const asked = JSON.parse(readFileSync(0, "utf8"));

const answer = {
  scales: (asked.scales ?? []).map(([tonic, name]) => Scale.get(`${tonic} ${name}`).notes),
  chords: (asked.chords ?? []).map(([root, name]) => Chord.getChord(name, root).notes),
  majors: (asked.majors ?? []).map((tonic) => Key.majorKey(tonic).alteration),
  minors: (asked.minors ?? []).map((tonic) => Key.minorKey(tonic).alteration),
  moved: (asked.moved ?? []).map(([note, interval]) => Note.transpose(note, interval)),
  between: (asked.between ?? []).map(([from, to]) => {
    const interval = Interval.get(Interval.distance(from, to));
    return [Math.sign(interval.num) * (Math.abs(interval.num) - 1), interval.semitones];
  }),
};
process.stdout.write(JSON.stringify(answer));
