// The engine: Python in a worker, which answers one request after another.
//
// In:  {type: "boot", base, plain, calculator}, {type: "expect", calculator} for one that will be asked,
//      {type: "ask", id, does, calculator, envelope, buffers}, {type: "stop", id},
//      {type: "pixels", id, pixels: {width, height, rgba} or null} for a step whose envelope has the outcome "wanted"; a text
//      in their place says why what reads pixels could not be fetched
// Out: {type: "loading", bytes, expected}: additional bytes received and requested, {type: "ready", way},
//      {type: "failed", trace}, {type: "begun", id} once the calculator is loaded,
//      {type: "step", id, envelope, buffers} for all that calculators.answer yields, then
//      {type: "end", id, stopped, heapBytes}, {type: "fault", id, text, trace, broken} or, if something that it needs could not
//      be fetched, {type: "missing", id, text, trace}. Once `broken`, Python cannot be used any more.
// Envelopes are JSON text as in calculators/answer.py; buffers are transferred both ways.
import { boot } from "./boot.mjs";

// Waiting for messages takes up to 4 ms, so several short steps share one wait.
const LISTEN_EVERY_MS = 50;

// How often progress is reported. Each report makes the page draw while Python starts on the other core.
const REPORT_EVERY_MS = 100;

// How an envelope begins with which Python waits for the pixels of a picture.
const WANTED = '{"outcome": "wanted"';

// The packed runtime: {files, librarySize, include, parts, late, used, calculators, stages, lock}. builder/runtime.py replaces the name with it,
// so that the worker can start without fetching it.
const config = RUNTIME;

/** @type {import("./parts.mjs").Parts} */
let parts;
/** @type {any} */
let python;
// The two functions of calculators.answer, kept for the life of the worker.
/** @type {any} */
let answer;
/** @type {any} */
let alloc;
// The id of the request to stop.
let stopped = /** @type {number | null} */ (null);
// The id of the request whose calculator is loading.
let loading = /** @type {number | null} */ (null);

// Ends the wait for the pixels that a request has asked for.
let waiting = /** @type {((pixels: any) => void) | null} */ (null);
// Why something that the request needs could not be fetched while it was answered. What Python makes of that is no answer.
let unfetched = /** @type {unknown} */ (null);

self.onmessage = ({ data }) => {
  if (data.type === "boot") start(data);
  else if (data.type === "expect") parts?.expect(data.calculator);
  else if (data.type === "stop") stop(data.id);
  else if (data.type === "ask") reply(data);
  else if (data.type === "pixels") takePixels(data);
};

/** Bytes received and requested since the last report. */
const unreported = { bytes: 0, expected: 0, since: -Infinity };

/** @param {number} bytes */
function count(bytes, expected = 0) {
  unreported.bytes += bytes;
  unreported.expected += expected;
  if (performance.now() - unreported.since >= REPORT_EVERY_MS) report();
}

function report() {
  const { bytes, expected } = unreported;
  Object.assign(unreported, { bytes: 0, expected: 0, since: performance.now() });
  if (bytes || expected) self.postMessage({ type: "loading", bytes, expected });
}

/** @param {{base: string, plain: boolean, calculator?: string}} message */
async function start({ base, plain, calculator }) {
  try {
    const runtime = boot(config, base, { plain, onBytes: count, onUnfetched: (error) => (unfetched = error) });
    parts = runtime.parts;
    parts.expect(calculator);
    const booted = await runtime.started;
    python = booted.python;
    const surface = python.pyimport("calculators.answer");
    [answer, alloc] = [surface.answer.copy(), surface.alloc.copy()];
    surface.destroy();
    report();
    self.postMessage({ type: "ready", way: booted.way });
  } catch (error) {
    self.postMessage({ type: "failed", trace: traceOf(error) });
  }
}

/** @param {number} id */
function stop(id) {
  stopped = id;
  waiting?.(null);
  if (loading !== id) return;
  // Let the downloads continue: their files will be needed soon.
  loading = null;
  self.postMessage({ type: "end", id, stopped: true });
}

