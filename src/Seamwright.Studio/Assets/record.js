// The page that records: chooses a microphone, shows its level, counts in, and sends what it hears.
import { Sender, sixteen } from "./sender.js";

const box = document.querySelector("#recorder");
const [choice, startButton, stopButton, checkButton, clock, said, words] = ["#microphone", "#start", "#stop", "#check", "#clock", "#said", "#level-words"].map(s => document.querySelector(s));
const bar = box.querySelector(".level");
let context = null, stream = null, node = null, sender = null, rolling = false, counted = 0, clippedAt = -1e9, loudest = -90;

/** Opens the microphone without anything that would bend the sound. */
async function open() {
  if (node) return;
  const wish = { channelCount: 1, echoCancellation: false, noiseSuppression: false, autoGainControl: false };
  if (choice.value && !choice.disabled) wish.deviceId = { exact: choice.value };
  stream = await navigator.mediaDevices.getUserMedia({ audio: wish });
  const got = stream.getAudioTracks()[0].getSettings();
  const bent = ["echoCancellation", "noiseSuppression", "autoGainControl"].filter(n => got[n]);
  if (bent.length > 0) say(`This browser does not switch off ${bent.map(plain).join(" and ")}: quiet notes and dips may be told wrongly.`);
  context = new AudioContext();
  await context.audioWorklet.addModule(box.dataset.worklet);
  node = new AudioWorkletNode(context, "capture", { numberOfOutputs: 0 });
  node.port.onmessage = e => heard(e.data);
  context.createMediaStreamSource(stream).connect(node);
  await list();
}

const plain = name => ({ echoCancellation: "echo cancelling", noiseSuppression: "noise suppression", autoGainControl: "automatic level" })[name];
const say = text => { said.textContent = text; };

async function list() {
  const devices = (await navigator.mediaDevices.enumerateDevices()).filter(d => d.kind === "audioinput");
  const now = stream.getAudioTracks()[0].getSettings().deviceId;
  choice.replaceChildren(...devices.map((d, i) => new Option(d.label || `microphone ${i + 1}`, d.deviceId, false, d.deviceId === now)));
  choice.disabled = devices.length < 2;
}

function close() {
  stream?.getTracks().forEach(t => t.stop());
  context?.close();
  [context, stream, node] = [null, null, null];
}

/** A block of samples: the level, and if it runs, the recording. */
function heard(block) {
  let peak = 0, power = 0;
  for (const x of block) { peak = Math.max(peak, Math.abs(x)); power += x * x; }
  const db = 10 * Math.log10(power / block.length + 1e-9);
  if (peak >= 0.99) clippedAt = performance.now();
  loudest = Math.max(loudest, db);
  listenToRoom(power, block.length);
  show(db);
  if (!rolling) return;
  sender.add(sixteen(block));
  counted += block.length;
  const s = Math.floor(counted / context.sampleRate);
  clock.textContent = `${Math.floor(s / 60)}:${String(s % 60).padStart(2, "0")}`;
}

// The quietest quarter of a second so far is the room's, if ever nobody played.
const room = { power: 0, samples: 0, listened: 0, quietest: 0 };
const LoudRoom = -45, NearTone = 25, FirstLook = 2;

function listenToRoom(power, samples) {
  room.power += power;
  room.samples += samples;
  if (room.samples < context.sampleRate / 4) return;
  room.quietest = Math.min(room.quietest, 10 * Math.log10(room.power / room.samples + 1e-9));
  room.listened += room.samples / context.sampleRate;
  [room.power, room.samples] = [0, 0];
}

function forgetRoom() {
  Object.assign(room, { power: 0, samples: 0, listened: 0, quietest: 0 });
  loudest = -90;
}

/** Whether the room, as far as it was heard, covers the quiet moments of a take. */
const isRoomLoud = () => !rolling && room.listened > FirstLook && room.quietest > Math.max(LoudRoom, loudest - NearTone);

function show(db) {
  const clipped = performance.now() - clippedAt < 2000;
  bar.firstElementChild.style.setProperty("--level", `${Math.max(0, Math.min(100, (db + 60) / 0.6))}%`);
  bar.setAttribute("aria-valuenow", Math.round(db));
  bar.classList.toggle("clipped", clipped);
  const text = clipped ? "Too loud for the microphone: its tops are cut off. Turn it down or go further away."
    : isRoomLoud() ? "It is never quiet here: rest for a moment. If it says so still, the room is loud: close the window, turn off what hums, or go nearer to the microphone."
    : loudest < -45 ? "Very quiet so far: play a long note, go nearer or turn the microphone up."
    : "The level is good.";
  if (words.textContent !== text) words.textContent = text;
}

let clicks = [];

