// Where the new colony stands by its records, what would settle it, and what to do.

import { fullDate, shortDate, taskDate } from "./dates.js";
import { h, more } from "./dom.js";
import { whichName } from "./tasks.js";
import { text } from "./text/en.js";

const words = text.standing;

/** @param {import("./app.js").App} app @param {any} review @param {import("./state.js").PlanEntry} entry */
export function standingBox(app, review, entry) {
  if (entry.records.length === 0) return null;
  const { standing, boxes, settle, changes, recommendations } = review;
  const titles = new Map(review.plan.tasks.map((/** @type {any} */ task) => [task.id, task.title]));
  return h(
    "section",
    { class: "standing" },
    h("h2", null, words.heading),
    standing ? h("p", { class: `verdict verdict-${standing}` }, words.names[/** @type {keyof typeof words.names} */ (standing)]) : h("p", null, words.none),
    settle ? h("p", null, h("b", null, words.settle), " ", settle.lookFor, " ", words.between(fullDate(settle.from), fullDate(settle.by))) : null,
    recommendations.length > 0
      ? h("ul", { class: "advice-list" }, recommendations.map((/** @type {any} */ one) => h("li", null, h("b", null, one.text), " ", app.sentence(one.reason), more(text.sources.why, h("p", null, text.sources.source(one.source))))))
      : null,
    changes.length > 0
      ? more(
          words.changes(changes.length),
          h("ul", { class: "reasons" }, changes.map((/** @type {any} */ one) => h("li", null, String(titles.get(one.task) ?? one.task), ": ", change(one)))),
        )
      : null,
    boxes.some((/** @type {any} */ box) => box.signsFor.length + box.signsAgainst.length + box.signsNeutral.length > 0)
      ? more(words.signs, boxes.map((/** @type {any} */ box) => signs(box)))
      : null,
  );

  /** @param {any} one */
  function change(one) {
    if (one.state?.kind === "done") return words.doneOn(shortDate(one.state.on));
    if (!one.after || one.state?.kind === "dropped") return words.dropped;
    if (!one.before) return words.added(taskDate(one.after, review.today));
    return words.moved(taskDate(one.before, review.today), taskDate(one.after, review.today), one.laterD);
  }

  /** @param {any} box */
  function signs(box) {
    const all = [...box.signsFor, ...box.signsAgainst, ...box.signsNeutral];
    if (all.length === 0) return null;
    return [
      h("h3", null, whichName(entry, box.which), ": ", words.names[/** @type {keyof typeof words.names} */ (box.standing)]),
      h("ul", { class: "reasons" }, all.map((/** @type {any} */ sign) => h("li", null, `${shortDate(sign.date)}: ${text.signs[/** @type {keyof typeof text.signs} */ (sign.kind)]} (${words.strength[/** @type {keyof typeof words.strength} */ (sign.strength)]}). ${sign.text}`, more(text.sources.why, h("p", null, text.sources.source(sign.source)))))),
    ];
  }
}
