// The year at a place: when colonies can be divided, and what that rests on.

import { html, nothing, render } from "../lit-html/lit-html.js";

import { addDays, fullDate, span } from "../dates.js";
import { h } from "../dom.js";
import { sorted } from "../doubts.js";
import * as engine from "../engine.js";
import { field, numberInput, numberOf, select, showEngineError } from "../fields.js";
import { monthsTable } from "../months.js";
import { normalsEditor } from "../normals.js";
import { picture, pictureWords, sentences } from "../picture.js";
import { basisList, betterList, doubtList, reasonList, sources } from "../sources.js";
import { drawing, editor, fold, list, pairs } from "../templates.js";
import { text } from "../text/en.js";
import { monthsOf, publishedFirst, safeLines, todayOf } from "../year-model.js";
import { needsPlace } from "./needs-place.js";

const words = text.year;
/** Days that are looked at, with the first. */
const YEAR_D = 365;

/** A number of the season as the engine has it. @param {string} wanted */
const parameter = (wanted) => engine.parameters().find(({ group, name }) => group === "season" && name === wanted)?.number;

/** @typedef {{today: string, season: any, safe: any[], mine: any, months: import("../year-model.js").Month[], drawn: SVGElement | null, inWords: string[]}} Answer */

/** @param {import("../app.js").App} app @param {(name: string) => void} arrive */
export function yearView(app, arrive) {
  const root = /** @type {import("../main.js").ViewRoot} */ (h("div", { class: "view view-year" }));
  if (!app.place) return needsPlace(root, words.heading, arrive);
  const place = () => /** @type {import("../state.js").Place} */ (app.place);
  /** The engine's answers, or why there are none. @type {Answer | {refused: string}} */
  let answer;

  const { now, soon } = drawing(root, ask, draw);
  const normals = normalsEditor(app, now);
  const careful = settings();
  now();
  root.update = soon;
  return root;

  function ask() {
    const here = place();
    const today = app.today();
    try {
      const season = engine.season(here, today, addDays(today, YEAR_D - 1));
      const safe = engine.methods().map(({ name, label }) => ({ name, label, ...engine.lastSafe(here, name, today) }));
      // A move is no way to a new colony, and has no last date.
      const wanted = app.plan && !app.plan.move ? app.plan.method : "split";
      const mine = safe.find(({ name }) => name === wanted);
      const svg = engine.yearPicture(here, today, mine?.last ?? undefined, here.name);
      answer = { today, season, safe, mine, months: monthsOf(season.states, today, engine.rainOf(here)), drawn: picture(svg), inWords: sentences(pictureWords(svg)) };
    } catch (error) {
      if (!(error instanceof engine.ApiaryError)) throw error;
      answer = { refused: error.message };
    }
  }

  function draw() {
    render(html`
      <h1>${words.headingAt} <span class="date">${place().name}</span></h1>
      <div>${"refused" in answer ? html`<p class="error" role="alert">${answer.refused}</p>` : told(answer)}</div>
      ${editor(text.normals.heading, normals())}
      ${editor(words.careful, careful())}`, root);
  }

  /** @param {Answer} known */
  function told({ today, season, safe, mine, months, drawn, inWords }) {
    const { doubts, mild } = sorted(season.doubts);
    const percent = Math.round(season.chance * 100);
    return html`
      ${doubtList(doubts, app)}
      ${windows(season, today, mine)}
      <section><h2>${words.lastSafe}</h2><p class="hint">${words.lastSafeAbout}</p>${lastSafe(safe)}</section>
      ${monthsTable(months)}
      ${states(season)}
      ${published(publishedFirst(season))}
      <figure class="paper">${drawn}${app.state.display.temperature === "f" ? html`<figcaption class="hint">${words.pictureMetric}</figcaption>` : nothing}</figure>
      ${fold(words.inWords, list(inWords))}
      ${betterList(mild, app)}
      ${fold(html`<h2>${words.restsOn}</h2>`, html`<p>${words.judgement[/** @type {keyof typeof words.judgement} */ (season.judgement)](season.years)}</p>`, basisList(season.basis, app))}
      ${sources(words.rules(percent), [
        { label: words.chance, value: words.chanceOption(percent), source: place().season.chance === undefined ? parameter("chance")?.source ?? "" : text.sources.yours },
        ...season.rules.map((/** @type {any} */ rule) => ({ label: words.ruleNames[/** @type {keyof typeof words.ruleNames} */ (rule.name)] ?? rule.name, value: words.rule(rule.test, app.show), source: rule.source })),
      ])}`;
  }

  /** @param {any[]} rows */
  function published(rows) {
    if (rows.length === 0) return nothing;
    return html`<section class="published">${fold(html`<h2>${words.published}</h2>`, rows.map((row) => html`
      <p>${row.mark === "practice" ? `${words.practice} ` : nothing}${app.sentence(row.said)}</p>
      ${row.against.length > 0 ? reasonList(row.against, app) : nothing}
      <p class="hint">${words.source(row.place)}: ${row.source}</p>`))}</section>`;
  }

  /** The answer: what today is, and the good time of the coming year. @param {any} season @param {string} today @param {any} mine the last safe date of the keeper's method */
  function windows({ outcome, rain, states }, today, mine) {
    if (outcome.kind === "all_year") {
      return html`<section class="windows">${todayIs(states, today, true)}<p class="window-dates">${words.allYear}</p><p>${rain ? app.sentence(rain.said) : words.rainUnknown}</p><p>${words.allYearAbout}</p></section>`;
    }
    if (outcome.kind === "none") return html`<section class="windows none">${todayIs(states, today, true)}<p class="window-dates">${words.never}</p>${reasonList(outcome.reasons, app)}</section>`;
    return html`<section class=${`windows is-${todayOf(states, today)?.state ?? "closed"}`}>
      ${todayIs(states, today, false)}
      <p class="lead">${words.divideBetween}</p>
      ${outcome.windows.map((/** @type {any} */ one) => html`<div class="window">
        <p class="window-dates">${fullDate(one.opens)}<span class="to"> – </span>${fullDate(one.closes)} <span class="soon">${words.days(one.days)}</span></p>
        ${mine?.last && one.opens <= mine.last && mine.last <= one.closes ? html`<p><b>${words.beginBy(fullDate(mine.last))}</b> ${mine.label}. ${words.lastSafeAbout}</p>` : nothing}
        ${one.openedBy.length + one.closedBy.length > 0 || one.errorRange
          ? fold(words.whyEnds, html`
            ${one.openedBy.length > 0 ? html`<p>${words.before}</p>${reasonList(one.openedBy, app)}` : nothing}
            ${one.closedBy.length > 0 ? html`<p>${words.after}</p>${reasonList(one.closedBy, app)}` : nothing}
            ${one.errorRange ? errorRange(one.errorRange) : nothing}`)
          : nothing}
      </div>`)}
    </section>`;
  }

  /** @param {any[]} states @param {string} today @param {boolean} endless */
  function todayIs(states, today, endless) {
    const found = todayOf(states, today);
    return found ? html`<p class="lead today-is">${words.todayIs(fullDate(today))} <b>${words.state[found.state]}</b>${endless ? "." : ` ${words.until(fullDate(found.until))}`}</p>` : nothing;
  }

  /** The rain of the year, and its wet months left out by one tap. @param {any} season */
  function rain({ rain: of, outcome }) {
    if (!of) return nothing;
    const isOut = place().season.barWettestMonths !== undefined;
    return html`<div class="rain">
      ${outcome.kind === "all_year" ? nothing : html`<p>${app.sentence(of.said)}</p>`}
      ${of.wetMonths.length > 0 ? html`<div class="actions no-print"><button type="button" aria-pressed=${String(isOut)} @click=${() => set("barWettestMonths", isOut ? undefined : of.wetMonths.length)}>${words.leaveOutWet}</button></div>` : nothing}
    </div>`;
  }

  /** What each stretch of the coming year is, and why it is not good. @param {any} season */
  function states(season) {
    return html`<section>
      <h2>${words.states}</h2>
      <p class="hint">${words.statesAbout}</p>
      <ol class="stretches">${season.states.map((/** @type {any} */ { state, first, last, days, why }) => html`<li class=${`is-${state}`}>
        <p><b>${words.state[/** @type {"good"} */ (state)]}</b> ${span(first, last)} <span class="soon">${words.days(days)}</span></p>
        ${why.length > 0 ? html`<details><summary aria-label=${`${text.sources.why}: ${span(first, last)}`}>${text.sources.why}</summary>${reasonList(why, app)}</details>` : nothing}
      </li>`)}</ol>
      ${rain(season)}
    </section>`;
  }

  /** @param {any} range */
  function errorRange({ errorC, warmer, cooler }) {
    const side = (/** @type {any} */ { kind, opens, closes, reasons }) => {
      if (kind === "none") return html`${words.noSuchWindow}${reasonList(reasons, app)}`;
      if (kind === "all_year") return words.noEnds;
      return opens && closes ? span(opens, closes) : `${opens ? fullDate(opens) : words.openEnd} – ${closes ? fullDate(closes) : words.openEnd}`;
    };
    return html`<div class="how-sure"><p>${words.howSure(app.show.difference(errorC))}</p>${pairs([[words.ifWarmer, side(warmer)], [words.ifCooler, side(cooler)]])}</div>`;
  }

  /** @param {any[]} safe */
  function lastSafe(safe) {
    return pairs(safeLines(safe).map(({ labels, last, open, reasons }) => [
      labels.join(", "),
      html`${last ? html`<b>${fullDate(last)}</b>` : open ? words.noLimit : words.noDate}${reasons.length > 0 ? fold(text.sources.why, reasonList(reasons, app)) : nothing}`,
    ]), "last-safe");
  }

  /** The numbers of the season with one of them set, or left to the almanac. @param {keyof import("../state.js").Place["season"]} name @param {number | undefined} value */
  function seasonWith(name, value) {
    const { [name]: _, ...others } = place().season;
    return value === undefined ? others : { ...others, [name]: value };
  }

  /** @param {keyof import("../state.js").Place["season"]} name @param {number | undefined} value */
  function set(name, value) {
    app.change(() => { place().season = seasonWith(name, value); });
  }

  /** How careful to be. @returns {() => any} */
  function settings() {
    const usual = Math.round(100 * (parameter("chance")?.value ?? NaN));
    const chances = [0.5, 0.6, 0.7, 0.8, 0.9, 0.95].map((x) => /** @type {[string, string]} */ ([String(x), words.chanceOption(Math.round(x * 100))]));
    const chance = field(
      words.chance,
      select([["", words.chanceDefault(usual)], ...chances], "", { onchange: () => set("chance", chance.input.value === "" ? undefined : Number(chance.input.value)) }),
      { hint: words.chanceHint },
    );
    const here = h("span");
    const wettest = limit("barWettestMonths", words.wettest, words.wettestHint, words.months, "0");
    const wetDays = limit("mostWetDays", words.wetDays, here, words.days31, "31");
    return () => {
      const { season } = place();
      render(html`${words.wetDaysHint} ${wetDaysHere()}`, here);
      chance.bind(String(season.chance ?? ""));
      wettest.bind(String(season.barWettestMonths ?? ""));
      wetDays.bind(String(season.mostWetDays ?? ""));
      return html`${chance.box}${wettest.box}${wetDays.box}`;
    };
  }

  /**
   * A number that bars months of the year; what bars none is not asked for.
   * @param {"barWettestMonths" | "mostWetDays"} name @param {string} label @param {any} hint @param {string} unit @param {string} none
   */
  function limit(name, label, hint, unit, none) {
    const own = field(
      label,
      numberInput("", {
        placeholder: none,
        onchange: () => {
          const n = numberOf(own);
          if (Number.isNaN(n)) return;
          // The engine counts months in whole numbers from 0 on, and has no words for others.
          if (name === "barWettestMonths" && n !== undefined && !(Number.isInteger(n) && n >= 0 && n <= 11)) return own.fail(words.wettestWhole);
          const value = n === undefined || String(n) === none ? undefined : n;
          try {
            const today = app.today();
            engine.season({ ...place(), season: seasonWith(name, value) }, today, addDays(today, YEAR_D - 1));
          } catch (error) {
            showEngineError(error, () => own, () => {});
            return;
          }
          set(name, value);
        },
      }),
      { hint, after: h("span", { class: "unit" }, unit) },
    );
    return own;
  }

  /** How many wet days the months have. */
  function wetDaysHere() {
    const of = (/** @type {readonly number[]} */ days) => days.map((n, month) => `${text.months[month]} ${Math.round(n)}`).join(", ");
    const { normals: own } = place();
    if (own) return own.wetDays ? words.wetDaysYours(of(own.wetDays)) : words.wetDaysUnknown;
    const built = engine.wetDays(place());
    return built ? words.wetDaysHere(built.fromMm ?? 0, of(built.days)) : nothing;
  }
}
