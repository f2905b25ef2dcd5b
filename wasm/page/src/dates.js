// Dates and times as they are shown. Dates are "YYYY-MM-DD"; instants carry the offset of the site,
// so their clock time is read off the text.

import { text } from "./text/en.js";

const utc = (/** @type {string} */ date) => new Date(`${date}T00:00:00Z`);
const long = new Intl.DateTimeFormat(text.language, { weekday: "long", day: "numeric", month: "long", timeZone: "UTC" });

/** Monday 14 September */
export const longDate = (/** @type {string} */ date) => long.format(utc(date));
/** 14 Sep */
const dayAndMonth = (/** @type {string} */ date) => `${utc(date).getUTCDate()} ${text.months[utc(date).getUTCMonth()]}`;
/** Mon 14 Sep */
export const shortDate = (/** @type {string} */ date) => `${text.weekdays[(utc(date).getUTCDay() + 6) % 7][1]} ${dayAndMonth(date)}`;
/** 14 Sep 2026 */
export const fullDate = (/** @type {string} */ date) => `${dayAndMonth(date)} ${date.slice(0, 4)}`;
/** The same, with the year where it is not that of today. @param {string} date @param {string} today */
export const taskDate = (date, today) => shortDate(date) + (date.slice(0, 4) === today.slice(0, 4) ? "" : ` ${date.slice(0, 4)}`);
/** From one date to another, with no year twice. @param {string} from @param {string} to */
export const span = (from, to) => (from.slice(0, 4) === to.slice(0, 4) ? dayAndMonth(from) : fullDate(from)) + ` – ${fullDate(to)}`;

/**
 * When in the day something is to be done, in the one form of the page: its one good hour, where it has one, and the
 * hours that would do as well stand among the details; else its limits, which the engine rounds on the safe side.
 * @param {{goodAtClock?: string | null, window?: {fromClock: string, untilClock: string}}} one
 */
export const hourOf = ({ goodAtClock, window }) => (goodAtClock ? text.common.about(goodAtClock) : window ? limits(window) : null);
/** From one time of the clock to another. @param {{fromClock: string, untilClock: string}} window */
export const limits = ({ fromClock, untilClock }) => `${fromClock}–${untilClock}`;

/** Moves a date by days. @param {string} date @param {number} days */
export const addDays = (date, days) =>
  new Date(utc(date).getTime() + days * 86_400_000).toISOString().slice(0, 10);

/** Whole days from one date to another. @param {string} from @param {string} to */
export const daysBetween = (from, to) => Math.round((utc(to).getTime() - utc(from).getTime()) / 86_400_000);

/**
 * Minutes from one text of the clock to the next that shows the other.
 * @param {string} from
 * @param {string} until
 */
export function minutesBetween(from, until) {
  const [begins, ends] = [from, until].map((text) => Number(text.slice(0, 2)) * 60 + Number(text.slice(3)));
  return (ends - begins + 1440) % 1440;
}

const datePart = (/** @type {string} */ instant) => instant.slice(0, 10);
export { datePart as dateOf };
