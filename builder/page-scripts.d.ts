// What the scripts of the page find that is written nowhere in them.

// Which elements a selector finds, only the template knows.
interface ParentNode {
  querySelector(selectors: string): any;
  querySelectorAll(selectors: string): NodeListOf<any>;
}
interface Element {
  closest(selectors: string): any;
}

// Written by the builder (builder/assets.py and builder/kinds.py).
declare module "shared-config" {
  const config: any;
  export default config;
}
declare module "scripts-of-kinds";
declare module "strip-words" {
  const words: Record<string, string>;
  export default words;
}
// Bundles of their own (builder/assets.py).
declare module "alone-jobs";
declare module "alone-carried-rows";
declare module "alone-pixels" {
  const pixelsOf: typeof import("../theme/scripts/picture/pixels.mjs").pixelsOf;
  const freePixels: typeof import("../theme/scripts/picture/pixels.mjs").freePixels;
}
declare module "alone-eyedropper" {
  const listenForPicks: typeof import("../theme/scripts/picture/eyedropper.mjs").listenForPicks;
}
declare module "alone-strip";
declare module "alone-opened";
declare module "alone-arrival" {
  const showArrival: typeof import("../theme/scripts/keep/arrival.mjs").showArrival;
}
declare module "alone-sheet" {
  const wireSheet: typeof import("../theme/scripts/form/sheet.mjs").wireSheet;
}
declare module "alone-bridges" {
  const wireBridges: typeof import("../theme/scripts/picture/bridges.mjs").wireBridges;
}
declare module "alone-whole-job";
declare module "alone-proposing" {
  const wireProposals: typeof import("../theme/scripts/form/proposing.mjs").wireProposals;
}
// Written into the worker by builder/runtime.py.
declare const RUNTIME: any;
// The theme's pages, as instant navigation brings them; absent without it.
declare var document$: {subscribe: (act: () => void) => void} | undefined;
// The worker that theme/partials/dw-early.js started.
declare var dwEarly: {worker?: Worker, heard: any[], failed: string | null} | undefined;
// For tests.
declare var dwStore: any;
declare var dwEngine: import("../theme/engine/engine.mjs").Engine | undefined;

// Sentences of the page (theme/scripts/frame/words.mjs).
type Say = (key: string, parts?: object) => string;
// Adds listeners that end with a signal. Which event a type brings, only its name tells.
type Listen = (target: EventTarget, type: string, act: (event: any) => unknown, options?: AddEventListenerOptions) => void;
type ListenHere = (type: string, act: (event: any) => unknown, options?: AddEventListenerOptions) => void;
// Whether to leave a field as it is.
type Leave = (field: Element) => boolean;
type Unit = "mm" | "in";
// What calculators/answer.py replies, by its outcome.
type Envelope = Record<string, any>;
type Reply = {envelope: Envelope, buffers: ArrayBuffer[]};
// What a form holds, and a calculator's question about it.
type Typed = {inputs: Record<string, any>, files: Map<string, any>};
type Question = Typed & {aside: Record<string, any>};
type Problem = {field: string, text: string, hint?: string};
