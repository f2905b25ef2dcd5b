// The coming days' weather: pasted or loaded as a table, or typed.

import { addDays, shortDate } from "./dates.js";
import { fill, h, more } from "./dom.js";
import * as engine from "./engine.js";
import { field, focusFirstError, plainly } from "./fields.js";
import { grid } from "./grid.js";
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
    keep(null, words.gone);
    area.input.focus();
  } }, words.remove));

  // Pasted or loaded.
  const area = field(
    words.paste,
    h("textarea", { rows: 6, spellcheck: "false", autocomplete: "off", placeholder: words.pasteExample, value: place.forecast?.kind === "csv" ? place.forecast.text : "" }),
    { hint: words.pasteHint },
  );
  let name = words.pasted;
  const file = field(words.load, h("input", { type: "file", accept: ".csv,.tsv,.txt,text/csv,text/plain", onchange: load }));

  async function load() {
    const chosen = file.input.files?.[0];
    if (!chosen) return;
    file.fail(null);
    if (chosen.size > 1_000_000) return file.fail(words.tooLarge);
    area.input.value = await chosen.text();
    name = chosen.name;
    useText();
    file.input.value = "";
    name = words.pasted;
  }

  function useText() {
    area.fail(null);
    const csv = area.input.value.trim();
    if (csv === "") return area.fail(words.nothing);
    /** @type {import("./state.js").Forecast} */
    const forecast = { kind: "csv", file: name, text: `${csv}\n` };
    let answer;
    try {
      answer = check(forecast);
    } catch (error) {
      if (!(error instanceof engine.ApiaryError)) throw error;
      area.fail(error.message); // What stands in the file is said as it stands there.
      area.input.focus();
      return;
    }
    const ahead = answer.mornings.filter(({ morning }) => morning.source === "forecast").length;
    if (ahead === 0) return area.fail(words.noneAhead);
    keep(forecast, words.inUse(ahead));
  }

  // Typed.
  const rows = Array.from({ length: days }, (_, i) => addDays(today, i + 1)).map((date) => ({ key: date, label: shortDate(date) }));
  const held = place.forecast?.kind === "rows" ? place.forecast.rows : [];
  const table = grid({
    caption: words.typedCaption,
    rows,
    columns: [
      { name: "minimumC", label: words.minimum, unit: show.temperatureUnit, needed: true },
      { name: "maximumC", label: words.maximum, unit: show.temperatureUnit, needed: true },
      { name: "rainMm", label: words.rain, unit: "mm" },
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
    if (read.length === 0) return fill(tableError, words.nothing);
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
    keep(forecast, words.inUse(answer.mornings.filter(({ morning }) => morning.source === "forecast").length));
  }

  return h(
    "div",
    { class: "forecast" },
    status,
    area.box,
    h("div", { class: "actions" }, h("button", { type: "button", onclick: useText }, words.use)),
    file.box,
    more(words.typed, table.box, tableError, h("div", { class: "actions" }, h("button", { type: "button", onclick: useTyped }, words.useTyped))),
    drop,
  );
}
