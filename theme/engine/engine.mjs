// The engine as the page sees it: one worker a visit, one request in it at a time, an answer to all.

// Nothing heard for this long from a worker that is starting, or that loads what a calculator needs: it will not
// come any more. The clock starts anew with every piece that arrives, so a slow line alone is no failure.
const SILENCE_MS = 60_000;
// How long a calculator has to stop by itself before its worker is ended.
const GRACE_MS = 1_500;
const DEFAULT_LIMIT_MS = 60_000;
// WebAssembly's memory never shrinks, and a worker keeps more besides. One that was handed so many bytes, or has grown so
// large, makes room for another when a request brings another picture: what it kept of the pictures before is not wanted then.
const MOST_HANDED_BYTES = 16e6;
const MOST_HEAP_BYTES = 256e6;
// Nothing heard for this long from the other one: the worker that is there goes on.
const RENEWAL_SILENCE_MS = 10_000;

/**
 * Answers requests in a worker that is started once.
 *
 * `config.worker` is the path of the worker that builder/runtime.py packed; `base` is the address of the site's root. Dispatches
 * "state" when `state` changes, "loading" when `received` does and "work" when `working` may have. The texts in its own envelopes are
 * for a report; what a reader is told of an outcome stands in calculators/messages/page.py.
 */
export class Engine extends EventTarget {
  /** "idle", "loading", "ready" or "failed". */
  state = "idle";
  /** How many workers were started in this visit. */
  boots = 0;
  /** "snapshot" or "plain", once ready: how Python was started. */
  way = null;
  /** Bytes received by the worker, and bytes of all that it has asked for. */
  received = 0;
  expected = 0;
  /** Why it "failed": "no-engine", or "no-wasm" where the browser lets no WebAssembly run. */
  failure = null;
  /** Size of the worker's memory after the last request, in bytes; it never shrinks. */
  heapBytes = 0;

  #config;
  #base;
  #limits;
  #worker = null;
  #waiting = [];
  #current = null;
  #silence = 0;
  /** Bytes that the worker was handed, and the files of the last request that had any. */
  #handed = 0;
  #files = "";
  /** A worker that is to take the place of the one that is there, once it is ready. */
  #fresh = null;
  #lastId = 0;

  /** Whether a request is being answered. */
  get working() {
    return this.#current !== null;
  }

  constructor(config, base, { plain = wantsPlain(), silenceMs = SILENCE_MS, graceMs = GRACE_MS, mostHanded = MOST_HANDED_BYTES } = {}) {
    super();
    this.#config = config;
    this.#base = String(base);
    this.#limits = { plain, silenceMs, graceMs, mostHanded };
  }

  /** Start the worker, unless it is started. `calculator`, where given, is the one that will be asked. */
  start(calculator) {
    if (!this.#worker) this.#begin();
    if (calculator && this.state === "loading") this.#worker?.postMessage({ type: "expect", calculator });
  }

  #begin() {
    this.boots += 1;
    this.received = this.expected = 0;
    this.#become("loading");
    // A page with a calculator has started a worker before this script was there: theme/partials/dw-early.js.
    const early = globalThis.dwEarly;
    delete globalThis.dwEarly;
    if (typeof WebAssembly === "undefined") {
      this.#fail("this browser has no WebAssembly", "no-wasm");
      return;
    }
    const worker = early?.worker ?? this.#opened();
    if (!worker) return;
    this.#take(worker);
    this.#listen();
    for (const data of early?.heard ?? []) this.#hear(data);
    if (early?.failed) this.#crash(early.failed);
  }

