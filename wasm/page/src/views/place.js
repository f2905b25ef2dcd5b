// Where the hives stand: coordinates typed, pasted, taken from the device or picked on the map.

import { readCoordinates, writeCoordinates } from "../coordinates.js";
import { fill, focusOn, h, more, newId } from "../dom.js";
import * as engine from "../engine.js";
import { field, focusFirstError, numberInput, numberOf, showEngineError, tick } from "../fields.js";
import { firstPlaceSettings, freeId } from "../state.js";
import { text } from "../text/en.js";

const words = text.place;

/** @param {import("../app.js").App} app @param {(name: string) => void} arrive */
export function placeView(app, arrive) {
  const root = h("div", { class: "view view-place" });
  draw(app.place);
  return root;

  /** @param {import("../state.js").Place | undefined} place the one that is edited; none for a new one */
  function draw(place) {
    fill(
      root,
      h("h1", null, place ? words.heading : words.firstHeading),
      app.state.places.length === 0 ? [h("p", { class: "lead" }, words.welcome), h("p", null, words.privacy)] : null,
      app.state.places.length > 0 ? list(place) : null,
      form(place),
    );
  }

  /** @param {import("../state.js").Place | undefined} edited */
  function list(edited) {
    return h(
      "ul",
      { class: "place-list" },
      app.state.places.map((place) =>
        h(
          "li",
          null,
          h(
            "button",
            {
              type: "button",
              "aria-pressed": place.id === edited?.id ? "true" : "false",
              onclick: () => {
                app.change((state) => (state.placeId = place.id));
                draw(app.place);
                focusOn(root.querySelector('.place-list [aria-pressed="true"]'));
              },
            },
            h("strong", null, place.name),
            h("span", null, writeCoordinates(place)),
          ),
        ),
      ),
      h(
        "li",
        null,
        h("button", { type: "button", "aria-pressed": edited ? "false" : "true", onclick: () => { draw(undefined); focusOn(root.querySelector("h1")); } }, words.another),
      ),
    );
  }

  /** @param {import("../state.js").Place | undefined} place */
  function form(place) {
    const { show } = app;
    /** @type {import("../coordinates.js").Position | undefined} */
    let position = place;
    let zoneIsSuggested = !place;
    const alert = h("p", { class: "error form-error", role: "alert" });

    const name = field(words.name, h("input", { type: "text", autocomplete: "off", maxlength: 60, value: place?.name ?? "" }), { hint: words.nameHint, optional: true });
    const readout = h("p", { class: "readout", "aria-live": "polite" });
    const coordinates = field(
      words.coordinates,
      h("input", { type: "text", autocomplete: "off", autocapitalize: "off", spellcheck: "false", onchange: readTyped, value: place ? `${place.latitudeDeg}, ${place.longitudeDeg}` : "" }),
      { hint: words.coordinatesHint },
    );
    const town = field(
      words.town,
      h("input", { type: "text", autocomplete: "off", spellcheck: "false", maxlength: 100, onkeydown: (/** @type {KeyboardEvent} */ event) => {
        if (event.key !== "Enter") return;
        event.preventDefault(); // It does not send the form.
        findTown();
      } }),
      { hint: words.townHint, optional: true },
    );
    const townChoices = h("div", { "aria-live": "polite" });
    const townButton = h("button", { type: "button", onclick: findTown }, words.findTown);
    const elevation = field(words.elevation(show.lengthUnit), numberInput(place ? show.out(place.elevationM, "m") : ""), { hint: words.elevationHint(show.length(100), show.difference(0.65)) });
    const zoneList = newId("zones");
    const zoneNote = h("span");
    const zone = field(
      words.zone,
      h("input", { type: "text", list: zoneList, autocomplete: "off", spellcheck: "false", value: place?.zone ?? "", oninput: () => { zoneIsSuggested = false; fill(zoneNote, words.zoneHint); } }),
      { hint: zoneNote },
    );
    fill(zoneNote, words.zoneHint);
    const east = field(words.eastHorizon, numberInput(String(place?.eastHorizonDeg ?? 0)), { hint: words.horizonHint });
    const west = field(words.westHorizon, numberInput(String(place?.westHorizonDeg ?? 0)));

    const mapPlace = h("div");
    const mapButton = h("button", { type: "button", "aria-expanded": "false", onclick: toggleMap }, words.onMap);
    const locate = h("button", { type: "button", onclick: fromDevice }, words.fromDevice);

    if (place) fill(readout, writeCoordinates(place));

    function readTyped() {
      const read = readCoordinates(coordinates.input.value);
      if ("wrong" in read) {
        coordinates.fail(words.wrong[/** @type {keyof typeof words.wrong} */ (read.wrong)]);
        position = undefined;
        fill(readout);
        return;
      }
      take(read);
    }

    /** @param {import("../coordinates.js").Position} read */
    async function take(read) {
      position = read;
      coordinates.fail(null);
      fill(readout, writeCoordinates(read));
      if (!zoneIsSuggested && zone.input.value.trim() !== "") return;
      const zones = await import("../zone-lookup.js").catch(() => null);
      if (!zones || position !== read) return; // Without a suggestion it is typed.
      suggest(zones.default(read.latitudeDeg, read.longitudeDeg), words.zoneFromMap);
    }

    async function findTown() {
      town.fail(null);
      fill(townChoices);
      const typed = town.input.value.trim();
      if (typed === "") return town.fail(words.townMissing);
      townButton.disabled = true;
      const list = await townList();
      townButton.disabled = false;
      if (list === null) return town.fail(text.frame.notFetched);
      if (!engine.isReady()) fill(townChoices, h("p", { class: "hint" }, text.frame.answerSoon));
      await engine.whenReady;
      fill(townChoices);
      let found;
      try {
        found = engine.towns(list, typed);
      } catch (error) {
        if (!(error instanceof engine.ApiaryError)) throw error;
        return town.fail(words.townMissing);
      }
      if (found.towns.length === 0) return town.fail(words.noTown);
      if (found.towns.length === 1) return takeTown(found.towns[0]);
      const choices = found.towns.map((one) =>
        h("li", null, h("button", { type: "button", onclick: () => takeTown(one) }, h("strong", null, one.name), h("span", null, [one.region, one.country].filter(Boolean).join(", ")))),
      );
      fill(townChoices, h("ul", { class: "place-list" }, choices), found.more > 0 ? h("p", { class: "hint" }, words.moreTowns(found.more)) : null);
      focusOn(townChoices.querySelector("button"));
    }

    /** @param {{name: string, site: import("../apiary-almanac/index.js").Site}} town */
    function takeTown({ name: called, site }) {
      const { latitudeDeg, longitudeDeg, elevationM, zone: zoneName } = site;
      fill(townChoices, h("p", { class: "hint" }, words.heightFromTown));
      position = { latitudeDeg, longitudeDeg };
      coordinates.input.value = `${latitudeDeg}, ${longitudeDeg}`;
      coordinates.fail(null);
      fill(readout, writeCoordinates(position));
      elevation.input.value = show.out(/** @type {number} */ (elevationM), "m");
      elevation.fail(null);
      suggest(zoneName, words.zoneFromTown);
      if (name.input.value.trim() === "") name.input.value = called;
    }

    /** @param {string} name @param {string} how */
    function suggest(name, how) {
      zone.input.value = name;
      zone.fail(null);
      zoneIsSuggested = true;
      fill(zoneNote, how);
    }

    function fromDevice() {
      if (!navigator.geolocation) {
        coordinates.fail(words.noLocation);
        return;
      }
      locate.disabled = true;
      fill(locate, words.locating);
      const done = () => {
        locate.disabled = false;
        fill(locate, words.fromDevice);
      };
      navigator.geolocation.getCurrentPosition(
        ({ coords }) => {
          done();
          const round = (/** @type {number} */ x) => Number(x.toFixed(4));
          const read = { latitudeDeg: round(coords.latitude), longitudeDeg: round(coords.longitude) };
          coordinates.input.value = `${read.latitudeDeg}, ${read.longitudeDeg}`;
          position = read;
          coordinates.fail(null);
          fill(readout, writeCoordinates(read), " · ", words.within(show.length(Math.round(coords.accuracy))));
          if (coords.altitude !== null && elevation.input.value.trim() === "") {
            elevation.input.value = show.out(Math.round(coords.altitude), "m");
          }
          if (zoneIsSuggested || zone.input.value.trim() === "") {
            suggest(Intl.DateTimeFormat().resolvedOptions().timeZone, words.zoneFromDevice);
          }
        },
        ({ code }) => {
          done();
          coordinates.fail(code === 1 ? words.locationRefused : words.noLocation);
        },
        { enableHighAccuracy: true, timeout: 20_000, maximumAge: 60_000 },
      );
    }

    async function toggleMap() {
      const open = mapPlace.childElementCount > 0;
      mapButton.setAttribute("aria-expanded", String(!open));
      if (open) return fill(mapPlace);
      const fetched = await import("../map.js").catch(() => null);
      if (!fetched) return coordinates.fail(text.frame.notFetched);
      if (mapPlace.childElementCount > 0) return;
      const shown = fetched.map(position, (picked) => {
        coordinates.input.value = `${picked.latitudeDeg}, ${picked.longitudeDeg}`;
        take(picked);
        toggleMap();
        mapButton.focus();
      });
      fill(mapPlace, shown);
      /** @type {HTMLElement | null} */ (shown.querySelector(".map-frame"))?.focus();
    }

    /** @param {Event} event */
    function submit(event) {
      event.preventDefault();
      fill(alert);
      town.fail(null);
      const read = readCoordinates(coordinates.input.value);
      if ("wrong" in read) coordinates.fail(words.wrong[/** @type {keyof typeof words.wrong} */ (read.wrong)]);
      else coordinates.fail(null);
      const height = numberOf(elevation, { needed: true });
      const [eastDeg, westDeg] = [numberOf(east) ?? 0, numberOf(west) ?? 0];
      if (zone.input.value.trim() === "") zone.fail(words.zoneMissing);
      else zone.fail(null);
      if (root.querySelector('[aria-invalid="true"]') || "wrong" in read) return focusFirstError(root);
      const entered = {
        name: name.input.value.trim() || place?.name || words.unnamed(app.state.places.length + 1),
        ...read,
        elevationM: show.in(/** @type {number} */ (height), "m"),
        zone: zone.input.value.trim(),
        eastHorizonDeg: eastDeg,
        westHorizonDeg: westDeg,
      };
      /** @type {import("../state.js").Place} */
      const next = { ...(place ?? { id: freeId("place", app.state.places), ...firstPlaceSettings() }), ...entered };
      try {
        engine.checkSite(next);
        engine.dateAt(next, app.now());
      } catch (error) {
        const fields = { latitude_deg: coordinates, longitude_deg: coordinates, elevation_m: elevation, zone, east_horizon_deg: east, west_horizon_deg: west };
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
                draw(app.place);
                focusOn(root.querySelector("h1"));
              },
            },
            words.removeNow(place.name),
          ),
        )
      : null;

    return h(
      "form",
      { onsubmit: submit, novalidate: true, "aria-label": words.heading },
      town.box,
      h("div", { class: "actions" }, townButton),
      townChoices,
      coordinates.box,
      readout,
      h("div", { class: "actions" }, locate, mapButton),
      mapPlace,
      elevation.box,
      zone.box,
      h("datalist", { id: zoneList }, zoneNames().map((zone) => h("option", { value: zone }))),
      name.box,
      more(words.skyline, h("p", { class: "hint" }, words.skylineAbout), east.box, west.box),
      tick(text.device.keep, app.state.keep, (on) => app.change((state) => (state.keep = on)), text.device.keepHint),
      alert,
      h("div", { class: "actions" }, h("button", { type: "submit", class: "main-action" }, place ? words.save : words.use)),
      remove,
    );
  }
}

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