/** Clicks before the first beat, heard and not recorded. */
function countIn(beats, pace) {
  clicks = [];
  const step = 60 / pace, first = context.currentTime + 0.15;
  for (let i = 0; i < beats; i++) {
    const tone = new OscillatorNode(context, { frequency: i === 0 ? 1320 : 990 });
    const gain = new GainNode(context, { gain: 0 });
    gain.gain.setValueAtTime(0.3, first + i * step);
    gain.gain.exponentialRampToValueAtTime(0.001, first + i * step + 0.06);
    tone.connect(gain).connect(context.destination);
    clicks.push(tone);
    tone.start(first + i * step);
    tone.stop(first + i * step + 0.08);
  }
  return beats > 0 ? (first + beats * step - context.currentTime) * 1000 : 0;
}

let example = null;

/** The example that is heard while one plays: fetched before anything runs, begun on the first beat. */
async function fetchExample(pace) {
  if (!document.querySelector("#along").checked) return null;
  say("Making the play-along …");
  const answer = await fetch(`/music/${box.dataset.piece}/along/example.wav?${new URLSearchParams({ tempo: pace, countIn: 0, turns: "example" })}`);
  if (!answer.ok) throw new Error(await answer.text());
  return new AudioBufferSourceNode(context, { buffer: await context.decodeAudioData(await answer.arrayBuffer()) });
}

/** A number from a field, or what is wrong with it. */
function number(field, name) {
  const value = Number(field.value);
  if (field.value.trim() === "" || !(value >= Number(field.min) && value <= Number(field.max))) {
    field.focus();
    throw new Error(`${name} must be a number from ${field.min} to ${field.max}.`);
  }
  return value;
}

let beginning = 0;

async function start() {
  startButton.disabled = true;
  try {
    const beats = number(document.querySelector("#count-in"), "Beats counted before"), pace = number(document.querySelector("#pace"), "Quarter notes a minute");
    await open();
    example = await fetchExample(pace);
    sender = await Sender.begin(Number(box.dataset.piece), Math.round(context.sampleRate), say);
    counted = 0;
    clock.textContent = "0:00";
    const wait = countIn(beats, pace);
    example?.connect(context.destination);
    example?.start(context.currentTime + wait / 1000);
    say(wait > 0 ? "Counting in …" : "Recording.");
    stopButton.hidden = false;
    stopButton.focus();
    beginning = setTimeout(() => { beginning = 0; rolling = true; say("Recording."); document.body.classList.add("rolling"); }, Math.max(0, wait - 300));
  } catch (e) {
    startButton.disabled = false;
    say(wrong(e));
  }
}

const wrong = e => e.name === "NotAllowedError" ? "The browser was not allowed to use the microphone. Allow it beside the address, and try again."
  : e.name === "NotFoundError" ? "No microphone is there. Connect one, and try again." : e.message;

async function stop() {
  example?.stop();
  if (beginning) {
    clearTimeout(beginning);
    beginning = 0;
    clicks.forEach(c => c.stop());
    await sender.end().catch(() => null); // nothing came: the workbench forgets it
    stopButton.hidden = true;
    startButton.disabled = false;
    return say("Stopped before the first beat: nothing was recorded.");
  }
  rolling = false;
  document.body.classList.remove("rolling");
  stopButton.disabled = true;
  say("Listening to it …");
  try {
    location.href = await sender.end();
  } catch (e) {
    say(e.message);
    stopButton.hidden = true;
    stopButton.disabled = startButton.disabled = false;
  }
}

startButton.addEventListener("click", start);
stopButton.addEventListener("click", stop);
checkButton.addEventListener("click", () => open().catch(e => say(wrong(e))));
choice.addEventListener("change", () => { close(); forgetRoom(); open().catch(e => say(wrong(e))); });
addEventListener("beforeunload", e => rolling && e.preventDefault());
addEventListener("pagehide", () => rolling && sender.cut());

// A file the workbench cannot read is decoded here, if this browser can.
document.querySelector("#bring").addEventListener("submit", async e => {
  e.preventDefault();
  const file = e.target.sound.files[0];
  if (!file) return say("Choose a sound file first.");
  say("Bringing it …");
  const answer = await fetch(e.target.action, { method: "POST", body: new FormData(e.target) }).catch(() => null);
  if (!answer) return say("The workbench does not answer. Is it still running?");
  if (answer.ok) { location.href = (await answer.json()).url; return; }
  const why = await answer.text();
  try {
    const sound = await new OfflineAudioContext(1, 1, 48000).decodeAudioData(await file.arrayBuffer());
    const sent = await Sender.begin(Number(box.dataset.piece), sound.sampleRate, say);
    const mono = new Float32Array(sound.length);
    for (let c = 0; c < sound.numberOfChannels; c++) sound.getChannelData(c).forEach((x, i) => { mono[i] += x / sound.numberOfChannels; });
    for (let i = 0; i < mono.length; i += 24000) sent.add(sixteen(mono.subarray(i, i + 24000)));
    location.href = await sent.end();
  } catch {
    say(why);
  }
});