  /** Make `worker` the one that is asked. */
  #take(worker) {
    this.#worker = worker;
    this.#handed = this.heapBytes = 0;
    // What an ended worker had still sent is not heard.
    const heard = (act) => (event) => {
      if (this.#worker === worker) act(event);
    };
    worker.onmessage = heard(({ data }) => this.#hear(data));
    worker.onmessageerror = heard(() => this.#crash("a message could not be read"));
    worker.onerror = heard((event) => {
      event.preventDefault?.();
      this.#crash(event.message || "the worker ended");
    });
  }

  /** Start another worker beside the one that is there; it takes its place once it is ready. If it does not come, all stays as it is. */
  #renew() {
    let timer;
    const worker = this.#open();
    worker.postMessage({ type: "expect", calculator: this.#waiting[0].calculator });
    const settle = (ready) => {
      clearTimeout(timer);
      if (this.#fresh !== worker) return;
      this.#fresh = null;
      if (ready) {
        this.#worker.terminate();
        this.#take(worker);
        this.boots += 1;
      } else {
        worker.terminate();
        // Not tried again with the very next picture.
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
    worker.onerror = (event) => {
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
   * request's turn has come and all that its calculator needs is there. Outcomes that the page itself
   * makes: no-engine, no-wasm, stopped, too-long, fault.
   * @param {any} request
   * @param {{limitMs?: number, onProgress?: (progress: any) => void, signal?: AbortSignal}} options
   * @returns {Promise<{envelope: any, buffers: any[]}>}
   */
  ask(request, { limitMs = DEFAULT_LIMIT_MS, onProgress = () => {}, signal } = {}) {
    return new Promise((resolve) => {
      if (signal?.aborted) {
        resolve(said("stopped"));
        return;
      }
      const { envelope, buffers, files } = packed(request);
      const job = { id: ++this.#lastId, calculator: request.calculator, envelope, buffers, files, limitMs, onProgress };
      const onAbort = () => this.#stop(job);
      signal?.addEventListener("abort", onAbort, { once: true });
      job.settle = (answer) => {
        clearTimeout(job.limit);
        clearTimeout(job.grace);
        signal?.removeEventListener("abort", onAbort);
        resolve(answer);
      };
      this.#waiting.push(job);
      // A worker that could not be loaded may have missed the network: the next request tries again.
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

  #become(state) {
    if (this.state === state) return;
    this.state = state;
    this.dispatchEvent(new Event("state"));
  }

  #listen() {
    clearTimeout(this.#silence);
    this.#silence = setTimeout(() => this.#fail("nothing was heard from the worker"), this.#limits.silenceMs);
  }

  #hear(message) {
    switch (message.type) {
      case "loading":
        this.received += message.bytes;
        this.expected += message.expected ?? 0;
        this.dispatchEvent(new Event("loading"));
        if (this.state === "loading" || this.#current?.loads) this.#listen();
        return;
      case "ready":
        clearTimeout(this.#silence);
        this.way = message.way;
        this.#become("ready");
        this.#next();
        return;
      case "failed":
        this.#fail(message.trace);
        return;
    }
    const job = this.#current;
    if (message.id !== job?.id) return;
    if (message.type === "begun") {
      clearTimeout(this.#silence);
      job.loads = false;
      job.limit = setTimeout(() => this.#restart(said("too-long")), job.limitMs);
      return;
    }
    if (message.type === "step") {
      const envelope = JSON.parse(message.envelope);
      if (envelope.outcome === "progress") job.onProgress(envelope, message.buffers);
      else job.answer = { envelope, buffers: message.buffers };
      return;
    }
    this.heapBytes = message.heapBytes ?? this.heapBytes;
    // What did not come may have missed the network: that is no fault of the calculator, and the next request tries again.
    const failed = { fault: "fault", missing: "no-engine" }[message.type];
    if (failed) job.answer = said(failed, { text: message.text, trace: message.trace });
    clearTimeout(this.#silence);
    this.#turnTo(null);
    job.settle(message.stopped ? said("stopped") : (job.answer ?? said("fault", { text: "nothing was answered" })));
    this.#next();
  }

  #next() {
    if (this.state !== "ready" || this.#current || this.#fresh || !this.#waiting.length) return;
    if (this.#worn && this.#waiting[0].files && this.#waiting[0].files !== this.#files) {
      this.#renew();
      return;
    }
    const job = this.#waiting.shift();
    this.#files = job.files || this.#files;
    this.#handed += job.buffers.reduce((sum, { byteLength }) => sum + byteLength, 0);
    this.#turnTo(job);
    job.loads = true;
    this.#listen();
    const { id, calculator, envelope, buffers } = job;
    this.#worker.postMessage({ type: "ask", id, calculator, envelope, buffers }, buffers);
  }

  /** Whether the worker keeps more than it should go on with. */
  get #worn() {
    return this.#handed > this.#limits.mostHanded || (this.heapBytes > MOST_HEAP_BYTES && this.#handed > 0);
  }

  #stop(job) {
    if (job === this.#current) {
      this.#worker.postMessage({ type: "stop", id: job.id });
      job.grace = setTimeout(() => this.#restart(said("stopped")), this.#limits.graceMs);
      return;
    }
    this.#waiting = this.#waiting.filter((each) => each !== job);
    job.settle(said("stopped"));
  }

  /** End the worker in the middle of the current request, which is answered with `answer`, and start anew. */
  #restart(answer) {
    const job = this.#current;
    this.#end();
    this.start(this.#waiting[0]?.calculator);
    job.settle(answer);
  }

  /** The worker is gone by itself: all that wait are told, and the next request starts another. */
  #crash(trace) {
    if (this.state === "loading") {
      this.#fail(trace);
      return;
    }
    const jobs = this.#allJobs();
    this.#end();
    this.#become("idle");
    for (const job of jobs) job.settle(said("fault", { text: "the worker ended", trace }));
  }

  #fail(trace, failure = "no-engine") {
    console.error("The calculators could not be started.", trace);
    const jobs = this.#allJobs();
    this.#end();
    this.failure = failure;
    this.#become("failed");
    for (const job of jobs) job.settle(said(failure, { text: "the worker did not start", trace }));
  }

  #allJobs() {
    const jobs = [this.#current, ...this.#waiting].filter(Boolean);
    this.#waiting = [];
    return jobs;
  }

  #end() {
    clearTimeout(this.#silence);
    for (const worker of [this.#worker, this.#fresh]) worker?.terminate();
    this.#worker = this.#fresh = null;
    this.#turnTo(null);
  }

  #turnTo(job) {
    this.#current = job;
    this.dispatchEvent(new Event("work"));
  }
}

function said(outcome, more = {}) {
  return { envelope: { outcome, ...more }, buffers: [] };
}

/**
 * Turn a request with ArrayBuffers in it into JSON text, a list of copies and what its files are known by: "" where there are
 * none, or where one has no hash.
 */
function packed({ files = {}, ...request }) {
  const buffers = [];
  const kept = (buffer) => buffers.push(buffer.slice(0)) - 1;
  const described = Object.entries(files).map(([field, { name, bytes, pixels }]) => [
    field,
    {
      name,
      bytes: kept(bytes),
      ...(pixels && { pixels: { buffer: kept(pixels.rgba), width: pixels.width, height: pixels.height } }),
    },
  ]);
  const known = Object.values(files).map(({ hash }) => hash);
  return {
    envelope: JSON.stringify({ ...request, files: Object.fromEntries(described) }),
    buffers,
    files: known.every(Boolean) ? known.join() : "",
  };
}

/** Whether this visit is to run without the memory snapshot: an address with ?engine=plain, for tests. */
function wantsPlain() {
  return new URLSearchParams(globalThis.location?.search).get("engine") === "plain";
}
