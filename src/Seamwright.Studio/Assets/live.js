// The live lane: sends the microphone to the workbench and draws what comes back.
const box = document.querySelector("#live"), canvas = document.querySelector("#live-lane"), pen = canvas.getContext("2d");
const [pitch, cents, level, touched, said, delay, wished] = ["pitch", "cents", "level", "touches", "said", "delay", "note"].map(n => document.querySelector(`#live-${n}`));
const button = box.querySelector("[data-listen]");
const Letter = 15, LeastHeight = 230, Window = 6, names = box.dataset.names.split(" ");
let context = null, stream = null, socket = null, frames = [], touches = [], sent = 0, arrivals = [], delays = [], count = 0, latest = null;

async function listen() {
  button.disabled = true;
  try {
    stream = await navigator.mediaDevices.getUserMedia({ audio: { channelCount: 1, echoCancellation: false, noiseSuppression: false, autoGainControl: false } });
    context = new AudioContext({ latencyHint: "interactive" });
    await context.audioWorklet.addModule(box.dataset.worklet);
    socket = new WebSocket(`ws://${location.host}/live/sound?rate=${Math.round(context.sampleRate)}`);
    socket.binaryType = "arraybuffer";
    await new Promise((ok, no) => { socket.onopen = ok; socket.onerror = () => no(new Error("The workbench does not answer.")); });
    socket.onmessage = e => news(JSON.parse(e.data));
    socket.onclose = () => stop("The workbench closed the line.");
    const node = new AudioWorkletNode(context, "capture", { numberOfOutputs: 0, processorOptions: { block: 256 } });
    node.port.onmessage = e => send(e.data);
    context.createMediaStreamSource(stream).connect(node);
    [frames, touches, arrivals, delays, sent, count, latest] = [[], [], [], [], 0, 0, null];
    button.textContent = "Stop";
    said.textContent = "Listening. Levels are relative to the microphone; they say nothing about how loud it is.";
    requestAnimationFrame(draw);
  } catch (e) {
    stop(e.name === "NotAllowedError" ? "The browser was not allowed to use the microphone. Allow it beside the address, and try again." : e.message);
  } finally {
    button.disabled = false;
  }
}

function stop(words = "The microphone is off.") {
  stream?.getTracks().forEach(t => t.stop());
  context?.close();
  if (socket) { socket.onclose = null; socket.close(); }
  [context, stream, socket] = [null, null, null];
  button.textContent = "Listen";
  said.textContent = words;
}

function send(block) {
  if (socket?.readyState !== WebSocket.OPEN) return;
  sent += block.length;
  arrivals.push([sent / context.sampleRate, performance.now()]);
  if (arrivals.length > 2000) arrivals.splice(0, 1000);
  socket.send(block.buffer);
}

function news({ Frames, Touches }) {
  frames.push(...Frames);
  touches.push(...Touches);
  count += Touches.length;
  latest = Touches.at(-1) ?? latest;
  const last = Frames[Frames.length - 1];
  const from = last[0] - Window - 1;
  while (frames.length > 0 && frames[0][0] < from) frames.shift();
  while (touches.length > 0 && touches[0].At < from) touches.shift();
  tell(last);
  const heard = arrivals.find(a => a[0] >= last[0]);
  if (heard) requestAnimationFrame(() => measured(performance.now() - heard[1]));
}

/** From the microphone's block to the picture that shows it. */
function measured(ms) {
  delays.push(ms);
  if (delays.length > 200) delays.shift();
  const sorted = [...delays].sort((a, b) => a - b);
  delay.dataset.ms = Math.round(sorted[sorted.length >> 1]);
  delay.textContent = `From microphone to picture: ${delay.dataset.ms} ms.`;
}

const midiOf = hz => 69 + 12 * Math.log2(hz / 440);
const nameOf = midi => names[midi] ?? "–";

