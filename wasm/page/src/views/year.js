// The year at a place: when colonies can be divided, and what that rests on.

import { editor, fill, h, more } from "../dom.js";
import { addDays, fullDate, span } from "../dates.js";
import * as engine from "../engine.js";
import { field, numberInput, numberOf, select, showEngineError } from "../fields.js";
import { monthsTable } from "../months.js";
import { normalsEditor } from "../normals.js";
import { picture, pictureWords, sentences } from "../picture.js";
import { basisList, doubtList, reasonList, sources } from "../sources.js";
import { text } from "../text/en.js";
import { monthsOf } from "../year-model.js";
import { needsPlace } from "./needs-place.js";

const words = text.year;

/** A number of the season as the engine has it. @param {string} wanted */
const parameter = (wanted) => engine.parameters().find(({ group, name }) => group === "season" && name === wanted)?.number;
const usual = (/** @type {string} */ name) => parameter(name)?.value ?? NaN;

/** @param {import("../app.js").App} app @param {(name: string) => void} arrive */
export function yearView(app, arrive) {
  const root = h("div", { class: "view view-year" });
  const place = app.place;
  if (!place) return needsPlace(root, words.heading, arrive);
  const answer = h("div");
  const careful = h("div");
  update();
  fill(careful, settings(place));
  fill(
    root,
    h("h1", null, words.headingAt, " ", h("span", { class: "date" }, place.name)),
    answer,
    editor(text.normals.heading, normalsEditor(app, () => { update(); fill(careful, settings(place)); })),
    editor(words.careful, careful),
  );
  return root;

  function update() {
    const here = /** @type {import("../state.js").Place} */ (place);
    const today = app.today();
    let season, svgText, safe;
    try {
      season = engine.season(here, today, addDays(today, 364));
      safe = engine.methods().map((method) => ({ method, ...engine.lastSafe(here, method.name, today) }));
      // A move is no way to a new colony, and has no last date.
      const wanted = app.plan && !app.plan.move ? app.plan.method : "split";
      svgText = engine.yearPicture(here, today, safe.find(({ method }) => method.name === wanted)?.last ?? undefined, here.name);
    } catch (error) {
      if (!(error instanceof engine.ApiaryError)) throw error;
      fill(answer, h("p", { class: "error", role: "alert" }, error.message));
      return;
    }
    const { display } = app.state;
    const monthly = sentences(pictureWords(svgText));
    fill(
      answer,
      doubtList(season.doubts, app),
      published(season),
      windows(season),
      monthsTable(monthsOf(season.states, today, engine.rainOf(here))),
      states(season),
      h("section", null, h("h2", null, words.lastSafe), h("p", { class: "hint" }, words.lastSafeAbout), lastSafe(safe)),
      h(
        "figure",
        { class: "paper" },
        // Its scale is in °C, so its words are too.
        picture(svgText),
        display.temperature === "f" ? h("figcaption", { class: "hint" }, words.pictureMetric) : null,
      ),
      more(words.inWords, h("ul", { class: "reasons" }, monthly.map((line) => h("li", null, line)))),
      h("section", null, h("h2", null, words.restsOn), h("p", null, words.judgement[/** @type {keyof typeof words.judgement} */ (season.judgement)](season.years)), basisList(season.basis, app)),
      sources(
        words.rules(Math.round(season.chance * 100)),
        [
          { label: words.chance, value: words.chanceOption(Math.round(season.chance * 100)), source: here.season.chance === undefined ? parameter("chance")?.source ?? "" : text.sources.yours },
          ...season.rules.map((rule) => ({ label: words.ruleNames[/** @type {keyof typeof words.ruleNames} */ (rule.name)] ?? rule.name, value: words.rule(rule.test, app.show), source: rule.source })),
        ],
      ),
    );
  }

  /** What is published or practised in the region, before what is reckoned. @param {any} season */
  function published({ published: rows }) {
    const first = rows.filter((/** @type {any} */ row, /** @type {number} */ n) => n === 0 || row.ofThisBee).slice(0, 2);
    if (first.length === 0) return null;
    return h(
      "section",
      { class: "published" },
      first.map((/** @type {any} */ row) => [
        h("p", null, row.mark === "practice" ? `${words.practice} ` : null, app.sentence(row.said)),
        row.against.length > 0 ? reasonList(row.against, app) : null,
        more(words.source(row.place), h("p", null, row.source)),
      ]),
    );
  }

  /** @param {any} season */
  function windows({ outcome, rain }) {
    if (outcome.kind === "all_year")
      return h("section", { class: "windows" }, h("p", { class: "window-dates" }, words.allYear), h("p", null, rain ? app.sentence(rain.said) : words.rainUnknown), h("p", null, words.allYearAbout));
    if (outcome.kind === "none") return h("section", { class: "windows none" }, h("p", { class: "window-dates" }, words.never), reasonList(outcome.reasons, app));
    return h(
      "section",
      { class: "windows" },
      h("p", { class: "lead" }, words.divideBetween),
      outcome.windows.map((/** @type {any} */ one) =>
        h(
          "div",
          { class: "window" },
          h("p", { class: "window-dates" }, fullDate(one.opens), h("span", { class: "to" }, " – "), fullDate(one.closes), " ", h("span", { class: "soon" }, words.days(one.days))),
          one.openedBy.length > 0 ? [h("p", null, words.before), reasonList(one.openedBy, app)] : null,
          one.closedBy.length > 0 ? [h("p", null, words.after), reasonList(one.closedBy, app)] : null,
          one.errorRange ? errorRange(one) : null,
        ),
      ),
    );
  }

  /** The rain of the year, and its wet months left out by one tap. @param {any} season */
  function rain({ rain: of, outcome }) {
    if (!of) return null;
    const here = /** @type {import("../state.js").Place} */ (place);
    const isOut = here.season.barWettestMonths !== undefined;
    const set = () => {
      const next = { ...here.season };
      if (isOut) delete next.barWettestMonths;
      else next.barWettestMonths = of.wetMonths.length;
      here.season = next;
      app.change(() => {});
      update();
      fill(careful, settings(here));
      /** @type {HTMLElement | null} */ (answer.querySelector(".rain button"))?.focus();
    };
    return h(
      "div",
      { class: "rain" },
      // Where the year is open, it is said already.
      outcome.kind === "all_year" ? null : h("p", null, app.sentence(of.said)),
      of.wetMonths.length > 0 ? h("div", { class: "actions no-print" }, h("button", { type: "button", "aria-pressed": String(isOut), onclick: set }, words.leaveOutWet)) : null,
    );
  }

  /** What each stretch of the coming year is, and why it is not good. @param {any} season */
  function states(season) {
    const { states: stretches } = season;
    return h(
      "section",
      null,
      h("h2", null, words.states),
      h("p", { class: "hint" }, words.statesAbout),
      h(
        "ol",
        { class: "stretches" },
        stretches.map((/** @type {any} */ { state, first, last, days, why }) =>
          h(
            "li",
            { class: `is-${state}` },
            h("p", null, h("b", null, words.state[/** @type {"good"} */ (state)]), " ", span(first, last), " ", h("span", { class: "soon" }, words.days(days))),
            why.length > 0 ? h("details", null, h("summary", { "aria-label": `${text.sources.why}: ${span(first, last)}` }, text.sources.why), reasonList(why, app)) : null,
          ),
        ),
      ),
      rain(season),
    );
  }

  /** @param {any} window */
  function errorRange({ errorRange: { errorC, warmer, cooler } }) {
    const side = (/** @type {any} */ { kind, opens, closes, reasons }) =>
      kind === "none"
        ? [words.noSuchWindow, reasonList(reasons, app)]
        : kind === "all_year"
          ? words.noEnds
          : opens && closes
            ? span(opens, closes)
            : `${opens ? fullDate(opens) : words.openEnd} – ${closes ? fullDate(closes) : words.openEnd}`;
    return h(
      "div",
      { class: "how-sure" },
      h("p", null, words.howSure(app.show.difference(errorC))),
      h("dl", { class: "pairs" },
        h("dt", null, words.ifWarmer), h("dd", null, side(warmer)),
        h("dt", null, words.ifCooler), h("dd", null, side(cooler))),
    );
  }

  /** @param {any[]} safe */
  function lastSafe(safe) {
    return h(
      "dl",
      { class: "pairs last-safe" },
      // Ways with the same date share a line.
      [...new Set(safe.map(({ last, open }) => `${last} ${open}`))].map((key) => {
        const same = safe.filter(({ last, open }) => `${last} ${open}` === key);
        const [{ last, reasons, open }] = same;
        return [
        h("dt", null, same.map(({ method }) => method.label).join(", ")),
        h(
          "dd",
          null,
          last ? h("b", null, fullDate(last)) : open ? words.noLimit : words.noDate,
          reasons.length > 0
            ? more(text.sources.why, reasonList(reasons, app))
            : null,
        ),
        ];
      }),
    );
  }

  /** @param {import("../state.js").Place} place */
  function settings(place) {
    const chance = field(
      words.chance,
      select([["", words.chanceDefault(Math.round(100 * usual("chance")))], ...[0.5, 0.6, 0.7, 0.8, 0.9, 0.95].map((x) => /** @type {[string, string]} */ ([String(x), words.chanceOption(Math.round(x * 100))]))], String(place.season.chance ?? ""), {
        onchange: () => {
          place.season.chance = chance.input.value === "" ? undefined : Number(chance.input.value);
          if (place.season.chance === undefined) delete place.season.chance;
          app.change(() => {});
          update();
        },
      }),
      { hint: words.chanceHint },
    );
    const wettest = limit("barWettestMonths", words.wettest, words.wettestHint, words.months, "0");
    const wetDays = limit("mostWetDays", words.wetDays, [words.wetDaysHint, " ", wetDaysHere(place)], words.days31, "31");
    return h("div", null, chance.box, wettest.box, wetDays.box);
  }
  /**
   * A number that bars months of the year; what bars none is not asked for.
   * @param {"barWettestMonths" | "mostWetDays"} name @param {string} label @param {any} hint @param {string} unit @param {string} none
   */
  function limit(name, label, hint, unit, none) {
    const here = /** @type {import("../state.js").Place} */ (place);
    const own = field(
      label,
      numberInput(String(here.season[name] ?? ""), {
        placeholder: none,
        onchange: () => {
          const n = numberOf(own);
          if (Number.isNaN(n)) return;
          // The engine counts months in whole numbers from 0 on, and has no words for others.
          if (name === "barWettestMonths" && n !== undefined && !(Number.isInteger(n) && n >= 0 && n <= 11)) return own.fail(words.wettestWhole);
          const next = { ...here.season };
          if (n === undefined || String(n) === none) delete next[name];
          else next[name] = n;
          try {
            const today = app.today();
            engine.season({ ...here, season: next }, today, addDays(today, 364));
          } catch (error) {
            showEngineError(error, () => own, () => {});
            return;
          }
          here.season = next;
          app.change(() => {});
          update();
        },
      }),
      { hint, after: h("span", { class: "unit" }, unit) },
    );
    return own;
  }

  /** How many wet days the months have. @param {import("../state.js").Place} place */
  function wetDaysHere(place) {
    const list = (/** @type {readonly number[]} */ days) => days.map((n, month) => `${text.months[month]} ${Math.round(n)}`).join(", ");
    if (place.normals) return place.normals.wetDays ? words.wetDaysYours(list(place.normals.wetDays)) : words.wetDaysUnknown;
    const built = engine.wetDays(place);
    return built ? words.wetDaysHere(built.fromMm ?? 0, list(built.days)) : null;
  }
}
