// Sends samples to the workbench in pieces, in order, again and again until they are there.

/** Samples from −1 to 1 as 16-bit numbers. */
export function sixteen(floats) {
  const out = new Int16Array(floats.length);
  for (let i = 0; i < floats.length; i++) out[i] = Math.max(-32768, Math.min(32767, Math.round(floats[i] * 32767)));
  return out;
}

const pause = ms => new Promise(done => setTimeout(done, ms));

/** One recording on its way. What is not there yet is kept here; nothing is given up while the page lives. */
export class Sender {
  constructor(id, onTrouble) {
    Object.assign(this, { id, onTrouble, waiting: [], first: 0, added: 0, running: null, ended: false });
  }

  static async begin(piece, rate, onTrouble) {
    const answer = await fetch("/takes/begin", { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify({ piece, rate }) });
    if (!answer.ok) throw new Error(await answer.text());
    return new Sender((await answer.json()).id, onTrouble);
  }

  add(samples) {
    this.waiting.push(samples);
    this.added += samples.length;
    this.running ??= this.run();
  }

  /** Sends what is left; gives the page of the take. */
  async end() {
    this.ended = true;
    this.running ??= this.run();
    await this.running;
    const answer = await fetch(`/takes/${this.id}/end`, { method: "POST" });
    if (!answer.ok) throw new Error(await answer.text());
    return (await answer.json()).url;
  }

  /** The page goes away: what was not sent yet goes with it as far as a browser lets it, and the take is marked as cut off. */
  cut() {
    const length = this.waiting.reduce((n, b) => n + b.length, 0);
    const all = new Int16Array(Math.min(length, 30000));
    let at = 0;
    for (const b of this.waiting) { if (at + b.length > all.length) break; all.set(b, at); at += b.length; }
    if (at > 0) navigator.sendBeacon(`/takes/${this.id}/samples?at=${this.first}`, new Blob([all.subarray(0, at)], { type: "application/octet-stream" }));
    navigator.sendBeacon(`/takes/${this.id}/cut`);
  }

  async run() {
    let wait = 250;
    while (this.waiting.length > 0) {
      // A second or so at a time, or all there is at the end.
      if (!this.ended && this.added - this.first < 24000) { await pause(200); if (!this.ended && this.added - this.first < 24000) continue; }
      const batch = this.waiting.slice(0, 60);
      const length = batch.reduce((n, b) => n + b.length, 0);
      const all = new Int16Array(length);
      let at = 0;
      for (const b of batch) { all.set(b, at); at += b.length; }
      try {
        const answer = await fetch(`/takes/${this.id}/samples?at=${this.first}`, { method: "POST", headers: { "Content-Type": "application/octet-stream" }, body: all });
        if (!answer.ok) throw new Error(await answer.text());
        this.waiting.splice(0, batch.length);
        this.first += length;
        wait = 250;
        this.onTrouble("");
      } catch {
        this.onTrouble(this.ended ? "The workbench does not answer. What you played is kept on this page and sent when it is back: leave the page open."
          : "The workbench does not answer. Go on playing: the recording is kept here and sent when it is back.");
        await pause(wait);
        wait = Math.min(4000, wait * 2);
      }
    }
    this.running = null;
  }
}
