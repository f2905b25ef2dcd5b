// What a morning comes to, and the next thing to do in it: from the engine's answer and the clock alone.

import { dateOf } from "./dates.js";

/** @typedef {"go" | "careful" | "no"} Verdict */

/** Codes of reasons that speak for a morning, or neither way. */
const speakFor = new Set(["ample_time", "mild_work", "dry", "rain_unknown", "bees_learn_place", "not_free"]);

/** What speaks against a morning. @param {any} shown @returns {any[]} */
export const speakingAgainst = ({ reasons }) => reasons.filter((/** @type {any} */ { code }) => !speakFor.has(code));

/**
 * No time, or more than one warning of the engine beside the length of the time: no. One: careful.
 * @param {any} shown @returns {Verdict}
 */
export function verdictOf(shown) {
  if (shown.morning.window.kind !== "open") return "no";
  const against = speakingAgainst(shown);
  const beside = against.filter(({ code }) => code !== "short_time");
  if (beside.length > 1) return "no";
  return against.length > 0 ? "careful" : "go";
}

/**
 * The one time that counts now, on the way to a move in a morning with time for it.
 * @param {any} morning @param {Date} now @param {string} today the date at the place
 * @returns {{kind: "close" | "close_now" | "move" | "before", clock: string}}
 */
export function nextStep({ eveningBefore, window }, now, today) {
  const at = now.getTime();
  if (at < Date.parse(eveningBefore.from)) return { kind: "close", clock: eveningBefore.fromClock };
  if (today === dateOf(eveningBefore.from)) return { kind: "close_now", clock: eveningBefore.fromClock };
  if (at < Date.parse(window.from)) return { kind: "move", clock: window.fromClock };
  return { kind: "before", clock: window.untilClock };
}

/** The first morning after a date that is good, and on which the keeper is free. @param {readonly any[]} mornings @param {string} date */
export const nextGood = (mornings, date) =>
  mornings
    .filter((one) => one.morning.date > date && one.free && verdictOf(one) === "go")
    .reduce((/** @type {any} */ first, one) => (first && first.morning.date < one.morning.date ? first : one), undefined);
