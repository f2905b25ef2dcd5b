// The first screen of the day, as it is read at arm's length: on small phones, with large text, on its side.

import assert from "node:assert/strict";
import { after, before, test } from "node:test";

import { mornings } from "apiary-almanac";
import ICAL from "ical.js";

import { audit, downloaded, enterPlace, go, makePlan, noon, start, unfold, views, visit, yard } from "./page.js";

let host;
before(async () => (host = await start()));
after(() => host.stop());

const site = { latitudeDeg: -28.81, longitudeDeg: 153.28, elevationM: 12, zone: "Australia/Sydney" };
const verdicts = { go: "Good for a move", usual: "Usually good for a move", careful: "Move only with care", no: "Do not move a hive" };
const next = { go: "Next good morning", careful: "None of ten is plainly good; the next to be had with care" };
/** What the engine says of a day, with a forecast or without. */
const morning = (date, text) => mornings({ site, first: date, days: 1, climate: text ? { forecastCsv: { file: "storm.csv", text } } : {} })[0].morning;
const verdict = (date, text) => morning(date, text).verdict;
/** Without a forecast no morning is plainly good. */
const headline = (date, text) => {
  const { verdict: of, source } = morning(date, text);
  return verdicts[of === "go" && source !== "forecast" ? "usual" : of];
};
const storm = "date,minimum_c,maximum_c,rain_mm,wind_m_s\n2026-09-14,2,9,45,14\n2026-09-15,12,25,0,2\n2026-09-16,12,25,0,2\n";

async function useForecast(page, text) {
  await page.getByRole("button", { name: "Paste a forecast" }).click();
  await page.getByLabel("Paste what you copied").fill(text);
  await page.getByRole("button", { name: "Read it" }).click();
  await page.getByRole("button", { name: "Use what was read" }).click();
  await page.locator(".forecast .status").waitFor();
  await page.evaluate(() => scrollTo(0, 0));
}

/** Whether an element is on the screen as it stands, and not below the bar. */
const isSeen = (locator) =>
  locator.evaluate((one) => {
    const { top, bottom, left, right } = one.getBoundingClientRect();
    const middle = document.elementFromPoint((left + right) / 2, (top + bottom) / 2);
    return top >= 0 && bottom <= innerHeight && right <= innerWidth && (one.contains(middle) || middle.contains(one));
  });

for (const [width, height, large] of [[360, 640, false], [360, 640, true], [360, 740, true], [740, 360, false], [1280, 900, false]]) {
  const at = `${width} × ${height}${large ? ", text at 130 %" : ""}`;
  test(`${at}: the verdict, the time and what to tap are on the first screen`, async () => {
    const { page, end } = await visit(host, { now: noon, viewport: { width, height } });
    if (large) await page.evaluate(() => { document.documentElement.style.fontSize = "130%"; });
    await enterPlace(page, yard);
    await page.evaluate(() => scrollTo(0, 0));
    assert((await page.locator("h1").innerText()).startsWith(headline("2026-09-14")));
    for (const part of ["h1", ".first .label", ".first .big-time"]) assert(await isSeen(page.locator(part)), part);
    assert.match(await page.locator(".first .label").innerText(), /This evening, mesh on the entrance$/);
    assert.match(await page.locator(".first .big-time").innerText(), /^from \d\d:\d\d$/);

    await useForecast(page, storm);
    assert.match(await page.locator("h1").innerText(), /^Do not move a hive/);
    const day = verdict("2026-09-15", storm);
    assert.equal(await page.locator(".first .label").innerText(), next[day]);
    assert.match(await page.locator(".first .big-time").innerText(), /Tue 15 Sep/);
    const ranked = await page.locator(".ranked summary").allInnerTexts();
    assert.match(ranked.find((one) => one.includes("Mon 14 Sep")), /do not move/);
    assert.match(ranked.find((one) => one.includes("Tue 15 Sep")), { go: /good ·/, careful: /with care ·/ }[day]);
    for (const part of ["h1", ...(height > 400 ? [".first .big-time"] : []), ...(large || height < 400 ? [] : [".first .main-action"])]) assert(await isSeen(page.locator(part)), part);
    // Terms of the Beaufort scale: 13.9 to 17.1 m/s is a near gale, 1.6 to 3.3 m/s a light breeze (WMO-No. 8).
    assert.match(await page.locator(".first .weather").innerText(), /wind 14 m\/s, near gale/);
    await page.getByRole("button", { name: "Show Tue 15 Sep" }).click();
    assert.match(await page.locator(".first .weather").innerText(), /wind 2 m\/s, light breeze/);
    assert.match(await page.locator("h1").innerText(), new RegExp(`^${headline("2026-09-15", storm)}\\s+The morning of, Tuesday 15 September`));
    await end();
  });
}

