// Tables in typed arrays: the answers of single calls, and how bad columns are refused.

import assert from "node:assert/strict";
import { test } from "node:test";

import { ApiaryError, about, sun, sunTable } from "apiary-almanac";

import { load } from "./vectors.js";

const DAY_MS = 86_400_000;
const unixDay = (date) => Date.parse(`${date}T00:00Z`) / DAY_MS;
const dateOf = (day) => new Date(day * DAY_MS).toISOString().slice(0, 10);
const place = { latitudeDeg: -28.81, longitudeDeg: 153.28 };
const zone = "Australia/Sydney";

/** What a row says, as a single call puts it. */
function row(table, at) {
  const moment = (ms) => (Number.isNaN(ms) ? undefined : ms);
  return [table.stateNames[table.state[at]], moment(table.rise[at]), moment(table.set[at])];
}

function crossing(found) {
  const ms = (instant) => (instant === undefined ? undefined : Date.parse(instant));
  return [found.kind, ms(found.rise), ms(found.set)];
}

test("each row is what a single call says", () => {
  const zones = ["Australia/Lord_Howe", "Asia/Kathmandu", "Africa/Kampala", "Europe/Oslo"];
  const rows = 400;
  const turn = (at, step) => (at * step) % 1;
  const column = (low, high, step) =>
    Float64Array.from({ length: rows }, (_, at) => low + (high - low) * turn(at, step));
  const latitudeDeg = column(-90, 90, 0.618);
  const eastHorizonDeg = column(-5, 45, 0.732);
  const westHorizonDeg = column(-5, 45, 0.236);
  // From 1930: older clocks of these zones differ from UTC by seconds, which no ISO string can hold.
  const dates = Int32Array.from({ length: rows }, (_, at) => -14_610 + Math.floor(62_456 * turn(at, 0.317)));
  const zone = Array.from({ length: rows }, (_, at) => zones[at % zones.length]);
  // Within 40° of each zone's meridian: a single call refuses places whose noon lies far from the clocks'.
  const meridians = [157.5, 86.25, 45, 15];
  const aside = column(-40, 40, 0.414);
  const longitudeDeg = aside.map((degrees, at) => ((meridians[at % zones.length] + degrees + 540) % 360) - 180);
  const given = { latitudeDeg, longitudeDeg, eastHorizonDeg, westHorizonDeg, dates, zone };
  const tables = {
    sun: sunTable(given),
    civil: sunTable({ ...given, event: "civil" }),
    nautical: sunTable({ ...given, event: "nautical" }),
    astronomical: sunTable({ ...given, event: "astronomical" }),
    crossing: sunTable({ ...given, altitudeDeg: 3 }),
  };
  const seen = new Set();
  for (let at = 0; at < rows; at += 1) {
    const site = {
      latitudeDeg: latitudeDeg[at],
      longitudeDeg: longitudeDeg[at],
      elevationM: 0,
      zone: zone[at],
      eastHorizonDeg: eastHorizonDeg[at],
      westHorizonDeg: westHorizonDeg[at],
    };
    const date = dateOf(dates[at]);
    const [day] = sun({ site, first: date, last: date, altitudeDeg: 3 });
    for (const [name, table] of Object.entries(tables)) {
      const expected = crossing(day[name]);
      assert.deepEqual(row(table, at), expected, `${name} of row ${at}`);
      seen.add(expected[0]);
    }
  }
  assert(["rises_and_sets", "always_above", "always_below"].every((kind) => seen.has(kind)));
});

// JPL DE421 through Skyfield; where from and how exact stands in tests/vectors/sun.json.
test("rise and set are those of the ephemeris", () => {
  const file = load().find(({ rows }) => rows.some(({ id }) => id === "sunset-after-midnight"));
  let events = 0;
  for (const { id, request, expect_part: expected } of file.rows) {
    if (!expected) continue;
    const { site } = request;
    const table = sunTable({
      latitudeDeg: site.latitude_deg,
      longitudeDeg: site.longitude_deg,
      dates: expected.map(({ date }) => date),
      zone: site.zone,
    });
    for (const [at, day] of expected.entries()) {
      const [kind, ...moments] = crossing(day.sun);
      const [state, ...found] = row(table, at);
      assert.equal(state, kind, id);
      for (const [which, ms] of moments.entries()) {
        if (ms === undefined) continue;
        assert(Math.abs(found[which] - ms) <= file.about.tolerance.instant_s * 1000, id);
        events += 1;
      }
    }
  }
  assert(events >= 20, `${events} events`);
});

