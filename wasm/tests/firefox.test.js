// One whole story in another make of browser, driven by WebDriver BiDi; the others are told in Chromium.

import assert from "node:assert/strict";
import { after, before, test } from "node:test";

import { firefox, launchFirefox } from "./browser.js";
import { audit, noon, start, views } from "./page.js";

const skip = firefox() ? false : "no Firefox: install firefox-esr, or give its path in FIREFOX";

let host;
before(async () => {
  if (!skip) host = await start({ open: launchFirefox });
});
after(() => host?.stop());

/** A tab of a visitor whose clock stands at noon, and what goes wrong in it. */
async function tab(visitor) {
  const page = await visitor.newPage();
  const problems = [];
  page.setDefaultTimeout(30_000);
  page.on("pageerror", (error) => problems.push(`error: ${error.message}`));
  page.on("console", (message) => {
    if (["error", "warn"].includes(message.type())) problems.push(`console: ${message.text()}`);
  });
  page.on("request", (request) => {
    if (!request.url().startsWith(host.address) && !/^(blob|data):/.test(request.url())) problems.push(`request: ${request.url()}`);
  });
  await page.evaluateOnNewDocument((now) => {
    addEventListener("securitypolicyviolation", (event) => {
      console.error(`policy: ${event.violatedDirective} ${event.blockedURI}`);
    });
    globalThis.Date = class extends Date {
      constructor(...parts) {
        super(...(parts.length ? parts : [now]));
      }
      static now() {
        return now;
      }
    };
  }, Date.parse(noon));
  await page.emulateTimezone("Australia/Sydney");
  await page.setViewport({ width: 360, height: 740 });
  return { page, problems };
}

const control = async (page, label) => {
  const named = await page.waitForSelector(`::-p-xpath(//label[starts-with(normalize-space(), "${label}")])`);
  return named.evaluateHandle((one) => one.control);
};
const fill = async (page, label, typed) => (await control(page, label)).type(typed);
const press = (page, name) => page.locator(`aria/${name}[role="button"]`).click();
const seen = (page, selector) => page.waitForSelector(selector);
const words = (page, selector) => page.$eval(selector, (one) => one.innerText);
const titles = (page) => page.$$eval(".task-title", (all) => all.map((one) => one.textContent));

async function go(page, view) {
  await page.evaluate((hash) => { location.hash = hash; }, view);
  await seen(page, `.view-${view}`);
}

test("a first visit, a plan, a task done, kept, shared, and all of it without a network", { skip }, async () => {
  const { page, problems } = await tab(host.browser);
  await page.goto(host.address);
  await seen(page, "h1");
  assert.equal(await words(page, "h1"), "Where do the hives stand?");
  assert.deepEqual(await audit(page), []);
  await page.locator("aria/Keep what I enter on this device").click();
  await fill(page, "Town or coordinates", "Lismore, New South Wales");
  await press(page, "Use this place");
  await seen(page, ".view-dawn .steps");
  assert.match(await words(page, "h1"), /morning/);

  await go(page, "plan");
  await fill(page, "Name of the old colony", "Lantern");
  await fill(page, "Name of the new colony", "Candle");
  await fill(page, "Weight", "3.6");
  await fill(page, "Last divided", "19");
  await (await control(page, "Strength")).select("strong");
  await press(page, "Make the plan");
  await seen(page, ".task-list");
  assert((await titles(page)).length > 10);

  // What is written down stays, and so does the place.
  await page.$eval(".task-list .tick-off", (fold) => {
    for (let one = fold; one; one = one.parentElement.closest("details")) one.open = true;
  });
  await page.click(".task-list .tick-off .main-action");
  const undo = 'main button[aria-label^="Not done after all: "]';
  await seen(page, undo);
  const kept = () => page.evaluate(() => localStorage.getItem("apiary-almanac"));
  const written = await kept();
  assert.match(written, /"records":\[\{"date":"2026-09-13"/);
  await page.reload();
  await seen(page, undo);
  assert.equal(await kept(), written);
  const planned = await titles(page);

  for (const [width, theme] of [[360, "light"], [1280, "dark"]]) {
    await page.setViewport({ width, height: 740 });
    await go(page, "device");
    await (await control(page, `always ${theme}`)).click();
    await page.waitForFunction((wanted) => document.documentElement.dataset.theme === wanted, {}, theme);
    for (const view of views) {
      await go(page, view);
      assert.deepEqual(await audit(page), [], `${view}, ${width} px, ${theme}`);
      assert(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth), `${view} is wider than ${width} px`);
    }
  }

  // Another phone opens the link.
  await go(page, "plan");
  await page.$eval("details.share", (one) => { one.open = true; });
  const link = await (await control(page, "Link")).evaluate((one) => one.value);
  const other = await tab(await host.browser.createBrowserContext());
  await other.page.goto(link);
  await seen(other.page, "h1");
  assert.equal(await words(other.page, "h1"), "Shared with you");
  assert.deepEqual(await audit(other.page), []);
  await press(other.page, "Take it over");
  await seen(other.page, ".task-list");
  assert.deepEqual(await titles(other.page), planned);
  assert.deepEqual(other.problems, []);

  // Without a server.
  await page.evaluate(() => navigator.serviceWorker.ready.then(() => {}));
  await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
  assert.deepEqual(problems, []);
  await host.server.close();
  await assert.rejects(page.evaluate(() => fetch("./not-kept.txt").then((answer) => answer.text())));
  await page.reload();
  await seen(page, ".task-list");
  await go(page, "dawn");
  await seen(page, ".steps");
  assert.match(await words(page, "h1"), /morning/);
});
