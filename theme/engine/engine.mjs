// The page's side of the engine: one worker per visit, one request at a time, and an answer to each.

import { noPixels, outcomeOf, packed, wantsPlain } from "./requests.mjs";

// A worker that sends nothing for this long while it starts, or loads what a calculator needs, has failed. Every piece
// that arrives restarts the clock, so a slow connection alone is no failure.
const SILENCE_MS = 60_000;
// How long a calculator may take to stop before its worker is terminated.
const GRACE_MS = 1_500;
const DEFAULT_LIMIT_MS = 60_000;
// WebAssembly's memory never shrinks. So a worker that has received this many bytes, or has grown this large, is replaced
// when a request brings another picture: what it cached of the earlier pictures is not needed then.
const MOST_HANDED_BYTES = 16e6;
const MOST_HEAP_BYTES = 256e6;
// If a replacement sends nothing for this long, the current worker stays.
const RENEWAL_SILENCE_MS = 10_000;
/** @type {Record<string, string>} Outcomes by the messages with which a worker ends a request that it could not answer. */
const FAILURES = { fault: "fault", missing: "no-engine" };

/**
 * @typedef {object} Job a request and its state
 * @property {number} id
 * @property {string} does
 * @property {string} calculator
 * @property {string} envelope
 * @property {ArrayBuffer[]} buffers
 * @property {string} files
 * @property {any} request as it was asked
 * @property {boolean} again whether it was asked before, of a worker that broke down
 * @property {number} limitMs
 * @property {(envelope: Envelope, buffers: ArrayBuffer[]) => void} onProgress
 * @property {(envelope: Envelope, buffers: ArrayBuffer[]) => Promise<import("./requests.mjs").Pixels | null>} onWanted
 * @property {(answer: Reply) => void} settle
 * @property {number} [limit] timer
 * @property {number} [grace] timer
 * @property {boolean} [loads] whether its calculator is loading
 * @property {Reply} [answer]
 */

/**
 * Answers requests in a worker, which starts once.
 *
 * `config.worker` is the path of the worker that builder/runtime.py packed; `base` is the address of the site's root. Dispatches
 * "state" when `state` changes, "loading" when `received` does and "work" when `working` may have. The texts in its own
 * envelopes are for fault reports; the sentences for readers are in calculators/messages/page.py.
 */
export class Engine extends EventTarget {
  /** "idle", "loading", "ready" or "failed". */
  state = /** @type {"idle" | "loading" | "ready" | "failed"} */ ("idle");
  /** Number of workers started in this visit. */
  boots = 0;
  /** "snapshot" or "plain", once ready: how Python was started. */
  way = /** @type {string | null} */ (null);
  /** Bytes that the worker has received, and bytes of all that it has requested. */
  received = 0;
  expected = 0;
  /** Why it "failed": "no-engine", or "no-wasm" if the browser does not run WebAssembly. */
  failure = /** @type {string | null} */ (null);
  /** Size of the worker's memory after the last request, in bytes; it never shrinks. */
  heapBytes = 0;

  #config;
  #base;
  #limits;
  #worker = /** @type {Worker | null} */ (null);
  #waiting = /** @type {Job[]} */ ([]);
  #current = /** @type {Job | null} */ (null);
  #silence = 0;
  /** Bytes passed to the worker, and the files of the last request with files. */
  #handed = 0;
  #files = "";
  /** A worker that will replace the current one once it is ready. */
  #fresh = /** @type {Worker | null} */ (null);
  #lastId = 0;

  /** Whether a request is being answered. */
  get working() {
    return this.#current !== null;
  }

  /**
   * @param {{worker: string}} config
   * @param {URL | string} base
   */
  constructor(config, base, { plain = wantsPlain(), silenceMs = SILENCE_MS, graceMs = GRACE_MS, mostHanded = MOST_HANDED_BYTES } = {}) {
    super();
    this.#config = config;
    this.#base = String(base);
    this.#limits = { plain, silenceMs, graceMs, mostHanded };
  }

  /**
   * Start the worker, unless it has started. `calculator`, if any, will be asked soon.
   * @param {string} calculator
   */
  start(calculator) {
    if (!this.#worker) this.#begin();
    if (calculator && this.state === "loading") this.#worker?.postMessage({ type: "expect", calculator });
  }

  #begin() {
    this.boots += 1;
    this.received = this.expected = 0;
    this.#setState("loading");
    // On a page with a calculator, theme/partials/dw-early.js started a worker before this script loaded.
    const early = globalThis.dwEarly;
    delete globalThis.dwEarly;
    if (typeof WebAssembly === "undefined") {
      this.#fail("this browser has no WebAssembly", "no-wasm");
      return;
    }
    const worker = early?.worker ?? this.#opened();
    if (!worker) return;
    this.#take(worker);
    this.#awaitMessage();
    for (const data of early?.heard ?? []) this.#hear(data);
    if (early?.failed) this.#crash(early.failed);
  }

