// node protocol.mjs TASK.json: runs the engine under node through everything that can happen to a request and
// prints a report for each scenario by name. The task: {site, config, broken: {name: config}}
import { copyFileSync, readFileSync } from "node:fs";
import { fileURLToPath, pathToFileURL } from "node:url";

import { workers } from "./worker_in_node.mjs";
import { Engine } from "../../theme/engine/engine.mjs";

const task = JSON.parse(readFileSync(process.argv[2], "utf8"));
const base = pathToFileURL(`${task.site}/`);
console.warn = console.error = () => {};

const made = (config = task.config, options = {}) => new Engine(config, base, { graceMs: 300, ...options });
const work = (steps, step_s) => ({ do: "answer", calculator: "long-work", inputs: { steps: String(steps), step_s: String(step_s) } });
const quick = work(1, 0);
const ofAnotherStage = { do: "answer", calculator: "resolution", inputs: {} };
const outcome = async (asked) => (await asked).envelope.outcome;
const after = (ms) => new Promise((resolve) => setTimeout(resolve, ms));

/** A request with a file of two bytes. */
const withFile = (hash) => ({ ...quick, files: { nothing: { name: "a.png", hash, bytes: new ArrayBuffer(2) } } });

const scenarios = {
  async progress() {
    const engine = made();
    const states = [];
    engine.addEventListener("state", () => states.push(engine.state));
    const shares = [];
    const { envelope } = await engine.ask(work(4, 0), { onProgress: ({ share }) => shares.push(share) });
    return { states, shares, steps: envelope.result.steps, before: new Engine(task.config, base).state };
  },

  async stoppedBetweenSteps() {
    const engine = made();
    const stop = new AbortController();
    const got = await outcome(engine.ask(work(1000, 0.02), { signal: stop.signal, onProgress: () => stop.abort() }));
    return { got, next: await outcome(engine.ask(quick)), boots: engine.boots };
  },

  async stoppedInTheMiddleOfAStep() {
    const engine = made();
    const stop = new AbortController();
    const onProgress = () => setTimeout(() => stop.abort(), 500); // The step is running by then.
    const got = await outcome(engine.ask(work(1, 60), { signal: stop.signal, onProgress }));
    return { got, next: await outcome(engine.ask(quick)), boots: engine.boots };
  },

  async stoppedBeforeItsTurn() {
    const engine = made();
    const [stop, gone] = [new AbortController(), new AbortController()];
    gone.abort();
    const first = outcome(engine.ask(work(5, 0.05)));
    const second = outcome(engine.ask(work(1, 60), { signal: stop.signal }));
    const third = outcome(engine.ask(quick, { signal: gone.signal }));
    stop.abort();
    return { got: [await first, await second, await third], boots: engine.boots };
  },

  async tooLong() {
    const engine = made();
    const long = outcome(engine.ask(work(1, 60), { limitMs: 400 }));
    const waiting = outcome(engine.ask(quick, { limitMs: 20_000 }));
    return { got: [await long, await waiting], boots: engine.boots };
  },

  async crashed() {
    const engine = made();
    await engine.ask(quick);
    const began = new Promise((resolve) => {
      const asked = [engine.ask(work(1000, 0.02), { onProgress: () => resolve(asked) }), engine.ask(quick)];
    });
    const asked = await began;
    workers.at(-1).postMessage({ type: "test", crash: true });
    const got = await Promise.all(asked.map(outcome));
    return { got, state: engine.state, next: await outcome(engine.ask(quick)), boots: engine.boots };
  },

  async brokenOnce() {
    const config = structuredClone(task.broken.traps);
    const engine = made(config);
    const states = [];
    engine.addEventListener("state", () => states.push(engine.state));
    const asked = [engine.ask(withFile("a")), engine.ask(quick)];
    config.worker = task.config.worker;
    const got = await Promise.all(asked.map(outcome));
    return { got, states, boots: engine.boots, alive: workers.filter((each) => !each.ended).length };
  },

  async brokenAgain() {
    const config = structuredClone(task.broken.traps);
    const engine = made(config);
    const { envelope } = await engine.ask(quick);
    config.worker = task.config.worker;
    return { got: [envelope.outcome, await outcome(engine.ask(quick))], text: envelope.text, boots: engine.boots };
  },

  async answersInTheOrderAsked() {
    const engine = made();
    const order = [];
    await Promise.all([3, 1, 2].map((steps) => engine.ask(work(steps, 0)).then(({ envelope }) => order.push(envelope.result.steps))));
    return { order, boots: engine.boots };
  },

  async renewedForAnotherFile() {
    const engine = made(task.config, { mostHanded: 3 });
    const states = [];
    engine.addEventListener("state", () => states.push(engine.state));
    const boots = [];
    for (const hash of ["a", "a", "a", "b", "b", "b", "c"]) {
      const got = [engine.ask(withFile(hash)), engine.ask(quick)];
      boots.push([...(await Promise.all(got.map(outcome))), engine.boots].join(" "));
    }
    return { boots, states, alive: workers.filter((each) => !each.ended).length };
  },

  async renewedInVain() {
    const config = structuredClone(task.config);
    const engine = made(config, { mostHanded: 1 });
    await engine.ask(withFile("a"));
    config.worker = task.broken.wasmMissing.worker;
    const got = await Promise.all([engine.ask(withFile("b")), engine.ask(quick)].map(outcome));
    return { got, state: engine.state, boots: engine.boots, alive: workers.filter((each) => !each.ended).length };
  },

  async stoppedWhileItIsRenewed() {
    const engine = made(task.config, { mostHanded: 1 });
    await engine.ask(withFile("a"));
    const stop = new AbortController();
    const asked = [engine.ask(withFile("b"), { signal: stop.signal }), engine.ask(quick)];
    stop.abort();
    return { got: await Promise.all(asked.map(outcome)), boots: engine.boots };
  },

  async crashedWhileItIsRenewed() {
    const engine = made(task.config, { mostHanded: 1 });
    await engine.ask(withFile("a"));
    const [old] = workers;
    const asked = [engine.ask(withFile("b")), engine.ask(quick)];
    old.postMessage({ type: "test", crash: true });
    const got = await Promise.all(asked.map(outcome));
    return { answered: got.every((each) => ["fault", "problems", "result"].includes(each)), next: await outcome(engine.ask(quick)) };
  },

  async startedTwice() {
    const engine = made();
    engine.start();
    engine.start();
    await engine.ask(quick);
    engine.start();
    return { boots: engine.boots };
  },

  async silent() {
    const engine = made(task.broken.silent, { silenceMs: 300 });
    const got = await Promise.all([engine.ask(quick), engine.ask(quick)].map(outcome));
    return { got, state: engine.state };
  },

  async mended() {
    // A worker that could not be loaded is tried again with the next request.
    const config = structuredClone(task.broken.wasmMissing);
    const engine = made(config);
    const first = await outcome(engine.ask(quick));
    config.worker = task.config.worker;
    return { got: [first, await outcome(engine.ask(quick))], boots: engine.boots };
  },
};

