// Calendars, read again with ical.js, and the pictures of the Rust tests.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { describe, test } from "node:test";

import ICAL from "ical.js";

import * as almanac from "apiary-almanac";

const project = new URL("../../", import.meta.url);
const text = (file) => readFileSync(new URL(file, project), "utf8");
const demo = () => JSON.parse(text("core/tests/pictures/invented-plan.json"));
const stamp = "2026-09-13T08:00:00+10:00";
const written = (...plans) =>
  JSON.parse(almanac.ask(JSON.stringify({ ask: "calendar", plans, stamp, sequence: 4 }))).ics;

const titles = [
  'commas, semicolons; back\\slashes \\n and "quotes"',
  "two\nlines",
  "a bee \u{1F41D} and a family \u{1F468}\u200d\u{1F469}\u200d\u{1F467}",
  "افحص الملكة اليوم",
  "=HYPERLINK(1)",
  "<b>&amp;</b> ]]>",
  "蜂の巣を動かす",
  "A title of two hundred letters ".repeat(7),
];

const minute = 60_000;
/** Drawn in to whole minutes, so that the window does not grow. */
const wholeMinutes = ({ from, until }) => [
  Math.ceil(Date.parse(from) / minute) * minute,
  Math.floor(Date.parse(until) / minute) * minute,
];

const boxName = ({ parent_name: old, daughter_name: fresh }, which) => ({
  parent: old ?? "old box",
  daughter: fresh ?? (old ? `new box of ${old}` : "new box"),
  pair: old && fresh ? `${old} + ${fresh}` : old ?? "both boxes",
})[which];

function check(ics, plan) {
  for (const line of ics.split("\r\n")) {
    assert(Buffer.byteLength(line) <= 75 && !/[\r\n]/.test(line), line);
  }
  const calendar = new ICAL.Component(ICAL.parse(ics));
  // Only what the file itself says of its zones.
  ICAL.TimezoneService.reset();
  for (const zone of calendar.getAllSubcomponents("vtimezone")) {
    ICAL.TimezoneService.register(new ICAL.Timezone(zone));
  }
  const events = calendar.getAllSubcomponents("vevent").map((event) => new ICAL.Event(event));
  const byUid = new Map(events.map((event) => [event.uid, event]));
  assert.equal(byUid.size, events.length);
  assert.equal(events.length, plan.tasks.length);
  for (const task of plan.tasks) {
    const event = byUid.get(`${plan.id}.${task.id}@apiary-almanac`);
    const done = task.state.kind === "done";
    assert.equal(event.summary, `${boxName(plan, task.which)}: ${done ? "done: " : ""}${task.title}`);
    assert.equal(event.sequence, 4);
    const status = event.component.getFirstPropertyValue("status");
    assert.equal(status, task.state.kind === "dropped" ? "CANCELLED" : "CONFIRMED");
    const moments = [event.startDate, event.endDate];
    if (task.window) {
      assert.deepEqual(moments.map((at) => at.toUnixTime() * 1000), wholeMinutes(task.window));
    } else {
      const date = done ? task.state.on : task.dates.best;
      assert(event.startDate.isDate);
      assert.equal(event.startDate.toString(), date);
      assert.equal(event.duration.toSeconds(), 86_400);
    }
    const alarms = event.component.getAllSubcomponents("valarm");
    // A move at dawn rings in the evening before and on the morning itself.
    const rings = task.kind === "move" && task.window ? 2 : 1;
    assert.equal(alarms.length, task.state.kind === "planned" ? rings : 0);
  }
}

test("the demo comes back, with awkward titles", () => {
  const plan = demo();
  check(written(plan), plan);
  for (const [i, title] of titles.entries()) plan.tasks[i].title = title;
  check(written(plan), plan);
});

test("a calendar for each hive and keeper, with tasks that may never be needed", () => {
  const site = { latitudeDeg: -28.81, longitudeDeg: 153.28, elevationM: 12, zone: "Australia/Sydney" };
  const records = [{ date: "2026-10-03", task: "divide" }];
  const plans = [["Ines", "Hive 1"], ["Ines", "Hive 2"], ["Tom", "Hive 1"]].map(([keeper, name]) =>
    almanac.plan({ site, today: "2026-11-20", method: "split", colony: { name }, keeper, records }));
  const { ics, calendars } = almanac.calendar({ plans, stamp, per: "keeper" });
  assert.deepEqual(calendars.map(({ name }) => name), ["Ines", "Tom"]);
  const eventsOf = (file) => new ICAL.Component(ICAL.parse(file)).getAllSubcomponents("vevent");
  const titles = eventsOf(ics).map((event) => event.getFirstPropertyValue("summary").slice(0, 28));
  assert(titles.every((title) => /^(Tom Hive 1|(new box of )?Hive [12]|.*…)/.test(title)), titles.join("\n"));
  let conditional = 0;
  for (const event of calendars.flatMap(({ ics: one }) => eventsOf(one))) {
    if (event.getFirstPropertyValue("status") !== "TENTATIVE") continue;
    conditional += 1;
    assert.equal(event.getFirstPropertyValue("transp"), "TRANSPARENT");
    assert.equal(event.getAllSubcomponents("valarm").length, 0);
  }
  // Those of the next 14 days.
  const near = plans.flatMap(({ tasks }) => tasks).filter(({ onlyIf, dates }) => onlyIf && dates.best <= "2026-12-04");
  assert(near.length > 0);
  assert.equal(conditional, near.length);
});

