// The next thing to do in a morning, and what speaks against it: from the engine's answer and the clock alone.

import { dateOf } from "./dates.js";

/** Codes of reasons that speak for a morning, or neither way. */
const speakFor = new Set(["ample_time", "mild_work", "dry", "rain_unknown", "bees_learn_place", "not_free"]);

/** What speaks against a morning beside the verdict. @param {any} shown @returns {any[]} */
export const speakingAgainst = ({ reasons }) => reasons.filter((/** @type {any} */ { code }) => !speakFor.has(code));

/** The reasons of a verdict that is not plainly good, the engine's own first. @param {any} shown @returns {any[]} */
export function reasonsAgainst(shown) {
  const { verdictReason, window } = shown.morning;
  const all = window.kind === "open" ? speakingAgainst(shown) : window.reasons;
  return [verdictReason, ...all.filter((/** @type {any} */ { text }) => text !== verdictReason.text)];
}

/** When to move: by daylight, or where there is no time for that by lamp. @param {any} morning @returns {any} */
export const moveTime = ({ window, byLamp }) => (window.kind === "open" ? window : byLamp);

/**
 * The one time that counts now, on the way to a move.
 * @param {any} morning @param {Date} now @param {string} today the date at the place
 * @returns {{kind: "close" | "close_now" | "move" | "before", clock: string}}
 */
export function nextStep(morning, now, today) {
  const { eveningBefore } = morning;
  const time = moveTime(morning);
  const at = now.getTime();
  if (at < Date.parse(eveningBefore.from)) return { kind: "close", clock: eveningBefore.fromClock };
  if (today === dateOf(eveningBefore.from)) return { kind: "close_now", clock: eveningBefore.fromClock };
  if (at < Date.parse(time.from)) return { kind: "move", clock: time.fromClock };
  return { kind: "before", clock: time.untilClock };
}

/**
 * The first morning of a verdict after a date on which the keeper is free.
 * @param {readonly any[]} mornings @param {string} date @param {"go" | "careful"} verdict
 */
export const nextWith = (mornings, date, verdict) =>
  mornings
    .filter((one) => one.morning.date > date && one.free && one.morning.verdict === verdict)
    .reduce((/** @type {any} */ first, one) => (first && first.morning.date < one.morning.date ? first : one), undefined);
