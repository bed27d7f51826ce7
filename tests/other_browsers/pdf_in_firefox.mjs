// node pdf_in_firefox.mjs TASK.json: opens a PDF in Firefox and writes what it shows, again and again until told to stop.
// The task has `program`, the path of the browser, `url`, and `picture`, the path of the PNG. A line on its input asks
// for the next picture; a line on its output says that it is there.
import { readFileSync } from "node:fs";
import { createInterface } from "node:readline";

import puppeteer from "puppeteer-core";

const task = JSON.parse(readFileSync(process.argv[2], "utf8"));
const browser = await puppeteer.launch({ browser: "firefox", executablePath: task.program, headless: true });
try {
  const page = await browser.newPage();
  await page.setViewport({ width: 900, height: 900 });
  await page.goto(task.url);
  for await (const _line of createInterface({ input: process.stdin })) {
    await page.screenshot({ path: task.picture });
    process.stdout.write("there\n");
  }
} finally {
  await browser.close();
}
