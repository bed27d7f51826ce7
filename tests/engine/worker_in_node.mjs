// Gives node the Worker of a browser (see as_worker.mjs), for theme/engine/engine.mjs.
import { Worker as Thread } from "node:worker_threads";

/** The started workers in order: what each fetched, and what its Python waited for. */
export const workers = [];

globalThis.Worker = class {
  fetched = [];
  waitedFor = [];
  ended = false;

  constructor(address) {
    workers.push(this);
    this.thread = new Thread(new URL("./as_worker.mjs", import.meta.url), { workerData: String(address) });
    this.thread.on("message", (data) => {
      if (data.type !== "test") this.onmessage?.({ data });
      else if (data.fetched) this.fetched.push(data.fetched);
      else this.waitedFor.push(data.waitedFor);
    });
    this.thread.on("error", (error) => this.onerror?.({ message: String(error?.message ?? error) }));
  }

  postMessage(message, transfer) {
    this.thread.postMessage(message, transfer);
  }

  terminate() {
    this.ended = true;
    return this.thread.terminate();
  }
};
