// Whole stories on the page, at the width of a small phone and of a desktop.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { after, before, describe, test } from "node:test";

import { bee, lastSafe, methods, parameters, plan, planCsv, season } from "apiary-almanac";
import ICAL from "ical.js";

import { assertRefused, audit, downloaded, enterPlace, go, makePlan, noon, start, unfold, views, visit, widths, yard } from "./page.js";

const demo = (name) => readFileSync(new URL(`../../docs/demo/${name}`, import.meta.url), "utf8");
const fiveAm = "2026-09-13T19:02:00Z"; // 05:02 on Monday

let host;
before(async () => (host = await start()));
after(() => host.stop());

async function pasteForecast(page, text) {
  await go(page, "dawn");
  await page.getByText("Forecast", { exact: true }).click();
  await page.getByLabel("Paste what you copied").fill(text);
  await page.getByRole("button", { name: "Read it" }).click();
  await page.getByRole("button", { name: "Use what was read" }).click();
}

const task = (page, title) => page.locator(".task").filter({ hasText: title }).first();
const dateOf = async (page, title) => (await task(page, title).locator(".task-date b").innerText()).trim();

for (const width of widths) {
  describe(`at ${width} px`, () => {
    test("from the first visit to a calendar in hand", async () => {
      const { page, end } = await visit(host, { width, now: noon });
      assert.equal(await page.locator("h1").innerText(), "Where do the hives stand?");
      await enterPlace(page, yard);
      await page.locator(".steps").waitFor();
      assert.match(await page.locator("h1").innerText(), /\s+Tomorrow morning, Monday 14 September$/);
      const times = await page.locator(".step .time").allInnerTexts();
      assert.equal(times.length, 4);
      for (const time of times) assert.match(time, /^\d\d:\d\d(–\d\d:\d\d)?$/);
      assert.equal(await page.locator(".ranked > li").count(), 10);

      await makePlan(page);
      const begin = (await page.locator(".summary .window-dates").innerText()).replace("Begin on ", "");
      const { name, text } = await downloaded(page, () => page.getByRole("button", { name: "Calendar (.ics)" }).click());
      assert.equal(name, "lantern-and-candle-split.ics");
      const calendar = new ICAL.Component(ICAL.parse(text));
      const events = calendar.getAllSubcomponents("vevent").map((event) => new ICAL.Event(event));
      const shown = await page.locator(".task-list > li .task-title").allInnerTexts();
      // What may never be needed comes into a calendar 14 days before.
      const certain = shown.filter((title) => !/^(If there were|Still no eggs)/.test(title));
      assert(certain.length > 10 && certain.length < shown.length);
      assert.equal(events.length, certain.length);
      const divide = events.find(({ summary }) => /: divide$/.test(summary));
      const [day, month, year] = begin.split(" ");
      const months = "Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec".split(" ");
      assert.deepEqual(
        [divide.startDate.year, divide.startDate.month, divide.startDate.day],
        [Number(year), months.indexOf(month) + 1, Number(day)],
      );
      assert.equal(divide.startDate.timezone ?? divide.startDate.zone.tzid, "Australia/Sydney");

      // The next file is a later version of the same events (RFC 5545, 3.8.7.4).
      const second = await downloaded(page, () => page.getByRole("button", { name: "Calendar (.ics)" }).click());
      const sequence = (ics) => new ICAL.Component(ICAL.parse(ics)).getFirstSubcomponent("vevent").getFirstPropertyValue("sequence");
      assert.deepEqual([sequence(text), sequence(second.text)], [0, 1]);

      const table = await downloaded(page, () => page.getByRole("button", { name: "Table (.csv)" }).click());
      assert(table.text.startsWith("\ufeff") && table.text.includes("Divide the brood"));
      const data = await downloaded(page, () => page.getByRole("button", { name: "Data (.json)" }).click());
      const [plan] = JSON.parse(data.text);
      // The file is one that the engine reads: its table is the one that was saved beside it.
      assert.equal(`\ufeff${planCsv({ plans: [plan] }).csv}`, table.text);
      await end();
    });

    test("a cold snap is pasted and the plan moves", async () => {
      const { page, end } = await visit(host, { width, now: "2026-11-02T02:00:00Z" });
      await enterPlace(page, yard);
      await makePlan(page);
      const before = await dateOf(page, "Divide the brood");
      const start = new Date(Date.parse(`${before} 2026 UTC`));
      const cold = ["date,minimum_c,maximum_c,rain_mm"];
      for (let i = 1; i <= 10; i += 1) {
        cold.push(`${new Date(Date.UTC(2026, 10, 2 + i)).toISOString().slice(0, 10)},6,14,12`);
      }
      assert(start < Date.UTC(2026, 10, 13), `${before} lies within the forecast`);
      await pasteForecast(page, cold.join("\n"));
      assert.match(await page.locator(".forecast .status").innerText(), /10 of the next ten mornings/);
      assert.equal(await page.locator(".first.is-no h1").count(), 1);
      assert.match(await page.locator(".first").innerText(), /^Do not move a hive.*None of the next ten mornings will do/s);
      assert.match(await page.locator(".step.move").innerText(), /Against this morning: .*chill brood.*12 mm of rain/);
      await go(page, "plan");
      const later = await dateOf(page, "Divide the brood");
      assert(Date.parse(`${later} 2026 UTC`) >= Date.UTC(2026, 10, 13), `${later} is after the cold snap`);
      const moved = page.locator(".moved");
      assert.match(await moved.innerText(), /Divide the brood/);
      assert.match(await moved.innerText(), new RegExp(`${before}.*${later}`, "s"));
      await moved.getByRole("button", { name: "Noted" }).click();
      assert.equal(await moved.count(), 0);
      await end();
    });

    test("tasks are ticked off, signs written down, and the plan follows", async () => {
      const { page, end } = await visit(host, { width, now: "2026-10-26T02:00:00Z" });
      await enterPlace(page, yard);
      await makePlan(page);
      const tick = async (title, date) => {
        await task(page, title).getByText("Why, how, source").click();
        await task(page, title).getByText("Tick off").click();
        await task(page, title).getByLabel("Done on").fill(date);
        await task(page, title).getByRole("button", { name: "It is done" }).click();
      };
      await tick("Divide the brood", "2026-09-30");
      assert.match(await page.locator(".summary").innerText(), /Begun on 30 Sep 2026/);
      await page.locator(".is-done .task-title").filter({ hasText: "Divide the brood" }).waitFor();
      // A box in doubt is named; nothing tells yet which of the two has the old queen.
      assert.match(await page.locator(".standing").innerText(), /In doubt: Lantern or Candle\. One of the two has the old queen/);
      await page.getByText("Write down what you saw").click();
      await page.getByRole("radio", { name: "Candle" }).check();
      await page.getByLabel("Eggs", { exact: true }).check();
      await page.getByRole("button", { name: "Write it down" }).click();
      await page.locator(".verdict").waitFor();
      const both = await page.locator(".verdict").innerText();
      assert.match(both, /told yet|Likely|laying queen/i);
      assert.match(await page.locator(".standing").innerText(), /In doubt: Lantern\. /);
      await page.getByText("Write down what you saw").click();
      await page.getByRole("radio", { name: "Lantern" }).check();
      await page.getByLabel("Queen, laying").check();
      await page.getByRole("button", { name: "Write it down" }).click();
      // Eggs in one box and the queen in the other: Villas-Bôas 2012, both are conclusive.
      assert.equal(await page.locator(".verdict").innerText(), "A laying queen was seen");
      assert.equal(await page.locator(".records li").count(), 3);
      assert.match(await page.locator(".tasks").innerText(), /Left out/);

      // Struck out again, the standing is open again.
      await page.locator(".tasks").getByText("Done: ").waitFor();
      await unfold(page);
      await page.locator(".records li").filter({ hasText: "Queen, laying" }).getByRole("button").click();
      assert.notEqual(await page.locator(".verdict").innerText(), "A laying queen was seen");

      // A task is put on a day of the keeper's own, and what follows moves along.
      const workers = await dateOf(page, "first workers");
      await unfold(page);
      const own = task(page, "first workers");
      await own.getByLabel("Put it on a date of your own").fill("2027-01-20");
      await own.getByRole("button", { name: "Put it there" }).click();
      assert.notEqual(await dateOf(page, "first workers"), workers);
      assert.equal(await dateOf(page, "first workers"), "Wed 20 Jan 2027");
      await end();
    });

    test("five in the morning: this morning first, dark, and readable at arm's length", async () => {
      const { page, end } = await visit(host, { width, now: fiveAm, theme: "light" });
      await enterPlace(page, yard);
      await page.locator(".steps").waitFor();
      assert.match(await page.locator("h1").innerText(), /\s+This morning, Monday 14 September$/);
      assert.equal(await page.evaluate(() => document.documentElement.dataset.theme), "dark");
      const brightness = await page.evaluate(() => {
        const [r, g, b] = getComputedStyle(document.body).backgroundColor.match(/\d+/g).map(Number);
        return (r + g + b) / 3;
      });
      assert(brightness < 40, `${brightness} of 255`);
      // One time stands out, and it is the one that counts now: 05:02, light from 05:24.
      const size = await page.locator(".big-time").evaluate((one) => parseFloat(getComputedStyle(one).fontSize));
      assert(size >= 48, `${size} px`);
      assert.equal(await page.locator(".big-time").innerText(), `from ${(await page.locator(".step.move .time").innerText()).slice(0, 5)}`);
      assert.match(await page.locator(".step.move .what").innerText(), /Move the hive\s+in \d+ min/);
      await page.getByRole("button", { name: "Tomorrow", exact: true }).click();
      assert.match(await page.locator("h1").innerText(), /\s+Tomorrow morning, Tuesday 15 September$/);
      await end();
    });

    test("a pasted forecast is shown as it is understood, asked about, and used", async () => {
      const { page, end } = await visit(host, { width, now: noon });
      await enterPlace(page, yard);
      await go(page, "dawn");
      await unfold(page);
      await page.getByLabel("Paste what you copied").fill("14/9 5-9 °C\n15/9 warm\n3/10 11 24");
      await page.getByRole("button", { name: "Read it" }).click();
      const shown = page.locator(".understood");
      assert.match(await shown.innerText(), /Monday 14 September 2026: 5 to 9 °C/);
      assert.match(await shown.innerText(), /Left out\s+line 2, “15\/9 warm”/);
      await page.getByLabel("Paste what you copied").fill("3/10 11-24 °C\n4/10 12-25 °C");
      await page.getByRole("button", { name: "Read it" }).click();
      assert.match(await shown.innerText(), /Which day is meant/);
      assert.equal(await page.getByRole("button", { name: "Use what was read" }).count(), 0);
      await page.getByLabel("Saturday 3 October 2026").click();
      assert.match(await shown.innerText(), /Saturday 3 October 2026: 11 to 24 °C/);
      await page.getByLabel("Paste what you copied").fill("Mon 5-9 °C\nTue 12-25 °C 3 mm");
      await page.getByRole("button", { name: "Read it" }).click();
      await page.getByRole("button", { name: "Use what was read" }).click();
      assert.match(await page.locator(".forecast .status").innerText(), /2 of the next ten mornings/);
      await page.locator(".focus .step.none").filter({ hasText: "No flight that day" }).waitFor();
      await end();
    });

    test("a town typed, coordinates pasted: the answer, in three taps at most", async () => {
      const { page, end } = await visit(host, { width, now: noon });
      const where = page.getByLabel("Town or coordinates");
      await where.fill("nowhereville");
      await where.press("Enter");
      await page.locator("[aria-invalid=true]").waitFor();
      await assertRefused(where, /no such town/);
      await where.fill("maryborough");
      await page.getByRole("button", { name: "Use this place" }).click();
      await page.getByRole("button", { name: /Maryborough Victoria/ }).waitFor();
      await page.getByRole("button", { name: /Maryborough Queensland/ }).click();
      await page.locator(".steps").waitFor();
      assert.match(await page.locator("h1").innerText(), /^(Good for a move|Usually good for a move|Move only with care|Do not move a hive)/);
      // The height is that of the land: it is said, below the answer, and can be changed.
      await page.getByRole("link", { name: "Change height or zone" }).click();
      assert.equal(await where.inputValue(), "-25.54, 152.7");
      assert.equal(await page.getByLabel("Time zone").inputValue(), "Australia/Brisbane");
      assert.equal(await page.getByLabel("Name").inputValue(), "Maryborough");
      await page.getByLabel(/Height above the sea/).fill("11");
      await page.getByRole("button", { name: "Save this place" }).click();
      await page.locator(".steps").waitFor();
      assert.equal(await page.getByRole("link", { name: "Change height or zone" }).count(), 0);

      for (const [given, shown] of [
        ["https://maps.example/@-28.81,153.28,15z", "28.81° S, 153.28° E"],
        ["geo:-26.19,152.66", "26.19° S, 152.66° E"],
        ["3,1 S 60 O", "3.1° S, 60° W"],
      ]) {
        await go(page, "place");
        await page.getByRole("button", { name: "Another place" }).click();
        await where.fill(given);
        await where.press("Enter");
        await page.locator(".steps").waitFor();
        await go(page, "place");
        assert.match(await page.locator('.place-list [aria-pressed="true"]').innerText(), new RegExp(shown));
      }
      await end();
    });

    test("swapped coordinates, and those of the sea, are asked back", async () => {
      const { page, end } = await visit(host, { width, now: noon });
      const where = page.getByLabel("Town or coordinates");
      await where.fill("153.28, -28.81");
      await where.blur();
      await page.getByText("does the longitude stand first?").waitFor();
      await page.getByRole("button", { name: "28.81° S, 153.28° E" }).waitFor();
      await where.fill("28.81, 153.28");
      await where.blur();
      await page.getByText("which place is meant?").waitFor();
      await page.getByRole("button", { name: "28.81° N, 153.28° E at sea" }).waitFor();
      assert.deepEqual(await audit(page), []);
      await page.getByRole("button", { name: "28.81° S, 153.28° E" }).click();
      await page.locator(".steps").waitFor();
      await end();
    });

    test("own normals and a typed forecast are used", async () => {
      const { page, end } = await visit(host, { width, now: noon });
      await enterPlace(page, yard);
      await go(page, "year");
      const windows = async () => (await page.locator(".windows .window-dates").first().innerText()).replace(/\s+/g, " ");
      const before = await windows();
      await page.getByText("Your own monthly averages").click();
      await page.getByLabel("Station and years").fill("Yard, 2009 to 2025");
      await page.getByLabel("Paste twelve rows").fill(demo("normals.csv"));
      await page.getByRole("button", { name: "Use the rows" }).click();
      await page.getByText("Yard, 2009 to 2025").first().waitFor();
      assert.notEqual(await windows(), before);
      const [{ opens, closes }] = season({
        site: { latitudeDeg: -28.81, longitudeDeg: 153.28, elevationM: 12, zone: "Australia/Sydney" },
        first: "2026-09-13",
        last: "2027-09-12",
        climate: { normalsCsv: { file: "normals.csv", text: demo("normals.csv") } },
      }).outcome.windows;
      const [from, to] = (await windows()).split(" – ").map((date) => new Date(`${date.split(" ").slice(0, 3).join(" ")} UTC`).toISOString().slice(0, 10));
      assert.deepEqual([from, to], [opens, closes]);
      assert.equal(await page.getByLabel("Low, Jul, °C").inputValue(), "7.4");

      await go(page, "dawn");
      await unfold(page);
      await page.getByLabel("Low, Mon 14 Sep, °C").fill("5");
      await page.getByLabel("High, Mon 14 Sep, °C").fill("9");
      await page.getByLabel("Rain, Mon 14 Sep, mm").fill("0");
      await page.getByRole("button", { name: "Use these days" }).click();
      // At most 9 °C is colder than any bee of the list flies at.
      await page.locator(".focus .step.none").filter({ hasText: "No flight that day" }).waitFor();
      assert.match(await page.locator(".weather").first().innerText(), /5 °C to 9 °C · dry/);
      await end();
    });

    test("wrong input is answered beside its field, everywhere", async () => {
      const { page, end } = await visit(host, { width, now: noon });
      const coordinates = page.getByLabel("Town or coordinates");
      const use = page.getByRole("button", { name: "Use this place" });
      await use.click();
      await assertRefused(coordinates, /Needed here/);
      assert(await coordinates.evaluate((one) => one === document.activeElement));
      for (const [typed, why] of [
        ["12", /1 angle/],
        ["-28.81 S, 153.28 E", /twice/],
        ["91 N, 153 E", /-90 to 90/],
        ["28°75'S 153°E", /less than 60/],
        ["https://maps.example/place1", /no coordinates in it/],
      ]) {
        await coordinates.fill(typed);
        await coordinates.blur();
        await assertRefused(coordinates, why);
      }
      await coordinates.fill("-28.81, 153.28");
      await coordinates.blur();
      assert.equal(await coordinates.getAttribute("aria-invalid"), null);
      await page.getByText("Height, time zone, name").click();
      for (const [typed, why] of [["high", /not a number/], ["10000", /“10000”.*9000 m/], ["-501", /-500/]]) {
        await page.getByLabel(/Height above the sea/).fill(typed);
        await use.click();
        await assertRefused(page.getByLabel(/Height above the sea/), why);
      }
      await page.getByLabel(/Height above the sea/).fill("12");
      await page.getByLabel("Time zone").fill("Atlantis/Port");
      await use.click();
      await assertRefused(page.getByLabel("Time zone"), /not an IANA time zone/);
      await page.getByLabel("Time zone").fill("Australia/Sydney");
      await page.getByText("Hills or trees on the skyline").click();
      await page.getByLabel("Where the sun comes up").fill("60");
      await use.click();
      await assertRefused(page.getByLabel("Where the sun comes up"), /“60”.*45/);
      await page.getByLabel("Where the sun comes up").fill("3");
      await use.click();
      await page.locator(".steps").waitFor();

      await unfold(page);
      const area = page.getByLabel("Paste what you copied");
      for (const [typed, why] of [
        ["", /nothing to read/],
        ["date,min\n2026-09-14,1", /line 2.*not clear/],
        ["date,minimum_c,maximum_c\n2026-09-14,21,9", /line 2.*above its maximum/],
        ["date,minimum_c,maximum_c\n2026-09-31,2,9", /line 2.*day is not clear/],
        ["<script>alert(1)</script>", /script/],
      ]) {
        await area.fill(typed);
        await page.getByRole("button", { name: "Read it" }).click();
        await assertRefused(area, why);
      }
      await area.fill("date,minimum_c,maximum_c\n2026-08-01,2,9");
      await page.getByRole("button", { name: "Read it" }).click();
      await page.getByRole("button", { name: "Use what was read" }).click();
      await assertRefused(area, /None of these days/);
      await page.getByLabel("Or load it from a file").setInputFiles({ name: "picture.png", mimeType: "image/png", buffer: Buffer.from([137, 80, 78, 71, 0, 1, 2, 255]) });
      await page.waitForFunction(() => /picture\.png/.test(document.querySelector(".forecast .error:not([hidden])")?.textContent ?? ""));
      await page.getByRole("button", { name: "Use these days" }).click();
      assert.match(await page.locator(".forecast").innerText(), /nothing to read yet/);
      const low = page.getByLabel("Low, Tue 15 Sep, °C");
      await low.fill("warm");
      await page.getByRole("button", { name: "Use these days" }).click();
      await assertRefused(low, /“warm” is not a number/);
      await low.fill("20");
      await page.getByRole("button", { name: "Use these days" }).click();
      await assertRefused(page.getByLabel("High, Tue 15 Sep, °C"), /needed here/);
      await page.getByLabel("High, Tue 15 Sep, °C").fill("10");
      await page.getByRole("button", { name: "Use these days" }).click();
      await assertRefused(low, /above its maximum/);
      await page.getByLabel("High, Tue 15 Sep, °C").fill("24");
      await page.getByLabel("Rain, Tue 15 Sep, mm").fill("-4");
      await page.getByRole("button", { name: "Use these days" }).click();
      await assertRefused(page.getByLabel("Rain, Tue 15 Sep, mm"), /0 to 2000/);
      const flyFrom = page.getByLabel("Bees usually fly from");
      await flyFrom.fill("99");
      await flyFrom.blur();
      await assertRefused(flyFrom, /“99”.*5 to 30 °C/);
      const margin = page.getByLabel("The hive stands this long before usual first flight");
      await margin.fill("-5");
      await margin.blur();
      await assertRefused(margin, /“-5”.*0 to 120 min/);

      const away = page.getByLabel("From here to there");
      const reckon = page.getByRole("button", { name: "Reckon the dates" });
      await reckon.click();
      await assertRefused(away, /needed here/);
      for (const [label, typed, why] of [
        ["From here to there", "far", /“far” is not a number/],
        ["From here to there", "0", /“0”.*0\.05 to 1000000 m/],
        ["Turn of the entrance", "400", /“400”.*-360 to 360/],
        ["Weight with the box", "900", /“900”.*0\.5 to 200 kg/],
      ]) {
        const input = page.getByLabel(label);
        const before = await input.inputValue();
        await input.fill(typed);
        if (label !== "From here to there") await away.fill("3");
        await reckon.click();
        await assertRefused(input, why);
        await input.fill(before);
      }
      const stage = page.getByLabel("Length of a stage");
      await stage.fill("7");
      await stage.blur();
      await assertRefused(stage, /“7”.*0\.1 to 1 m/);
      await stage.fill("");
      await away.fill("150");
      await page.getByLabel("Way", { exact: true }).selectOption("staged");
      await reckon.click();
      await assertRefused(away, /300 stages, at most 200/);
      await page.getByLabel("First morning on which you can").fill("");
      await reckon.click();
      await assertRefused(page.getByLabel("First morning on which you can"), /whole date/);
      await page.getByRole("radio", { name: "A new box" }).check();
      await unfold(page);
      const waits = page.getByLabel("Stands before the parent's entrance");
      await waits.fill("1001");
      await waits.blur();
      await assertRefused(waits, /0 to 1000 days/);

      await go(page, "year");
      await unfold(page);
      const rows = page.getByLabel("Paste twelve rows");
      for (const [typed, why] of [
        ["", /nothing to read/],
        ["1 2\n3 4", /twelve minima and twelve maxima are needed/],
        [Array(12).fill("low high").join("\n"), /twelve minima/],
        [Array(12).fill("60 90").join("\n"), /looks like °F/],
        ["month;minimum_c\n1;12", /maximum_c/],
        [Array.from({ length: 12 }, (_, i) => (i === 6 ? "20 10" : "10 20")).join("\n"), /twelve minima/],
        [Array.from({ length: 12 }, (_, i) => `${i + 1};10;20;50;${i === 6 ? 40 : 5}`).join("\n"), /July.*0 to 31/],
      ]) {
        await rows.fill(typed);
        await page.getByRole("button", { name: "Use the rows" }).click();
        await assertRefused(rows, why);
      }
      await rows.fill(Array(12).fill("10 20").join("\n"));
      await page.getByRole("button", { name: "Use the rows" }).click();
      await unfold(page);
      await page.getByLabel("Low, Jul, °C").fill("30");
      await page.getByRole("button", { name: "Use these averages" }).click();
      await assertRefused(page.getByLabel("Low, Jul, °C"), /above its maximum/);
      await page.getByLabel("Leave out the wettest months").fill("15");
      await page.getByLabel("Leave out the wettest months").blur();
      await assertRefused(page.getByLabel("Leave out the wettest months"), /0 to 11/);
      const wetDays = page.getByLabel("Leave out months with more wet days than");
      for (const [typed, why] of [["many", /“many” is not a number/], ["40", /“40”.*0 to 31 days/]]) {
        await wetDays.fill(typed);
        await wetDays.blur();
        await assertRefused(wetDays, why);
      }
      await rows.fill(Array.from({ length: 12 }, () => "10;20;50").join("\n"));
      await page.getByRole("button", { name: "Use the rows" }).click();
      await wetDays.fill("10");
      await wetDays.blur();
      await assertRefused(wetDays, /without wet days/);

      await go(page, "plan");
      const make = page.getByRole("button", { name: "Make the plan" });
      await make.click();
      await assertRefused(page.getByLabel("Name of the old colony"), /needed here/);
      await page.getByLabel("Name of the old colony").fill("Lantern");
      for (const [label, typed, why] of [
        ["Weight", "heavy", /not a number/],
        ["Weight", "500", /“500”.*100 kg/],
        ["Last divided", "-2", /“-2”.*600 months/],
      ]) {
        await page.getByLabel(label).fill(typed);
        await make.click();
        await assertRefused(page.getByLabel(label), why);
        await page.getByLabel(label).fill("");
      }
      await make.click();
      await page.locator(".task-list").waitFor();
      await unfold(page);
      const first = page.locator(".task").first();
      await first.getByLabel("Done on").fill("2027-01-01");
      await first.getByRole("button", { name: "It is done" }).click();
      await assertRefused(first.getByLabel("Done on"), /still to come/);
      await first.getByLabel("Done on").fill("");
      await first.getByRole("button", { name: "It is done" }).click();
      await assertRefused(first.getByLabel("Done on"), /whole date/);
      const own = first.getByLabel("Put it on a date of your own");
      await own.fill("2026-01-01");
      await first.getByRole("button", { name: "Put it there" }).click();
      await assertRefused(own, /before today/);
      await page.getByRole("button", { name: "Write it down" }).click();
      assert.match(await page.locator("main").innerText(), /Tick a sign/);
      await page.getByLabel("Seen on").fill("2027-05-05");
      await page.getByRole("button", { name: "Write it down" }).click();
      await assertRefused(page.getByLabel("Seen on"), /still to come/);

      await go(page, "device");
      const file = page.getByLabel("Read such a file back");
      for (const [text, why] of [["{", /not JSON/], ['{"version": 1}', /keep/], ["[]", /not as it should be/]]) {
        await file.setInputFiles({ name: "a.json", mimeType: "application/json", buffer: Buffer.from(text) });
        await page.waitForFunction(() => document.querySelector('[aria-invalid="true"]'));
        await assertRefused(file, why);
      }
      await end();
    });

    for (const theme of ["light", "dark"]) {
      test(`axe-core finds nothing on any view, ${theme}`, async () => {
        const { page, end } = await visit(host, { width, now: noon, theme });
        assert.deepEqual(await audit(page), [], "first visit");
        await page.getByRole("button", { name: "Use this place" }).click(); // errors are shown
        assert.deepEqual(await audit(page), [], "errors");
        await enterPlace(page, yard);
        await pasteForecast(page, demo("forecast.csv"));
        await makePlan(page);
        for (const view of views) {
          await go(page, view);
          assert.equal(await page.evaluate(() => document.documentElement.dataset.theme), theme);
          assert.deepEqual(await audit(page), [], view);
          await unfold(page);
          assert.deepEqual(await audit(page), [], `${view}, unfolded`);
          const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
          assert(wide <= 0, `${view} is ${wide} px too wide`);
        }
        await end();
      });
    }
  });
}

