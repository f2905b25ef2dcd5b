// What the view of the dawn shows, from the engine's answers, the clock and what the keeper has tapped: values in,
// values out.

import { addDays, dateOf, minutesBetween } from "./dates.js";
import { sorted } from "./doubts.js";
import { moveTime, nextStep, nextWith, reasonsAgainst, speakingAgainst } from "./today.js";

/** @typedef {import("./agenda-model.js").Item} Item */
/**
 * @typedef {{
 *   name: "close" | "light" | "move" | "flight", clock: string, until: string | null,
 *   day: string | null, soonMin: number | null, isPast: boolean,
 * }} Step what is done or seen at a time of the clock; `day` where it was not today
 */

/** What comes within so many minutes is counted down. */
const SOON_MIN = 720;
/**
 * @param {{outlook: any, tasks: import("./agenda-model.js").Tasks, now: Date, chosen?: string}} known `chosen` is the date that the keeper looks at
 */
export function dawnOf({ outlook, tasks, now, chosen }) {
  const { current, mornings, today, cautions } = outlook;
  const tomorrow = mornings.reduce((/** @type {any} */ a, /** @type {any} */ b) => (b.morning.date < a.morning.date ? b : a));
  const shown = [current, ...mornings].find(({ morning }) => morning.date === chosen) ?? coming(current, tomorrow, now);
  const { morning } = shown;
  const { date, verdict, window } = morning;
  const doubts = current.doubts ?? [];
  const doubted = new Set(doubts.map((/** @type {any} */ { code }) => code));
  const dated = [...tasks.today, ...tasks.ahead.filter((item) => item.date === addDays(item.today, 1))];
  return {
    shown, morning, date,
    which: /** @type {"thisMorning" | "tomorrow" | "thatMorning"} */ (date === today ? "thisMorning" : date === addDays(today, 1) ? "tomorrow" : "thatMorning"),
    days: [current, tomorrow].map((one) => one.morning.date),
    verdict: /** @type {"go" | "careful" | "no"} */ (verdict),
    /** What is said of it: without a forecast nobody knows this morning. */
    said: /** @type {"go" | "usual" | "careful" | "no"} */ (verdict === "go" && morning.source !== "forecast" ? "usual" : verdict),
    against: reasonsAgainst(shown),
    /** The hour by lamp, where there is no time by daylight. */
    lamp: window.kind === "none" ? morning.byLamp ?? null : null,
    next: verdict === "no" ? null : onTheWay(morning, now, today),
    instead: verdict === "no" ? instead(mornings, date) : null,
    steps: stepsOf(morning, now, today),
    againstMove: speakingAgainst(shown),
    minutes: window.kind === "open" ? minutesBetween(window.fromClock, window.untilClock) : 0,
    due: { first: tasks.today.find(({ canTick }) => canTick) ?? null, count: tasks.today.length + tasks.questions.length, dated },
    ...sorted(doubts),
    /** What a doubt says already is not said twice. */
    cautions: cautions.filter((/** @type {any} */ { code }) => !doubted.has(code)),
  };
}

/** Today as long as there is something left to do this morning, else tomorrow. @param {any} current @param {any} tomorrow @param {Date} now */
function coming(current, tomorrow, now) {
  const { window, firstFlight } = current.morning;
  const end = window.kind === "open" ? window.until : firstFlight?.at;
  return end && now.getTime() < Date.parse(end) ? current : tomorrow;
}

/** The one time that counts now, and what follows it. @param {any} morning @param {Date} now @param {string} today */
function onTheWay(morning, now, today) {
  const closed = dateOf(morning.eveningBefore.from);
  const next = nextStep(morning, now, today);
  const { fromClock, untilClock } = moveTime(morning);
  return { ...next, on: next.kind === "close" && closed !== today ? closed : null, fromClock, untilClock };
}

/** The next morning that will do, in place of one that does not. @param {readonly any[]} mornings @param {string} date */
function instead(mornings, date) {
  const good = nextWith(mornings, date, "go") ?? nextWith(mornings, date, "careful");
  if (!good) return null;
  const { morning } = good;
  const { fromClock, untilClock } = moveTime(morning);
  const { from, fromClock: closeClock } = morning.eveningBefore;
  return { date: morning.date, verdict: /** @type {"go" | "careful"} */ (morning.verdict), fromClock, untilClock, closeOn: dateOf(from), closeClock };
}

/** In the order in which they are read: where there is no time for a move, that comes first. @param {any} morning @param {Date} now @param {string} today */
function stepsOf(morning, now, today) {
  /** @param {Step["name"]} name @param {string} instant @param {string} clock @param {string | null} [until] @returns {Step} */
  const step = (name, instant, clock, until = null) => {
    const minutes = Math.round((Date.parse(instant) - now.getTime()) / 60_000);
    const isPast = minutes < 0 && name !== "move";
    return { name, clock, until, isPast, day: isPast && dateOf(instant) !== today ? dateOf(instant) : null, soonMin: minutes > 0 && minutes < SOON_MIN ? minutes : null };
  };
  const { eveningBefore: evening, window, workLight, firstFlight } = morning;
  /** A step that does not take place has no time. */
  const none = (/** @type {Step["name"]} */ name) => ({ name, clock: null });
  const close = step("close", evening.from, evening.fromClock);
  const light = workLight ? step("light", workLight, morning.workLightClock) : none("light");
  const move = window.kind === "open" ? step("move", window.from, window.fromClock, window.untilClock) : none("move");
  const flight = firstFlight ? step("flight", firstFlight.at, morning.firstFlightClock) : none("flight");
  return /** @type {(Step | {name: Step["name"], clock: null})[]} */ (window.kind === "open" ? [close, light, move, flight] : [move, close, light, flight]);
}