test("every way to give dates says the same", () => {
  const days = [20_625, 20_626, 20_627];
  const tables = [
    Int32Array.from(days),
    Float64Array.from(days),
    days,
    days.map(dateOf),
    { first: dateOf(days[0]), count: 3 },
    { first: days[0], count: 3 },
  ].map((dates) => sunTable({ ...place, zone, dates }));
  for (const table of tables) assert.deepEqual(table, tables[0]);
  assert.deepEqual(row(sunTable({ ...place, zone, dates: dateOf(20_626) }), 0), row(tables[0], 1));
  assert.deepEqual(row(sunTable({ ...place, zone, dates: 20_626 }), 0), row(tables[0], 1));
  assert(tables[0].rise instanceof Float64Array && tables[0].state instanceof Uint8Array);
});

test("one value holds for every row, in every kind of array", () => {
  const latitudes = [-28.5, 0, 28.5];
  const asked = { longitudeDeg: 153.28, dates: "2026-06-21" };
  const expected = latitudes.map((latitudeDeg) => row(sunTable({ ...asked, latitudeDeg }), 0));
  for (const latitudeDeg of [latitudes, Float64Array.from(latitudes), Float32Array.from(latitudes)]) {
    const table = sunTable({ ...asked, latitudeDeg, longitudeDeg: [153.28] });
    assert.deepEqual([0, 1, 2].map((at) => row(table, at)), expected);
  }
});

test("a date that the zone skipped is a state", () => {
  const table = sunTable({
    latitudeDeg: -13.83,
    longitudeDeg: -171.77,
    dates: { first: "2011-12-29", count: 3 },
    zone: "Pacific/Apia",
  });
  assert.deepEqual(Array.from(table.state, (state) => table.stateNames[state]), [
    "rises_and_sets",
    "no_such_day",
    "rises_and_sets",
  ]);
  assert(Number.isNaN(table.rise[1]) && Number.isNaN(table.set[1]));
});

test("without rows the answer is empty, and the rest still refused", () => {
  for (const empty of [{ dates: [] }, { latitudeDeg: new Float64Array() }, { zone: [] }]) {
    const table = sunTable({ ...place, zone, dates: "2026-06-21", ...empty });
    assert.deepEqual([table.state.length, table.rise.length, table.set.length], [0, 0, 0]);
  }
  assert.throws(() => sunTable({ ...place, latitudeDeg: 91, dates: [] }), { field: "latitude_deg" });
  assert.throws(() => sunTable({ ...place, event: "noon", dates: [] }), { field: "event" });
});

test("many rows go block by block, and errors name their place among all", () => {
  const rows = 200_001;
  const dates = Int32Array.from({ length: rows }, (_, at) => 20_454 + (at % 365));
  const table = sunTable({ ...place, dates });
  assert.equal(table.state.length, rows);
  for (const at of [0, 65_535, 65_536, 131_072, 199_999, 200_000]) {
    assert.deepEqual(row(table, at), row(sunTable({ ...place, dates: dates[at] }), 0), `row ${at}`);
  }
  const latitudeDeg = new Float64Array(rows);
  for (const at of [65_536, 196_608, 200_000]) {
    latitudeDeg[at] = 91;
    const field = `latitude_deg[${at}]`;
    assert.throws(() => sunTable({ ...place, latitudeDeg, dates }), { code: "out_of_range", field });
    latitudeDeg[at] = 0;
    dates[at] = 50_000;
    assert.throws(() => sunTable({ ...place, dates }), { code: "out_of_range", field: `dates[${at}]` });
    dates[at] = 20_454;
  }
});

