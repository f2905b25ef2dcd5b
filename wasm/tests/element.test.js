// The custom element on a page of somebody else, under a strict policy.

import assert from "node:assert/strict";
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { fileURLToPath } from "node:url";

import { seasonNow, tomorrow } from "apiary-almanac";

import { launch, serve } from "./browser.js";
import { audit } from "./page.js";

const packed = fileURLToPath(new URL("./node_modules/apiary-almanac", import.meta.url));
const readme = readFileSync(new URL("../npm/README.md", import.meta.url), "utf8");
const site = { latitudeDeg: -28.81, longitudeDeg: 153.28, elevationM: 12, zone: "Australia/Sydney" };

/** The line for a page, and the policy for it, as the readme gives them. */
const line = /```html\n(<script type="module" src="apiary-almanac\/element\.js">[^]*?)```/.exec(readme)[1];
const policy = /```text\nContent-Security-Policy: (.*)\n```/.exec(readme)[1];

let folder;
let browser;
let server;
before(async () => {
  folder = mkdtempSync(fileURLToPath(new URL("../../target/element-", import.meta.url)));
  cpSync(packed, join(folder, "apiary-almanac"), { recursive: true });
  server = await serve(folder, { "content-security-policy": policy });
  browser = await launch();
});
after(async () => {
  await browser?.close();
  await server?.close();
  if (folder) rmSync(folder, { recursive: true, force: true });
});

async function opened(body, { now = "2026-09-13T02:00:00Z", width = 360, ...more } = {}) {
  writeFileSync(join(folder, "index.html"), `<!doctype html><html lang="en"><title>Club</title><link rel="icon" href="data:,"><main><h1>Club</h1>${body}</main></html>`);
  const page = await browser.newPage({ viewport: { width, height: 740 }, ...more });
  page.problems = [];
  page.on("pageerror", (error) => page.problems.push(error.message));
  page.on("console", (message) => { if (message.type() === "error") page.problems.push(message.text()); });
  await page.clock.setFixedTime(new Date(now));
  await page.goto(`${server.origin}/`);
  return page;
}
const text = (page) => page.locator("apiary-almanac").evaluate((one) => one.shadowRoot.textContent);

test("one line shows the coming dawn and the season", async () => {
  const now = new Date("2026-09-13T02:00:00Z"); // noon: tomorrow comes next
  const page = await opened(line, { now });
  await page.locator("apiary-almanac dl").waitFor();
  const said = await text(page);
  assert.match(said, /Tomorrow morning, Monday,? 14 September/);
  const { morning, reasons } = tomorrow(site, { now });
  assert.equal(morning.date, "2026-09-14");
  // The engine's own clock, rounded inwards to the minute.
  const minutes = (instant, up) => { const ms = Date.parse(instant); const at = (up ? Math.ceil : Math.floor)(ms / 60_000) * 60_000; return new Date(at + 10 * 3_600_000).toISOString().slice(11, 16); };
  assert(said.includes(`${minutes(morning.window.from, true)}–${minutes(morning.window.until, false)}`), said);
  assert(said.includes({ go: "Good for a move.", careful: "Move only with care.", no: "Do not move a hive." }[morning.verdict]), said);
  for (const reason of reasons.filter(({ text }) => text !== morning.verdictReason.text)) assert(said.includes(reason.text), reason.text);
  const { state, until, season } = seasonNow(site, { now });
  assert.deepEqual([season.first, season.states[0].state, season.states[0].last], ["2026-09-13", state, until]);
  const seasons = { good: "Good season for dividing colonies", at_risk: "Dividing colonies is at risk", closed: "No season for dividing colonies" };
  assert(said.includes(`${seasons[state]} until ${Number(until.slice(8))} September 2026`), said);
  assert.deepEqual(await audit(page), []);
  assert.deepEqual(page.problems, []);
  await page.close();
});

test("this morning, as long as it lasts; other attributes; narrow and dark", async () => {
  const page = await opened(line, { now: "2026-09-13T19:30:00Z", width: 200, colorScheme: "dark" }); // 05:30 on Monday
  await page.locator("apiary-almanac dl").waitFor();
  assert.match(await text(page), /This morning, Monday,? 14 September/);
  assert(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth));
  assert.deepEqual(await audit(page), []);
  // Another place, with nothing known of its height.
  await page.locator("apiary-almanac").evaluate((one) => { one.removeAttribute("elevation"); one.setAttribute("latitude", "-3.1"); one.setAttribute("longitude", "-60"); one.setAttribute("zone", "America/Manaus"); one.setAttribute("name", "Upriver"); });
  await page.waitForFunction(() => /Upriver: .* colonies/s.test(document.querySelector("apiary-almanac").shadowRoot.textContent));
  const far = { latitudeDeg: -3.1, longitudeDeg: -60, zone: "America/Manaus" };
  const { morning } = tomorrow(far, { now: new Date("2026-09-13T19:30:00Z") });
  // It is still Sunday there, 15:30.
  assert.equal(morning.date, "2026-09-14");
  const shown = await text(page);
  for (const { text } of morning.window.reasons ?? []) assert(shown.includes(text), text);
  assert.equal(/Good for a move/.test(shown), morning.verdict === "go");
  await page.locator("apiary-almanac").evaluate((one) => one.setAttribute("zone", "Mars/Base"));
  await page.waitForFunction(() => /Mars\/Base.*IANA/.test(document.querySelector("apiary-almanac").shadowRoot.textContent));
  assert.deepEqual(page.problems, []);
  await page.close();
});

test("where the engine cannot be fetched, it says so and tries again", async () => {
  const page = await opened("");
  await page.route("**/engine_bg.wasm", (route) => route.abort());
  await page.evaluate(async (html) => {
    await import("/apiary-almanac/element.js");
    document.querySelector("main").insertAdjacentHTML("beforeend", html);
  }, line);
  const again = page.locator("apiary-almanac").getByRole("button", { name: "Try again" });
  await again.waitFor();
  await page.unroute("**/engine_bg.wasm");
  await again.click();
  await page.locator("apiary-almanac dl").waitFor();
  await page.close();
});