test("the place from the device, and a refusal", async () => {
  const allowed = await visit(host, { now: noon, permissions: ["geolocation"], geolocation: { latitude: -25.53, longitude: 152.7, accuracy: 20 } });
  await allowed.page.getByRole("button", { name: "Where I am now" }).click();
  await allowed.page.locator(".steps").waitFor();
  await go(allowed.page, "place");
  assert.equal(await allowed.page.getByLabel("Town or coordinates").inputValue(), "-25.53, 152.7");
  assert.equal(await allowed.page.getByLabel("Time zone").inputValue(), "Australia/Sydney", "the device's zone");
  await allowed.end();
  const refused = await visit(host, { now: noon, permissions: [] });
  await refused.page.getByRole("button", { name: "Where I am now" }).click();
  await refused.page.locator('[aria-invalid="true"]').waitFor();
  await assertRefused(refused.page.getByLabel("Town or coordinates"), /may not tell|could not tell/);
  await refused.end();
});

test("the zone is found from the coordinates", async () => {
  const { page, end } = await visit(host, { now: noon });
  // Zones as the IANA database has them, on both sides of a border of zones.
  for (const [coordinates, zone] of [
    ["-28.1, 153.4", "Australia/Brisbane"],
    ["-28.26, 153.57", "Australia/Sydney"],
    ["-3.1, -60.0", "America/Manaus"],
    ["3.14, 101.69", "Asia/Kuala_Lumpur"],
  ]) {
    await page.getByLabel("Town or coordinates").fill(coordinates);
    await page.getByLabel("Town or coordinates").blur();
    await page.waitForFunction((wanted) => document.querySelector("input[list]").value === wanted, zone);
  }
  await end();
});

