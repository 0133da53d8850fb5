// Pitch tracks of WAV files (16 bits, one channel) by two trackers of the npm registry.
// node track.mjs pitchy|essentia OUTPUT.json FILE.wav...
// Writes {"cpu": seconds spent tracking, "tracks": [{"start", "hop", "hz": [0 where none, ...]}]}, times of frame centres.
import { readFileSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";

const FRAME = 4096;
const HOP = 0.005;
const LOWEST = 50;
const HIGHEST = 800;

function readWav(path) {
  const bytes = readFileSync(path);
  const rate = bytes.readUInt32LE(24);
  const samples = new Float32Array((bytes.length - 44) / 2);
  for (let i = 0; i < samples.length; i++) samples[i] = bytes.readInt16LE(44 + 2 * i) / 32768;
  return { rate, samples };
}

async function pitchy() {
  const { PitchDetector } = await import("pitchy");
  const detector = PitchDetector.forFloat32Array(FRAME);
  return (frame, rate) => {
    const [hz, clarity] = detector.findPitch(frame, rate);
    return clarity > 0 && hz >= LOWEST && hz <= HIGHEST ? hz : 0;
  };
}

function essentia() {
  const require = createRequire(import.meta.url);
  const { Essentia, EssentiaWASM } = require("essentia.js");
  const e = new Essentia(EssentiaWASM);
  return (frame, rate) => {
    const vector = e.arrayToVector(frame);
    const windowed = e.Windowing(vector, true, FRAME, "hann").frame;
    const spectrum = e.Spectrum(windowed, FRAME).spectrum;
    const { pitch } = e.PitchYinFFT(spectrum, FRAME, true, HIGHEST, LOWEST, rate);
    for (const v of [vector, windowed, spectrum]) v.delete();
    return pitch > 0 ? pitch : 0;
  };
}

function track({ rate, samples }, find) {
  const hz = [];
  for (let i = 0; ; i++) {
    const from = Math.round(i * HOP * rate);
    if (from + FRAME > samples.length) break;
    hz.push(find(samples.slice(from, from + FRAME), rate));
  }
  return { start: FRAME / 2 / rate, hop: HOP, hz };
}

const [name, output, ...files] = process.argv.slice(2);
const find = name === "pitchy" ? await pitchy() : essentia();
const sounds = files.map(readWav);
track(sounds[0], find); // compiles the code
const before = process.cpuUsage();
const tracks = sounds.map((s) => track(s, find));
const used = process.cpuUsage(before);
writeFileSync(output, JSON.stringify({ cpu: (used.user + used.system) / 1e6, tracks }));
