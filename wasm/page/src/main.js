// Starts the page: draws the frame, shows the view that the address names, fetches the engine beside it.

import { createApp } from "./app.js";
import { wrongSite } from "./check-state.js";
import { fill, focusOn, h } from "./dom.js";
import { isReady } from "./engine.js";
import { fetching } from "./fetching.js";
import { readyForOffline } from "./offline.js";
import { select } from "./fields.js";
import { openForPaper } from "./paper.js";
import { sign } from "./share.js";
import { firstState } from "./state.js";
import { hasSomething, load, watch } from "./storage.js";
import { text } from "./text/en.js";
import { placeView } from "./views/place.js";

/**
 * @typedef {HTMLElement & {leave?: () => void, update?: () => void}} ViewRoot `leave` is called when it goes, `update` when the state has changed
 * @typedef {(app: import("./app.js").App, arrive: (name: string) => void) => ViewRoot} View
 */
const names = /** @type {const} */ (["dawn", "tasks", "year", "plan", "place", "device"]);
/** The views of answers, once they are there. @type {typeof import("./views/answers.js") | undefined} */
let answers;
/** @param {string} name @returns {View | undefined} what can be shown: where to enter a place, always */
const viewOf = (name) => (name === "place" ? placeView : isReady() ? answers?.[/** @type {"dawn"} */ (name)] : undefined);

const notices = h("div", { class: "notices", role: "status" });
const places = h("div", { class: "place-switch" });
const unkept = h("div", { class: "unkept no-print", role: "status" });
const waiting = h("section", { "aria-label": text.frame.fetching });
const main = h("main", { id: "main", tabindex: "-1" });
const links = Object.fromEntries(
  // A plan is reached from its tasks.
  names.filter((name) => name !== "plan").map((name) => [name, h("a", { href: `#${name}` }, text.views[name])]),
);

fill(
  /** @type {HTMLElement} */ (document.getElementById("page")),
  h("a", { class: "skip", href: "#main", onclick: skip }, text.frame.skip),
  h("header", { class: "masthead" }, h("p", { class: "brand" }, text.frame.name), places),
  h("nav", { "aria-label": text.frame.nav }, h("ul", null, Object.values(links).map((link) => h("li", null, link)))),
  notices,
  main,
  waiting,
  unkept,
  h("footer", null, h("p", null, text.frame.law)),
);
document.documentElement.lang = text.language;

/** @param {Event} event */
function skip(event) {
  event.preventDefault();
  main.focus();
}

/** The engine and the views of its answers. @type {Promise<any>} */
const engine = Promise.all([
  new Promise((/** @type {(value?: any) => void} */ done) => fill(waiting, fetching(done))).then(() => waiting.remove()),
  import("./views/answers.js").then((all) => { answers = all; }, () => {
    notice(text.frame.notFetched, text.frame.fetchAgain, () => location.reload());
    return new Promise(() => {}); // There is nothing to go on with.
  }),
]);

// What was kept is read with the engine's help. A first visitor need not wait for it: there is a form to fill in.
if (hasSomething()) {
  fill(main, h("h1", null, text.frame.name));
  await engine;
}
const kept = load(wrongSite);
const app = createApp(kept && "state" in kept ? kept.state : firstState(), !(kept && "ofTab" in kept));

/** @type {any} */ (globalThis).chooseTheme(app.state.display.theme);

/** @param {string} name */
const arrive = (name) => {
  if (location.hash === `#${name}`) open();
  else location.hash = name;
};

/** @type {ReturnType<View> | undefined} */
let current;
function open() {
  const wanted = location.hash.slice(1);
  current?.leave?.();
  current = undefined;
  if (wanted.startsWith(sign)) return openShared(wanted);
  const name = names.find((one) => one === wanted) ?? (app.place ? "dawn" : "place");
  const title = text.views[name];
  // Without the engine there is one thing to see: where to enter the first place.
  const view = viewOf(name);
  fill(main, view ? (current = view(app, arrive)) : h("h1", null, title));
  for (const [other, link] of Object.entries(links)) {
    if (other === (name === "plan" ? "tasks" : name)) link.setAttribute("aria-current", "page");
    else link.removeAttribute("aria-current");
  }
  document.title = `${title} – ${text.frame.name}`;
  // A plan says so first; elsewhere it stands below.
  if (name === "plan") main.before(unkept);
  else main.after(unkept);
  drawUnkept();
}

/** Shows what a link has brought. Its coordinates do not stay in the address. @param {string} fragment */
function openShared(fragment) {
  const show = () => { if (answers) fill(main, (current = answers.takeView(app, arrive, fragment))); };
  history.replaceState(null, "", `${location.pathname}${location.search}`);
  for (const link of Object.values(links)) link.removeAttribute("aria-current");
  document.title = `${text.share.taken} – ${text.frame.name}`;
  if (isReady() && answers) return show();
  fill(main, h("h1", null, text.share.taken));
  engine.then(show);
}

// What is sent off before the engine is there goes off once it is.
const sent = { form: /** @type {HTMLFormElement | null} */ (null) };
main.addEventListener("submit", (/** @type {Event} */ event) => {
  if (isReady() && answers) return;
  event.preventDefault();
  event.stopPropagation();
  const form = /** @type {HTMLFormElement} */ (event.target);
  sent.form = form;
  if (!form.querySelector(".answer-soon")) form.append(h("p", { class: "status answer-soon", role: "status" }, text.frame.answerSoon));
}, true);

/** A plan or a move that is not kept says so until it is. */
function drawUnkept() {
  const { keep, plans } = app.state;
  if (plans.length === 0 || (keep && app.stored)) return fill(unkept);
  const keepIt = () => {
    app.change((state) => { state.keep = true; });
    focusOn(main);
  };
  fill(unkept, h("p", { class: "notice" }, text.frame.unkept, keep ? null : h("button", { type: "button", onclick: keepIt }, text.frame.keepIt)));
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
  drawUnkept();
  /** @type {any} */ (globalThis).chooseTheme(app.state.display.theme);
  if (!app.stored && notices.childElementCount === 0) notice(text.device.notStored);
  current?.update?.();
});
drawPlaces();
openForPaper(main);
addEventListener("hashchange", () => {
  open();
  scrollTo(0, 0);
  main.focus({ preventScroll: true });
});
open();
if (kept && "wrong" in kept) {
  notice(kept.held ? text.device.keptHeld(kept.wrong) : text.device.keptUnreadable(kept.wrong), text.device.toAside, () => arrive("device"));
}
/** What is looked at, and in which units. */
const looksAt = () => JSON.stringify([app.place?.id, app.plan?.id, app.state.display]);
let saidOfOther = false;
watch((other) => {
  /** @param {import("./state.js").State} state */
  const goOn = (state) => {
    const looked = looksAt();
    app.adopt(state);
    // What is being entered stays, unless it is for something else now.
    if (!current?.update || looksAt() !== looked) open();
  };
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

await engine;
if (sent.form?.isConnected) {
  sent.form.querySelector(".answer-soon")?.remove();
  sent.form.requestSubmit();
} else if (!current) open();
readyForOffline({
  waits: (use) => notice(text.frame.newVersion, text.frame.useNewVersion, use),
  isUsed: (use) => notice(text.frame.otherUsesNew, text.frame.useNewVersion, use),
});