test("a hive goes to a new place: in stages, by a stay far off, or away from its parent; each is a plan", async () => {
  const { page, end } = await visit(host, { now: noon });
  await page.getByLabel("Keep what I enter").check();
  await enterPlace(page, yard);
  await page.getByText("To a new place").click();
  await page.getByLabel("Which hive").fill("Kurrajong");
  await page.getByLabel("From here to there").fill("3");
  await page.getByLabel("Turn of the entrance").fill("-60");
  await page.getByRole("button", { name: "Reckon the dates" }).click();
  await page.locator(".view-plan .course").waitFor();
  assert.match(await page.locator(".course h2").innerText(), /In stages, at dawn/);
  const site = { latitudeDeg: -28.81, longitudeDeg: 153.28, elevationM: 12, zone: "Australia/Sydney" };
  const asked = (method, wanted) => plan({ site, today: "2026-09-13", method, colony: { name: "Kurrajong" }, wanted }).tasks.map(({ dates: { best } }) => best).sort();
  const dates = async () => (await page.locator(".tasks .task-date b").allInnerTexts()).map((date) => new Date(`${date} 2026 UTC`).toISOString().slice(0, 10));
  const staged = asked({ kind: "move", distanceM: 3, totalTurnDeg: -60 }, "2026-09-14");
  assert.deepEqual(await dates(), staged);
  assert.match(await task(page, "(6 of 6)").innerText(), /to 3 m in all/);
  assert.equal(await page.getByText("Write down what you saw").count(), 0, "a move has no signs of a queen");

  // It is ticked off, taken along and put on paper like any plan.
  await task(page, "(1 of 6)").getByText("Why, how, source").click();
  await task(page, "(1 of 6)").getByText("Tick off").waitFor();
  const { text } = await downloaded(page, () => page.getByRole("button", { name: "Calendar (.ics)" }).click());
  const events = new ICAL.Component(ICAL.parse(text)).getAllSubcomponents("vevent");
  assert.equal(events.length, staged.length);
  assert(events.every((event) => /^Kurrajong/.test(event.getFirstPropertyValue("summary"))), text);
  assert(events.some((event) => event.getFirstSubcomponent("valarm")), "it rings before");
  assert.equal(await page.getByText("Where practice differs").count(), 1);
  await page.emulateMedia({ media: "print" });
  assert.equal(await page.locator(".sheet .tick-box").count(), staged.length);
  assert([...(await page.pdf({ format: "A4" })).toString("latin1").matchAll(/\/Type\s*\/Page\b/g)].length <= 2);
  await page.emulateMedia({ media: "screen" });

  // The year keeps its last safe date: that of a division.
  await go(page, "year");
  const { outcome } = lastSafe({ site, today: "2026-09-13", method: "split" });
  const words = page.locator(".view-year details").filter({ hasText: "The picture in words" });
  assert.match(await words.textContent(), new RegExp(`last safe.*${Number(outcome.windows[0].lastSafe.slice(8))} `, "i"));
  await go(page, "plan");

  // It is there again, and moves with the weather.
  await page.reload();
  await page.locator(".view-plan .course").waitFor();
  assert.deepEqual(await dates(), staged);
  const rain = Array.from({ length: 6 }, (_, i) => `2026-09-${14 + i},10,14,30`);
  await pasteForecast(page, ["date,minimum_c,maximum_c,rain_mm", ...rain].join("\n"));
  await go(page, "plan");
  assert(new Date(`${await dateOf(page, "(1 of 6)")} 2026 UTC`) >= new Date("2026-09-20"), await dateOf(page, "(1 of 6)"));
  await page.locator(".moved").waitFor();

  await page.getByText("Change the facts and settings").click();
  await page.getByLabel("From here to there").fill("100");
  await page.getByRole("button", { name: "Plan anew" }).click();
  await page.getByText("By a stay far off, and back").waitFor();
  assert.match(await page.locator(".tasks").innerText(), /Take the hive 1500 m away or more/);

  await go(page, "dawn");
  await page.getByText("To a new place").click();
  await page.getByRole("radio", { name: "A new box" }).check();
  await page.getByLabel("Set before its parent's entrance on").fill("2026-11-02");
  await page.getByText("Own lengths and waiting times").click();
  await page.getByLabel("Stands at last from the spot").fill("1.5");
  await page.getByLabel("Stands at last from the spot").blur();
  await page.getByLabel("Stands before the parent's entrance").fill("9");
  await page.getByLabel("Stands before the parent's entrance").blur();
  await page.getByRole("button", { name: "Reckon the dates" }).click();
  await page.getByText("From the parent's entrance to its own place").waitFor();
  await page.getByText("Lengths and waiting times, and").click();
  assert.match(await page.locator(".course .sources").first().innerText(), /9 days\s+your own number/);
  assert.equal(await page.getByLabel("Which plan").locator("option").count(), 3);
  await page.getByText("Remove this plan").click();
  await page.getByRole("button", { name: "Remove the plan and its records" }).click();
  await page.getByText("By a stay far off, and back").waitFor();
  await end();
});

