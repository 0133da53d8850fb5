// One voice of a play-along: its samples come while it is already heard.

/** Seconds of sound that must be there before it is begun. */
const Enough = 0.25;

export class Strand {
  /** @param answer Of the server, with 16-bit samples. */
  constructor(name, answer) {
    this.name = name;
    this.rate = Number(answer.headers.get("Samples-Rate"));
    this.samples = new Float32Array(Number(answer.headers.get("Content-Length")) / 2);
    this.there = 0;
    this.waiting = [];
    this.read(answer.body.getReader()).catch(e => { this.failed = e; this.tell(); });
  }

  async read(reader) {
    let odd = null; // a sample may be cut by the network
    for (;;) {
      const { done, value } = await reader.read();
      if (done) break;
      const bytes = odd === null ? value : new Uint8Array([odd, ...value]);
      odd = bytes.length % 2 === 1 ? bytes.at(-1) : null;
      const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.length - bytes.length % 2);
      for (let i = 0; i < view.byteLength; i += 2) this.samples[this.there++] = view.getInt16(i, true) / 32768;
      this.tell();
    }
    if (this.there < this.samples.length) throw new Error("The workbench stopped in the middle of the sound. Press Play again.");
  }

  tell() {
    this.waiting = this.waiting.filter(w => !w());
  }

  /** Waits until samples up to a place are there. */
  upTo(place) {
    return new Promise((done, failed) => {
      const look = () => {
        if (this.failed) { failed(this.failed); return true; }
        if (this.there < Math.min(place, this.samples.length)) return false;
        done();
        return true;
      };
      if (!look()) this.waiting.push(look);
    });
  }

  /** Waits until it can be begun at a moment, in seconds. */
  ready(from) { return this.upTo(Math.round((from + Enough) * this.rate)); }

  buffer(context, first, last) {
    const buffer = context.createBuffer(1, Math.max(1, last - first), this.rate);
    buffer.copyToChannel(this.samples.subarray(first, last), 0);
    return buffer;
  }

  /** Plays a stretch from a moment of the context on; what is not there yet follows as it comes. Gives what stops it. */
  play(context, into, { at, from, to, loop }) {
    const [first, last] = [from, to].map(s => Math.min(this.samples.length, Math.round(s * this.rate)));
    const sources = [];
    let stopped = false;
    const put = (begin, end, options = {}) => {
      const source = new AudioBufferSourceNode(context, { buffer: this.buffer(context, begin, end), ...options });
      source.connect(into);
      const when = at + (begin - first) / this.rate, late = context.currentTime - when;
      source.start(Math.max(when, context.currentTime), Math.max(0, late) % (options.loop ? (end - begin) / this.rate : Infinity));
      sources.push(source);
    };
    const run = async () => {
      if (loop) {
        await this.upTo(last);
        if (!stopped) put(first, last, { loop: true });
        return;
      }
      for (let begin = first; begin < last && !stopped;) {
        await this.upTo(Math.min(last, begin + Math.round(Enough * this.rate)));
        const end = Math.min(last, this.there);
        if (!stopped) put(begin, end);
        begin = end;
      }
    };
    run().catch(() => {});
    return () => { stopped = true; for (const source of sources) source.stop(); };
  }
}
