// Starts the page: reads what was kept, draws the frame, shows the view that the address names.

import { createApp } from "./app.js";
import { fill, h } from "./dom.js";
import { readyForOffline } from "./offline.js";
import { select } from "./fields.js";
import { firstState } from "./state.js";
import { load } from "./storage.js";
import { text } from "./text/en.js";
import { dawnView } from "./views/dawn.js";
import { deviceView } from "./views/device.js";
import { placeView } from "./views/place.js";
import { planView } from "./views/plan.js";
import { yearView } from "./views/year.js";

/** @type {Record<string, (app: import("./app.js").App, arrive: (name: string) => void) => HTMLElement & {leave?: () => void}>} */
const views = { dawn: dawnView, year: yearView, plan: planView, place: placeView, device: deviceView };

const kept = load();
const app = createApp(kept && "state" in kept ? kept.state : firstState());

const notices = h("div", { class: "notices", role: "status" });
const places = h("div", { class: "place-switch" });
const main = h("main", { id: "main", tabindex: "-1" });
const links = Object.fromEntries(
  Object.keys(views).map((name) => [name, h("a", { href: `#${name}` }, text.views[/** @type {keyof typeof text.views} */ (name)])]),
);

fill(
  /** @type {HTMLElement} */ (document.getElementById("page")),
  h("a", { class: "skip", href: "#main", onclick: skip }, text.frame.skip),
  h("header", { class: "masthead" }, h("p", { class: "brand" }, text.frame.name), places),
  h("nav", { "aria-label": text.frame.nav }, h("ul", null, Object.values(links).map((link) => h("li", null, link)))),
  notices,
  main,
  h("footer", null, h("p", null, text.frame.law)),
);
document.documentElement.lang = text.language;

/** @param {Event} event */
function skip(event) {
  event.preventDefault();
  main.focus();
}

/** @param {string} name */
const arrive = (name) => {
  if (location.hash === `#${name}`) open();
  else location.hash = name;
};

/** @type {(HTMLElement & {leave?: () => void}) | undefined} */
let current;
function open() {
  const asked = location.hash.slice(1);
  const name = asked in views ? asked : app.place ? "dawn" : "place";
  current?.leave?.();
  current = views[name](app, arrive);
  fill(main, current);
  for (const [other, link] of Object.entries(links)) {
    if (other === name) link.setAttribute("aria-current", "page");
    else link.removeAttribute("aria-current");
  }
  document.title = `${text.views[/** @type {keyof typeof text.views} */ (name)]} – ${text.frame.name}`;
  return name;
}

function drawPlaces() {
  const { places: all, placeId } = app.state;
  if (all.length < 2) {
    fill(places, app.place ? h("p", null, app.place.name) : null);
    return;
  }
  const choose = select(all.map(({ id, name }) => [id, name]), placeId ?? "", {
    "aria-label": text.frame.place,
    onchange: () => {
      app.change((state) => (state.placeId = choose.value));
      open();
    },
  });
  fill(places, choose);
}

/** @param {string} words @param {string} [action] @param {() => void} [act] */
function notice(words, action, act) {
  const line = h("p", { class: "notice" }, words, action ? h("button", { type: "button", onclick: act }, action) : null);
  notices.append(line);
}

app.onChange(() => {
  drawPlaces();
  /** @type {any} */ (globalThis).chooseTheme(app.state.display.theme);
  if (!app.stored && notices.childElementCount === 0) notice(text.device.notStored);
});
drawPlaces();
addEventListener("hashchange", () => {
  open();
  scrollTo(0, 0);
  main.focus({ preventScroll: true });
});
open();
if (kept && "wrong" in kept) notice(text.device.keptUnreadable(kept.wrong ?? ""));
readyForOffline((use) => notice(text.frame.newVersion, text.frame.useNewVersion, use));
