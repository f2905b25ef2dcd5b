// Where the hives stand: a town or coordinates typed or pasted, or the device. That is enough for an answer;
// height and zone are found, and can be changed.

import { html, nothing, render } from "../lit-html/lit-html.js";
import { repeat } from "../lit-html/directives/repeat.js";

import { writeCoordinates } from "../coordinates.js";
import { fill, focusOn, h, more, newId } from "../dom.js";
import * as engine from "../engine.js";
import { field, focusFirstError, numberInput, numberOf, plainly, showEngineError, tick } from "../fields.js";
import { shareBox } from "../share-box.js";
import { firstPlaceSettings, freeId } from "../state.js";
import { drawing } from "../templates.js";
import { text } from "../text/en.js";

const words = text.place;

/** @param {import("../app.js").App} app @param {(name: string) => void} arrive */
export function placeView(app, arrive) {
  const root = /** @type {import("../main.js").ViewRoot} */ (h("div", { class: "view view-place" }));
  /** The place that is edited; none for a new one. @type {string | undefined} */
  let editedId;
  /** What is being entered. @type {ReturnType<typeof form>} */
  let made;
  const { now, soon } = drawing(root, () => {}, draw);
  edit(app.place);
  root.update = soon;
  return root;

  /** @param {import("../state.js").Place | undefined} place @param {string} [focus] */
  function edit(place, focus) {
    editedId = place?.id;
    made = form(place);
    now();
    if (focus) focusOn(root.querySelector(focus));
  }

  function draw() {
    const isFirst = app.state.places.length === 0;
    made.bind();
    render(html`
      <h1>${editedId ? text.views.place : words.firstHeading}</h1>
      ${isFirst ? html`<p class="lead">${words.welcome}</p>` : list()}
      ${made.box}
      ${isFirst ? html`<p class="hint">${words.privacy}</p>` : nothing}`, root);
  }

  function list() {
    /** @param {string} id */
    const choose = (id) => {
      app.change((state) => (state.placeId = id));
      edit(app.place, '.place-list [aria-pressed="true"]');
    };
    return html`<ul class="place-list">
      ${repeat(app.state.places, ({ id }) => id, (one) => html`<li><button type="button" aria-pressed=${String(one.id === editedId)} @click=${() => choose(one.id)}><strong>${one.name}</strong><span>${writeCoordinates(one)}</span></button></li>`)}
      <li><button type="button" aria-pressed=${String(editedId === undefined)} @click=${() => edit(undefined, "h1")}>${words.another}</button></li>
    </ul>`;
  }

  /** @param {import("../state.js").Place | undefined} place */
  function form(place) {
    const { show } = app;
    /** @type {import("../coordinates.js").Position | undefined} */
    let position = place;
    /** Whether a height and a zone stand there that the page has found, and may find anew. */
    const found = { elevation: !place || place.elevationIsFound === true, zone: !place };
    /** The text that `position` was read from. */
    let readText = place ? `${place.latitudeDeg}, ${place.longitudeDeg}` : "";
    const alert = h("p", { class: "error form-error", role: "alert" });

    const where = field(
      words.where,
      h("input", { type: "text", autocomplete: "off", autocapitalize: "off", spellcheck: "false", maxlength: 4000, onchange: () => { if (engine.isReady() && isCoordinates()) read(); }, value: readText }),
      { hint: words.whereHint },
    );
    const choices = h("div", { "aria-live": "polite" });
    const readout = h("p", { class: "readout", "aria-live": "polite" });
    const name = field(words.name, h("input", { type: "text", autocomplete: "off", maxlength: 60, value: place?.name ?? "" }), { hint: words.nameHint, optional: true });
    const elevation = field(
      words.elevation(show.lengthUnit),
      numberInput(place ? show.out(place.elevationM, "m") : "", { oninput: () => { found.elevation = elevation.input.value.trim() === ""; } }),
      { hint: words.elevationHint(show.length(100), show.difference(0.65)), optional: true },
    );
    const zoneList = newId("zones");
    const zoneNote = h("span", null, words.zoneHint);
    const zone = field(
      words.zone,
      h("input", { type: "text", list: zoneList, autocomplete: "off", spellcheck: "false", value: place?.zone ?? "", oninput: () => { found.zone = zone.input.value.trim() === ""; fill(zoneNote, words.zoneHint); } }),
      { hint: zoneNote, optional: true },
    );
    const east = field(words.eastHorizon, numberInput(String(place?.eastHorizonDeg ?? 0)), { hint: words.horizonHint });
    const west = field(words.westHorizon, numberInput(String(place?.westHorizonDeg ?? 0)));
    const locate = h("button", { type: "button", onclick: fromDevice }, words.fromDevice);
    if (place) fill(readout, writeCoordinates(place));

    /** Towns have no digits in their names. */
    function isCoordinates() {
      return /\d/.test(where.input.value);
    }

    /** Reads the coordinates that stand there; whether they can mean one place only. */
    function read() {
      position = undefined;
      where.fail(null);
      fill(choices);
      fill(readout);
      let reading;
      try {
        reading = engine.readCoordinates(where.input.value);
      } catch (error) {
        if (!(error instanceof engine.ApiaryError)) throw error;
        where.fail(`${words.notRead} ${plainly(/** @type {any} */ (error))}.`);
        return false;
      }
      if (!reading.question) {
        take(reading.positions[0]);
        return true;
      }
      ask(
        app.sentence(reading.question),
        reading.positions.map((one) => ({ label: writeCoordinates(one), hint: one.state === "at_sea" ? words.atSea : "", take: () => {
          where.input.value = `${one.latitudeDeg}, ${one.longitudeDeg}`;
          take(one);
        } })),
      );
      return false;
    }

    /** Which of several is meant; the answer of a first place follows at once. @param {string} question @param {{label: string, hint: string, take: () => void}[]} answers @param {any} [more] */
    function ask(question, answers, more) {
      fill(
        choices,
        h("p", null, h("b", null, question)),
        h("ul", { class: "place-list" }, answers.map((one) => h("li", null, h("button", { type: "button", onclick: () => {
          one.take();
          fill(choices);
          if (place) where.input.focus();
          else use();
        } }, h("strong", null, one.label), h("span", null, one.hint))))),
        more,
      );
      focusOn(choices.querySelector("button"));
    }

    /** @param {import("../coordinates.js").Position} taken @param {{zone?: string, how?: string}} [known] */
    function take({ latitudeDeg, longitudeDeg }, { zone: zoneName, how = words.zoneFromMap } = {}) {
      const taken = { latitudeDeg, longitudeDeg };
      position = taken;
      readText = where.input.value;
      where.fail(null);
      fill(readout, writeCoordinates(taken));
      if (found.elevation) {
        elevation.input.value = show.out(engine.landElevation(taken), "m");
        elevation.fail(null);
      }
      if (!found.zone) return;
      if (zoneName !== undefined) return suggest(zoneName, how);
      // Without a suggestion it is typed.
      zoneAt(taken).then((suggested) => { if (suggested && position === taken && found.zone) suggest(suggested, how); });
    }

    /** @param {string} suggested @param {string} how */
    function suggest(suggested, how) {
      zone.input.value = suggested;
      zone.fail(null);
      fill(zoneNote, how);
    }

    async function findTown() {
      fill(choices);
      const list = await townList();
      if (list === null) return where.fail(text.frame.notFetched);
      let towns;
      try {
        towns = engine.towns(list, where.input.value);
      } catch (error) {
        if (!(error instanceof engine.ApiaryError)) throw error;
        return where.fail(words.whereMissing);
      }
      if (towns.towns.length === 0) return where.fail(words.noTown);
      if (towns.towns.length === 1) {
        takeTown(towns.towns[0]);
        return use();
      }
      ask(
        words.whichTown,
        towns.towns.map((one) => ({ label: one.name, hint: [one.region, one.country].filter(Boolean).join(", "), take: () => takeTown(one) })),
        towns.more > 0 ? h("p", { class: "hint" }, words.moreTowns(towns.more)) : null,
      );
    }

    /** @param {{name: string, site: import("../apiary-almanac/index.js").Site}} town */
    function takeTown({ name: called, site }) {
      where.input.value = `${site.latitudeDeg}, ${site.longitudeDeg}`;
      found.elevation = true;
      found.zone = true;
      take(site, { zone: site.zone, how: words.zoneFromTown });
      if (name.input.value.trim() === "") name.input.value = called;
    }

    function fromDevice() {
      if (!navigator.geolocation) return where.fail(words.noLocation);
      locate.disabled = true;
      fill(locate, words.locating);
      const done = () => {
        locate.disabled = false;
        fill(locate, words.fromDevice);
      };
      navigator.geolocation.getCurrentPosition(
        async ({ coords }) => {
          await engine.whenReady;
          done();
          const round = (/** @type {number} */ x) => Number(x.toFixed(4));
          const here = { latitudeDeg: round(coords.latitude), longitudeDeg: round(coords.longitude) };
          where.input.value = `${here.latitudeDeg}, ${here.longitudeDeg}`;
          take(here, { zone: Intl.DateTimeFormat().resolvedOptions().timeZone, how: words.zoneFromDevice });
          fill(readout, writeCoordinates(here), " · ", words.within(show.length(Math.round(coords.accuracy))));
          if (!place) use();
        },
        ({ code }) => {
          done();
          where.fail(code === 1 ? words.locationRefused : words.noLocation);
        },
        { enableHighAccuracy: true, timeout: 20_000, maximumAge: 60_000 },
      );
    }

    /** @param {Event} event */
    function submit(event) {
      event.preventDefault();
      fill(alert);
      where.fail(null);
      if (where.input.value.trim() === "") {
        where.fail(words.whereMissing);
        return focusFirstError(root);
      }
      if (!isCoordinates()) return findTown();
      if ((position === undefined || readText !== where.input.value) && !read()) {
        if (choices.childElementCount === 0) focusFirstError(root);
        return;
      }
      return use();
    }

    /** Keeps the place, with height and zone found where none are given. */
    async function use() {
      if (position === undefined) return;
      fill(alert);
      for (const one of [where, elevation, zone]) one.fail(null);
      const height = found.elevation ? undefined : numberOf(elevation, { needed: true });
      const [eastDeg, westDeg] = [numberOf(east) ?? 0, numberOf(west) ?? 0];
      const zoneName = zone.input.value.trim() || (await zoneAt(position)) || "";
      if (zoneName === "") zone.fail(words.zoneMissing);
      if (root.querySelector('[aria-invalid="true"]')) return focusFirstError(root);
      const entered = {
        name: name.input.value.trim() || place?.name || words.unnamed(app.state.places.length + 1),
        latitudeDeg: position.latitudeDeg,
        longitudeDeg: position.longitudeDeg,
        elevationM: height === undefined ? engine.landElevation(position) : show.in(height, "m"),
        zone: zoneName,
        eastHorizonDeg: eastDeg,
        westHorizonDeg: westDeg,
      };
      // Another tab may have changed it meanwhile.
      const known = place && (app.state.places.find(({ id }) => id === place.id) ?? place);
      /** @type {import("../state.js").Place} */
      const next = { ...(known ?? { id: freeId("place", app.state.places), ...firstPlaceSettings() }), ...entered };
      if (height === undefined) next.elevationIsFound = true;
      else delete next.elevationIsFound;
      try {
        engine.checkSite(next);
        engine.dateAt(next, app.now());
      } catch (error) {
        const fields = { latitude_deg: where, longitude_deg: where, elevation_m: elevation, zone, east_horizon_deg: east, west_horizon_deg: west };
        showEngineError(error, (field) => fields[/** @type {keyof typeof fields} */ (field)], (message) => fill(alert, message));
        return focusFirstError(root);
      }
      app.change((state) => {
        const at = state.places.findIndex(({ id }) => id === next.id);
        if (at < 0) state.places.push(next);
        else state.places[at] = next;
        state.placeId = next.id;
      });
      arrive("dawn");
    }

    const share = place ? shareBox(() => place, () => app.plans) : null;
    const remove = place
      ? more(
          words.remove,
          h("p", null, words.removeWarning(app.plans.length)),
          h(
            "button",
            {
              type: "button",
              class: "danger",
              onclick: () => {
                app.change((state) => {
                  state.places = state.places.filter(({ id }) => id !== place.id);
                  state.plans = state.plans.filter(({ placeId }) => placeId !== place.id);
                  state.placeId = state.places[0]?.id ?? null;
                  if (!state.plans.some(({ id }) => id === state.planId)) state.planId = null;
                });
                edit(app.place, "h1");
              },
            },
            words.removeNow(place.name),
          ),
        )
      : null;

    const keep = tick(text.device.keep, app.state.keep, (on) => app.change((state) => (state.keep = on)), text.device.keepHint);
    const box = h(
      "form",
      { onsubmit: submit, novalidate: true, "aria-label": text.views.place },
      where.box,
      readout,
      choices,
      h("div", { class: "actions" }, h("button", { type: "submit", class: "main-action" }, place ? words.save : words.use), locate),
      alert,
      h(
        "details",
        { class: "found", open: place !== undefined },
        h("summary", null, words.more),
        elevation.box,
        zone.box,
        h("datalist", { id: zoneList }, zoneNames().map((zone) => h("option", { value: zone }))),
        name.box,
        more(words.skyline, h("p", { class: "hint" }, words.skylineAbout), east.box, west.box),
      ),
      keep.box,
      share,
      remove,
    );
    return { box, bind: () => keep.bind(app.state.keep) };
  }
}

/** The zone that a map of zones has there; null where the map does not come. @param {import("../coordinates.js").Position} position */
const zoneAt = ({ latitudeDeg, longitudeDeg }) =>
  import("../zone-lookup.js").then((zones) => zones.default(latitudeDeg, longitudeDeg), () => null);

/** @type {string | undefined} */
let towns;

/** The list of towns, fetched when it is first wanted; null where it cannot be. */
async function townList() {
  try {
    const answer = towns === undefined ? await fetch("./towns.txt") : undefined;
    if (answer?.ok) towns = await answer.text();
  } catch {
    return null; // Asked again next time.
  }
  return towns ?? null;
}

function zoneNames() {
  try {
    return Intl.supportedValuesOf("timeZone");
  } catch {
    return [];
  }
}
