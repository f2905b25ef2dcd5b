// What is said of the way of a hive to a new place beside its tasks: why this way, its limits, its numbers.

import { html, nothing } from "./lit-html/lit-html.js";

import { numberLabel } from "./numbers.js";
import { fullDate, span } from "./dates.js";
import { finishOf } from "./plan-model.js";
import { quantity, reasonList, sources } from "./sources.js";
import { text } from "./text/en.js";

const words = text.move;

/** @param {import("./app.js").App} app @param {ReturnType<typeof import("./engine.js").course>} course @param {any} plan of the same move: what was done counts */
export function courseBox(app, { kind, answer: given }, plan) {
  const answer = /** @type {any} */ (given);
  const parting = kind === "parting";
  const staged = parting ? answer.dates.stages : answer.course.kind === "staged" ? answer.course : null;
  const finish = finishOf(plan);
  return html`<section class="summary course">
    <h2>${parting ? words.partingWay : words.wayNames[/** @type {keyof typeof words.wayNames} */ (answer.way)]}</h2>
    ${finish ? html`<p class="window-dates">${(finish.isDone ? words.stood : words.stands)(fullDate(finish.best))}</p>` : nothing}
    ${finish && finish.earliest !== finish.latest ? html`<p class="task-range">${words.between(span(finish.earliest, finish.latest))}</p>` : nothing}
    ${parting ? nothing : reasonList(answer.why, app)}
    ${staged && staged.stopped.length > 0 ? html`<p class="error">${words.stopped}</p>${reasonList(staged.stopped, app)}` : nothing}
    ${parting ? sources(words.numbers, partingNumbers(answer.parting, app)) : nothing}
    ${answer.course?.limits ? sources(words.limits, limits(answer.course.limits, app), html`<p>${app.sentence(answer.course.limits.closing)}</p>`) : nothing}
  </section>`;
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
