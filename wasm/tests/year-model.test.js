// The twelve months of a year in three states, as the page shows them.

import assert from "node:assert/strict";
import { test } from "node:test";

import { season } from "apiary-almanac";

import { monthsOf, publishedFirst, safeLines, todayOf } from "../page/src/year-model.js";

const site = { latitudeDeg: -28.81, longitudeDeg: 153.28, elevationM: 12, zone: "Australia/Sydney" };

test("each day of twelve months has the state that the engine gives it", () => {
  for (const today of ["2026-09-13", "2027-12-31", "2028-02-01"]) {
    const last = new Date(Date.parse(`${today}T00:00:00Z`) + 364 * 86_400_000).toISOString().slice(0, 10);
    const { states } = season({ site, first: today, last });
    const months = monthsOf(states, today, {});
    assert.equal(months.length, 12);
    for (const { year, month, days, parts } of months) {
      assert.equal(days, new Date(Date.UTC(year, month + 1, 0)).getUTCDate());
      for (let day = 1; day <= days; day += 1) {
        const date = new Date(Date.UTC(year, month, day)).toISOString().slice(0, 10);
        const wanted = states.find((one) => one.first <= date && date <= one.last)?.state;
        assert.equal(parts.find(({ from, to }) => from <= day && day <= to)?.state, wanted, date);
      }
    }
    assert.equal(months[0].parts[0].from, Number(today.slice(8)));
  }
});

test("today is what its stretch is, until that ends", () => {
  const { states } = season({ site, first: "2026-09-13", last: "2027-09-12" });
  assert.deepEqual(todayOf(states, "2026-09-13"), { state: states[0].state, until: states[0].last });
  assert.deepEqual(todayOf(states, states[1].first), { state: states[1].state, until: states[1].last });
  assert.equal(todayOf(states, "2026-09-12"), null);
});

test("rain stands with its own month", () => {
  const rainMm = Array.from({ length: 12 }, (_, month) => month * 10);
  const months = monthsOf([], "2026-11-02", { rainMm });
  assert.deepEqual(months.map(({ month, rainMm: mm, wetDays }) => [month, mm, wetDays]).slice(0, 3), [[10, 100, null], [11, 110, null], [0, 0, null]]);
});

test("ways with the same last date share a line, in the order in which they came", () => {
  const safe = [["Split", "2027-02-28", false], ["Soft split", "2027-02-28", false], ["Bud", null, true], ["Swarm box", null, false]].map(([label, last, open]) => ({ label, last, open, reasons: [] }));
  assert.deepEqual(safeLines(safe).map(({ labels, last, open }) => [labels.join("+"), last, open]), [["Split+Soft split", "2027-02-28", false], ["Bud", null, true], ["Swarm box", null, false]]);
});

test("of what is published the foremost is said first, and one of the bee beside it", () => {
  const row = (name, ofThisBee) => ({ name, ofThisBee });
  const first = (...rows) => publishedFirst({ published: rows }).map(({ name }) => name);
  assert.deepEqual(first(row("a", false), row("b", false), row("c", true), row("d", true)), ["a", "c"]);
  assert.deepEqual(first(), []);
});