/** The three states as the page calls them: a closed season closes no hive. */
const months12 = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];
const dividing = { good: "good", at_risk: "at risk", closed: "no dividing" };

test("the year is told stretch by stretch, in three states", async () => {
  const { page, end } = await visit(host, { now: noon });
  await enterPlace(page, yard);
  await go(page, "year");
  const { states } = season({
    site: { latitudeDeg: -28.81, longitudeDeg: 153.28, elevationM: 12, zone: "Australia/Sydney" },
    first: "2026-09-13",
    last: "2027-09-12",
  });
  assert(states.length > 2);
  const said = await page.locator(".stretches b").allInnerTexts();
  assert.deepEqual(said, states.map(({ state }) => dividing[state]));
  const first = await page.locator(".stretches > li").first().innerText();
  assert.match(first, new RegExp(`${states[0].days} days?`));
  await end();
});

test("the answer for this year comes first, what is published is folded behind it, and the wet months are left out by one tap", async () => {
  const { page, end } = await visit(host, { now: noon });
  await enterPlace(page, yard);
  await go(page, "year");
  const { published: [first], states: [today], outcome } = season({ site: { latitudeDeg: -28.81, longitudeDeg: 153.28, elevationM: 12, zone: "Australia/Sydney" }, first: "2026-09-13", last: "2027-09-12" });
  assert.match((await page.locator(".view-year section").evaluateAll((all) => all.map((one) => one.className)))[0], /^windows /);
  const answer = (await page.locator(".windows").innerText()).replace(/\s+/g, " ");
  const date = (day) => `${Number(day.slice(8))} ${months12[Number(day.slice(5, 7)) - 1]} ${day.slice(0, 4)}`;
  assert(answer.startsWith(`Today, 13 Sep 2026: ${dividing[today.state]} until ${date(today.last)}.`), answer);
  const { outcome: safe } = lastSafe({ site: { latitudeDeg: -28.81, longitudeDeg: 153.28, elevationM: 12, zone: "Australia/Sydney" }, today: "2026-09-13", method: "split" });
  assert(answer.includes(`Begin by ${date(safe.windows[0].lastSafe)}: Split.`), answer);
  assert(answer.includes(`${date(outcome.windows[0].opens)} – ${date(outcome.windows[0].closes)}`), answer);
  const published = page.locator(".published");
  assert.equal(await published.locator("details").evaluate((one) => one.open), false);
  await published.locator("summary").click();
  assert((await published.innerText()).includes(first.said.text));

  const far = { latitudeDeg: -3.1, longitudeDeg: -60, elevationM: 60, zone: "America/Manaus" };
  await go(page, "place");
  await page.getByRole("button", { name: "Another place" }).click();
  await enterPlace(page, { coordinates: "-3.1, -60.0", elevation: "60", name: "Upriver" });
  await page.locator(".steps").waitFor();
  await go(page, "year");
  const told = async () => page.locator(".stretches b").allInnerTexts();
  const words = ({ states }) => states.map(({ state }) => dividing[state]);
  const before = season({ site: far, first: "2026-09-12", last: "2027-09-11" });
  const months = before.rain.wetMonths.length;
  const after = season({ site: far, first: "2026-09-12", last: "2027-09-11", settings: { barWettestMonths: months } });
  assert.notDeepEqual(words(after), words(before));
  assert.deepEqual(await told(), words(before));
  const leave = page.getByRole("button", { name: "Leave out the wet months" });
  await leave.click();
  assert.equal(await leave.getAttribute("aria-pressed"), "true");
  assert.deepEqual(await told(), words(after));
  await page.getByText("How careful").click();
  assert.equal(await page.getByLabel("Leave out the wettest months").inputValue(), String(months));
  await leave.click();
  assert.deepEqual(await told(), words(before));
  await end();
});