test("the coming dawns go into a calendar, without those on which nothing is moved", async () => {
  const { page, end } = await visit(host, { now: noon });
  await enterPlace(page, yard);
  await useForecast(page, storm);
  const { name, text } = await downloaded(page, () => page.getByRole("button", { name: "Calendar of these dawns" }).click());
  assert.equal(name, "quoll-creek.ics");
  const calendar = new ICAL.Component(ICAL.parse(text));
  for (const zone of calendar.getAllSubcomponents("vtimezone")) ICAL.TimezoneService.register(new ICAL.Timezone(zone));
  const events = calendar.getAllSubcomponents("vevent").map((event) => new ICAL.Event(event));
  // The engine's own ten mornings, under the same forecast.
  const wanted = mornings({ site, first: "2026-09-14", days: 10, climate: { forecastCsv: { file: "storm.csv", text: storm } } })
    .map(({ morning: one }) => one)
    .filter((one) => one.verdict !== "no")
    // To the minute, and inside.
    .map(({ window: { from, until } }) => [Math.ceil(Date.parse(from) / 60_000) * 60_000, Math.floor(Date.parse(until) / 60_000) * 60_000]);
  assert(wanted.length > 0 && wanted.length < 10);
  const dated = events.map(({ startDate, endDate }) => [startDate, endDate].map((at) => at.toJSDate().getTime()));
  assert.deepEqual(dated.sort((a, b) => a[0] - b[0]), wanted.sort((a, b) => a[0] - b[0]));
  await end();
});

test("nothing is green that is not good", async () => {
  const { page, end } = await visit(host, { now: noon });
  await enterPlace(page, yard);
  await useForecast(page, storm);
  const [leaf, colours] = await page.evaluate(() => {
    const probe = document.createElement("p");
    probe.style.color = "var(--leaf)";
    document.body.append(probe);
    const leaf = getComputedStyle(probe).color;
    probe.remove();
    const green = [...document.querySelectorAll(".focus *")].filter((one) => {
      const style = getComputedStyle(one);
      const drawn = one instanceof SVGElement ? [style.fill] : [style.color, style.borderLeftColor, style.backgroundColor];
      return drawn.includes(leaf) && (one instanceof SVGElement || one.textContent !== "" );
    });
    return [leaf, green.map((one) => one.textContent)];
  });
  assert.match(leaf, /^rgb/);
  // At most the next good morning.
  assert.deepEqual(colours, verdict("2026-09-15", storm) === "go" ? ["Tue 15 Sep"] : []);
  await end();
});

test("a plan's due task is one tap away, and so is taking it back", async () => {
  const { page, end } = await visit(host, { now: "2026-10-26T02:00:00Z" });
  await enterPlace(page, yard);
  await makePlan(page);
  const done = async () => page.locator(".task.is-done").count();
  const before = await done();
  await go(page, "dawn");
  const button = page.getByRole("button", { name: /^Done: / });
  const [, title] = /^Done: (.*)/.exec(await button.innerText());
  await button.click();
  await page.getByText(`Written down as done today: ${title}`).waitFor();
  assert.equal(await page.evaluate(() => document.activeElement.textContent), "Undo");
  await go(page, "plan");
  assert.equal(await done(), before + 1);
  await go(page, "dawn");
  await button.click();
  await page.getByRole("button", { name: "Undo" }).click();
  assert.equal((await button.innerText()).includes("Undo"), false);
  await go(page, "plan");
  assert.equal(await done(), before + 1);
  await go(page, "dawn");
  await page.getByRole("link", { name: /\d+ tasks? due: show/ }).click();
  await page.locator(".todo-item.due").first().waitFor();
  await end();
});

