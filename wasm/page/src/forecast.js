// The coming days' weather: pasted or loaded as it was copied, or typed.

import { html, nothing } from "./lit-html/lit-html.js";

import { addDays, shortDate } from "./dates.js";
import { h } from "./dom.js";
import * as engine from "./engine.js";
import { field, focusFirstError, oneOf, plainly } from "./fields.js";
import { grid } from "./grid.js";
import { reasonList } from "./sources.js";
import { fold, list } from "./templates.js";
import { text } from "./text/en.js";

const words = text.forecast;
const days = 10;

/**
 * @param {import("./app.js").App} app @param {() => void} redraw for what is no part of the state
 * @returns {() => any} what is shown then
 */
export function forecastEditor(app, redraw) {
  const place = () => /** @type {import("./state.js").Place} */ (app.place);
  const { show } = app;
  /** What was done last, what is wrong with what was typed, and the text as the engine reads it. */
  const told = { status: "", wrong: "", preview: /** @type {ReturnType<typeof understood> | null} */ (null) };
  const say = (/** @type {Partial<typeof told>} */ more) => {
    Object.assign(told, more);
    redraw();
  };

  /** Throws for a forecast that the engine does not accept. @param {import("./state.js").Forecast | null} forecast */
  const check = (forecast) => engine.outlook({ ...place(), forecast }, app.today());

  /** @param {import("./state.js").Forecast | null} forecast @param {string} status */
  function keep(forecast, status) {
    Object.assign(told, { status, preview: null });
    app.change(() => { place().forecast = forecast; });
    redraw();
  }

  function drop() {
    area.input.value = "";
    keep(null, words.gone);
    area.input.focus();
  }

  // Pasted or loaded: read by the engine, shown as it was understood, then used.
  const kept = place().forecast;
  const area = field(
    words.paste,
    h("textarea", { rows: 6, spellcheck: "false", autocomplete: "off", placeholder: words.pasteExample, value: kept?.kind === "csv" ? kept.text : "" }),
    { hint: words.pasteHint },
  );
  /** Answers to questions about the text. @type {Record<string, string>} */
  let answers = {};
  let name = words.pasted;
  const file = field(words.load, h("input", { type: "file", accept: ".csv,.tsv,.txt,.json,text/csv,text/plain,application/json", onchange: load }));

  async function load() {
    const chosen = file.input.files?.[0];
    if (!chosen) return;
    file.fail(null);
    if (chosen.size > 1_000_000) return file.fail(words.tooLarge);
    area.input.value = await chosen.text();
    name = chosen.name;
    readAnew();
    file.input.value = "";
    name = words.pasted;
  }

  function readAnew() {
    answers = {};
    readText();
  }

  function readText() {
    area.fail(null);
    say({ preview: null });
    if (area.input.value.trim() === "") return area.fail(text.common.nothingToRead);
    try {
      say({ preview: understood(engine.readForecast(place(), app.today(), area.input.value, name, answers)) });
    } catch (error) {
      if (!(error instanceof engine.ApiaryError)) throw error;
      area.fail(error.message); // What stands in the text is said as it stands there.
      area.input.focus();
    }
  }

  /** The text as it was understood, and its questions. @param {ReturnType<typeof engine.readForecast>} read */
  const understood = (read) => ({
    ...read,
    isOpen: read.questions.some(({ mustBeAnswered }) => mustBeAnswered),
    asked: read.questions.map(({ code, text: question, readings }) =>
      oneOf(question, readings.map(({ answer, text: meaning }) => [answer, meaning]), "", (answer) => {
        const key = code.replace(/_(.)/g, (_, letter) => letter.toUpperCase());
        answers = { ...answers, [key]: answer };
        readText();
        /** @type {HTMLElement | null | undefined} */ (area.box.closest(".forecast")?.querySelector(".understood button"))?.focus();
      })),
  });

  /** @param {any[]} rows @param {any[]} hours */
  function useRead(rows, hours) {
    /** @type {import("./state.js").Forecast} */
    const forecast = { kind: "rows", rows, ...(hours.length > 0 ? { hours } : {}) };
    let answer;
    try {
      answer = check(forecast);
    } catch (error) {
      if (!(error instanceof engine.ApiaryError)) throw error;
      area.fail(error.message);
      area.input.focus();
      return;
    }
    const ahead = aheadOf(answer);
    if (ahead === 0) return area.fail(words.noneAhead);
    keep(forecast, words.inUse(ahead));
  }

  /** How many of the next mornings rest on it. @param {any} answer */
  function aheadOf({ mornings }) {
    return mornings.filter((/** @type {any} */ { morning }) => ["forecast", "hours"].includes(morning.source)).length;
  }

  // Typed.
  const rows = Array.from({ length: days }, (_, i) => addDays(app.today(), i + 1)).map((date) => ({ key: date, label: shortDate(date) }));
  const first = place().forecast;
  const held = first?.kind === "rows" ? first.rows : [];
  const table = grid({
    caption: words.typedCaption,
    rows,
    columns: [
      { name: "minimumC", label: text.common.low, unit: show.temperatureUnit, needed: true },
      { name: "maximumC", label: text.common.high, unit: show.temperatureUnit, needed: true },
      { name: "rainMm", label: text.common.rain, unit: "mm" },
      { name: "windMS", label: words.wind, unit: "m/s" },
    ],
    values: Object.fromEntries(
      held.map(({ date, minimumC, maximumC, rainMm, windMS }) => [
        date,
        {
          minimumC: show.out(minimumC, "°C"),
          maximumC: show.out(maximumC, "°C"),
          rainMm: rainMm === undefined ? "" : String(rainMm),
          windMS: windMS === undefined ? "" : String(windMS),
        },
      ]),
    ),
  });

  function useTyped() {
    say({ wrong: "" });
    const read = table.read();
    if (!read) return focusFirstError(table.box);
    if (read.length === 0) return say({ wrong: text.common.nothingToRead });
    const typed = read.map(({ key, numbers: { minimumC, maximumC, ...rest } }) => ({
      date: key,
      minimumC: show.in(minimumC, "°C"),
      maximumC: show.in(maximumC, "°C"),
      ...rest,
    }));
    /** @type {import("./state.js").Forecast} */
    const forecast = { kind: "rows", rows: typed };
    let answer;
    try {
      answer = check(forecast);
    } catch (error) {
      if (!(error instanceof engine.ApiaryError)) throw error;
      const where = /** @type {{field: string, message: string}} */ (error);
      const row = typed.find(({ date }) => where.field.includes(date) || where.message.includes(date));
      const column = ["minimum_c", "maximum_c", "rain_mm", "wind_m_s"].find((one) => where.field.startsWith(one));
      const names = { minimum_c: "minimumC", maximum_c: "maximumC", rain_mm: "rainMm", wind_m_s: "windMS" };
      const message = plainly(where);
      if (!row || !table.fail(row.date, names[/** @type {keyof typeof names} */ (column)], message)) say({ wrong: message });
      return focusFirstError(table.box);
    }
    keep(forecast, words.inUse(aheadOf(answer)));
  }

  return () => html`<div class="forecast">
    <p class="status" role="status">${told.status}</p>
    ${area.box}
    <div class="actions"><button type="button" @click=${readAnew}>${words.read}</button></div>
    <div class="understood" aria-live="polite">${told.preview ? preview(told.preview) : nothing}</div>
    ${file.box}
    ${fold(words.typed, table.box, html`<p class="error" role="alert">${told.wrong}</p>
      <div class="actions"><button type="button" @click=${useTyped}>${words.useTyped}</button></div>`)}
    ${place().forecast === null ? nothing : html`<div class="actions"><button type="button" @click=${drop}>${words.remove}</button></div>`}
  </div>`;

  /** @param {ReturnType<typeof understood>} read */
  function preview({ asked, isOpen, understood: days, forecast, hours, notes, leftOut, moreLeftOut }) {
    const left = leftOut.map((one) => `${one.place}, “${one.given}”: ${app.sentence(one.why)}`);
    return html`${asked}
      ${days.length > 0 ? html`<h3>${words.understood}</h3>${list(days.map((day) => day.text))}` : nothing}
      ${notes.length > 0 ? reasonList(notes, app) : nothing}
      ${left.length > 0 ? html`<h3>${words.leftOut}</h3>${list(moreLeftOut > 0 ? [...left, words.moreLeftOut(moreLeftOut)] : left)}` : nothing}
      ${isOpen || days.length === 0 ? nothing : html`<div class="actions"><button type="button" @click=${() => useRead([...forecast], [...hours])}>${words.useRead}</button></div>`}`;
  }
}
