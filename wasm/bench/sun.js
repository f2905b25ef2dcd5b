// Rise and set of the sun in bulk, beside the npm library suncalc: speed, and distance from an ephemeris.
//
//     wasm/build && npm ci --prefix wasm/bench && node wasm/bench/sun.js
//
// Each figure is the median of rounds in which all take turns, so that other work on the machine
// meets all alike. The season, mornings, plans and a review of one site follow.

import { readFileSync } from "node:fs";

import * as suncalc from "suncalc";

import { mornings, plan, review, season, sunTable } from "../../target/npm/apiary-almanac/index.js";

const ROUNDS = 15;
const DAY_MS = 86_400_000;
const FIRST_DAY = 20_454; // 2026-01-01

const median = (values) => values.toSorted((a, b) => a - b)[values.length >> 1];

/** Median milliseconds of each function, after one call to warm up. */
function timed(functions) {
  const ms = Object.fromEntries(Object.keys(functions).map((name) => [name, []]));
  for (let round = -1; round < ROUNDS; round += 1) {
    for (const [name, run] of Object.entries(functions)) {
      const start = performance.now();
      run();
      if (round >= 0) ms[name].push(performance.now() - start);
    }
  }
  return Object.fromEntries(Object.entries(ms).map(([name, values]) => [name, median(values)]));
}

/** So that no work is left out because nobody looks at it. */
let seen = 0;

// The library works out every pair of times in its list; with the one pair asked for it has least to do.
const everyTime = [...suncalc.times];
const sunriseOnly = everyTime.filter(([, rise]) => rise === "sunrise");
if (sunriseOnly.length !== 1) throw new Error("suncalc has no sunrise of its own");
const useTimes = (times) => suncalc.times.splice(0, Infinity, ...times);

function byLibrary(times, { latitudeDeg, longitudeDeg, dates }) {
  useTimes(times);
  const rise = new Float64Array(dates.length);
  const set = new Float64Array(dates.length);
  for (let row = 0; row < dates.length; row += 1) {
    const noon = new Date(dates[row] * DAY_MS + DAY_MS / 2);
    const found = suncalc.getTimes(noon, latitudeDeg[row], longitudeDeg[row]);
    rise[row] = found.sunrise === null ? NaN : found.sunrise.getTime();
    set[row] = found.sunset === null ? NaN : found.sunset.getTime();
  }
  seen += rise[dates.length - 1] + set[0];
}

function byTable(columns, zone) {
  const { rise, set } = sunTable(zone === undefined ? columns : { ...columns, zone });
  seen += rise[rise.length - 1] + set[0];
}

/** Between 45° south and north: where stingless bees live, and a margin. */
function columns(rows, placeOf, dayOf) {
  const turn = (row, step) => (row * step) % 1;
  return {
    latitudeDeg: Float64Array.from({ length: rows }, (_, row) => -45 + 90 * turn(placeOf(row), 0.618034)),
    longitudeDeg: Float64Array.from({ length: rows }, (_, row) => -180 + 360 * turn(placeOf(row), 0.414214)),
    dates: Int32Array.from({ length: rows }, (_, row) => FIRST_DAY + dayOf(row)),
  };
}

const rows = 100 * 365;
const workloads = {
  "100 sites, each 365 dates": columns(rows, (row) => Math.floor(row / 365), (row) => row % 365),
  "36,500 sites, each one date": columns(rows, (row) => row, (row) => (row * 7919) % 365),
};
console.log(`node ${process.version}, ${process.platform} ${process.arch}`);
for (const [name, given] of Object.entries(workloads)) {
  const ms = timed({
    "sunTable": () => byTable(given),
    "sunTable with a zone": () => byTable(given, "Australia/Sydney"),
    "suncalc, sunrise and sunset only": () => byLibrary(sunriseOnly, given),
    "suncalc as it comes": () => byLibrary(everyTime, given),
  });
  console.log(`\n${name}`);
  for (const [who, took] of Object.entries(ms)) {
    const times = (took / ms.sunTable).toFixed(1);
    console.log(`  ${who}: ${Math.round(rows / took)} pairs/ms, ${Math.round((took / rows) * 1e6)} ns a pair, ${times}`);
  }
}
useTimes(everyTime);

