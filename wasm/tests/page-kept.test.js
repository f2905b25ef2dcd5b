// What the page keeps, where, and that none of it is lost.

import assert from "node:assert/strict";
import { after, before, test } from "node:test";

import { assertRefused, downloaded, enterPlace, go, makePlan, noon, start, visit, yard } from "./page.js";

let host;
before(async () => (host = await start()));
after(() => host.stop());

const key = "apiary-almanac";
const stored = (page, name = key) => page.evaluate((one) => localStorage.getItem(one), name);

/** A visitor who keeps what is entered, with a place and a plan. */
async function keeper() {
  const visitor = await visit(host, { now: noon });
  await visitor.page.getByLabel("Keep what I enter").check();
  await enterPlace(visitor.page, yard);
  await makePlan(visitor.page);
  return visitor;
}

test("nothing is kept without a word, all of it with one, and it can be saved, wiped and read back", async () => {
  const { page, context, end } = await visit(host, { now: noon });
  const kept = () => page.evaluate(() => [localStorage.length, sessionStorage.length, document.cookie]);
  await enterPlace(page, yard);
  await makePlan(page);
  // Only the tab itself has it; another one does not.
  assert.deepEqual(await kept(), [0, 1, ""]);
  assert.deepEqual(await page.evaluate(async () => (await indexedDB.databases()).length), 0);
  const other = await context.newPage();
  await other.goto(host.address);
  assert.equal(await other.locator("h1").innerText(), "Where do the hives stand?");
  await other.close();
  await page.reload();
  await page.locator(".task-list").waitFor();

  // The plan says that it is not kept until it is.
  await page.getByText("Not kept: this plan is gone").waitFor();
  await page.getByRole("button", { name: "Keep it on this device" }).click();
  assert.equal(await page.getByText("Not kept").count(), 0);
  assert.deepEqual(await kept(), [1, 0, ""]);
  await go(page, "device");
  await page.getByLabel("Keep what I enter").uncheck();
  assert.deepEqual(await kept(), [0, 1, ""]);
  await go(page, "place");
  await page.getByText("Remove this place").click();
  await page.getByRole("button", { name: "Remove Quoll Creek" }).click();

  await page.getByLabel("Keep what I enter").check();
  await enterPlace(page, yard);
  await makePlan(page);
  assert.deepEqual(await kept(), [1, 0, ""]);
  await page.reload();
  await page.locator(".steps, .task-list").first().waitFor();
  await go(page, "plan");
  assert.equal(await page.locator("h1").innerText(), "Lantern and Candle · Split");

  await go(page, "device");
  const { name, text } = await downloaded(page, () => page.getByRole("button", { name: "Save everything as one file" }).click());
  assert.equal(name, "apiary-almanac.json");
  await page.getByText("Erase everything").first().click();
  await page.getByRole("button", { name: "Yes, erase everything" }).click();
  await page.getByText("Erased from this browser").waitFor();
  assert.deepEqual(await kept(), [0, 0, ""]);
  assert.deepEqual(await page.evaluate(() => caches.keys()), []);

  await page.getByLabel("Read such a file back").setInputFiles({ name, mimeType: "application/json", buffer: Buffer.from(text) });
  await page.getByText("Read: 1 place, 1 plan.").waitFor();
  assert.deepEqual(await kept(), [0, 1, ""], "reading a file back keeps nothing on the device");
  await go(page, "plan");
  assert.equal(await page.locator("h1").innerText(), "Lantern and Candle · Split");
  assert.deepEqual(await context.cookies(), []);
  await end();
});

test("what was kept and cannot be read is set aside, and given out as a file", async () => {
  const { page, end } = await visit(host, { now: noon });
  const later = '{"version": 9, "places": ["all of it"]}';
  await page.evaluate(([name, text]) => localStorage.setItem(name, text), [key, later]);
  await page.reload();
  await page.locator("h1").waitFor();
  await page.locator(".notices").getByText(/cannot be read \(version\)/).waitFor();
  await page.getByLabel("Keep what I enter").check();
  await enterPlace(page, yard);
  await page.locator(".steps").waitFor();
  assert.equal(JSON.parse(await stored(page)).places[0].name, yard.name);
  await page.reload();
  await page.locator("h1").waitFor();
  await go(page, "device");
  const { name, text } = await downloaded(page, () => page.getByRole("button", { name: "Save number 1 as a file" }).click());
  assert.deepEqual([name, text], ["apiary-almanac-aside-1.json", later]);
  await page.getByRole("button", { name: "Wipe number 1" }).click();
  assert.equal(await page.locator(".aside").count(), 0);
  assert.equal(await stored(page, `${key}-aside-1`), null);
  await end();
});

