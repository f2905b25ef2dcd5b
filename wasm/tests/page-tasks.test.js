// Tasks over all places and hives, told over five weeks: done, missed, late, only if; moves among them.

import assert from "node:assert/strict";
import { after, before, test } from "node:test";

import { audit, downloaded, enterPlace, go, makePlan, noon, start, visit, yard } from "./page.js";

let host;
before(async () => (host = await start()));
after(() => host.stop());

const setClock = async (page, now) => {
  await page.clock.setFixedTime(new Date(now));
  await page.reload();
  await page.locator("nav").waitFor();
  await go(page, "tasks");
};
const item = (page, text) => page.locator(".todo-item").filter({ hasText: text }).first();
const section = (page, heading) => page.locator(".view-tasks section").filter({ has: page.getByRole("heading", { name: heading, exact: true, level: 2 }) });

test("four hives at two places over five weeks: done, missed and late, with a move beside them", async () => {
  const { page, end } = await visit(host, { now: noon });
  await enterPlace(page, yard);
  await go(page, "tasks");
  await page.getByText("There is nothing to do yet").waitFor();
  await makePlan(page, { name: "Bunya", daughter: "Quandong" });
  await go(page, "tasks");
  await page.getByRole("link", { name: "Plan another colony" }).click();
  await page.getByLabel("Name of the old colony").fill("Wattle");
  await page.getByLabel("Name of the new colony").fill("Saltbush");
  await page.getByRole("button", { name: "Make the plan" }).click();
  await page.locator(".task-list").waitFor();
  await go(page, "place");
  await page.getByRole("button", { name: "Another place" }).click();
  await enterPlace(page, { coordinates: "-27.56, 152.28", elevation: "90", name: "Orchard", zone: "Australia/Brisbane" });
  await makePlan(page, { name: "Mallee", daughter: "Gidgee" });
  await go(page, "dawn");
  await page.getByText("To a new place").click();
  await page.getByLabel("Which hive").fill("Kurrajong");
  await page.getByLabel("From here to there").fill("2");
  await page.getByRole("button", { name: "Reckon the dates" }).click();
  await page.locator(".view-plan .course").waitFor();

  // The first day: what is to be made ready, for all of them; hive first.
  await go(page, "tasks");
  const boxes = async () => new Set(await page.locator(".todo-item .box").allTextContents());
  for (const name of ["Kurrajong", "Bunya + Quandong", "Wattle + Saltbush", "Mallee + Gidgee"]) assert((await boxes()).has(name), name);
  assert.deepEqual(await audit(page), []);
  const first = page.locator(".todo-item").filter({ hasText: "Kurrajong" }).first();
  assert.match(await first.innerText(), /Close the entrance.*Orchard.*Then .*\(1 of 4\), mesh off/s);

  // The stage is done the next morning, by one tap, and taken back by one, and the focus stays.
  await setClock(page, "2026-09-14T02:00:00Z");
  const done = page.getByRole("button", { name: /^Moved and opened: Kurrajong, .*\(1 of 4\)/ });
  await done.click();
  await page.getByText(/Written down: Kurrajong, .*\(1 of 4\)/).waitFor();
  assert.equal(await page.evaluate(() => document.activeElement.textContent), "Undo");
  await page.getByRole("button", { name: /^Undo: Kurrajong/ }).click();
  await page.getByText(/Taken back: Kurrajong/).waitFor();
  // Moved but still shut: to open it stands before all else.
  await page.getByRole("button", { name: /^Moved, still shut: Kurrajong, .*\(1 of 4\)/ }).click();
  const shut = page.locator(".todo-item:not(.is-done)").first();
  assert.match(await shut.innerText(), /Kurrajong.*Open the entrance.*Still shut/s);
  await shut.getByRole("button", { name: /^Done: / }).click();
  assert.equal(await page.getByText("Still shut after its move").count(), 0);

  // A stage that passed without a word is asked for.
  await setClock(page, "2026-10-05T02:00:00Z");
  const asked = section(page, "Was this done?");
  assert.match(await asked.innerText(), /Kurrajong.*\(2 of 4\)/s);
  assert.equal((await asked.innerText()).includes("(1 of 4)"), false);
  await asked.locator(".todo-item").filter({ hasText: /Kurrajong.*\(2 of 4\)/s }).getByRole("button", { name: /^Moved and opened, on/ }).click();
  await page.getByText(/Written down: Kurrajong, .*\(2 of 4\)/).waitFor();
  await setClock(page, "2026-10-05T02:00:00Z");
  assert.equal((await section(page, "Was this done?").innerText()).includes("(2 of 4)"), false);

  // A division that was announced and not done is asked for; done late, it is written down for its day.
  await setClock(page, "2026-10-19T02:00:00Z");
  const question = item(page, /Bunya.*Divide/s);
  assert.match(await section(page, "Was this done?").innerText(), /Bunya/);
  await question.getByRole("button", { name: /^Yes, today/ }).click();
  await page.getByText(/Written down: Bunya/).waitFor();
  // The second was done on the announced day, the third not yet.
  await item(page, /Wattle.*Divide/s).getByRole("button", { name: /^Yes, on/ }).click();
  await item(page, /Mallee.*Divide/s).getByRole("button", { name: /^Not yet/ }).click();
  await page.getByText(/Still to do: Mallee/).waitFor();
  await setClock(page, "2026-10-19T02:00:00Z");
  for (const name of ["Bunya", "Wattle", "Mallee"]) {
    const left = await page.locator(".todo-item").filter({ hasText: name }).filter({ hasText: /Divide/ }).filter({ hasText: "Was" }).count();
    assert.equal(left, 0, name);
  }
  // Each plan tells the same.
  await page.locator(".view-tasks").getByRole("link", { name: "Wattle + Saltbush", exact: true }).click();
  await page.locator(".is-done .task-title").filter({ hasText: "Divide" }).waitFor();
  assert.equal(await page.locator(".masthead select").inputValue(), "place-1");

  // Reloaded it is all there.
  await page.reload();
  await page.locator(".is-done .task-title").filter({ hasText: "Divide" }).waitFor();
  await end();
});

