// Reads a JSON list of { abc } or { midi: base64 } from standard input and answers, for each, the notes that packages of others find:
// [[note number, start, length], ...] of every track, in quarter notes, with the tempos and signatures of a MIDI file beside them.
'use strict';
const abcjs = require('abcjs');
const { parseMidi } = require('midi-file');

function fromAbc(abc) {
  const made = abcjs.synth.getMidiFile(abc, { midiOutputType: 'binary', chordsOff: true });
  return Buffer.from(Array.isArray(made) ? made[0] : made);
}

function read(bytes) {
  const file = parseMidi(bytes);
  const quarter = file.header.ticksPerBeat;
  const found = { format: file.header.format, tracks: [], tempos: [], meters: [], keys: [], names: [] };
  for (const track of file.tracks) {
    const [notes, open] = [[], new Map()];
    let tick = 0;
    for (const e of track) {
      tick += e.deltaTime;
      const isOn = e.type === 'noteOn' && e.velocity > 0;
      if (isOn || e.type === 'noteOff' || e.type === 'noteOn') {
        if (open.has(e.noteNumber)) {
          const note = open.get(e.noteNumber);
          note[2] = tick / quarter - note[1];
          open.delete(e.noteNumber);
        }
        if (isOn) {
          const note = [e.noteNumber, tick / quarter, 0];
          open.set(e.noteNumber, note);
          notes.push(note);
        }
      }
      else if (e.type === 'setTempo') found.tempos.push([tick / quarter, 60e6 / e.microsecondsPerBeat]);
      else if (e.type === 'timeSignature') found.meters.push([tick / quarter, e.numerator, e.denominator]);
      else if (e.type === 'keySignature') found.keys.push([tick / quarter, e.key, e.scale]);
      else if (e.type === 'trackName') found.names.push(e.text);
    }
    if (notes.length > 0) found.tracks.push(notes);
  }
  return found;
}

let text = '';
process.stdin.on('data', (d) => { text += d; });
process.stdin.on('end', () => {
  const answers = JSON.parse(text).map((q) => {
    const bytes = q.abc === undefined ? Buffer.from(q.midi, 'base64') : fromAbc(q.abc);
    return { ...read(bytes), midi: bytes.toString('base64') };
  });
  process.stdout.write(JSON.stringify(answers));
});