  /**
   * Make `worker` the current one.
   * @param {Worker} worker
   */
  #take(worker) {
    this.#worker = worker;
    this.#handed = this.heapBytes = 0;
    // Ignore late messages of a terminated worker.
    /** @param {(event: any) => void} act */
    const ifCurrent = (act) => (/** @type {any} */ event) => {
      if (this.#worker === worker) act(event);
    };
    worker.onmessage = ifCurrent(({ data }) => this.#hear(data));
    worker.onmessageerror = ifCurrent(() => this.#crash("a message could not be read"));
    worker.onerror = ifCurrent((/** @type {ErrorEvent} */ event) => {
      event.preventDefault?.();
      this.#crash(event.message || "the worker ended");
    });
  }

  /** Start a replacement, which takes over once it is ready. If it does not get ready, the current worker stays. */
  #renew() {
    let timer = 0;
    const worker = this.#open();
    worker.postMessage({ type: "expect", calculator: this.#waiting[0].calculator });
    /** @param {boolean} ready */
    const settle = (ready) => {
      clearTimeout(timer);
      if (this.#fresh !== worker) return;
      this.#fresh = null;
      if (ready) {
        this.#worker?.terminate();
        this.#take(worker);
        this.boots += 1;
      } else {
        worker.terminate();
        // Do not try again with the very next picture.
        this.#handed = -this.#limits.mostHanded;
      }
      this.#next();
    };
    const listen = () => {
      clearTimeout(timer);
      timer = setTimeout(() => settle(false), Math.min(RENEWAL_SILENCE_MS, this.#limits.silenceMs));
    };
    this.#fresh = worker;
    worker.onmessage = ({ data }) => (data.type === "loading" ? listen() : settle(data.type === "ready"));
    worker.onmessageerror = () => settle(false);
    worker.onerror = (/** @type {ErrorEvent} */ event) => {
      event.preventDefault?.();
      settle(false);
    };
    listen();
  }

  /**
   * Ask and wait for the answer: {envelope, buffers}. Never rejects.
   *
   * `request` is {do, calculator, inputs, files, units, job}; files are {field: {name, hash, bytes, pixels:
   * {width, height, rgba}}} with ArrayBuffers, which are copied. `limitMs` counts from when the
   * request's turn has come and its calculator is loaded. The page itself creates the outcomes no-engine, no-wasm,
   * stopped, too-long and fault.
   * @param {any} request
   * @param {{limitMs?: number, onProgress?: (progress: any) => void, onWanted?: Job["onWanted"], signal?: AbortSignal}} options
   *   `onWanted` returns the pixels of a picture that the work waits for; it rejects if what reads them cannot be fetched
   * @returns {Promise<{envelope: any, buffers: any[]}>}
   */
  ask(request, { limitMs = DEFAULT_LIMIT_MS, onProgress = () => {}, onWanted = noPixels, signal } = {}) {
    return new Promise((resolve) => {
      if (signal?.aborted) {
        resolve(outcomeOf("stopped"));
        return;
      }
      const onAbort = () => this.#stop(job);
      /** @param {Reply} answer */
      const settle = (answer) => {
        clearTimeout(job.limit);
        clearTimeout(job.grace);
        signal?.removeEventListener("abort", onAbort);
        resolve(answer);
      };
      /** @type {Job} */
      const job = { id: ++this.#lastId, does: request.do, calculator: request.calculator, ...packed(request), request, again: false, limitMs, onProgress, onWanted, settle };
      signal?.addEventListener("abort", onAbort, { once: true });
      this.#waiting.push(job);
      // If the worker failed to load, the network may have been down, so each request tries again.
      if (this.state !== "ready") this.start(request.calculator);
      this.#next();
    });
  }

  #opened() {
    try {
      return this.#open();
    } catch (error) {
      this.#fail(String(error));
      return null;
    }
  }

  #open() {
    const worker = new Worker(new URL(this.#config.worker, this.#base), { type: "module", name: "engine" });
    worker.postMessage({ type: "boot", base: this.#base, plain: this.#limits.plain });
    return worker;
  }

  /** @param {"idle" | "loading" | "ready" | "failed"} state */
  #setState(state) {
    if (this.state === state) return;
    this.state = state;
    this.dispatchEvent(new Event("state"));
  }

  #awaitMessage() {
    clearTimeout(this.#silence);
    this.#silence = setTimeout(() => this.#fail("nothing was heard from the worker"), this.#limits.silenceMs);
  }

  /** @param {any} message */
  #hear(message) {
    switch (message.type) {
      case "loading":
        this.received += message.bytes;
        this.expected += message.expected ?? 0;
        this.dispatchEvent(new Event("loading"));
        if (this.state === "loading" || this.#current?.loads) this.#awaitMessage();
        return;
      case "ready":
        clearTimeout(this.#silence);
        this.way = message.way;
        this.#setState("ready");
        this.#next();
        return;
      case "failed":
        this.#fail(message.trace);
        return;
    }
    const job = this.#current;
    if (!job || message.id !== job.id) return;
    if (message.type === "begun") {
      clearTimeout(this.#silence);
      job.loads = false;
      job.limit = setTimeout(() => this.#restart(outcomeOf("too-long")), job.limitMs);
      return;
    }
    if (message.type === "step") {
      const envelope = JSON.parse(message.envelope);
      if (envelope.outcome === "progress") job.onProgress(envelope, message.buffers);
      else if (envelope.outcome === "wanted") this.#send(job, job.onWanted(envelope, message.buffers));
      else job.answer = { envelope, buffers: message.buffers };
      return;
    }
    this.heapBytes = message.heapBytes ?? this.heapBytes;
    // A file that failed to load is not the calculator's fault: the network may be down, and the next request tries again.
    const failed = FAILURES[message.type];
    if (failed) job.answer = outcomeOf(failed, { text: message.text, trace: message.trace });
    clearTimeout(this.#silence);
    if (message.broken) {
      if (job.again || job.grace) this.#restart(job.grace ? outcomeOf("stopped") : (job.answer ?? outcomeOf("fault")));
      else this.#askAgain(job);
      return;
    }
    this.#setCurrent(null);
    job.settle(message.stopped ? outcomeOf("stopped") : (job.answer ?? outcomeOf("fault", { text: "nothing was answered" })));
    this.#next();
  }

  /**
   * Send the pixels that the work waits for, or why what reads them could not be fetched.
   * @param {Job} job
   * @param {Promise<import("./requests.mjs").Pixels | null>} made
   */
  async #send(job, made) {
    /** @type {any} */
    const pixels = await made.catch(String);
    if (job === this.#current) this.#worker?.postMessage({ type: "pixels", id: job.id, pixels }, pixels?.rgba ? [pixels.rgba] : []);
  }

  #next() {
    const [job] = this.#waiting;
    if (this.state !== "ready" || !this.#worker || this.#current || this.#fresh || !job) return;
    if (this.#worn && job.files && job.files !== this.#files) {
      this.#renew();
      return;
    }
    this.#waiting.shift();
    this.#files = job.files || this.#files;
    this.#handed += job.buffers.reduce((sum, { byteLength }) => sum + byteLength, 0);
    this.#setCurrent(job);
    job.loads = true;
    this.#awaitMessage();
    const { id, does, calculator, envelope, buffers } = job;
    this.#worker.postMessage({ type: "ask", id, does, calculator, envelope, buffers }, buffers);
  }

  /** Whether the worker uses so much memory that it should be replaced. */
  get #worn() {
    return this.#handed > this.#limits.mostHanded || (this.heapBytes > MOST_HEAP_BYTES && this.#handed > 0);
  }

  /** @param {Job} job */
  #stop(job) {
    if (job === this.#current) {
      this.#worker?.postMessage({ type: "stop", id: job.id });
      job.grace = setTimeout(() => this.#restart(outcomeOf("stopped")), this.#limits.graceMs);
      return;
    }
    this.#waiting = this.#waiting.filter((each) => each !== job);
    job.settle(outcomeOf("stopped"));
  }

  /**
   * Terminate the worker during the current request, answer that with `answer`, and start another worker.
   * @param {Reply} answer
   */
  #restart(answer) {
    const job = this.#current;
    this.#end();
    this.start(this.#waiting[0]?.calculator);
    job?.settle(answer);
  }

  /**
   * Ask once more, of another worker: Python in this one cannot be used any more. One browser's compiler makes a mistake
   * about once in a hundred starts.
   * @param {Job} job
   */
  #askAgain(job) {
    clearTimeout(job.limit);
    Object.assign(job, packed(job.request), { again: true, answer: undefined });
    this.#end();
    this.#waiting.unshift(job);
    this.#setState("idle");
    this.start(job.calculator);
  }

  /**
   * The worker crashed: answer all requests with a fault. The next request starts another worker.
   * @param {string} trace
   */
  #crash(trace) {
    if (this.state === "loading") {
      this.#fail(trace);
      return;
    }
    const jobs = this.#allJobs();
    this.#end();
    this.#setState("idle");
    for (const job of jobs) job.settle(outcomeOf("fault", { text: "the worker ended", trace }));
  }

  /** @param {string} trace */
  #fail(trace, failure = "no-engine") {
    console.error("The calculators could not be started.", trace);
    const jobs = this.#allJobs();
    this.#end();
    this.failure = failure;
    this.#setState("failed");
    for (const job of jobs) job.settle(outcomeOf(failure, { text: "the worker did not start", trace }));
  }

  #allJobs() {
    const jobs = this.#current ? [this.#current, ...this.#waiting] : this.#waiting;
    this.#waiting = [];
    return jobs;
  }

  #end() {
    clearTimeout(this.#silence);
    for (const worker of [this.#worker, this.#fresh]) worker?.terminate();
    this.#worker = this.#fresh = null;
    this.#setCurrent(null);
  }

  /** @param {Job | null} job */
  #setCurrent(job) {
    this.#current = job;
    this.dispatchEvent(new Event("work"));
  }
}