/** Checks the first visit, with a place and a plan every view, and what a shared link shows. */
async function throughViews(page, check) {
  await check("first visit");
  await enterPlace(page, yard);
  await makePlan(page);
  for (const view of views) {
    await go(page, view);
    await check(view);
  }
  await go(page, "plan");
  await page.getByText("Share by link or QR code").click();
  const link = await page.getByLabel("Link", { exact: true }).inputValue();
  await page.goto(link);
  await page.getByRole("heading", { name: "Shared with you" }).waitFor();
  await check("shared link");
}

for (const [name, size] of [["a page at twice its size", { viewport: { width: 180, height: 370 } }], ["text at twice its size", {}]]) {
  test(`${name} needs no scrolling sideways`, async () => {
    const { page, end } = await visit(host, { now: noon, ...size });
    const fits = async (view) => {
      const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
      assert(wide <= 0, `${view} is ${wide} px too wide`);
    };
    if (!size.viewport) await page.evaluate(() => { document.documentElement.style.fontSize = "200%"; });
    await throughViews(page, async (view) => {
      await fits(view);
      await unfold(page);
      await fits(`${view}, unfolded`);
    });
    await end();
  });
}

test("whatever can be tapped is 44 px high and wide", async () => {
  const { page, end } = await visit(host, { now: noon });
  const check = async (view) => {
    await unfold(page);
    const small = await page.evaluate(() =>
      [...document.querySelectorAll("button, a[href], summary, select, input, textarea")].flatMap((one) => {
        const target = one.matches('[type="checkbox"], [type="radio"]') ? one.closest("label") : one;
        const { width, height } = target.getBoundingClientRect();
        // A link within a sentence is as high as its line (WCAG 2.2, 2.5.8).
        const inLine = one.matches("p a, li a");
        const fits = height >= 43.5 && width >= 43.5;
        return width === 0 || height === 0 || fits || inLine || one.matches(".skip") ? [] : [`${one.tagName} ${one.textContent.slice(0, 30)}: ${width} × ${height}`];
      }),
    );
    assert.deepEqual(small, [], view);
  };
  await throughViews(page, check);
  await end();
});

test("tasks are headings, and every fold has a name of its own", async () => {
  const { page, end } = await visit(host, { now: noon });
  await enterPlace(page, yard);
  await makePlan(page);
  const titles = await page.locator(".task-title").allInnerTexts();
  const headings = await page.getByRole("heading", { level: 3 }).allInnerTexts();
  for (const title of titles) assert(headings.includes(title), title);
  const names = await page.locator(".task > details > summary").evaluateAll((all) => all.map((one) => one.getAttribute("aria-label") ?? one.textContent));
  assert(names.length > 10);
  assert.equal(new Set(names).size, names.length, names.join("\n"));
  await end();
});

test("forced colours show what is chosen, and nothing else is wrong in any view", async () => {
  const { page, end } = await visit(host, { now: noon, forcedColors: "active" });
  const check = async (view) => {
    await unfold(page);
    const { plain, alike } = await page.evaluate(() => {
      const all = (what) => [...document.querySelectorAll(what)].filter((one) => one.checkVisibility());
      return {
        plain: all('[aria-pressed="true"], nav [aria-current]').filter((one) => getComputedStyle(one).outlineStyle !== "solid").map((one) => one.innerText),
        alike: all("button").filter((one) => getComputedStyle(one).color === getComputedStyle(one).backgroundColor).map((one) => one.innerText),
      };
    });
    assert.deepEqual([plain, alike], [[], []], view);
    // axe-core takes a button's own colour of text for the one that is painted instead of it.
    assert.deepEqual((await audit(page)).filter((found) => !/^color-contrast: .*\.main-action/.test(found)), [], view);
  };
  await throughViews(page, check);
  await end();
});
