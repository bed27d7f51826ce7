// node firefox.mjs TASK.json: takes Firefox through the calculators of a site and prints what came of it.
// The task is that of smoke.py, with `program`, the path of the browser.
import { readFileSync } from "node:fs";

import puppeteer from "puppeteer-core";

const task = JSON.parse(readFileSync(process.argv[2], "utf8"));
const browser = await puppeteer.launch({ browser: "firefox", executablePath: task.program, headless: false });
const report = { version: await browser.version(), pages: {}, errors: [] };
const page = await browser.newPage();
// A tablet in landscape: in a narrow window the fields of picture pages lie in a sheet that is closed at first.
await page.setViewport({ width: 1180, height: 820 });
try {
  page.setDefaultTimeout(task.wait_ms);
  page.on("pageerror", (error) => report.errors.push(String(error)));
  page.on("console", (message) => {
    if (["error", "warn"].includes(message.type())) report.errors.push(message.text());
  });
  const waitFor = (test, ...given) => page.waitForFunction(test, { polling: 100 }, ...given);
  const shows = (result, text) =>
    waitFor((name, wanted) => document.querySelector(`[data-result=${name}] [data-part=shown]`)?.textContent === wanted, result, text)
      .then(() => text, () => page.$eval(`[data-result=${result}]`, (each) => each.textContent));
  const answered = () => waitFor(() => document.querySelector(".dw-answer")?.dataset.state === "answered");

  for (const { path, field, types, result, shows: wanted, picture, fills, picture_shows } of task.calculators) {
    const came = (report.pages[path] = {});
    await page.goto(task.url + path);
    await answered();
    if (result) {
      // Fields that are seldom changed are folded.
      await page.evaluate(() => document.querySelectorAll(".dw-form details").forEach((each) => (each.open = true)));
      const input = await page.$(`#in-${field}`);
      await input.click({ count: 3 });
      await input.type(types);
      came.shown = await shows(result, wanted);
    }
    if (picture) {
      await (await page.$(`#in-${picture}`)).uploadFile(task.picture);
      await waitFor((name) => document.querySelector(".dw-drop-name").textContent === name, "crest.png");
      came.name = "crest.png";
    }
    if (fills) {
      await waitFor((id, text) => document.getElementById(id).value === text, `in-${fills[0]}`, fills[1]);
      came.filled = fills[1];
    }
    if (picture_shows) came.picture_shown = await shows(...picture_shows);
    await answered();
    came.state = "answered";
    came.problems = await page.$$eval(".dw-problem:not([hidden])", (all) => all.map((each) => each.textContent));
  }
  report.results = [];
  for (const request of task.asked) {
    report.results.push(await page.evaluate(async (asked) => (await dwEngine.ask(asked)).envelope.result, request));
  }
  await page.evaluate(() => {
    if (document.querySelector(".dw-saving").hidden) document.querySelector(".dw-offline").click();
    document.querySelector(".dw-saving-begin").click();
  });
  await waitFor(() => !["off", "saving"].includes(document.querySelector(".dw-offline").dataset.state));
  report.offline = await page.$eval(".dw-offline", (button) => [
    button.dataset.state,
    button.querySelector("[data-part=words]").textContent,
  ]);
} catch (error) {
  report.errors.push(`${error.message} (${await page.$eval(".dw-calculator", (each) => each.innerText.slice(0, 1500))})`);
} finally {
  await browser.close();
}
process.stdout.write(JSON.stringify(report), () => process.exit(0));
