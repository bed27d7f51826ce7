// The task of a script in this folder: the JSON file named on its command line.
import { readFileSync } from "node:fs";

// By default node prints the whole minified source line before the error.
process.on("uncaughtException", (error) => {
  console.error(error.stack?.startsWith(error.name) ? error.stack.slice(0, 8000) : String(error.message));
  process.exit(1);
});

export const task = JSON.parse(readFileSync(process.argv[2], "utf8"));
