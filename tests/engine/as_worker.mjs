// Makes a node thread look like a browser's module worker with the site in a folder, so that the page's own files can be
// tested without a browser.
import { createReadStream, readFileSync, statSync } from "node:fs";
import { Readable } from "node:stream";
import { fileURLToPath } from "node:url";
import { parentPort, workerData } from "node:worker_threads";

process.browser = true;
process.type = "renderer";
globalThis.self = globalThis;
globalThis.location = new URL(workerData);
globalThis.WorkerGlobalScope = class {
  static [Symbol.hasInstance](value) {
    return value === globalThis;
  }
};
const tellTest = (told) => parentPort.postMessage({ type: "test", ...told });
globalThis.postMessage = (message, transfer) => parentPort.postMessage(message, transfer);

globalThis.fetch = async (address) => {
  tellTest({ fetched: String(address) });
  const path = fileURLToPath(new URL(address));
  // Names with which a test requests a bad connection.
  if (path.endsWith(".never")) return new Promise(() => {});
  if (path.endsWith(".slow")) await new Promise((resolve) => setTimeout(resolve, 1500));
  try {
    statSync(path);
  } catch {
    return new Response("", { status: 404 });
  }
  const type = path.endsWith(".whl") ? "application/zip" : "application/octet-stream";
  return new Response(Readable.toWeb(createReadStream(path)), { headers: { "Content-Type": type } });
};

globalThis.XMLHttpRequest = class {
  open(_method, address) {
    this.address = address;
  }
  send() {
    tellTest({ waitedFor: this.address });
    this.response = new Uint8Array(readFileSync(fileURLToPath(this.address))).buffer;
    this.status = 200;
  }
};

await import(workerData);
// As in a browser, messages wait until the worker's module has run.
parentPort.on("message", (data) => {
  if (data.type === "test" && data.crash) throw new Error("crashed by the test");
  globalThis.onmessage?.({ data });
});
