// What a script of this folder was given to do: the JSON file named on its command line.
import { readFileSync } from "node:fs";

// node would print the whole of a minified source line before the error.
process.on("uncaughtException", (error) => {
  console.error(error.stack?.startsWith(error.name) ? error.stack.slice(0, 8000) : String(error.message));
  process.exit(1);
});

export const task = JSON.parse(readFileSync(process.argv[2], "utf8"));
