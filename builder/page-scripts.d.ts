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
// Written into the worker by builder/runtime.py.
declare const RUNTIME: any;
