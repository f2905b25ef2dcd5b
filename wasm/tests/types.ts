// Compiled, never run: what the types must allow and what they must refuse.

import * as almanac from "apiary-almanac";

const club: almanac.Site = {
  latitudeDeg: -28.81,
  longitudeDeg: 153.28,
  elevationM: 12,
  zone: "Australia/Sydney",
};

type Same<A, B> = (<T>() => T extends A ? 1 : 2) extends <T>() => T extends B ? 1 : 2 ? true : false;
const is = <_ extends true>(): void => undefined;

is<Same<ReturnType<typeof almanac.civilDay>, almanac.CivilDay>>();
is<Same<ReturnType<typeof almanac.sun>, almanac.SunDayAndCrossing[]>>();
is<Same<ReturnType<typeof almanac.outlook>["season"], almanac.Season>>();
is<Same<almanac.About["errorCodes"][number], almanac.ErrorCode>>();

almanac.civilDay({ site: club, date: "2026-10-04" }).dayLengthH.toFixed(1);
almanac.civilDay({ site: club, instant: new Date() });
almanac.bee();
almanac.bee({ basedOn: "generic_large", flightLightWM2: 20 });
const normals: almanac.MonthlyNormals = {
  minimumC: new Float64Array(12),
  maximumC: [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12],
  about: "invented",
};
almanac.season({ site: club, first: "2026-01-01", last: "2026-12-31", climate: { normals } });

almanac.warmSeasonMap({ latitudesDeg: new Float64Array(2), longitudesDeg: [130], thresholdC: 20 });
const table = almanac.sunTable({
  latitudeDeg: new Float64Array(2),
  longitudeDeg: 153.28,
  dates: ["2026-06-21", 20_626],
  event: "altitude",
  altitudeDeg: 3,
});
is<Same<typeof table.rise, Float64Array>>();
table.stateNames[0] satisfies almanac.SunTableState | undefined;
almanac.sunTable({ latitudeDeg: 0, longitudeDeg: 0, dates: { first: "2026-01-01", count: 365 } });
// @ts-expect-error not an event
almanac.sunTable({ latitudeDeg: 0, longitudeDeg: 0, dates: 0, event: "noon" });
// @ts-expect-error a Date has a time of day
almanac.sunTable({ latitudeDeg: 0, longitudeDeg: 0, dates: new Date() });
const { spread, attribution } = almanac.defaultClimate({ site: club });
if (spread) almanac.flight({ site: club, first: "2026-01-01", last: "2026-01-01", climate: { spread } });
attribution satisfies string;

// A union is narrowed by its kind.
const [day] = almanac.sun({ site: club, first: "2026-06-21", last: "2026-06-21" });
if (day?.sun.kind === "rises_and_sets") is<Same<typeof day.sun.set, almanac.Instant>>();

const { outcome } = almanac.lastSafe({ site: club, today: "2026-08-01", method: "split" });
if (outcome.kind === "windows") is<Same<typeof outcome.windows, readonly almanac.LastSafeDates[]>>();

const reviewed: almanac.Review = almanac.review({
  site: club,
  today: "2026-10-20",
  method: "split",
  colony: { name: "Hive 7" },
  records: [{ date: "2026-10-01", task: "divide", signs: [{ kind: "guards", which: "pair" }] }],
});
const first: almanac.Task | undefined = reviewed.plan.tasks[0];
if (first?.state.kind === "done") first.state.on satisfies almanac.CivilDate;
const { course } = almanac.relocation({ site: club, first: "2026-10-04", distanceM: 2 });
if (course.kind === "staged") is<Same<(typeof course.stages)[number], almanac.Stage>>();

try {
  almanac.about();
} catch (error) {
  if (error instanceof almanac.ApiaryError) is<Same<typeof error.code, almanac.ErrorCode>>();
}

// @ts-expect-error a date or an instant, not both
almanac.civilDay({ site: club, date: "2026-10-04", instant: new Date() });
// @ts-expect-error and not neither
almanac.civilDay({ site: club });
// @ts-expect-error the JSON form's names are those of ask() only
almanac.site({ ...club, latitude_deg: 3 });
// @ts-expect-error the zone is missing
almanac.site({ latitudeDeg: 1, longitudeDeg: 1, elevationM: 1 });
// @ts-expect-error not a day of the week
almanac.mornings({ site: club, first: "2026-10-04", days: 3, freeWeekdays: ["Sonntag"] });
// @ts-expect-error only the engine raises it
new almanac.ApiaryError();
// @ts-expect-error there is no set where the sun only rises
if (day?.sun.kind === "only_rises") day.sun.set;
// @ts-expect-error answers are not to be changed
almanac.about().name = "other";

almanac.calendar({ plans: [reviewed.plan], stamp: new Date(), sequence: 1 }).ics.length;
// @ts-expect-error a calendar is made of plans
almanac.planCsv({ plans: [{}] });
const parted = almanac.parting({ site: club, setBefore: "2026-10-04", settings: { apartM: 2 } });
parted.dates.stages.stages satisfies readonly almanac.Stage[];
is<Same<ReturnType<typeof almanac.yearPicture>["svg"], string>>();
// @ts-expect-error a calendar says when it was made
almanac.calendar({ plans: [] });

// The engine's own names are unions; a bee is known by other spellings too.
almanac.mornings({ site: club, first: "2026-10-04", days: 1, bee: "tetragonula_carbonaria" satisfies almanac.BeeName });
almanac.bee("Tetragonula carbonaria");
// @ts-expect-error not a method
almanac.plan({ site: club, today: "2026-10-01", method: "splits", colony: { name: "Hive 7" } });
almanac.tomorrow(club, { bee: "generic_large" }).reasons[0]?.code satisfies string | undefined;
is<Same<ReturnType<typeof almanac.seasonNow>["until"], almanac.CivilDate | null>>();
almanac.icsLink(reviewed.plan, { sequence: 1 }) satisfies string;
almanac.init() satisfies Promise<void>;
almanac.init(new Uint8Array(8));
almanac.init(import("apiary-almanac/wasm"));
almanac.init(fetch("engine_bg.wasm"));
const code: almanac.ReasonCode = "ample_time";
code satisfies string;