Object.assign(scenarios, {
  async partMissing() {
    const engine = made(task.broken.partMissing);
    const got = [await outcome(engine.ask(quick)), await outcome(engine.ask(ofAnotherStage))];
    // The network is back.
    for (const path of task.broken.partMissing.sheet) copyFileSync(fileAt(path), fileAt(`${path}.gone`));
    return { got: [...got, await outcome(engine.ask(quick))], state: engine.state, boots: engine.boots };
  },

  async partNeverComes() {
    const engine = made(task.broken.partNever, { silenceMs: 4000 });
    return { got: [await outcome(engine.ask(ofAnotherStage)), await outcome(engine.ask(quick))], state: engine.state };
  },

  async partIsSlow() {
    const engine = made(task.broken.partSlow);
    const first = await outcome(engine.ask(ofAnotherStage));
    return { got: [first, await outcome(engine.ask(quick, { limitMs: 1000 }))], boots: engine.boots };
  },

  async stoppedWhileAPartComes() {
    const engine = made(task.broken.partNever);
    await engine.ask(ofAnotherStage);
    const stop = new AbortController();
    setTimeout(() => stop.abort(), 100);
    const got = await outcome(engine.ask(quick, { signal: stop.signal }));
    return { got, next: await outcome(engine.ask(ofAnotherStage)), boots: engine.boots };
  },
});

function fileAt(path) {
  return fileURLToPath(new URL(path, base));
}

for (const name of ["wasmMissing", "wasmCorrupt", "moduleMissing"]) {
  scenarios[name] = async () => {
    const engine = made(task.broken[name]);
    const started = performance.now();
    const got = await Promise.all([engine.ask(quick), engine.ask(quick)].map(outcome));
    return { got, state: engine.state, quick: performance.now() - started < 10_000 };
  };
}

for (const name of ["snapshotMissing", "snapshotCorrupt", "snapshotCut", "snapshotOfAnother"]) {
  scenarios[name] = async () => {
    const engine = made(task.broken[name]);
    return { got: await outcome(engine.ask(quick)), way: engine.way, boots: engine.boots };
  };
}

const came = {};
for (const [name, run] of Object.entries(scenarios)) {
  came[name] = await Promise.race([run(), after(30_000).then(() => "nothing came of it")]);
  for (const worker of workers.splice(0)) await worker.terminate();
}
process.stdout.write(JSON.stringify(came), () => process.exit(0));