test("a place that the engine cannot use is set aside too", async () => {
  const { page, end } = await keeper();
  await page.evaluate((name) => localStorage.setItem(name, localStorage.getItem(name).replace("Australia/Sydney", "Mars/Base")), key);
  await page.reload();
  await page.locator(".notice").waitFor();
  await page.locator(".notices").getByText(/cannot be read \(places\[0\]\)/).waitFor();
  const aside = JSON.parse(await stored(page, `${key}-aside-1`));
  assert.deepEqual([aside.places[0].zone, aside.plans[0].colony.name], ["Mars/Base", "Lantern"]);
  assert.equal(await stored(page), null);
  await end();
});

test("where there is no room to set it aside, it stays and nothing else is kept", async () => {
  const { page, end } = await visit(host, { now: noon });
  await page.evaluate((name) => {
    // Chromium gives an origin 10 MiB, two bytes a letter: more than half of it cannot be there twice.
    localStorage.setItem(name, `{"version": 9, "all": "${"x".repeat(3_000_000)}"}`);
  }, key);
  const before = (await stored(page)).length;
  await page.reload();
  await page.locator("h1").waitFor();
  await page.locator(".notices").getByText(/no room to set it aside/).waitFor();
  await page.getByLabel("Keep what I enter").check();
  await enterPlace(page, yard);
  await page.locator(".steps").waitFor();
  assert.equal((await stored(page)).length, before);
  await go(page, "device");
  await page.getByRole("button", { name: "Wipe number 1" }).click();
  await page.getByLabel("°F").check();
  assert.equal(JSON.parse(await stored(page)).places[0].name, yard.name);
  await end();
});

test("keys of a later page stay through changes", async () => {
  const { page, end } = await keeper();
  await page.evaluate((name) => {
    const state = JSON.parse(localStorage.getItem(name));
    Object.assign(state, { later: [1] });
    Object.assign(state.places[0], { shade: "half" });
    Object.assign(state.plans[0], { mood: "good" });
    Object.assign(state.plans[0].colony, { queen: "blue" });
    localStorage.setItem(name, JSON.stringify(state));
  }, key);
  await page.reload();
  await go(page, "plan");
  await page.getByText("Write down what you saw").click();
  await page.getByLabel("Eggs", { exact: true }).check();
  await page.getByRole("button", { name: "Write it down" }).click();
  await page.locator(".records li").waitFor({ state: "attached" });
  await go(page, "device");
  await page.getByLabel("°F").check();
  const state = JSON.parse(await stored(page));
  assert.deepEqual([state.later, state.places[0].shade, state.plans[0].mood, state.plans[0].colony.queen], [[1], "half", "good", "blue"]);
  assert.equal(state.plans[0].records.length, 1);
  await end();
});

test("two tabs agree", async () => {
  const { page, context, end } = await keeper();
  const other = await context.newPage();
  await other.clock.setFixedTime(new Date(noon));
  await other.goto(`${host.address}#plan`);
  await other.locator(".task-list").waitFor();
  const write = async (tab, sign) => {
    await tab.getByText("Write down what you saw").click();
    await tab.getByLabel(sign, { exact: true }).check();
    await tab.getByRole("button", { name: "Write it down" }).click();
  };
  await write(page, "Eggs");
  await other.locator(".records li").waitFor({ state: "attached" });
  await write(other, "Queen, laying");
  await page.waitForFunction(() => document.querySelectorAll(".records li").length === 2);
  const { plans } = JSON.parse(await stored(page));
  assert.deepEqual(plans[0].records.map(({ signs }) => signs[0].kind).sort(), ["eggs", "laying_queen"]);
  // Forgotten in one, it is not kept again by the other.
  await go(page, "device");
  await page.getByLabel("Keep what I enter").uncheck();
  await go(other, "device");
  assert.equal(await other.getByLabel("Keep what I enter").isChecked(), false);
  await other.getByLabel("°F").check();
  assert.equal(await stored(page), null);
  await end();
});