/** @param {{id: number, does: string, calculator: string, envelope: string, buffers: ArrayBuffer[]}} message */
async function reply({ id, does, calculator, envelope, buffers }) {
  let steps;
  let broken = false;
  unfetched = null;
  loading = id;
  try {
    await Promise.all([
      parts.loadDecoder(python, buffers),
      parts.load(python, ...parts.neededFor(does, calculator, buffers)),
    ]);
  } catch (error) {
    if (loading !== id) return;
    loading = null;
    self.postMessage({ type: "missing", id, text: textOf(error), trace: traceOf(error) });
    return;
  }
  if (loading !== id) return;
  loading = null;
  report();
  self.postMessage({ type: "begun", id });
  try {
    steps = ask(envelope, buffers);
    let listened = performance.now();
    let sent;
    for (let step = steps.next(); !step.done; step = steps.next(sent)) {
      sent?.destroy();
      const { envelope, buffers } = copyOut(step.value);
      if (unfetched) throw unfetched;
      const isWanted = envelope.startsWith(WANTED);
      const pixels = isWanted ? pixelsToCome() : null;
      post({ type: "step", id, envelope, buffers });
      sent = pixels ? pixelsForPython(await pixels) : undefined;
      if (unfetched) throw unfetched;
      if (!isWanted && performance.now() - listened < LISTEN_EVERY_MS) continue;
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
    // Not an error of Python, but of what runs it. After it, Pyodide refuses every call, also that of destroy().
    broken = error instanceof WebAssembly.RuntimeError || Boolean(/** @type {any} */ (error)?.pyodide_fatal_error);
    self.postMessage({ type: unfetched ? "missing" : "fault", id, text: textOf(error), trace: traceOf(error), broken });
  } finally {
    if (!broken) steps?.destroy();
  }
}

/**
 * Report the end of a request. WebAssembly's memory never shrinks, so its size is the most that any request has used.
 * @param {number} id
 * @param {boolean} stopped
 */
function end(id, stopped) {
  self.postMessage({ type: "end", id, stopped, heapBytes: python._module.HEAPU8.length });
}

/**
 * Pass the request to Python and return the generator of its answer.
 * @param {string} envelope
 * @param {ArrayBuffer[]} buffers
 */
function ask(envelope, buffers) {
  const held = buffers.map(copyIn);
  const list = python.toPy(held);
  try {
    return answer(envelope, list);
  } finally {
    list.destroy();
    for (const each of held) each.destroy();
  }
}

/** @param {{pixels: any}} message */
function takePixels({ pixels }) {
  if (typeof pixels === "string") unfetched = new Error(pixels);
  waiting?.(pixels);
}

/** @returns {Promise<{width: number, height: number, rgba: ArrayBuffer} | null>} */
function pixelsToCome() {
  return new Promise((resolve) => {
    waiting = (pixels) => {
      waiting = null;
      resolve(pixels);
    };
  });
}

/**
 * Return pixels as Python takes them, a list of width, height and bytes; None if there are none.
 * @param {{width: number, height: number, rgba: ArrayBuffer} | null} pixels
 */
function pixelsForPython(pixels) {
  if (!pixels) return undefined;
  const bytes = copyIn(pixels.rgba);
  const list = python.toPy([pixels.width, pixels.height, bytes]);
  bytes.destroy();
  return list;
}

/**
 * Copy a buffer into Python's memory and free it without waiting for garbage collection: the pixels of a picture are large.
 * @param {ArrayBuffer} buffer
 */
function copyIn(buffer) {
  const bytes = alloc(buffer.byteLength);
  // Fill and release the view at once, since any growth of the memory would detach it.
  const view = bytes.getBuffer("u8");
  view.data.set(new Uint8Array(buffer));
  view.release();
  buffer.transfer?.(0);
  return bytes;
}

/**
 * Copy what Python yielded, (text, list of bytes), out of its memory.
 * @param {any} pair
 */
function copyOut(pair) {
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

/** @param {{type: string, id: number, envelope: string, buffers: ArrayBuffer[]}} message */
function post(message) {
  self.postMessage(message, { transfer: message.buffers });
}

function roomForMessages() {
  return new Promise((resolve) => setTimeout(resolve, 0));
}

/** @param {any} error */
function textOf(error) {
  return String(error?.message ?? error);
}

/** @param {any} error */
function traceOf(error) {
  return String(error?.stack ?? error).slice(0, 10_000);
}