test("months with many wet days are left out of the year", async () => {
  const { page, end } = await visit(host, { now: noon });
  await enterPlace(page, { coordinates: "-3.1, -60.0", elevation: "60", name: "Upriver" });
  await go(page, "year");
  assert.match(await page.locator(".windows").innerText(), /Good all year/);
  await page.getByText("How careful").click();
  const most = page.getByLabel("Leave out months with more wet days than");
  await most.fill("15");
  await most.blur();
  assert.match(await page.locator(".windows").textContent(), /more than 15 wet days/);
  const { outcome } = season({
    site: { latitudeDeg: -3.1, longitudeDeg: -60, elevationM: 60, zone: "America/Manaus" },
    first: "2026-09-12",
    last: "2027-09-11",
    settings: { mostWetDays: 15 },
  });
  assert.equal(await page.locator(".windows .window-dates").count(), outcome.windows.length);
  await page.getByText("The rules of the season").click();
  const usual = parameters().find(({ group, name }) => group === "season" && name === "chance").number.value;
  assert.match(await page.locator(".sources").last().innerText(), new RegExp(`in how many years.*${100 * usual} of 100 years`, "is"));
  assert.match(await page.locator(".sources").last().innerText(), /Few wet days at most 15 wet days in the month/is);
  await most.fill("0");
  await most.blur();
  assert.match(await page.locator(".windows").innerText(), /No season.*more than 0 wet days/s);
  await most.fill("");
  await most.blur();
  assert.match(await page.locator(".windows").innerText(), /Good all year/);

  // Own normals bring wet days of their own.
  const own = Array.from({ length: 12 }, (_, month) => `${month + 1};22;31;200;${month < 6 ? 20 : 5}`);
  await page.getByText("Your own monthly averages").click();
  await page.getByLabel("Paste twelve rows").fill(own.join("\n"));
  await page.getByRole("button", { name: "Use the rows" }).click();
  assert.match(await page.locator(".view-year").innerText(), /By your averages: Jan 20, .* Jul 5,/);
  await most.fill("10");
  await most.blur();
  assert.match((await page.locator(".windows .window-dates").first().innerText()).replace(/\s+/g, " "), /– 31 Dec 2026/);
  await end();
});

