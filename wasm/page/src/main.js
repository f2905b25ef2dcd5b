// Starts the page: reads what was kept, draws the frame, shows the view that the address names.

import { createApp } from "./app.js";
import { wrongSite } from "./check-state.js";
import { fill, focusOn, h } from "./dom.js";
import { readyForOffline } from "./offline.js";
import { select } from "./fields.js";
import { firstState } from "./state.js";
import { load, watch } from "./storage.js";
import { text } from "./text/en.js";

/** @typedef {(app: import("./app.js").App, arrive: (name: string) => void) => HTMLElement & {leave?: () => void}} View */
/** The views, fetched when they are wanted: the first one need not wait for the others. @type {Record<string, () => Promise<View>>} */
const views = {
  dawn: async () => (await import("./views/dawn.js")).dawnView,
  year: async () => (await import("./views/year.js")).yearView,
  plan: async () => (await import("./views/plan.js")).planView,
  place: async () => (await import("./views/place.js")).placeView,
  device: async () => (await import("./views/device.js")).deviceView,
};

const kept = load(wrongSite);
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

/** @type {ReturnType<View> | undefined} */
let current;
let asked = 0;
async function open() {
  const wanted = location.hash.slice(1);
  const name = Object.hasOwn(views, wanted) ? wanted : app.place ? "dawn" : "place";
  const turn = (asked += 1);
  /** @type {View} */
  let view;
  try {
    view = await views[name]();
  } catch {
    fill(main, h("p", { class: "error", role: "alert" }, text.frame.notFetched), h("div", { class: "actions" }, h("button", { type: "button", onclick: () => location.reload() }, text.frame.fetchAgain)));
    return;
  }
  if (turn !== asked) return; // Another view was chosen meanwhile.
  current?.leave?.();
  current = view(app, arrive);
  fill(main, current);
  for (const [other, link] of Object.entries(links)) {
    if (other === name) link.setAttribute("aria-current", "page");
    else link.removeAttribute("aria-current");
  }
  document.title = `${text.views[/** @type {keyof typeof text.views} */ (name)]} – ${text.frame.name}`;
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
  const held = places.contains(document.activeElement);
  fill(places, choose);
  if (held) focusOn(choose);
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
addEventListener("hashchange", async () => {
  await open();
  scrollTo(0, 0);
  main.focus({ preventScroll: true });
});
await open();
if (kept && "wrong" in kept) {
  notice(kept.held ? text.device.keptHeld(kept.wrong) : text.device.keptUnreadable(kept.wrong), text.device.toAside, () => arrive("device"));
}
let saidOfOther = false;
watch((other) => {
  /** @param {import("./state.js").State} state */
  const goOn = (state) => { app.adopt(state); open(); };
  if (other === null) goOn({ ...app.state, keep: false });
  else if (app.state.keep || app.state.places.length === 0) goOn(other);
  else {
    // What was entered here is kept nowhere.
    if (!saidOfOther) notice(text.device.otherTab);
    saidOfOther = true;
    return false;
  }
  return true;
});
readyForOffline((use) => notice(text.frame.newVersion, text.frame.useNewVersion, use));
// What is wanted next is there by then, even where the network is gone.
setTimeout(() => { for (const fetchView of Object.values(views)) fetchView().catch(() => {}); }, 1000);