test("a place whose height was found has its tasks like any other", async () => {
  const { page, end } = await visit(host, { now: noon });
  await enterPlace(page, { coordinates: "-28.81, 153.28" });
  await makePlan(page);
  await go(page, "tasks");
  assert.equal(await page.locator(".view-tasks .error").count(), 0);
  assert((await page.locator(".todo-item").count()) > 5);
  await end();
});

test("folds, focus and what was read stay while tasks are ticked off", async () => {
  const { page, end } = await visit(host, { now: "2026-10-26T02:00:00Z" });
  await enterPlace(page, yard);
  await makePlan(page);
  await go(page, "tasks");
  await page.getByText(/^Later: \d+/).click();
  const fold = await page.locator("details.later").elementHandle();
  await page.getByRole("button", { name: /^Done: / }).first().click();
  await page.getByText(/^Written down/).waitFor();
  assert.equal(await fold.evaluate((one) => one.isConnected && one.open), true);
  await page.getByRole("button", { name: /^Undo: / }).click();
  assert.equal(await fold.evaluate((one) => one.isConnected && one.open), true);
  const poster = await downloaded(page, () => page.getByRole("button", { name: "Poster for the wall" }).click());
  assert.match(poster.name, /^poster-1\.svg$/);
  assert.match(poster.text, /^<svg[^>]*>/);
  assert(poster.text.includes("Lantern"));
  const names = await page.locator(".view-tasks button, .view-tasks .todo a").evaluateAll((all) => all.map((one) => one.getAttribute("aria-label") ?? one.textContent));
  assert.equal(new Set(names).size, names.length, names.join("\n"));
  await end();
});

/** A plan that is wished for a date, from an empty form. */
async function wishFor(page, date) {
  await go(page, "plan");
  await page.getByLabel("Name of the old colony").fill("Bunya");
  await page.getByLabel("Wanted date").fill(date);
  await page.getByRole("button", { name: "Make the plan" }).click();
  await page.locator(".task-list").waitFor();
}

