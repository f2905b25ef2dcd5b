// The way of a hive to a new place as it is shown: dated steps, reasons, limits, sources.

import { dateOf, fullDate, shortDate, span, taskDate } from "./dates.js";
import { h, more } from "./dom.js";
import { numberLabel } from "./numbers.js";
import { basisList, cautionList, choiceList, quantity, reasonList, restsOnLine, sources } from "./sources.js";
import { text } from "./text/en.js";

const words = text.move;

/**
 * @typedef {ReturnType<typeof import("./engine.js").course>} Course
 * @typedef {{
 *   key: string, title: string, dates: {earliest: string, best: string, latest: string},
 *   window?: {fromClock: string, untilClock: string}, notes?: any[], reasons: readonly any[], restsOn?: any,
 * }} Step
 */

/** The steps in order, each with a key of its own in the way. @param {any} course @param {import("./app.js").App} app @returns {Step[]} */
export const steps = (course, app) => plainSteps(course, app).map((step, at) => ({ ...step, key: `${course.kind}-${at + 1}` }));

/** @param {any} course @param {import("./app.js").App} app @returns {Omit<Step, "key">[]} */
function plainSteps({ kind, answer }, app) {
  const stages = (/** @type {any} */ staged, /** @type {(so: string) => string} */ where) =>
    staged.stages.map((/** @type {any} */ one) => ({
      title: words.stage(one.number, staged.stages.length, where(app.show.length(one.distanceSoFarM)), one.turnedSoFarDeg),
      ...one,
    }));
  if (kind === "parting") {
    const { stages: staged, sideBySideUntil } = answer.dates;
    return [
      ...stages(staged, words.fromParent),
      ...(sideBySideUntil ? [{ title: words.sideBySide, dates: sideBySideUntil, reasons: [] }] : []),
    ];
  }
  const { course } = answer;
  if (course.kind === "staged") return stages(course, words.fromStart);
  if (course.kind === "at_once") return [journey(course.trip, words.carry)];
  return [
    journey(course.out, words.out(app.show.length(course.awayAtLeastM)), words.awaySource(course.awaySource)),
    journey(course.back, words.back, words.staySource(course.stay.source)),
  ];
}

/** @param {any} trip @param {string} title @param {string} [source] @returns {Omit<Step, "key">} */
function journey({ dates, eveningBefore: evening, lift, reasons, restsOn }, title, source) {
  return {
    title, dates, reasons, restsOn,
    ...(lift ? { window: lift } : {}),
    notes: [
      words.closeAt(shortDate(dateOf(evening.from)), evening.fromClock),
      evening.lampNeeded && evening.daylightUntil ? text.dawn.lampNeeded(evening.daylightUntilClock) : null,
      lift ? null : words.noLift,
      source,
    ].filter(Boolean),
  };
}

/** @param {import("./app.js").App} app @param {any} course */
export function courseAnswer(app, course) {
  const { kind, answer } = course;
  const parting = kind === "parting";
  const staged = parting ? answer.dates.stages : answer.course.kind === "staged" ? answer.course : null;
  const finish = parting ? staged.finish : answer.finish;
  const today = app.today();
  return [
    h("h3", { tabindex: "-1" }, parting ? words.partingWay : words.wayNames[/** @type {keyof typeof words.wayNames} */ (answer.way)]),
    finish ? h("p", { class: "window-dates" }, words.stands(fullDate(finish.best))) : null,
    finish && finish.earliest !== finish.latest ? h("p", { class: "task-range" }, words.between(span(finish.earliest, finish.latest))) : null,
    parting ? null : reasonList(answer.why, app),
    staged && staged.stopped.length > 0 ? [h("p", { class: "error" }, words.stopped), reasonList(staged.stopped, app)] : null,
    h("details", { class: "mind" }, h("summary", null, words.mind), cautionList(answer.cautions, app)),
    h("ol", { class: "task-list" }, steps(course, app).map((step) => card(step))),
    parting ? sources(words.numbers, partingNumbers(answer.parting, app)) : null,
    answer.course?.limits ? sources(words.limits, limits(answer.course.limits, app), h("p", null, app.sentence(answer.course.limits.closing))) : null,
    answer.choices?.length > 0 ? more(text.plan.choices, choiceList(answer.choices, app)) : null,
    more(text.dawn.restsOn, basisList(answer.basis, app)),
  ];

  /** @param {Step} step */
  function card({ title, dates, window, notes = [], reasons, restsOn }) {
    return h(
      "li",
      { class: `task${dates.latest < today ? " is-done" : dates.earliest <= today ? " due" : ""}` },
      h("p", { class: "task-date" }, h("b", null, taskDate(dates.best, today)), " ", window ? h("span", { class: "task-time" }, `${window.fromClock}–${window.untilClock}`) : null),
      h("h4", { class: "task-title" }, title),
      dates.earliest === dates.latest ? null : h("p", { class: "task-range" }, words.between(span(dates.earliest, dates.latest))),
      notes.map((note) => h("p", null, note)),
      reasons.length > 0 ? more(text.sources.why, reasonList(reasons, app), restsOn ? restsOnLine(restsOn) : null) : null,
    );
  }
}

/** @param {any} parting @param {import("./app.js").App} app */
function partingNumbers(parting, app) {
  const wait = (/** @type {any} */ { unit, earliest, likely, latest }) =>
    `${earliest === latest ? likely : `${earliest}–${latest}`} ${text.units[/** @type {keyof typeof text.units} */ (unit)]}`;
  return [
    { label: numberLabel("before_entrance"), value: wait(parting.beforeEntrance), source: parting.beforeEntrance.source },
    { label: numberLabel("apart_m"), value: quantity(parting.apartM, app.show), source: parting.apartM.source },
    { label: numberLabel("stage_m"), value: quantity(parting.stageM, app.show), source: parting.stageM.source },
    { label: numberLabel("between_stages"), value: wait(parting.betweenStages), source: parting.betweenStages.source },
    { label: numberLabel("side_by_side"), value: wait(parting.sideBySide), source: parting.sideBySide.source },
  ];
}

/** @param {any} limits @param {import("./app.js").App} app */
const limits = ({ coldestWorkC, warmestWorkC, heatShadeC, heatLimitC }, app) =>
  Object.entries({ coldest_work_c: coldestWorkC, warmest_work_c: warmestWorkC, heat_shade_c: heatShadeC, heat_limit_c: heatLimitC }).map(
    ([name, number]) => ({ label: numberLabel(name), value: quantity(number, app.show), source: number.source }),
  );