describe("dawns around clock changes come back", () => {
  const at = {
    "Australia/Sydney": { latitude_deg: -28.81, longitude_deg: 153.28 },
    "America/Sao_Paulo": { latitude_deg: -23.55, longitude_deg: -46.63 },
    "Pacific/Apia": { latitude_deg: -13.83, longitude_deg: -171.77 },
    "Asia/Manila": { latitude_deg: 14.17, longitude_deg: 121.24 },
  };
  const dawns = {
    "Australia/Sydney": [
      ["2026-10-03", "06:00:00+10:00", "07:00:00+10:00"],
      ["2026-10-04", "06:00:00+11:00", "07:00:00+11:00"],
      ["2026-04-05", "02:10:00+11:00", "06:00:00+10:00"],
      ["2027-04-04", "02:10:00+10:00", "02:50:00+10:00"],
    ],
    "America/Sao_Paulo": [
      ["2018-02-17", "05:00:00-02:00", "06:00:00-02:00"],
      ["2018-02-18", "05:00:00-03:00", "06:00:00-03:00"],
    ],
    "Pacific/Apia": [
      ["2011-12-29", "06:00:00-10:00", "07:00:00-10:00"],
      ["2011-12-31", "06:00:00+14:00", "07:00:00+14:00"],
    ],
    "Asia/Manila": [["2026-02-01", "05:40:00+08:00", "06:10:00+08:00"]],
  };
  for (const [zone, days] of Object.entries(dawns)) {
    test(zone, () => {
      const plan = demo();
      const move = plan.tasks.find((task) => task.kind === "move");
      Object.assign(plan.site, { zone, ...at[zone] });
      plan.tasks = days.map(([date, from, until]) => ({
        ...move,
        id: `dawn-${date}`,
        dates: { earliest: date, best: date, latest: date },
        window: { from: `${date}T${from}`, until: `${date}T${until}` },
      }));
      check(written(plan), plan);
    });
  }
});

test("the pictures are those of Rust", () => {
  const plan = demo();
  const picture = JSON.parse(almanac.ask(JSON.stringify({ ask: "plan_picture", plan })));
  assert.equal(picture.svg, text("core/tests/pictures/plan-invented.svg"));
  const year = almanac.yearPicture({
    site: { latitudeDeg: 27.1, longitudeDeg: -109.9, elevationM: 20, zone: "America/Hermosillo" },
    today: "2026-12-31",
    first: "2026-03-01",
    lastSafe: "2026-08-30",
  });
  assert.equal(year.svg, text("core/tests/pictures/year-northern.svg"));
});

test("the coming dawns come back with their hours", () => {
  const site = { latitudeDeg: -28.81, longitudeDeg: 153.28, elevationM: 12, zone: "Australia/Sydney" };
  const mornings = almanac.mornings({ site, first: "2026-10-01", days: 8 });
  mornings[0].morning.verdict = "no";
  const { ics } = almanac.morningsCalendar({ site, mornings, place: "Garden", boxName: "Saltbush", stamp });
  const calendar = new ICAL.Component(ICAL.parse(ics));
  ICAL.TimezoneService.reset();
  for (const zone of calendar.getAllSubcomponents("vtimezone")) ICAL.TimezoneService.register(new ICAL.Timezone(zone));
  const events = calendar.getAllSubcomponents("vevent").map((event) => new ICAL.Event(event));
  const found = new Map(events.map((event) => [event.uid, event]));
  assert.equal(found.size, mornings.length - 1);
  for (const { morning } of mornings.slice(1)) {
    const event = found.get(`garden-saltbush-dawns.${morning.date}@apiary-almanac`);
    assert.deepEqual([event.startDate, event.endDate].map((at) => at.toUnixTime() * 1000), wholeMinutes(morning.window));
    assert.equal(event.component.getFirstPropertyValue("status"), morning.verdict === "careful" ? "TENTATIVE" : "CONFIRMED");
    assert.equal(event.component.getAllSubcomponents("valarm").length, 2);
    assert(event.description.includes(`close the entrance from ${morning.eveningBefore.fromClock}`), event.description);
  }
});