test("a wish that is too late has its own word, with the next good date first, and is planned for that", async () => {
  const { page, end } = await visit(host, { now: noon });
  await enterPlace(page, yard);
  await wishFor(page, "2027-03-20");
  const wish = page.locator(".wish");
  assert.match(await wish.innerText(), /^Too late on 20 Mar 2027\s+Next good date: \d+ Sep 2027\s+Too late: in hardly any year/);
  assert.doesNotMatch(await wish.innerText(), /Divide all the same/);
  assert.match(await page.locator(".summary .window-dates").innerText(), /^Begin on \d+ (Sep|Oct) 2027$/);
  // Good by the rules of the season, and in time in fewer than half of the years.
  await page.getByText("Change the facts and settings").click();
  await page.getByLabel("Wanted date").fill("2027-02-12");
  await page.getByRole("button", { name: "Plan anew" }).click();
  await page.getByText("Good on 12 Feb 2027, but in doubt").waitFor();
  assert.match(await wish.innerText(), /Doubtful: only in about \d of 10 years/);
  assert.match(await page.locator(".summary .window-dates").innerText(), /^Begin on \d+ Feb 2027$/);
  await end();
});

test("the words of a plan's picture are large enough on a phone", async () => {
  for (const width of [360, 412]) {
    const { page, end } = await visit(host, { now: noon, width });
    await enterPlace(page, yard);
    await makePlan(page);
    const smallest = await page.locator(".picture").evaluate((one) => {
      const scale = one.getBoundingClientRect().width / one.viewBox.baseVal.width;
      return Math.min(...[...one.querySelectorAll("text")].map((words) => Number(words.getAttribute("font-size")) * scale));
    });
    // Readers could not read what was smaller than 10.5 px (common practice, no source); all of it has some room above that.
    assert(smallest >= 11.5, `${smallest} px at ${width}`);
    await end();
  }
});

test("a date outside the season is a red line, in front of everything", async () => {
  const { page, end } = await visit(host, { now: noon });
  await enterPlace(page, yard);
  await wishFor(page, "2027-06-10");
  const wish = page.locator(".wish");
  assert.match(await wish.innerText(), /^Not on 10 Jun 2027/);
  assert.equal(await wish.evaluate((one) => one.closest("details")), null);
  const red = await page.evaluate(() => {
    const probe = document.createElement("p");
    probe.style.color = "var(--alarm)";
    document.body.append(probe);
    const { color } = getComputedStyle(probe);
    probe.remove();
    return color;
  });
  assert.equal(await wish.locator("h2").evaluate((one) => getComputedStyle(one).color), red);

  // A task that is put there by hand says so too.
  const task = page.locator(".task").filter({ hasText: "first workers" }).first();
  await task.getByText("Why, how, source").click();
  await task.getByLabel("Put it on a date of your own").fill("2028-06-20");
  await task.getByRole("button", { name: "Put it there" }).click();
  const line = page.locator(".task").filter({ hasText: "first workers" }).locator(".outside");
  assert.match(await line.innerText(), /Outside the good season/);
  assert.equal(await line.evaluate((one) => getComputedStyle(one).color), red);
  await end();
});

test("on paper stand all tasks, also those in a fold, and the law", async () => {
  const { page, end } = await visit(host, { now: noon });
  await enterPlace(page, yard);
  await makePlan(page);
  await go(page, "tasks");
  const later = page.locator("details.later");
  assert.equal(await later.evaluate((one) => one.open), false);
  await page.evaluate(() => dispatchEvent(new Event("beforeprint")));
  await page.emulateMedia({ media: "print" });
  assert(await later.locator(".todo-item").first().isVisible());
  assert(await page.locator("footer").isVisible());
  assert.match(await page.locator("footer").innerText(), /Local law/);
  await page.evaluate(() => dispatchEvent(new Event("afterprint")));
  assert.equal(await later.evaluate((one) => one.open), false);
  await end();
});

test("a plan is two pages of A4 with a box for each task", async () => {
  const { page, end } = await visit(host, { now: noon });
  await enterPlace(page, yard);
  await makePlan(page);
  const tasks = await page.locator(".tasks .task").count();
  await page.emulateMedia({ media: "print" });
  const rows = page.locator(".sheet tbody tr");
  assert((await rows.count()) >= tasks);
  assert.equal(await page.locator(".sheet .tick-box").count(), await rows.count());
  assert.equal(await page.locator(".task-list:visible, button:visible, nav:visible").count(), 0);
  assert(await page.locator("footer").isVisible());
  const pdf = await page.pdf({ format: "A4" });
  assert.equal([...pdf.toString("latin1").matchAll(/\/Type\s*\/Page\b/g)].length, 2);
  await end();
});