test("a tab in which nothing is kept does not erase what another keeps", async () => {
  const { page, context, end } = await visit(host, { now: noon });
  await enterPlace(page, { ...yard, name: "Unkept" });
  const other = await context.newPage();
  await other.clock.setFixedTime(new Date(noon));
  await other.goto(host.address);
  await other.getByLabel("Keep what I enter").check();
  await enterPlace(other, yard);
  await other.locator(".steps").waitFor();
  await page.locator(".notice").waitFor();
  await go(page, "device");
  await page.getByLabel("°F").check();
  assert.equal(JSON.parse(await stored(page)).places[0].name, yard.name);
  // Kept by this one too, the other's is set aside.
  await page.getByLabel("Keep what I enter").check();
  assert.equal(JSON.parse(await stored(page)).places[0].name, "Unkept");
  assert.equal(JSON.parse(await stored(page, `${key}-aside-1`)).places[0].name, yard.name);
  await end();
});

test("a file with a plan that cannot be is refused, and what is here stays", async () => {
  const { page, end } = await keeper();
  await go(page, "device");
  const good = await stored(page);
  const file = page.getByLabel("Read such a file back");
  const spoilt = (how) => {
    const state = JSON.parse(good);
    how(state);
    return Buffer.from(JSON.stringify(state));
  };
  for (const [how, why] of [
    [(state) => state.plans.push(state.plans[0]), /plans\[1\]\.id/],
    [(state) => (state.plans[0].method = "constructor"), /Lantern/],
    [(state) => (state.plans[0].colony.netWeightKg = -3), /Lantern/],
    [(state) => (state.plans[0].sequence = 1e12), /plans\[0\]\.sequence/],
    [(state) => (state.places[0].zone = "constructor"), /Quoll Creek/],
    [(state) => (state.places[0].beeNumbers = { first_light_wm2: 1e9 }), /Quoll Creek/],
  ]) {
    await file.setInputFiles({ name: "a.json", mimeType: "application/json", buffer: spoilt(how) });
    await page.waitForFunction(() => document.querySelector('[aria-invalid="true"]'));
    await assertRefused(file, why);
  }
  assert.equal(await stored(page), good);
  await end();
});

test("the files of a plan are told apart from the page's own", async () => {
  const { page, end } = await keeper();
  const saved = {};
  for (const label of ["Calendar (.ics)", "Table (.csv)", "Data (.json)"]) {
    saved[label] = await downloaded(page, () => page.getByRole("button", { name: label }).click());
  }
  await go(page, "device");
  const good = await stored(page);
  const file = page.getByLabel("Read such a file back");
  for (const [label, why] of [["Calendar (.ics)", /is a calendar/], ["Table (.csv)", /is a table/], ["Data (.json)", /data of one plan/]]) {
    await file.setInputFiles({ name: saved[label].name, mimeType: "application/json", buffer: Buffer.from(saved[label].text) });
    await page.waitForFunction(() => document.querySelector('[aria-invalid="true"]'));
    await assertRefused(file, why);
  }
  assert.equal(await stored(page), good);
  await end();
});

test("where the device refuses to keep it, the plan goes on saying so, and a reload loses nothing", async () => {
  const { page, context, end } = await visit(host, { now: noon, opened: false });
  await context.addInitScript(() => {
    const put = Storage.prototype.setItem;
    Storage.prototype.setItem = function (name, value) {
      if (this === localStorage) throw new DOMException("full", "QuotaExceededError");
      return put.call(this, name, value);
    };
  });
  await page.goto(host.address);
  await page.getByLabel("Keep what I enter").check();
  await enterPlace(page, yard);
  await makePlan(page);
  await page.getByText("refuses to keep anything").waitFor();
  await page.getByText("Not kept: this plan").waitFor();
  await page.reload();
  await page.locator(".task-list").waitFor();
  await page.getByText("Not kept: this plan").waitFor();
  await end();
});

test("the browser is asked not to drop what is kept", async () => {
  const { page, context, end } = await visit(host, { now: noon, opened: false });
  await context.addInitScript(() => {
    globalThis.asked = 0;
    navigator.storage.persist = async () => { globalThis.asked += 1; return true; };
  });
  await page.goto(host.address);
  await enterPlace(page, yard);
  assert.equal(await page.evaluate(() => globalThis.asked), 0);
  await go(page, "device");
  await page.getByLabel("Keep what I enter").check();
  assert.equal(await page.evaluate(() => globalThis.asked), 1);
  await end();
});
