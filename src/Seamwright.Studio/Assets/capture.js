// Runs beside the sound: hands on what the microphone gives, in blocks of about a fiftieth of a second.
class Capture extends AudioWorkletProcessor {
  constructor(options) {
    super();
    this.size = options.processorOptions?.block ?? 1024;
    this.block = new Float32Array(this.size);
    this.filled = 0;
  }

  process(inputs) {
    const channels = inputs[0];
    if (channels.length === 0) return true;
    const n = channels[0].length;
    for (let i = 0; i < n; i++) {
      let sum = 0;
      for (const channel of channels) sum += channel[i];
      this.block[this.filled++] = sum / channels.length;
      if (this.filled === this.block.length) {
        this.port.postMessage(this.block, [this.block.buffer]);
        this.block = new Float32Array(this.size);
        this.filled = 0;
      }
    }
    return true;
  }
}
registerProcessor("capture", Capture);
