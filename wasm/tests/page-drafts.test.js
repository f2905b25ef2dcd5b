// What is being entered or read stays while the page is drawn anew: a minute passes, a forecast is read, another tab writes.

import assert from "node:assert/strict";
import { after, before, test } from "node:test";

import { enterPlace, go, makePlan, noon, start, visit, yard } from "./page.js";

let host;
before(async () => (host = await start()));
after(() => host.stop());

/** Types into a field and marks the elements that must still be there, with the focus in the field, after `what`. */
async function survives(page, { field, fold, draft }, what) {
  await field.fill(draft);
  await field.evaluate((one) => one.setSelectionRange(1, 3));
  const elements = await Promise.all([field, fold].map((one) => one.elementHandle()));
  await what();
  assert.deepEqual(await Promise.all(elements.map((one) => one.evaluate((element) => element.isConnected))), [true, true]);
  assert.equal(await elements[1].evaluate((one) => one.open), true);
  const held = await field.evaluate((one) => [one.value, one === document.activeElement, one.selectionStart, one.selectionEnd]);
  assert.deepEqual(held, [draft, true, 1, 3]);
}

/** A visitor who keeps what is entered, with a plan, and a second tab of theirs. */
async function twoTabs() {
  const visitor = await visit(host, { now: noon });
  await visitor.page.getByLabel("Keep what I enter").check();
  await enterPlace(visitor.page, yard);
  await makePlan(visitor.page);
  const other = await visitor.context.newPage();
  await other.clock.setFixedTime(new Date(noon));
  await other.goto(`${host.address}#plan`);
  await other.locator(".task-list").waitFor();
  return { ...visitor, other };
}

test("at dawn: a minute passes, a forecast is used, a day is looked at", async () => {
  const { page, end } = await visit(host, { now: noon });
  await page.clock.install({ time: new Date(noon) });
  await enterPlace(page, yard);
  await page.getByText("To a new place").click();
  const draft = { field: page.getByLabel("Which hive"), fold: page.locator("details").filter({ hasText: "To a new place" }), draft: "Kurrajong" };
  const count = page.locator(".step .soon").first();
  const before = await count.innerText();
  await survives(page, draft, async () => {
    await page.clock.runFor(121_000);
    await page.waitForFunction((one) => document.querySelector(".step .soon").textContent !== one, before);
  });
  const fold = page.locator(".ranked details").first();
  await fold.evaluate((one) => { one.open = true; });
  await page.getByText("Forecast", { exact: true }).click();
  await page.getByLabel("Paste what you copied").fill("Mon 5-9 °C\nTue 12-25 °C 3 mm");
  await page.getByRole("button", { name: "Read it" }).click();
  // The text that was read is still in its field, and the typed name in its own, while the forecast is used.
  await survives(page, { ...draft, fold }, async () => {
    await page.getByRole("button", { name: "Use what was read" }).evaluate((one) => one.click());
    await page.locator(".forecast .status").getByText("In use").waitFor();
  });
  assert.match(await page.getByLabel("Paste what you copied").inputValue(), /^Mon 5-9/);
  await end();
});

test("at dawn: another tab writes", async () => {
  const { page, other, end } = await twoTabs();
  await go(page, "dawn");
  await page.getByText("To a new place").click();
  const draft = { field: page.getByLabel("Which hive"), fold: page.locator("details").filter({ hasText: "To a new place" }), draft: "Kurrajong" };
  await survives(page, draft, async () => {
    await go(other, "dawn");
    await other.getByText("Your bees, free days").click();
    await other.getByLabel("Sat", { exact: true }).check();
    await page.waitForFunction(() => [...document.querySelectorAll(".ticks label")].some((one) => one.textContent === "Sat" && one.querySelector("input").checked));
  });
  // What is kept from here on holds both.
  await page.getByLabel("From here to there").fill("3");
  await page.getByRole("button", { name: "Reckon the dates" }).click();
  await page.locator(".view-plan .course").waitFor();
  const { places, plans } = JSON.parse(await page.evaluate(() => localStorage.getItem("apiary-almanac")));
  assert.deepEqual([places[0].freeWeekdays, plans.map(({ colony }) => colony.name)], [["saturday"], ["Lantern", "Kurrajong"]]);
  await end();
});

test("in a plan: a task is ticked off, another tab writes a sign down", async () => {
  const { page, other, end } = await twoTabs();
  await go(page, "plan");
  await page.getByText("Write down what you saw").click();
  await page.getByLabel("Eggs", { exact: true }).check();
  const draft = { field: page.getByLabel("Note"), fold: page.locator("details").filter({ has: page.getByLabel("Note") }), draft: "calm" };
  await survives(page, draft, async () => {
    await other.getByText("Write down what you saw").click();
    await other.getByLabel("Pollen carried in").check();
    await other.getByRole("button", { name: "Write it down" }).click();
    await page.locator(".records li").waitFor({ state: "attached" });
  });
  await survives(page, draft, async () => {
    await page.locator(".task .tick-off button").first().evaluate((one) => one.click());
    await page.locator(".task.is-done").first().waitFor();
    await draft.field.focus();
    await draft.field.evaluate((one) => one.setSelectionRange(1, 3));
  });
  assert.equal(await page.getByLabel("Eggs", { exact: true }).isChecked(), true);
  await page.getByRole("button", { name: "Write it down" }).click();
  await page.waitForFunction(() => document.querySelectorAll(".records li").length === 3);
  const { plans } = JSON.parse(await page.evaluate(() => localStorage.getItem("apiary-almanac")));
  assert.deepEqual(plans[0].records.flatMap(({ signs = [] }) => signs.map(({ kind }) => kind)).sort(), ["eggs", "pollen_in"]);
  await end();
});

test("in the year and at a place: another tab writes", async () => {
  const { page, other, end } = await twoTabs();
  await go(other, "dawn");
  await other.getByText("Your bees, free days").click();
  const day = async (label) => {
    await other.getByLabel(label, { exact: true }).check();
    const kept = await other.evaluate(() => localStorage.getItem("apiary-almanac"));
    // The event of the other tab has been heard, and what it brought drawn.
    await page.waitForFunction((text) => localStorage.getItem("apiary-almanac") === text, kept);
    await page.evaluate(() => new Promise((done) => setTimeout(done, 200)));
  };
  await go(page, "year");
  await page.getByText("How careful").click();
  await survives(page, { field: page.getByLabel("Leave out the wettest months"), fold: page.locator("details").filter({ hasText: "How careful" }), draft: "3.5" }, () => day("Sat"));
  await page.getByLabel("Leave out the wettest months").fill("");
  await go(page, "place");
  await survives(page, { field: page.getByLabel("Name"), fold: page.locator("details.found"), draft: "Orchard" }, () => day("Sun"));
  await page.getByRole("button", { name: "Save this place" }).click();
  await page.locator(".view-dawn h1").waitFor();
  const { places } = JSON.parse(await page.evaluate(() => localStorage.getItem("apiary-almanac")));
  assert.deepEqual([places[0].name, places[0].freeWeekdays], ["Orchard", ["saturday", "sunday"]]);
  await end();
});
