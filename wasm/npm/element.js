// <apiary-almanac>: the coming dawn and the season of a place, on any page.
//
//     <script type="module" src="apiary-almanac/element.js"></script>
//     <apiary-almanac latitude="-28.81" longitude="153.28" elevation="12" zone="Australia/Sydney"></apiary-almanac>

import { init, mornings, seasonNow, tomorrow } from "./index.js";

const words = {
  waiting: "The almanac is being fetched.",
  failed: "The almanac could not be fetched.",
  again: "Try again",
  thisMorning: "This morning",
  tomorrow: "Tomorrow morning",
  close: "the evening before: close the entrance with mesh",
  light: "light enough to work",
  move: "time to move a hive, closed",
  lamp: "time to move a hive, closed, by lamp",
  verdict: { go: "Good for a move.", careful: "Move only with care.", no: "Do not move a hive." },
  flight: "bees usually begin to fly",
  season: { good: "Good season for dividing colonies", at_risk: "Dividing colonies is at risk", closed: "No season for dividing colonies" },
  until: (date) => `until ${date}`,
  law: "Local law and licensed practice come before anything shown here.",
};

const style = `
:host { display: block; box-sizing: border-box; max-width: 30rem; overflow-wrap: anywhere; container-type: inline-size; color: #241b10; background: #f8f3e7; border: 1px solid #b8ab90;
  border-left: 6px solid #7d4300; padding: .8rem 1rem; font: 1rem/1.45 system-ui, sans-serif; }
:host([hidden]) { display: none; }
h2 { font: 1.4rem/1.2 Georgia, serif; margin: 0 0 .5rem; }
p { margin: .5rem 0 0; }
dl { display: grid; grid-template-columns: max-content 1fr; gap: .25rem .8rem; align-items: baseline; margin: 0; }
dt { font: 1.25rem/1.2 Georgia, serif; font-variant-numeric: lining-nums tabular-nums; white-space: nowrap; }
dd { margin: 0; }
.move { font-size: min(1.9rem, 10cqi); }
.verdict { font-weight: 600; margin: 0 0 .5rem; }
.verdict.no { color: #932a08; }
ul { margin: .5rem 0 0; padding-left: 1.2rem; }
small { display: block; margin-top: .6rem; color: #584b38; font-size: .875rem; }
button { font: inherit; min-height: 2.75rem; padding: .4rem 1rem; }
@container (max-width: 20rem) { dl { grid-template-columns: 1fr; } }
@media (prefers-color-scheme: dark) {
  :host { color: #efe5d3; background: #201a13; border-color: #4d4335; border-left-color: #eba842; }
  small { color: #c3b59b; }
  .verdict.no { color: #f0936a; }
}`;

const names = ["latitude", "longitude", "elevation", "zone", "bee", "name"];

/** An element with children; text goes in as text. */
function make(tag, ...children) {
  const [name, kind] = tag.split(".");
  const element = document.createElement(name);
  if (kind) element.className = kind;
  element.append(...children.flat().filter((child) => child !== null));
  return element;
}

const longDate = (date, options = { weekday: "long", day: "numeric", month: "long" }) =>
  new Date(`${date}T00:00Z`).toLocaleDateString("en-AU", { ...options, timeZone: "UTC" });

// A server that renders pages may load this module; there are no elements there.
const Base = globalThis.HTMLElement ?? class {};

export class ApiaryAlmanacElement extends Base {
  static observedAttributes = names;
  #shadow;
  #wakes = () => {
    if (!document.hidden) this.#draw();
  };

  constructor() {
    super();
    this.#shadow = this.attachShadow({ mode: "open" });
    const sheet = new CSSStyleSheet();
    sheet.replaceSync(style);
    this.#shadow.adoptedStyleSheets = [sheet];
  }

  connectedCallback() {
    document.addEventListener("visibilitychange", this.#wakes);
    this.#draw();
  }

  disconnectedCallback() {
    document.removeEventListener("visibilitychange", this.#wakes);
  }

  attributeChangedCallback() {
    if (this.isConnected) this.#draw();
  }

  #show(...children) {
    this.#shadow.replaceChildren(...children.flat());
  }

  async #draw() {
    if (!this.#shadow.firstChild) this.#show(make("p", words.waiting));
    try {
      await init();
    } catch {
      const again = make("button", words.again);
      again.addEventListener("click", () => this.#draw());
      this.#show(make("p", words.failed), again);
      return;
    }
    try {
      this.#show(this.#answer());
    } catch (error) {
      if (error.name !== "ApiaryError") throw error;
      this.#show(make("p", error.message));
    }
  }

  #answer() {
    const given = (name) => this.getAttribute(name) ?? undefined;
    const number = (name) => (given(name) === undefined ? undefined : Number(given(name)));
    const elevation = number("elevation");
    const site = {
      latitudeDeg: number("latitude"),
      longitudeDeg: number("longitude"),
      ...(elevation === undefined ? {} : { elevationM: elevation }),
      zone: given("zone"),
    };
    const bee = given("bee");
    const more = bee === undefined ? {} : { bee };
    const { today, state, until, season } = seasonNow(site, more);
    const [thisMorning] = mornings({ ...more, site, first: today, days: 1 });
    const end = thisMorning.morning.window.until ?? thisMorning.morning.firstFlight?.at;
    const isAhead = end !== undefined && Date.now() < Date.parse(end);
    const { morning, reasons } = isAhead ? thisMorning : tomorrow(site, more);
    const { window, byLamp, eveningBefore, workLightClock, firstFlightClock } = morning;
    const lines = [];
    const line = (time, what, kind = "dt") => lines.push(make(kind, time), make("dd", what));
    if (window.kind === "open") line(`${window.fromClock}–${window.untilClock}`, words.move, "dt.move");
    else if (byLamp) line(`${byLamp.fromClock}–${byLamp.untilClock}`, words.lamp, "dt.move");
    line(eveningBefore.fromClock, words.close);
    if (workLightClock) line(workLightClock, words.light);
    if (firstFlightClock) line(firstFlightClock, words.flight);
    const why = (window.kind === "open" ? reasons : window.reasons).filter(({ text }) => text !== morning.verdictReason.text);
    return [
      make("h2", given("name") ? `${given("name")}: ` : "", isAhead ? words.thisMorning : words.tomorrow, `, ${longDate(morning.date)}`),
      make(`p.verdict ${morning.verdict}`, words.verdict[morning.verdict], morning.verdict === "go" ? "" : ` ${morning.verdictReason.text}`),
      make("dl", lines),
      ...(why.length === 0 ? [] : [make("ul", why.map(({ text }) => make("li", text)))]),
      make("p", season.notAtHome?.text ?? `${words.season[state]}${until ? ` ${words.until(longDate(until, { day: "numeric", month: "long", year: "numeric" }))}` : ""}.`),
      make("small", words.law),
    ];
  }
}

if (globalThis.customElements && !customElements.get("apiary-almanac")) customElements.define("apiary-almanac", ApiaryAlmanacElement);