function tell([, hz, db]) {
  level.textContent = `${Math.round(db)} dB`;
  touched.textContent = latest === null ? "" : `${count} ${count === 1 ? "touch" : "touches"}, the last ${latest.Depth.toFixed(1)} dB deep${latest.Stopped ? ": the air stopped" : ""}`;
  if (hz === null) { pitch.textContent = "–"; cents.textContent = ""; return; }
  const midi = midiOf(hz), target = wished.value ? midiOf(Number(wished.value)) : Math.round(midi);
  const off = Math.round((midi - target) * 100), far = Math.abs(off) > 250;
  pitch.textContent = nameOf(Math.round(far ? midi : target));
  cents.textContent = far ? (wished.value ? `not ${nameOf(Math.round(target))}` : "") : `${off > 0 ? "+" : off < 0 ? "−" : ""}${Math.abs(off)} cents`;
}

const ink = name => getComputedStyle(document.documentElement).getPropertyValue(`--${name}`);

function draw() {
  if (!context) return;
  const sharp = devicePixelRatio || 1, letter = Letter * sharp;
  if (canvas.width !== Math.round(canvas.clientWidth * sharp)) {
    canvas.width = Math.round(canvas.clientWidth * sharp);
    canvas.height = Math.round(Math.max(LeastHeight, canvas.clientWidth * 0.35) * sharp);
  }
  const { width, height } = canvas, split = height * 0.64, now = frames.length > 0 ? frames[frames.length - 1][0] : 0;
  const x = t => width - (now - t) / Window * width;
  pen.clearRect(0, 0, width, height);
  const sounding = frames.filter(f => f[1] !== null).map(f => midiOf(f[1]));
  const middle = wished.value ? midiOf(Number(wished.value)) : sounding.length > 0 ? sounding[sounding.length - 1] : 58;
  const reach = Math.max(2, Math.min(8, sounding.length > 0 ? Math.max(...sounding.map(m => Math.abs(m - middle))) + 1 : 2));
  const y = midi => split / 2 - (midi - middle) / reach * split / 2;
  pen.font = `${letter}px Georgia, serif`;
  pen.textBaseline = "middle";
  const room = pen.measureText("D♭4 ").width + 8;
  const every = Math.ceil(1.4 * letter / (y(0) - y(1)));
  for (let m = Math.ceil(middle - reach); m <= middle + reach; m++) {
    const isNamed = (m - Math.round(middle)) % every === 0 && y(m) > letter / 2 && y(m) < split - letter / 2;
    pen.fillStyle = ink("rule");
    pen.fillRect(isNamed ? room : 0, y(m), width, sharp);
    pen.fillStyle = ink("faint");
    if (isNamed) pen.fillText(nameOf(m), 6, y(m));
  }
  pen.save();
  pen.beginPath();
  pen.rect(room, 0, width, split);
  pen.clip();
  line(frames, f => f[1] === null ? null : y(midiOf(f[1])), ink("thread"), 3 * sharp, x);
  pen.restore();
  pen.fillStyle = ink("rule");
  pen.fillRect(0, split, width, 2);
  line(frames, f => height - Math.max(0, (f[2] + 60) / 60) * (height - split - 10), ink("ink"), 1.5 * sharp, x);
  pen.fillStyle = ink("clean");
  for (const t of touches) {
    pen.fillRect(x(t.At) - 2, split + 6, 4, 1.4 * letter);
    pen.fillText(t.Depth.toFixed(0), x(t.At) + 6, split + 6 + letter);
  }
  requestAnimationFrame(draw);
}

function line(points, height, colour, thick, x) {
  pen.strokeStyle = colour;
  pen.lineWidth = thick;
  pen.beginPath();
  let open = false;
  for (const f of points) {
    const y = height(f);
    if (y === null) { open = false; continue; }
    open ? pen.lineTo(x(f[0]), y) : pen.moveTo(x(f[0]), y);
    open = true;
  }
  pen.stroke();
}

button.addEventListener("click", () => context ? stop() : listen());
addEventListener("pagehide", () => context && stop());
