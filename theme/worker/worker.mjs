// The engine: Python in a worker, which answers one request after the other.
//
// In:  {type: "boot", base, plain, stage}, {type: "expect", calculator} for one that will be asked,
//      {type: "ask", id, calculator, envelope, buffers}, {type: "stop", id}
// Out: {type: "loading", bytes, expected} for what came and for what is asked for besides, {type: "ready", way}, {type: "failed", trace},
//      {type: "begun", id} when all that the calculator needs is there,
//      {type: "step", id, envelope, buffers} for all that calculators.answer yields, then
//      {type: "end", id, stopped, heapBytes}, {type: "fault", id, text, trace} or, where something that the calculator needs
//      did not come, {type: "missing", id, text, trace}
// Envelopes are JSON text as in calculators/answer.py; buffers are transferred both ways.
import { boot } from "./boot.mjs";

// A turn of the timer takes up to 4 ms, so short steps share one.
const LISTEN_EVERY_MS = 50;

// How often the page is told what has come: each time it writes and draws that, while Python starts on the other core.
const TELL_EVERY_MS = 100;

// What was packed: {files, librarySize, include, parts, stages, packages}. It stands in the worker itself, so that nothing
// need be fetched before the worker can begin. builder/runtime.py puts it in place of the name.
const config = RUNTIME;

let parts;
let python;
// The two functions of calculators.answer, held for the life of the worker.
let answer;
let alloc;
// The request that is to end before it is finished.
let stopped = null;
// The request that waits for what its calculator needs.
let loading = null;

self.onmessage = ({ data }) => {
  if (data.type === "boot") start(data);
  else if (data.type === "expect") parts?.expect(parts.stageOf(data.calculator));
  else if (data.type === "stop") stop(data.id);
  else if (data.type === "ask") reply(data);
};

/** What has come and is asked for besides, and the page was not told yet. */
const untold = { bytes: 0, expected: 0, since: -Infinity };

function came(bytes, expected = 0) {
  untold.bytes += bytes;
  untold.expected += expected;
  if (performance.now() - untold.since >= TELL_EVERY_MS) tell();
}

function tell() {
  const { bytes, expected } = untold;
  Object.assign(untold, { bytes: 0, expected: 0, since: performance.now() });
  if (bytes || expected) self.postMessage({ type: "loading", bytes, expected });
}

async function start({ base, plain, stage }) {
  try {
    const runtime = boot(config, base, { plain, onBytes: came });
    parts = runtime.parts;
    parts.expect(stage);
    const booted = await runtime.started;
    python = booted.python;
    const surface = python.pyimport("calculators.answer");
    [answer, alloc] = [surface.answer.copy(), surface.alloc.copy()];
    surface.destroy();
    tell();
    self.postMessage({ type: "ready", way: booted.way });
  } catch (error) {
    self.postMessage({ type: "failed", trace: traceOf(error) });
  }
}

function stop(id) {
  stopped = id;
  if (loading !== id) return;
  // What is on its way goes on coming: it will be wanted soon.
  loading = null;
  self.postMessage({ type: "end", id, stopped: true });
}

async function reply({ id, calculator, envelope, buffers }) {
  let steps;
  loading = id;
  try {
    await Promise.all([parts.loadLibraries(python, calculator), parts.load(python, parts.stageOf(calculator))]);
  } catch (error) {
    if (loading !== id) return;
    loading = null;
    self.postMessage({ type: "missing", id, text: String(error?.message ?? error), trace: traceOf(error) });
    return;
  }
  if (loading !== id) return;
  loading = null;
  tell();
  self.postMessage({ type: "begun", id });
  try {
    steps = ask(envelope, buffers);
    let listened = performance.now();
    for (let step = steps.next(); !step.done; step = steps.next()) {
      post({ type: "step", id, ...taken(step.value) });
      if (performance.now() - listened < LISTEN_EVERY_MS) continue;
      await roomForMessages();
      listened = performance.now();
      if (stopped === id) {
        steps.return();
        end(id, true);
        return;
      }
    }
    end(id, false);
  } catch (error) {
    self.postMessage({ type: "fault", id, text: String(error?.message ?? error), trace: traceOf(error) });
  } finally {
    steps?.destroy();
  }
}

/** A request is over. WebAssembly's memory never shrinks, so its size tells the most that any request took. */
function end(id, stopped) {
  self.postMessage({ type: "end", id, stopped, heapBytes: python._module.HEAPU8.length });
}

/** Hand the request to Python and return the generator that it answers with. */
function ask(envelope, buffers) {
  const held = buffers.map((buffer) => {
    const bytes = alloc(buffer.byteLength);
    // Fetched, filled and released at once: any growth of the memory would detach the view.
    const view = bytes.getBuffer("u8");
    view.data.set(new Uint8Array(buffer));
    view.release();
    // Let go at once rather than when the browser comes to it: the pixels of a picture are large.
    buffer.transfer?.(0);
    return bytes;
  });
  const list = python.toPy(held);
  try {
    return answer(envelope, list);
  } finally {
    list.destroy();
    for (const each of held) each.destroy();
  }
}

/** Copy what Python yielded, (text, list of bytes), out of its memory. */
function taken(pair) {
  const list = pair.get(1);
  const buffers = [];
  for (let index = 0; index < list.length; index++) {
    const bytes = list.get(index);
    const view = bytes.getBuffer("u8");
    buffers.push(view.data.slice().buffer);
    view.release();
    bytes.destroy();
  }
  const envelope = pair.get(0);
  list.destroy();
  pair.destroy();
  return { envelope, buffers };
}

function post(message) {
  self.postMessage(message, message.buffers);
}

function roomForMessages() {
  return new Promise((resolve) => setTimeout(resolve, 0));
}

function traceOf(error) {
  return String(error?.stack ?? error).slice(0, 10_000);
}
