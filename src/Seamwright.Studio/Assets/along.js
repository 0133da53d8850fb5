// Plays the voices of a play-along together, each at its own level, with a line on the notes in time with the sound.
import { Strand } from "./strand.js";

/** Seconds between the wish and the sound, so that all voices begin together. */
const Lead = 0.03;

/** A play-along of one piece: fetched when first played, again when what is asked changes. */
export class Along {
  constructor(box) {
    this.box = box;
    this.piece = box.dataset.piece;
    this.status = box.querySelector("[role=status]");
    this.clock = box.querySelector(".clock");
    this.made = null;
    this.playing = null;
    const play = box.querySelector("[data-play]");
    play.addEventListener("click", () => this.toggle());
    play.disabled = false; // not before: a press would be lost
    for (const slider of box.querySelectorAll("[data-voice]")) slider.addEventListener("input", () => this.setLevel(slider));
  }

  value(id) { return this.box.querySelector(id).value.trim(); }

  /** What a field holds, or what is wrong with it. */
  number(id, words) {
    const field = this.box.querySelector(id), value = Number(field.value);
    if (field.value.trim() !== "" && value >= Number(field.min) && value <= Number(field.max)) return;
    field.focus();
    throw new Error(`${words} must be a number from ${field.min} to ${field.max}.`);
  }

  query() {
    this.number("#along-tempo", "The tempo");
    this.number("#along-count", "The number of bars counted in");
    return new URLSearchParams({ tempo: this.value("#along-tempo"), countIn: this.value("#along-count"), turns: this.value("#along-turns") }).toString();
  }

  async load() {
    const query = this.query();
    if (this.made?.query === query) return this.made;
    this.status.textContent = "Making it …";
    const get = async name => {
      const answer = await fetch(`/music/${this.piece}/along/${name}?${query}`);
      if (!answer.ok) throw new Error(await answer.text());
      return answer;
    };
    // Those that are heard come first; the others join when they are there.
    const sliders = [...this.box.querySelectorAll("[data-voice]")], heard = sliders.filter((s, i) => i === 0 || Number(s.value) > 0);
    const strand = async slider => new Strand(slider.dataset.voice, await get(`${slider.dataset.voice}.samples`));
    const [map, ...voices] = await Promise.all([get("moments.json").then(a => a.json()), ...heard.map(strand)]);
    if (this.context?.sampleRate !== voices[0].rate) this.context = new AudioContext({ sampleRate: voices[0].rate }); // so that pieces of sound meet sample by sample
    return this.made = { query, map, voices, rest: sliders.filter(s => !heard.includes(s)).map(s => () => strand(s)) };
  }

  async toggle() {
    this.status.textContent = "";
    if (this.playing) return this.stop();
    if (this.making) return;
    const button = this.box.querySelector("[data-play]");
    this.making = true; // not disabled: a button that is keeps no focus
    button.setAttribute("aria-disabled", "true");
    try {
      const made = await this.load();
      await this.context.resume();
      const { from, to } = this.stretch(made.map);
      this.status.textContent = "Making it …";
      const loop = this.box.querySelector("#along-loop").checked;
      await Promise.all(made.voices.map(v => loop ? v.upTo(Math.round(to * v.rate)) : v.ready(from)));
      this.status.textContent = "";
      this.start(made, from, to, loop);
    } catch (e) {
      this.made = null;
      this.status.textContent = e.message;
    } finally {
      this.making = false;
      button.removeAttribute("aria-disabled");
    }
  }

  /** Seconds at which the wished bars begin and end. */
  stretch(map) {
    const first = this.value("#along-from"), last = this.value("#along-to");
    const of = bar => map.moments.findIndex(m => m.bar === bar);
    const from = first === "" ? 0 : map.moments[of(first)]?.at;
    if (from === undefined) throw new Error(`There is no bar ${first}.`);
    let to = map.seconds;
    if (last !== "") {
      let i = of(last);
      if (i < 0) throw new Error(`There is no bar ${last}.`);
      while (i < map.moments.length && map.moments[i].bar === last) i++;
      to = map.moments[i]?.at ?? map.seconds;
    }
    if (to <= from) throw new Error("The last bar comes before the first.");
    return { from, to };
  }