/** The library's event of any neighbouring day that comes closest: which day it counts it to is not asked. */
function closest(name, ms, latitudeDeg, longitudeDeg) {
  let best = Infinity;
  for (const days of [-1, 0, 1]) {
    const found = suncalc.getTimes(new Date(ms + days * DAY_MS), latitudeDeg, longitudeDeg)[name];
    if (found !== null) best = Math.min(best, Math.abs(found.getTime() - ms));
  }
  return best / 1000;
}

function compare(title, cases) {
  const off = { sunTable: [], suncalc: [] };
  for (const { latitudeDeg, longitudeDeg, dates, zone, rise, set } of cases) {
    const table = sunTable({ latitudeDeg, longitudeDeg, dates, ...(zone && { zone }) });
    for (const [ours, theirs, ms] of [["rise", "sunrise", rise], ["set", "sunset", set]]) {
      if (!Number.isFinite(ms)) continue;
      off.sunTable.push(Math.abs(table[ours][0] - ms) / 1000);
      off.suncalc.push(closest(theirs, ms, latitudeDeg, longitudeDeg));
    }
  }
  console.log(`\n${title}: ${off.sunTable.length} events, seconds from JPL DE421`);
  for (const [who, seconds] of Object.entries(off)) {
    const missing = seconds.filter((value) => !Number.isFinite(value)).length;
    const found = seconds.filter(Number.isFinite);
    const rms = Math.sqrt(found.reduce((sum, value) => sum + value ** 2, 0) / found.length);
    console.log(
      `  ${who}: root mean square ${rms.toFixed(3)}, median ${median(found).toFixed(3)}, ` +
        `largest ${Math.max(...found).toFixed(3)}, missing ${missing}`,
    );
  }
}

const read = (path) => readFileSync(new URL(`../../tests/${path}`, import.meta.url), "utf8");
const vectors = JSON.parse(read("vectors/sun.json")).rows.flatMap(({ request, expect_part: days }) =>
  (days ?? []).map(({ date, sun }) => ({
    latitudeDeg: request.site.latitude_deg,
    longitudeDeg: request.site.longitude_deg,
    dates: date,
    zone: request.site.zone,
    rise: Date.parse(sun.rise),
    set: Date.parse(sun.set),
  })),
);
const published = read("published/sun_de421.csv")
  .split("\n")
  .filter((line) => /^-?\d/.test(line))
  .map((line) => line.split(","))
  .filter(([, , , altitude, kind]) => altitude === "-0.8333333333" && kind === "event")
  .map(([latitude, longitude, date, , , rise, set]) => ({
    latitudeDeg: Number(latitude),
    longitudeDeg: Number(longitude),
    dates: date,
    rise: Number(rise) * 1000,
    set: Number(set) * 1000,
  }));
compare("tests/vectors/sun.json", vectors);
compare("tests/published/sun_de421.csv", published);
compare(
  "the same within 40° of the equator",
  published.filter(({ latitudeDeg }) => Math.abs(latitudeDeg) <= 40),
);

const site = { latitudeDeg: -28.81, longitudeDeg: 153.28, elevationM: 12, zone: "Australia/Sydney" };
const colony = { name: "Hive 7", netWeightKg: 3.6, monthsSinceDivision: 20, strength: "strong" };
const records = [
  { date: "2026-08-20", task: "divide" },
  { date: "2026-09-12", signs: [{ kind: "pollen_in", which: "pair" }] },
];
const planned = (method) => plan({ site, today: "2026-09-13", method, colony });
const single = timed({
  season: () => season({ site, first: "2026-01-01", last: "2026-12-31" }),
  mornings: () => mornings({ site, first: "2026-09-14", days: 10 }),
  "plan, split": () => planned("split"),
  "plan, eduction": () => planned("eduction"),
  "plan, comb_donation": () => planned("comb_donation"),
  "plan, transfer": () => planned("transfer"),
  review: () => review({ site, today: "2026-09-13", method: "split", colony, records }),
});
console.log("");
for (const [name, ms] of Object.entries(single)) console.log(`${name}: ${ms.toFixed(1)} ms`);
if (Number.isNaN(seen)) throw new Error("a time is missing");
