// The named functions: the same answers as the JSON door, in JavaScript's names.

import assert from "node:assert/strict";
import { test } from "node:test";

import * as almanac from "apiary-almanac";

import { load } from "./vectors.js";

const club = {
  latitudeDeg: -28.81,
  longitudeDeg: 153.28,
  elevationM: 12,
  zone: "Australia/Sydney",
};

const camel = (value) => {
  if (Array.isArray(value)) return value.map(camel);
  if (value === null || typeof value !== "object") return value;
  const name = (key) => key.replace(/_([a-z])/g, (_, letter) => letter.toUpperCase());
  return Object.fromEntries(Object.entries(value).map(([key, item]) => [name(key), camel(item)]));
};

/** How a request is put through its named function. */
const named = {
  about: () => almanac.about(),
  agenda: almanac.agenda,
  bee: (request) => almanac.bee(request.bee),
  calendar: almanac.calendar,
  civil_day: almanac.civilDay,
  clock: almanac.clock,
  default_climate: almanac.defaultClimate,
  flight: almanac.flight,
  last_safe: almanac.lastSafe,
  methods: () => almanac.methods(),
  mornings: almanac.mornings,
  mornings_calendar: almanac.morningsCalendar,
  outlook: almanac.outlook,
  parameters: () => almanac.parameters(),
  parting: almanac.parting,
  place: almanac.place,
  plan: almanac.plan,
  plan_csv: almanac.planCsv,
  plan_picture: almanac.planPicture,
  plans_together: almanac.plansTogether,
  poster: almanac.poster,
  read_coordinates: almanac.readCoordinates,
  read_forecast: almanac.readForecast,
  read_normals: almanac.readNormals,
  relocation: almanac.relocation,
  review: almanac.review,
  season: almanac.season,
  sentences: almanac.sentences,
  site: (request) => almanac.site(request.site),
  sun: almanac.sun,
  towns: almanac.towns,
  towns_near: almanac.townsNear,
  warm_season_map: almanac.warmSeasonMap,
  why_not: almanac.whyNot,
  year_calendar: almanac.yearCalendar,
  year_picture: almanac.yearPicture,
};

test("every request has a named function", () => {
  assert.deepEqual(Object.keys(named), almanac.about().requests);
});

test("named functions answer the vectors as the JSON door does", () => {
  let answered = 0;
  for (const { request } of load().flatMap((file) => file.rows)) {
    if (!(request?.ask in named)) continue;
    const { ask, ...fields } = request;
    if (named[ask].length === 0 && Object.keys(fields).length > 0) continue; // takes none
    const outcome = (call) => {
      try {
        return call();
      } catch (error) {
        assert(error instanceof almanac.ApiaryError, String(error));
        return [error.code, error.field, error.message];
      }
    };
    const plain = outcome(() => camel(JSON.parse(almanac.ask(JSON.stringify(request)))));
    assert.deepEqual(outcome(() => named[ask](camel(fields))), plain, JSON.stringify(request));
    answered += 1;
  }
  assert(answered > 50, `${answered} vectors`);
});

test("a plan goes back into calendar, table and picture", () => {
  const plan = almanac.plan({
    site: club,
    today: "2026-10-01",
    method: "comb_donation",
    colony: { name: "Hive 7", netWeightKg: 3.6, monthsSinceDivision: 20, strength: "strong" },
  });
  // What is done only if something is seen comes into a calendar when it is near.
  const tasks = plan.tasks.filter(({ onlyIf }) => !onlyIf).length;
  assert(tasks > 10 && tasks < plan.tasks.length);
  const { ics } = almanac.calendar({ plans: [plan], stamp: new Date("2026-10-01T00:00:00Z") });
  assert.equal(ics.match(/BEGIN:VEVENT/g).length, tasks);
  assert(almanac.planCsv({ plans: [plan] }).csv.includes("egg-check"));
  assert(almanac.planPicture({ plan }).svg.startsWith("<svg"));
  const { dates } = almanac.parting({ site: club, setBefore: "2026-11-02" });
  assert.equal(dates.setBeside?.best, "2026-11-09");
});

test("dates and typed arrays go in", () => {
  const day = almanac.civilDay({ site: club, instant: new Date("2026-10-03T14:00:00Z") });
  assert.deepEqual(day, {
    date: "2026-10-04",
    start: "2026-10-04T00:00:00+10:00",
    dayLengthH: 23,
  });
  const normals = {
    minimumC: Float64Array.from({ length: 12 }, () => 24.5),
    maximumC: Float32Array.from({ length: 12 }, () => 31.5),
    about: "invented",
  };
  const season = almanac.season({
    site: club,
    first: "2026-01-01",
    last: "2026-12-31",
    climate: { normals },
  });
  assert.equal(season.outcome.kind, "all_year");
});

test("a window carries what the clocks show, on the safe side", () => {
  for (const { morning } of almanac.mornings({ site: club, first: "2026-09-14", days: 10 })) {
    assert.equal(morning.window.kind, "open");
    for (const [text, at, after] of [
      [morning.window.fromClock, morning.window.from, true],
      [morning.window.untilClock, morning.window.until, false],
      [morning.firstFlightClock, morning.firstFlight.at, false],
    ]) {
      const apart = Date.parse(`${at.slice(0, 10)}T${text}:00${at.slice(-6)}`) - Date.parse(at);
      assert(Math.abs(apart) < 60_000 && (after ? apart >= 0 : apart <= 0), `${at} is shown as ${text}`);
    }
  }
});

test("names with single letters keep their places", () => {
  const bee = almanac.bee({ flightLightWM2: 20, windLimitMS: 6 });
  assert.deepEqual([bee.flightLight.value, bee.windLimitMS.value], [20, 6]);
  assert.deepEqual(bee.overridden, ["flight_light_w_m2", "wind_limit_m_s"]);
});

test("what JSON cannot hold is refused by name", () => {
  for (const value of [NaN, Infinity, -Infinity]) {
    assert.throws(() => almanac.site({ ...club, latitudeDeg: value }), {
      code: "unreadable",
      field: "site.latitude_deg",
      message: new RegExp(String(value)),
    });
  }
  assert.throws(() => almanac.civilDay({ site: club, instant: new Date(NaN) }), {
    name: "ApiaryError",
    code: "out_of_range",
    field: "instant",
  });
  assert.throws(() => almanac.civilDay({ site: club, instant: "2026-10-04T00:00:00" }), {
    code: "out_of_range",
    field: "instant",
    message: /offset/,
  });
  assert.throws(() => almanac.civilDay(), { code: "unreadable" });
  assert.throws(() => almanac.bee("bumblebee"), { code: "unknown_name" });
});

test("texts go through unharmed", () => {
  const label = "café \u{1F41D} \u0000 \ud800 end";
  assert.equal(almanac.bee({ label: "café \u{1F41D}" }).label, "café \u{1F41D}");
  // Half a surrogate pair is no text; JSON cannot hold it and the engine says so.
  assert.throws(() => almanac.bee({ label }), { code: "unreadable" });
});
