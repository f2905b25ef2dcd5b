// The coming days' weather: pasted or loaded as it was copied, or typed.

import { addDays, shortDate } from "./dates.js";
import { fill, h, more } from "./dom.js";
import * as engine from "./engine.js";
import { field, focusFirstError, oneOf, plainly } from "./fields.js";
import { grid } from "./grid.js";
import { reasonList } from "./sources.js";
import { text } from "./text/en.js";

const words = text.forecast;
const days = 10;

/** @param {import("./app.js").App} app @param {() => void} changed */
export function forecastEditor(app, changed) {
  const place = /** @type {import("./state.js").Place} */ (app.place);
  const { show } = app;
  const today = app.today();
  const status = h("p", { class: "status", role: "status" });

  /** Throws for a forecast that the engine does not accept. @param {import("./state.js").Forecast | null} forecast */
  const check = (forecast) => engine.outlook({ ...place, forecast }, today);

  /** @param {import("./state.js").Forecast | null} forecast @param {string} said */
  function keep(forecast, said) {
    place.forecast = forecast;
    app.change(() => {});
    fill(status, said);
    drop.hidden = forecast === null;
    changed();
  }
  const drop = h("div", { class: "actions", hidden: place.forecast === null }, h("button", { type: "button", onclick: () => {
    area.input.value = "";
    fill(preview);
    keep(null, words.gone);
    area.input.focus();
  } }, words.remove));

  // Pasted or loaded: read by the engine, shown as it was understood, then used.
  const area = field(
    words.paste,
    h("textarea", { rows: 6, spellcheck: "false", autocomplete: "off", placeholder: words.pasteExample, value: place.forecast?.kind === "csv" ? place.forecast.text : "" }),
    { hint: words.pasteHint },
  );
  const preview = h("div", { class: "understood", "aria-live": "polite" });
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
    fill(preview);
    if (area.input.value.trim() === "") return area.fail(text.common.nothingToRead);
    try {
      tell(engine.readForecast(place, today, area.input.value, name, answers));
    } catch (error) {
      if (!(error instanceof engine.ApiaryError)) throw error;
      area.fail(error.message); // What stands in the text is said as it stands there.
      area.input.focus();
    }
  }

  /** @param {ReturnType<typeof engine.readForecast>} read */
  function tell({ understood, forecast, hours, notes, leftOut, moreLeftOut, questions }) {
    const isOpen = questions.some(({ mustBeAnswered }) => mustBeAnswered);
    const left = leftOut.map((one) => h("li", null, `${one.place}, “${one.given}”: ${app.sentence(one.why)}`));
    fill(
      preview,
      questions.map((question) =>
        oneOf(question.text, question.readings.map(({ answer, text: meaning }) => [answer, meaning]), "", (answer) => {
          const key = question.code.replace(/_(.)/g, (_, letter) => letter.toUpperCase());
          answers = { ...answers, [key]: answer };
          readText();
          preview.querySelector("button")?.focus();
        }),
      ),
      understood.length > 0 ? [h("h3", null, words.understood), h("ul", { class: "reasons" }, understood.map((day) => h("li", null, day.text)))] : null,
      notes.length > 0 ? reasonList(notes, app) : null,
      left.length > 0 ? [h("h3", null, words.leftOut), h("ul", { class: "reasons" }, left, moreLeftOut > 0 ? h("li", null, words.moreLeftOut(moreLeftOut)) : null)] : null,
      isOpen || understood.length === 0 ? null : h("div", { class: "actions" }, h("button", { type: "button", onclick: () => useRead([...forecast], [...hours]) }, words.useRead)),
    );
  }

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
    fill(preview);
    keep(forecast, words.inUse(ahead));
  }

  /** How many of the next mornings rest on it. @param {any} answer */
  function aheadOf({ mornings }) {
    return mornings.filter((/** @type {any} */ { morning }) => ["forecast", "hours"].includes(morning.source)).length;
  }

  // Typed.
  const rows = Array.from({ length: days }, (_, i) => addDays(today, i + 1)).map((date) => ({ key: date, label: shortDate(date) }));
  const held = place.forecast?.kind === "rows" ? place.forecast.rows : [];
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
  const tableError = h("p", { class: "error", role: "alert" });

  function useTyped() {
    fill(tableError);
    const read = table.read();
    if (!read) return focusFirstError(table.box);
    if (read.length === 0) return fill(tableError, text.common.nothingToRead);
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
      if (!row || !table.fail(row.date, names[/** @type {keyof typeof names} */ (column)], message)) fill(tableError, message);
      return focusFirstError(table.box);
    }
    keep(forecast, words.inUse(aheadOf(answer)));
  }

  return h(
    "div",
    { class: "forecast" },
    status,
    area.box,
    h("div", { class: "actions" }, h("button", { type: "button", onclick: readAnew }, words.read)),
    preview,
    file.box,
    more(words.typed, table.box, tableError, h("div", { class: "actions" }, h("button", { type: "button", onclick: useTyped }, words.useTyped))),
    drop,
  );
}
