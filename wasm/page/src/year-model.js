// The next twelve months, each with the stretches of the season in it and its rain: values in, values out.

import { addDays, daysBetween } from "./dates.js";

/**
 * @typedef {{state: "good" | "at_risk" | "closed", from: number, to: number}} Part days of a month, both included
 * @typedef {{year: number, month: number, days: number, parts: Part[], rainMm: number | null, wetDays: number | null}} Month
 * `month` counts from 0; days before today are in no part.
 */

/**
 * @param {readonly {state: string, first: string, last: string}[]} states one after the other, from today on
 * @param {string} today
 * @param {{rainMm?: ArrayLike<number>, wetDays?: ArrayLike<number>}} rain of the months, January first
 * @returns {Month[]}
 */
export function monthsOf(states, today, { rainMm, wetDays }) {
  return Array.from({ length: 12 }, (_, n) => {
    const index = Number(today.slice(5, 7)) - 1 + n;
    const [year, month] = [Number(today.slice(0, 4)) + Math.floor(index / 12), index % 12];
    const first = `${year}-${String(month + 1).padStart(2, "0")}-01`;
    const days = new Date(Date.UTC(year, month + 1, 0)).getUTCDate();
    const last = addDays(first, days - 1);
    const parts = states
      .filter((one) => one.last >= first && one.first <= last)
      .map((one) => ({
        state: /** @type {Part["state"]} */ (one.state),
        from: one.first <= first ? 1 : 1 + daysBetween(first, one.first),
        to: one.last >= last ? days : 1 + daysBetween(first, one.last),
      }));
    return { year, month, days, parts, rainMm: rainMm?.[month] ?? null, wetDays: wetDays?.[month] ?? null };
  });
}

/**
 * What today is, and until when.
 * @param {readonly {state: string, first: string, last: string}[]} states @param {string} today
 * @returns {{state: Part["state"], until: string} | null}
 */
export function todayOf(states, today) {
  const at = states.findIndex(({ first, last }) => first <= today && today <= last);
  return at < 0 ? null : { state: /** @type {Part["state"]} */ (states[at].state), until: states[at].last };
}

/** What is published or practised in the region and said first: the foremost, and one of this bee. @param {any} season @returns {any[]} */
export const publishedFirst = ({ published }) =>
  published.filter((/** @type {any} */ row, /** @type {number} */ n) => n === 0 || row.ofThisBee).slice(0, 2);

/**
 * Ways with the same last date share a line.
 * @param {readonly {label: string, last: string | null, open: boolean, reasons: readonly any[]}[]} safe
 * @returns {{labels: string[], last: string | null, open: boolean, reasons: readonly any[]}[]}
 */
export function safeLines(safe) {
  /** @type {Map<string, ReturnType<typeof safeLines>[0]>} */
  const lines = new Map();
  for (const { label, last, open, reasons } of safe) {
    const key = `${last} ${open}`;
    const line = lines.get(key);
    if (line) line.labels.push(label);
    else lines.set(key, { labels: [label], last, open, reasons });
  }
  return [...lines.values()];
}
