// Opens the page in a real browser and watches it: no error, no request to elsewhere, no breach of
// its content security policy.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { readFile, rm } from "node:fs/promises";
import { createRequire } from "node:module";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

import { build } from "../page/build.js";
import { launch, serve } from "./browser.js";

const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

/** The widths at which every story is told: a small phone and a desktop. */
export const widths = [360, 1280];
export const views = ["dawn", "tasks", "year", "plan", "place", "device"];

// The invented keeper of docs/demo.
export const yard = { coordinates: `28°48'36"S 153°16'48"E`, elevation: "12", name: "Quoll Creek" };
export const noon = "2026-09-13T02:00:00Z"; // 12:00 on Sunday 13 September at the yard

/** A browser and a server of the built page, which stands in a folder of its own below the root. */
export async function start({ source = false, open = launch } = {}) {
  // Test files run side by side, so each has a copy of its own.
  const root = fileURLToPath(new URL(`../../target/page-tests/${process.pid}`, import.meta.url));
  await build(join(root, "page"), { source });
  const server = await serve(root);
  const browser = await open();
  return {
    browser,
    server,
    folder: join(root, "page"),
    origin: server.origin,
    address: `${server.origin}/page/`,
    async stop() {
      await browser.close();
      await server.close();
      await rm(root, { recursive: true, force: true });
    },
  };
}

/**
 * A new visitor. `now` is the moment that the page's clock shows; with `opened: false` the visitor stands before the door. Call `end` when the story is over: it
 * fails where the page misbehaved.
 */
export async function visit(host, { width = 360, now, theme = "light", worker = "block", opened = true, ...more } = {}) {
  const context = await host.browser.newContext({
    viewport: { width, height: width < 600 ? 740 : 900 },
    timezoneId: "Australia/Sydney",
    locale: "en-AU",
    colorScheme: theme,
    serviceWorkers: worker,
    ...more,
  });
  const page = await context.newPage();
  const problems = [];
  page.on("pageerror", (error) => problems.push(`error: ${error.message}`));
  page.on("console", (message) => {
    // The tests block the worker where they do not look at it; the browser says so.
    if (["error", "warning"].includes(message.type()) && !/Service Worker registration blocked/.test(message.text())) {
      problems.push(`console: ${message.text()}`);
    }
  });
  context.on("request", (request) => {
    if (!request.url().startsWith(`${host.origin}/page/`) && !/^(blob|data):/.test(request.url())) {
      problems.push(`request: ${request.url()}`);
    }
  });
  await context.addInitScript(() => {
    addEventListener("securitypolicyviolation", (event) => {
      console.error(`policy: ${event.violatedDirective} ${event.blockedURI}`);
    });
  });
  if (now) await page.clock.setFixedTime(new Date(now));
  if (opened) {
    await page.goto(host.address);
    await page.locator("h1").waitFor();
  }
  return {
    page,
    context,
    problems,
    async end() {
      assert.deepEqual(problems, []);
      await context.close();
    },
  };
}

/** Types a place and uses it. */
export async function enterPlace(page, { coordinates, elevation, name, zone }) {
  await page.getByLabel("Town or coordinates").fill(coordinates);
  await page.getByLabel("Town or coordinates").blur();
  await page.locator("details.found").evaluate((one) => { one.open = true; });
  if (elevation) await page.getByLabel(/Height above the sea/).fill(elevation);
  if (name) await page.getByLabel("Name").fill(name);
  if (zone) await page.getByLabel("Time zone").fill(zone);
  await page.getByRole("button", { name: /^(Use|Save) this place$/ }).click();
  await page.locator(".view-dawn h1, .answer-soon, [aria-invalid=true]").first().waitFor();
}

/** Makes the plan of a split. */
export async function makePlan(page, { name = "Lantern", daughter = "Candle" } = {}) {
  await go(page, "plan");
  await page.getByLabel("Name of the old colony").fill(name);
  await page.getByLabel("Name of the new colony").fill(daughter);
  await page.getByLabel("Weight").fill("3.6");
  await page.getByLabel("Last divided").fill("19");
  await page.getByLabel("Strength").selectOption("strong");
  await page.getByRole("button", { name: "Make the plan" }).click();
  await page.locator(".task-list").waitFor();
}

export async function go(page, view) {
  // A plan is reached from its tasks; this is the one that was looked at last.
  if (view === "plan") await page.evaluate(() => { location.hash = "#plan"; });
  else await page.locator(`nav a[href="#${view}"]`).click();
  await page.locator(`.view-${view}`).waitFor();
}

/** Opens what is folded away, one layer after the other. */
export const unfold = (page) =>
  page.evaluate(() => {
    for (const details of document.querySelectorAll("main details")) details.open = true;
  });

/** The text of a file that a click downloads, and its name. */
export async function downloaded(page, click) {
  const [download] = await Promise.all([page.waitForEvent("download"), click()]);
  return { name: download.suggestedFilename(), text: await readFile(await download.path(), "utf8") };
}

/** What axe-core finds wrong on the page as it stands, by the rules of WCAG 2.2 AA and its own best practice. */
export async function audit(page) {
  await page.evaluate(axe);
  const { violations } = await page.evaluate(() =>
    globalThis.axe.run(document, {
      runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
    }),
  );
  return violations.flatMap(({ id, nodes }) => nodes.map((node) => `${id}: ${node.target.join(" ")} ${node.failureSummary ?? ""}`));
}

/** Fails unless the field is marked wrong and a text beside it, tied to it, says why. */
export async function assertRefused(input, why) {
  assert.equal(await input.getAttribute("aria-invalid"), "true", `${input} is not marked`);
  const words = await input.evaluate((element) =>
    (element.getAttribute("aria-describedby") ?? "")
      .split(" ")
      .map((id) => document.getElementById(id))
      .filter((one) => one?.classList.contains("error") && !one.hidden)
      .map((one) => one.textContent)
      .join(" "),
  );
  assert.match(words, why);
}