test("bad columns are refused by name and row", () => {
  const good = { ...place, dates: ["2026-06-21", "2026-06-22"] };
  for (const [change, code, field, words] of [
    [{ latitudeDeg: [0, 91] }, "out_of_range", "latitude_deg[1]", /is 91; allowed is -90 to 90/],
    [{ latitudeDeg: -91 }, "out_of_range", "latitude_deg", /is -91; allowed/],
    [{ longitudeDeg: [NaN, 0] }, "out_of_range", "longitude_deg[0]", /is NaN/],
    [{ longitudeDeg: ["153", 0] }, "unreadable", "longitude_deg[0]", /is "153"; allowed is a number/],
    [{ longitudeDeg: undefined }, "unreadable", "longitude_deg", /is undefined/],
    [{ latitudeDeg: BigInt64Array.of(1n, 2n) }, "unreadable", "latitude_deg[0]", /is 1; allowed/],
    [{ westHorizonDeg: [0, 46] }, "out_of_range", "west_horizon_deg[1]", /is 46; allowed/],
    [{ eastHorizonDeg: -6 }, "out_of_range", "east_horizon_deg", /is -6; allowed/],
    [{ latitudeDeg: [1, 2, 3] }, "inconsistent", "dates", /2 values for 3 rows/],
    [{ zone: [zone, zone, zone] }, "inconsistent", "dates", /2 values for 3 rows/],
    [{ zone: "Sydney" }, "unknown_zone", "zone", /Sydney/],
    [{ zone: "" }, "unknown_zone", "zone", /zone/],
    [{ zone: [zone, "Sydney"] }, "unknown_zone", "zone[1]", /Sydney/],
    [{ zone: [zone, null] }, "unreadable", "zone[1]", /null/],
    [{ dates: ["2026-06-21", "2026-02-30"] }, "unreadable", "dates[1]", /"2026-02-30"; allowed is days since/],
    [{ dates: ["2026-06-21", "2101-01-01"] }, "out_of_range", "dates[1]", /2101-01-01; allowed is 1900-01-01 to/],
    [{ dates: "1899-12-31" }, "out_of_range", "dates", /1899-12-31/],
    [{ dates: 1e12 }, "out_of_range", "dates", /2147483647 days/],
    [{ dates: [20_625, 0.5] }, "unreadable", "dates[1]", /is 0.5/],
    [{ dates: new Date() }, "unreadable", "dates", /is an object/],
    [{ dates: { first: "2026-06-21", count: -1 } }, "unreadable", "dates.count", /is -1/],
    [{ dates: { first: "2026-06-21", count: 1e15 } }, "out_of_range", "dates[27222]", /2101-01-01/],
    [{ dates: { first: "today", count: 1 } }, "unreadable", "dates.first", /"today"/],
    [{ dates: { first: 1, count: 1, step: 2 } }, "unreadable", "dates.step", /first, count/],
    [{ latitudeDeg: new Array(2 ** 32 - 1) }, "too_large", "latitude_deg", /4294967295 values; at most/],
    [{ zone: new Array(2 ** 32 - 1) }, "too_large", "zone", /4294967295 values; at most/],
    [{ event: "dawn" }, "unknown_name", "event", /sun, civil/],
    [{ event: 7 }, "unreadable", "event", /is 7/],
    [{ event: "altitude" }, "inconsistent", "altitude_deg", /needed/],
    [{ event: "civil", altitudeDeg: 3 }, "inconsistent", "event, altitude_deg", /its own altitude/],
    [{ altitudeDeg: 90.5 }, "out_of_range", "altitude_deg", /90.5/],
    [{ altitudeDeg: NaN }, "out_of_range", "altitude_deg", /NaN/],
    [{ altitudeDeg: "3" }, "unreadable", "altitude_deg", /"3"/],
    [{ latitudesDeg: 3 }, "unreadable", "latitudesDeg", /latitudeDeg/],
  ]) {
    assert.throws(
      () => sunTable({ ...good, ...change }),
      (error) => {
        assert(error instanceof ApiaryError, error.stack);
        assert.deepEqual([error.code, error.field], [code, field], error.message);
        assert.match(error.message, words);
        return true;
      },
    );
  }
  assert.throws(() => sunTable(), { code: "unreadable", field: "latitude_deg" });
});

test("no strange value traps the engine", () => {
  const strange = [
    null, true, -0, 1e308, 5e-324, NaN, -Infinity, "", "\u0000", "a\nb", "\ud800", "9".repeat(5000), [], {},
    [[[]]], new Date(NaN), new Float64Array([NaN, 1]), new Int32Array([-(2 ** 31), 2 ** 31 - 1]),
    new DataView(new ArrayBuffer(8)), new ArrayBuffer(8), new Uint8Array(3), 7n, Symbol("x"), () => 1,
    [,], { first: 2 ** 31, count: 2 ** 31 }, { length: 2 ** 40 }, new Map(),
  ];
  const fields = ["latitudeDeg", "longitudeDeg", "dates", "event", "altitudeDeg", "eastHorizonDeg", "zone"];
  const codes = about().errorCodes;
  let refused = 0;
  for (const field of fields) {
    for (const value of strange) {
      try {
        sunTable({ ...place, dates: [20_625, 20_626], [field]: value });
      } catch (error) {
        assert(error instanceof ApiaryError && codes.includes(error.code), `${field}: ${error.stack}`);
        refused += 1;
      }
    }
  }
  assert(refused > 100, `${refused} refused`);
  assert.equal(sunTable({ ...place, dates: 20_625 }).state[0], 0);
});