test("a setting of a plan is asked for where it matters, for the bees and beside the others", async () => {
  const { page, end } = await visit(host, { now: noon });
  await enterPlace(page, yard);
  await go(page, "plan");
  await unfold(page);
  const questions = () => page.locator(".setting legend").allInnerTexts();
  for (const bees of ["generic_small", "generic_large"]) {
    await page.getByLabel("Bees", { exact: true }).selectOption(bees);
    const { buildsQueenCells } = bee(bees);
    const { settings } = methods().find(({ name }) => name === "split");
    const of = (name) => settings.find((one) => one.name === name).question;
    const asked = await questions();
    assert.equal(asked.includes(of("queen_cells")), buildsQueenCells, bees);
    assert(asked.includes(of("stages")) && !asked.includes(of("stay_away")));
  }
  const { settings } = methods().find(({ name }) => name === "split");
  const away = settings.find(({ name }) => name === "place").options.find(({ name }) => name === "away");
  await page.getByRole("radio", { name: away.words }).check();
  assert((await questions()).includes(settings.find(({ name }) => name === "stay_away").question));
  await end();
});

test("degrees Fahrenheit and feet, in and out", async () => {
  const { page, end } = await visit(host, { now: noon });
  await enterPlace(page, yard);
  const metric = await page.locator(".weather").first().innerText();
  await go(page, "device");
  await page.getByRole("radio", { name: "°F" }).check();
  await page.getByRole("radio", { name: "feet" }).check();
  await go(page, "dawn");
  const other = await page.locator(".weather").first().innerText();
  const [low, high] = other.match(/-?\d+(?= °F)/g).map(Number);
  const [lowC, highC] = metric.match(/-?\d+(?= °C)/g).map(Number);
  // Both are rounded to whole degrees: by up to 0.5 °C, which is 0.9 °F, and by 0.5 °F.
  const alike = (f, c) => Math.abs(f - (c * 9) / 5 - 32) <= 0.9 + 0.5;
  assert(alike(low, lowC) && alike(high, highC), `${metric} ${other}`);
  await unfold(page);
  // Sources are quoted as they were published.
  const said = await page.evaluate(() => {
    const copy = document.querySelector("main").cloneNode(true);
    for (const source of copy.querySelectorAll("dd, .hint, .basis")) source.remove();
    return copy.textContent;
  });
  assert.match(said, /\d °F/);
  assert.doesNotMatch(said, /\d °C/);
  await page.getByLabel("Low, Mon 14 Sep, °F").fill("41");
  await page.getByLabel("High, Mon 14 Sep, °F").fill("77");
  await page.getByRole("button", { name: "Use these days" }).click();
  assert.match(await page.locator(".weather").first().innerText(), /41 °F to 77 °F/);
  const flyFrom = page.getByLabel("Bees usually fly from");
  await flyFrom.fill("200");
  await flyFrom.blur();
  await assertRefused(flyFrom, /“200”.*41 to 86 °F/);
  await go(page, "place");
  assert.equal(await page.getByLabel("Height above the sea, ft").inputValue(), "39.3701");
  await end();
});

