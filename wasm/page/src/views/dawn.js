// The coming dawn: when to close, when there is light, when to move, when the bees fly; then the
// next mornings, the best first.

import { addDays, dateOf, longDate, minutesBetween, shortDate } from "../dates.js";
import { beeEditor, beeLabel } from "../bees.js";
import { editor, fill, focusOn, h } from "../dom.js";
import * as engine from "../engine.js";
import { tick } from "../fields.js";
import { forecastEditor } from "../forecast.js";
import { moveForm } from "../move-form.js";
import { numberFields, numberLabel } from "../numbers.js";
import { basisList, cautionList, doubtList, quantity, reasonList, sources } from "../sources.js";
import { strip } from "../strip.js";
import { moveTime, nextStep, nextWith, reasonsAgainst, speakingAgainst } from "../today.js";
import { tick as tickOff, todo, untick } from "../todo.js";
import { text } from "../text/en.js";
import { needsPlace } from "./needs-place.js";

const words = text.dawn;

/** @param {import("../app.js").App} app @param {(name: string) => void} arrive */
export function dawnView(app, arrive) {
  const root = /** @type {HTMLElement & {leave?: () => void}} */ (h("div", { class: "view view-dawn" }));
  const place = app.place;
  if (!place) return needsPlace(root, text.views.dawn, arrive);
  /** @type {any} */
  let outlook = answer();
  if (!outlook) return root;

  const doubtful = h("div");
  const focus = h("section", { class: "focus" });
  const rest = h("div");
  const ranked = h("section");
  const cautions = h("section");
  const dueHolder = h("div");
  const mild = h("div");
  let due = todo(app);
  /** @type {string | undefined} the date that is looked at */
  let chosen;
  /** What was ticked off here last, and why something could not be. @type {import("../agenda-model.js").Item | undefined} */
  let ticked;
  let refused = "";
  const forecast = editor(text.forecast.heading, forecastEditor(app, update));
  const move = editor(text.move.heading, moveForm(app, undefined, (plan) => {
    app.change((state) => {
      state.plans.push(plan);
      state.planId = plan.id;
    });
    arrive("plan");
  }));
  draw();

  fill(
    root,
    doubtful,
    focus,
    mild,
    dueHolder,
    ranked,
    move,
    forecast,
    editor(
      text.bees.heading,
      beeEditor(app, update),
      h("h3", null, words.freeDays),
      h("p", { class: "hint" }, words.freeDaysHint),
      h("div", { class: "ticks" }, weekdays(place)),
      h("h3", null, words.ownTimes),
      numberFields(
        app,
        engine.parameters().filter(({ group }) => group === "morning"),
        place.morningNumbers,
        (next) => engine.outlook({ ...place, morningNumbers: next }, app.today()),
        (next) => {
          place.morningNumbers = next;
          app.change(() => {});
          update();
        },
      ),
    ),
    cautions,
    rest,
  );
  const clock = setInterval(drawFocus, 30_000);
  root.leave = () => clearInterval(clock);
  return root;

  /** Nothing where what was kept for the place is no longer accepted: then it is said, not hidden. */
  function answer() {
    try {
      return engine.outlook(/** @type {any} */ (place), app.today());
    } catch (error) {
      if (!(error instanceof engine.ApiaryError)) throw error;
      fill(
        root,
        h("h1", null, text.views.dawn),
        h("p", { class: "error", role: "alert" }, error.message),
        h("p", null, words.brokenAdvice),
        h("div", { class: "actions" }, h("button", { type: "button", onclick: () => {
          Object.assign(/** @type {any} */ (place), { forecast: null, normals: null, beeNumbers: {}, morningNumbers: {}, season: {} });
          app.change(() => {});
          arrive("dawn");
        } }, words.brokenReset)),
      );
      return undefined;
    }
  }

  function update() {
    outlook = engine.outlook(/** @type {any} */ (place), app.today());
    draw();
  }

  function draw() {
    due = todo(app);
    drawFocus();
    drawRanked();
    fill(dueHolder, dueTasks());
    const doubts = outlook.current.doubts ?? [];
    // That the height is the land's is no reason to hold back the answer.
    const isMild = (/** @type {any} */ { code }) => code === "elevation_of_the_land";
    fill(doubtful, doubtList(doubts.filter((/** @type {any} */ one) => !isMild(one)), app));
    fill(mild, doubts.filter(isMild).map((/** @type {any} */ one) => h("p", { class: "hint" }, app.sentence(one), " ", h("a", { href: "#place" }, words.changeHeight))));
    const said = new Set(doubts.map((/** @type {any} */ { code }) => code));
    fill(cautions, h("h2", null, words.cautions), cautionList(outlook.cautions.filter((/** @type {any} */ { code }) => !said.has(code)), app));
    fill(rest, h("h2", null, words.restsOn), basisList(outlook.basis, app));
  }

  /** The first task that is due today, at whatever place, to be ticked off by one tap. */
  function toTick() {
    const now = due.tasks.today.find(({ canTick }) => canTick);
    const count = due.tasks.today.length + due.tasks.questions.length;
    return [
      ticked ? h("p", { class: "status", role: "status" }, words.ticked(`${ticked.box}, ${ticked.short}`), " ", h("button", { type: "button", onclick: () => record(undefined) }, text.common.undo)) : null,
      refused ? h("p", { class: "error", role: "alert" }, refused) : null,
      count === 0
        ? null
        : h(
            "div",
            { class: "actions" },
            now ? h("button", { type: "button", class: "main-action", onclick: () => record(now) }, words.done(now.box, now.short)) : null,
            h("a", { class: "button", href: "#tasks" }, words.toDue(count)),
          ),
    ];
  }

  /** Writes down that a task was done today; without one, takes back what was written down last. @param {import("../agenda-model.js").Item | undefined} done */
  function record(done) {
    refused = "";
    if (done) refused = tickOff(app, done, done.today) ?? "";
    else if (ticked) untick(app, ticked);
    if (!refused) ticked = done;
    draw();
    focusOn(focus.querySelector(".status button") ?? focus.querySelector("h1"));
  }

  function dueTasks() {
    const { today, tomorrow } = due.tasks;
    const all = [...today, ...tomorrow];
    if (all.length === 0) return null;
    return h(
      "section",
      { class: "due-box" },
      h("h2", null, text.tasks.due),
      h("ul", { class: "reasons" }, all.map((item) => h("li", null, h("b", null, item.box), " ", shortDate(item.date), " ", item.clocks ? `${item.clocks} ` : null, item.title))),
      h("p", null, h("a", { href: "#tasks" }, text.views.tasks)),
    );
  }

  /** Today as long as there is something left to do this morning, else tomorrow. */
  function next() {
    const { current } = outlook;
    const end = current.morning.window.kind === "open" ? current.morning.window.until : current.morning.firstFlight?.at;
    return end && app.now().getTime() < Date.parse(end) ? current : tomorrow();
  }

  function tomorrow() {
    return outlook.mornings.reduce((/** @type {any} */ a, /** @type {any} */ b) => (b.morning.date < a.morning.date ? b : a));
  }

  function drawFocus() {
    if (outlook.today !== app.today()) return update();
    const all = [outlook.current, ...outlook.mornings];
    const shown = all.find(({ morning }) => morning.date === chosen) ?? next();
    const { morning } = shown;
    const day = (/** @type {any} */ one, /** @type {string} */ label) =>
      h("button", { type: "button", "aria-pressed": String(one.morning.date === morning.date), onclick: () => { chosen = one.morning.date; drawFocus(); } }, label);
    const title = morning.date === outlook.today ? words.thisMorning : morning.date === addDays(outlook.today, 1) ? words.tomorrow : words.thatMorning;
    const openDetails = focus.querySelector("details")?.hasAttribute("open");
    const held = document.activeElement && focus.contains(document.activeElement) ? document.activeElement.textContent : null;
    fill(
      focus,
      first(shown, title),
      h("div", { class: "actions day-switch", role: "group", "aria-label": words.whichDay }, day(outlook.current, text.common.today), day(tomorrow(), text.common.tomorrow)),
      strip(morning, app.now(), morning.verdict !== "go"),
      steps(shown),
      h("div", { class: "actions" }, h("button", { type: "button", class: "mind", onclick: toCautions }, words.mindFirst)),
      why(shown),
    );
    if (openDetails) focus.querySelector("details")?.setAttribute("open", "");
    if (held) /** @type {any} */ ([...focus.querySelectorAll("button, summary")].find((one) => one.textContent === held))?.focus({ preventScroll: true });
  }

  /** What is read at arm's length: the verdict, one time, one thing to tap. @param {any} shown @param {string} title */
  function first(shown, title) {
    const { morning } = shown;
    const { window, eveningBefore: evening } = morning;
    const verdict = /** @type {"go" | "careful" | "no"} */ (morning.verdict);
    const against = reasonsAgainst(shown);
    const time = moveTime(morning);
    const byLamp = morning.byLamp && window.kind === "none" ? h("p", null, words.byLamp(...lampHour(morning))) : null;
    const flight = morning.firstFlightClock ? ` ${words.thenFlight(morning.firstFlightClock)}` : "";
    const parts = [];
    if (verdict === "no") {
      const good = nextWith(outlook.mornings, morning.date, "go") ?? nextWith(outlook.mornings, morning.date, "careful");
      // The rest of the reasons can wait till the next good morning is said.
      const [foremost, others] = [against.slice(0, 2), against.slice(2)];
      parts.push(h("p", { class: "against" }, foremost.map(told).join(" ")));
      parts.push(byLamp);
      if (good) {
        const { eveningBefore, date } = good.morning;
        const open = moveTime(good.morning);
        parts.push(
          h("p", { class: "label" }, words.nextWith[/** @type {"go"} */ (good.morning.verdict)]),
          h("p", { class: `big-time day is-${good.morning.verdict}` }, shortDate(date)),
          h("p", null, `${open.fromClock}–${open.untilClock}. ${words.closeOn(shortDate(dateOf(eveningBefore.from)), eveningBefore.fromClock)}`),
          h("div", { class: "actions" }, h("button", { type: "button", class: "main-action", onclick: () => look(date) }, words.showDay(shortDate(date)))),
        );
      } else parts.push(h("p", { class: "label" }, words.noneGood));
      if (others.length > 0) parts.push(h("p", null, words.against, " ", others.map(told).join(" ")));
    } else {
      const next = nextStep(morning, app.now(), outlook.today);
      const label = next.kind === "close" && dateOf(evening.from) !== outlook.today ? words.closeOnDay(shortDate(dateOf(evening.from))) : words.next[next.kind];
      const then = { close: words.thenMove(time.fromClock, time.untilClock), close_now: words.thenMove(time.fromClock, time.untilClock), move: words.moveUntil(time.untilClock), before: "" }[next.kind];
      parts.push(
        h("p", { class: "label" }, label),
        h("p", { class: "big-time" }, next.clock),
        h("p", null, then, flight),
        byLamp,
        verdict === "careful" ? h("p", { class: "against" }, against.map(told).join(" ")) : null,
      );
      parts.push(toTick());
    }
    return h(
      "div",
      { class: `first is-${verdict}` },
      h("h1", null, words.verdict[verdict], " ", h("span", { class: "date" }, `${title}, ${longDate(morning.date)}`)),
      parts,
      weather(morning),
      morning.source === "forecast" ? null : h("p", { class: "means" }, words.fromMeans, " ", h("button", { type: "button", class: "plain", onclick: toForecast }, words.pasteForecast)),
    );
  }

  /** @param {string} date */
  function look(date) {
    chosen = date;
    drawFocus();
    focusOn(focus.querySelector("h1"));
    focus.scrollIntoView();
  }

  function toForecast() {
    forecast.setAttribute("open", "");
    forecast.scrollIntoView();
    focusOn(forecast.querySelector("summary"));
  }

  function toCautions() {
    const heading = cautions.querySelector("h2");
    focusOn(heading);
    heading?.scrollIntoView();
  }

  /** @param {any} morning */
  function weather({ minimumC, maximumC, rainMm, windMS, temperatureC, source }) {
    const { show } = app;
    return h(
      "p",
      { class: "weather" },
      words.weather(show.temperature(minimumC), show.temperature(maximumC)),
      rainMm === null ? null : ` · ${words.rain(rainMm)}`,
      windMS === null ? null : ` · ${words.wind(windMS)}`,
      temperatureC === null ? null : ` · ${words.atWork(show.temperature(temperatureC))}`,
      " ",
      h("span", { class: "origin" }, text.sources.origin[/** @type {keyof typeof text.sources.origin} */ (source)] ?? source),
    );
  }

  /** @param {any} morning @returns {[string, string]} */
  function lampHour({ byLamp }) {
    return [byLamp.fromClock, byLamp.untilClock];
  }

  /** @param {any} shown */
  function steps(shown) {
    const { morning } = shown;
    const against = speakingAgainst(shown);
    const { eveningBefore: evening, window, firstFlight, earlyFirstFlight } = morning;
    const eveningDate = dateOf(evening.from);
    const lines = [
      step(
        evening.fromClock,
        words.close,
        [
          shortDate(eveningDate),
          ". ",
          evening.lastFlight ? words.closeWhy(evening.lastFlightClock, limit(evening.lastFlight)) : words.closeNoFlight,
          " ",
          evening.daylightUntil ? (evening.lampNeeded ? words.lampNeeded(evening.daylightUntilClock) : words.daylightUntil(evening.daylightUntilClock)) : null,
        ],
        evening.from,
      ),
      morning.workLight
        ? step(morning.workLightClock, words.workLight, morning.sunrise ? words.sunrise(morning.sunriseClock) : words.noSunrise, morning.workLight)
        : h("li", { class: "step none" }, h("p", { class: "what" }, words.noWorkLight)),
    ];
    const move =
      window.kind === "open"
        ? step(
            [window.fromClock, h("span", { class: "to" }, "–"), window.untilClock],
            morning.verdict === "no" ? words.wouldMove : words.move,
            [
              against.length > 0 ? h("span", { class: "against" }, words.against, " ", against.map(told).join(" "), " ") : null,
              // Between the times as they are shown.
              words.moveWhy(minutesBetween(window.fromClock, window.untilClock), firstFlight !== null),
              window.carefulFrom ? [" ", window.carefulFrom <= window.from ? words.carefulAll : words.careful(window.carefulFromClock)] : null,
            ],
            window.from,
            morning.verdict === "go" ? "move" : "move doubtful",
          )
        : h(
            "li",
            { class: "step none" },
            h("p", { class: "what" }, words.noMove),
            morning.byLamp ? h("p", null, h("b", null, words.byLamp(...lampHour(morning)))) : null,
            reasonList(window.reasons, app),
            window.help.length > 0 ? [h("p", null, words.helps), reasonList(window.help, app)] : null,
          );
    const flight = firstFlight
      ? step(morning.firstFlightClock, words.firstFlight, [words.flightWhy(limit(firstFlight)), earlyFirstFlight && earlyFirstFlight.at < firstFlight.at ? [" ", words.earlyFlight(morning.earlyFirstFlightClock)] : null], firstFlight.at)
      : h("li", { class: "step none" }, h("p", { class: "what" }, words.noFlight), h("p", null, app.sentence(morning.flightDayReason)));
    // Where there is no time for a move, that is what must be read first.
    return h("ol", { class: "steps" }, window.kind === "open" ? [...lines, move, flight] : [move, ...lines, flight]);
  }

  /** A reason in words; how short the time is stands beside it, in whole minutes of the clock. @param {any} reason */
  function told(reason) {
    return reason.code === "short_time" ? words.shortTime : app.sentence(reason);
  }

  /** @param {any} time @param {string} what @param {any} because @param {string} instant @param {string} [kind] */
  function step(time, what, because, instant, kind = "") {
    const minutes = Math.round((Date.parse(instant) - app.now().getTime()) / 60_000);
    const past = minutes < 0 && kind === "";
    return h(
      "li",
      { class: `step ${kind}${past ? " past" : ""}` },
      h("p", { class: "time" }, time),
      h("p", { class: "what" }, what, past && dateOf(instant) !== outlook.today ? `, ${shortDate(dateOf(instant))}` : null, minutes > 0 && minutes < 720 ? [" ", h("span", { class: "soon" }, words.in(minutes))] : null),
      h("p", { class: "because" }, because),
    );
  }

  /** @param {any} edge */
  function limit(edge) {
    const { bee } = outlook;
    const number = edge.limit === "light" ? bee.flightLight : bee.flightMinimumC;
    return words.limit[/** @type {"light" | "temperature"} */ (edge.limit)](quantity(number, app.show));
  }

  /** @param {any} shown */
  function why({ reasons, morning }) {
    const { bee } = outlook;
    const numbers = engine.parameters().filter(({ group }) => group === "morning");
    const own = /** @type {any} */ (place).morningNumbers;
    return sources(
      words.why,
      [
        ...["flightMinimumC", "flightLight", "flyingDayH", "rainLimitMm", "windLimitMS"].map((name) => ({
          label: numberLabel(name.replace(/[A-Z]/g, (letter) => `_${letter.toLowerCase()}`)),
          value: quantity(bee[name], app.show),
          source: bee[name].source,
        })),
        ...numbers.map(({ name, number }) => {
          const set = own[name.replace(/_([a-z])/g, (/** @type {string} */ _, /** @type {string} */ letter) => letter.toUpperCase())];
          return {
            label: numberLabel(name),
            value: quantity(set === undefined ? number : { ...number, value: set }, app.show),
            source: set === undefined ? number.source : text.sources.yours,
          };
        }),
      ],
      h("ul", { class: "reasons" }, reasons.map((/** @type {any} */ one) => h("li", null, told(one)))),
      h("p", null, app.sentence(morning.flightDayReason)),
      h("p", null, words.howReckoned(beeLabel(/** @type {any} */ (place).bee))),
    );
  }

  function drawRanked() {
    fill(
      ranked,
      h("h2", null, words.ranked),
      h("p", { class: "hint" }, words.rankedAbout),
      h(
        "ol",
        { class: "ranked" },
        outlook.mornings.map((/** @type {any} */ { morning, points, reasons, free }) =>
          h(
            "li",
            null,
            h(
              "details",
              null,
              h(
                "summary",
                null,
                h("span", { class: "r-date" }, shortDate(morning.date)),
                h("span", { class: "r-window" }, morning.window.kind === "open" ? `${morning.window.fromClock}–${morning.window.untilClock}` : words.noneShort),
                h("span", { class: "r-notes" }, [words.verdictShort[/** @type {"go"} */ (morning.verdict)], words.points(points), morning.window.kind === "none" && morning.byLamp ? words.byLampShort(...lampHour(morning)) : null, free ? null : words.notFree, morning.source === "forecast" ? text.sources.origin.forecast : words.meanShort].filter(Boolean).join(" · ")),
              ),
              weather(morning),
              reasonList([...reasons.map((/** @type {any} */ one) => ({ text: told(one) })), ...(morning.window.kind === "none" ? morning.window.help : [])], app),
              h("div", { class: "actions" }, h("button", { type: "button", onclick: () => look(morning.date) }, words.showThis)),
            ),
          ),
        ),
      ),
    );
  }

  /** @param {import("../state.js").Place} place */
  function weekdays(place) {
    return text.weekdays.map(([name, label]) =>
      tick(label, place.freeWeekdays.includes(name), (on) => {
        place.freeWeekdays = text.weekdays.map(([one]) => one).filter((one) => (one === name ? on : place.freeWeekdays.includes(one)));
        app.change(() => {});
        update();
      }),
    );
  }
}