  start(made, from, to, loop) {
    const rate = this.context.sampleRate;
    const at = Math.ceil((this.context.currentTime + Lead) * rate) / rate;
    this.playing = { made, ends: [], gains: {}, at, from, to, loop, map: made.map };
    for (const voice of made.voices) this.join(voice);
    for (const fetched of made.rest.splice(0)) {
      fetched().then(voice => {
        made.voices.push(voice);
        if (this.playing?.made === made) this.join(voice);
      }).catch(e => { this.status.textContent = e.message; });
    }
    this.box.querySelector("[data-play]").textContent = "Stop";
    this.box.dispatchEvent(new CustomEvent("started"));
    this.draw();
  }

  /** Lets a voice be heard with those that play. */
  join(voice) {
    const { gains, ends } = this.playing;
    const gain = gains[voice.name] = new GainNode(this.context, { gain: this.levelOf(voice.name) });
    gain.connect(this.context.destination);
    ends.push(voice.play(this.context, gain, this.playing));
  }

  stop() {
    for (const end of this.playing?.ends ?? []) end();
    this.playing = null;
    this.box.querySelector("[data-play]").textContent = "Play";
    document.querySelectorAll(".cursor").forEach(c => c.remove());
  }

  levelOf(name) { return (Number(this.box.querySelector(`[data-voice=${name}]`).value) / 100) ** 2; }

  setLevel(slider) {
    const gain = this.playing?.gains[slider.dataset.voice];
    gain?.gain.setTargetAtTime(this.levelOf(slider.dataset.voice), this.context.currentTime, 0.02);
  }

  /** Where in the sound what is heard now lies: by the clock of what leaves the loudspeaker. */
  now() {
    const stamp = this.context.getOutputTimestamp();
    const heard = stamp.performanceTime > 0 ? stamp.contextTime + (performance.now() - stamp.performanceTime) / 1000 : this.context.currentTime - (this.context.outputLatency || 0);
    const { at, from, to, loop } = this.playing;
    const gone = Math.max(0, heard - at);
    return loop ? from + gone % (to - from) : Math.min(to, from + gone);
  }

  draw() {
    if (!this.playing) return;
    const t = this.now();
    if (!this.playing.loop && t >= this.playing.to) return this.stop();
    this.place = placeAt(this.playing.map, t);
    show(this.place);
    this.clock.textContent = `${Math.floor(t / 60)}:${String(Math.floor(t % 60)).padStart(2, "0")}`;
    requestAnimationFrame(() => this.draw());
  }
}

/** Note that sounds, note that comes, and how far it is from one to the other. */
export function placeAt(map, t) {
  const begins = map.moments.filter(m => m.begins);
  let low = 0, high = begins.length;
  while (low < high) { const middle = (low + high) >> 1; begins[middle].at <= t ? low = middle + 1 : high = middle; }
  const here = begins[low - 1], next = begins[low];
  if (!here) return null;
  const share = next ? Math.min(1, (t - here.at) / (next.at - here.at)) : 0;
  return { note: here.note, next: next?.note, share };
}

const spot = note => {
  const rect = document.querySelector(`.score a.touch[data-note="${note}"] rect`);
  return rect && { svg: rect.ownerSVGElement, x: Number(rect.getAttribute("x")) + Number(rect.getAttribute("width")) / 2 };
};

/** Puts the line on the notes; on a repeat it goes back to where the notes stand. */
function show(place) {
  const here = place && spot(place.note);
  if (!here) return;
  const next = spot(place.next);
  const x = next && next.svg === here.svg && next.x > here.x ? here.x + (next.x - here.x) * place.share : here.x;
  let line = document.querySelector(".cursor");
  if (line?.ownerSVGElement !== here.svg) {
    line?.remove();
    line = document.createElementNS("http://www.w3.org/2000/svg", "line");
    line.classList.add("cursor");
    here.svg.append(line);
    here.svg.scrollIntoView({ block: "nearest" });
  }
  const box = here.svg.viewBox.baseVal;
  line.setAttribute("y1", box.y);
  line.setAttribute("y2", box.y + box.height);
  line.setAttribute("x1", x);
  line.setAttribute("x2", x);
}

let here = null; // not yet window.along: until it is set, a browser gives the element of that name

/** The bar comes anew with its piece: what still sounds belongs to the old one. */
function begin() {
  const box = document.querySelector("#along");
  if (here?.box === box) return;
  here?.stop();
  window.along = here = box && new Along(box);
}
document.addEventListener("fetched", begin);
begin();