test("several places and plans stand side by side, and go one by one", async () => {
  const { page, end } = await visit(host, { now: noon });
  await enterPlace(page, yard);
  await makePlan(page);
  await go(page, "place");
  await page.getByRole("button", { name: "Another place" }).click();
  await enterPlace(page, { coordinates: "-3.1, -60.0", elevation: "60", name: "Upriver" });
  await page.locator(".steps").waitFor();
  await go(page, "plan");
  assert.equal(await page.locator("h1").innerText(), "A new colony");
  await page.getByLabel("Place", { exact: true }).selectOption({ label: "Quoll Creek" });
  await page.locator(".task-list").waitFor();
  await page.getByLabel("Which plan").selectOption({ label: "+ another plan" });
  await makePlan(page, { name: "Ember", daughter: "" });
  assert.equal(await page.getByLabel("Which plan").locator("option").count(), 3);
  await page.getByText("Remove this plan").click();
  await page.getByRole("button", { name: "Remove the plan and its records" }).click();
  assert.equal(await page.getByLabel("Which plan").locator("option").count(), 2);
  await go(page, "place");
  await page.getByText("Remove this place").click();
  await page.getByRole("button", { name: "Remove Quoll Creek" }).click();
  assert.equal(await page.locator(".place-list strong").allInnerTexts().then((all) => all.join()), "Upriver");
  await end();
});

test("long names fit, and dates of other years have their year", async () => {
  const { page, end } = await visit(host, { now: noon });
  const long = "Donaudampfschifffahrtsgesellschaftskapitänsmützenkolonie";
  await enterPlace(page, { ...yard, name: `${long}.` });
  await makePlan(page, { name: long, daughter: `${long}s` });
  assert.match(await page.locator(".task-list > li").last().locator(".task-date b").innerText(), /^\w{3} \d+ \w{3} 20(27|28)$/);
  for (const view of views) {
    await go(page, view);
    await unfold(page);
    const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
    assert(wide <= 0, `${view} is ${wide} px too wide`);
  }
  await end();
});

test("keys go on from where something was done", async () => {
  const { page, end } = await visit(host, { now: noon });
  const at = () => page.evaluate(() => document.activeElement.textContent);
  await enterPlace(page, yard);
  await pasteForecast(page, demo("forecast.csv"));
  await page.getByRole("button", { name: "Drop the forecast" }).click();
  assert(await page.getByLabel("Paste what you copied").evaluate((one) => one === document.activeElement && one.value === ""));
  assert(await page.getByRole("button", { name: "Drop the forecast" }).isHidden());
  await makePlan(page);
  await page.locator(".task").first().getByText("Tick off").click();
  await page.locator(".task").first().getByRole("button", { name: "It is done" }).click();
  assert.equal(await at(), "Tasks");
  await page.getByText("Write down what you saw").click();
  await page.getByLabel("Note").fill("calm");
  await page.getByRole("button", { name: "Write it down" }).click();
  assert.equal(await at(), "Where it stands");
  await go(page, "place");
  await page.getByRole("button", { name: "Another place" }).click();
  assert.equal(await at(), "Where do the hives stand?");
  await go(page, "device");
  await page.getByText("Erase everything").first().click();
  await page.getByRole("button", { name: "Yes, erase everything" }).click();
  await page.getByText("Erased from this browser").waitFor();
  assert.match(await at(), /^Erased/);
  await end();
});

test("on paper stand the tasks and the picture, without buttons", async () => {
  const { page, end } = await visit(host, { now: noon, theme: "dark" });
  await enterPlace(page, yard);
  await makePlan(page);
  await page.emulateMedia({ media: "print" });
  assert(await page.locator(".sheet table").isVisible());
  assert(await page.locator(".picture").isVisible());
  assert.equal(await page.locator("button:visible, nav:visible, form:visible").count(), 0);
  assert.equal(await page.evaluate(() => getComputedStyle(document.body).backgroundColor), "rgb(255, 255, 255)");
  await page.emulateMedia({ media: "screen" });
  await go(page, "year");
  await unfold(page);
  await page.emulateMedia({ media: "print" });
  assert.equal(await page.locator("input:visible, textarea:visible, select:visible").count(), 0);
  await end();
});

test("everything is reached and worked by keys alone", async () => {
  const { page, end } = await visit(host, { now: noon, width: 1280 });
  const type = async (label, text) => {
    for (let i = 0; i < 60; i += 1) {
      const here = await page.evaluate(() => document.activeElement?.labels?.[0]?.textContent ?? document.activeElement?.textContent ?? "");
      if (here.startsWith(label)) {
        if (text !== undefined) await page.keyboard.type(text);
        return;
      }
      await page.keyboard.press("Tab");
    }
    assert.fail(`no ${label} by Tab`);
  };
  await type("Town or coordinates", "-28.81, 153.28");
  await type("Use this place");
  await page.keyboard.press("Enter");
  await page.locator(".steps").waitFor();
  assert.equal(await page.evaluate(() => document.activeElement.id), "main", "the new view has the focus");
  await type("Why these times");
  await page.keyboard.press("Enter");
  assert(await page.locator(".focus details").evaluate((one) => one.open));
  await page.evaluate(() => document.activeElement.blur());
  await type("Tasks");
  await page.keyboard.press("Enter");
  await page.locator(".view-tasks").waitFor();
  await type("Plan a new colony");
  await page.keyboard.press("Enter");
  await type("Name of the old colony", "Lantern");
  await page.keyboard.press("Enter");
  await page.locator(".task-list").waitFor();
  await end();
});
