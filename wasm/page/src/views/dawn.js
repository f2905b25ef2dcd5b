// The coming dawn: when to close, when there is light, when to move, when the bees fly; then the
// next mornings, the best first.

import { html, nothing, render } from "../lit-html/lit-html.js";
import { repeat } from "../lit-html/directives/repeat.js";

import { beeEditor, beeLabel } from "../bees.js";
import { dateOf, limits, longDate, shortDate } from "../dates.js";
import { dawnOf } from "../dawn-model.js";
import { focusOn, h } from "../dom.js";
import { download, fileName } from "../download.js";
import * as engine from "../engine.js";
import { tick } from "../fields.js";
import { forecastEditor } from "../forecast.js";
import { moveForm } from "../move-form.js";
import { numberFields, numberLabel, overrideName } from "../numbers.js";
import { basisList, betterList, cautionList, doubtList, quantity, reasonList, sources } from "../sources.js";
import { strip } from "../strip.js";
import { drawing, editor, list } from "../templates.js";
import { tick as tickOff, todo, untick } from "../todo.js";
import { text } from "../text/en.js";
import { needsPlace } from "./needs-place.js";

const words = text.dawn;

/** @typedef {ReturnType<typeof dawnOf>} Dawn */

/** @param {import("../app.js").App} app @param {(name: string) => void} arrive */
export function dawnView(app, arrive) {
  const root = /** @type {import("../main.js").ViewRoot} */ (h("div", { class: "view view-dawn" }));
  if (!app.place) return needsPlace(root, text.views.dawn, arrive);
  const place = () => /** @type {import("../state.js").Place} */ (app.place);

  /** The engine's answers. @type {any} */
  let outlook;
  /** Why there are none. */
  let broken = "";
  /** @type {import("../agenda-model.js").Tasks} */
  let tasks;
  /** @type {string | undefined} the date that is looked at */
  let chosen;
  /** What was ticked off here last, and why something could not be. @type {import("../agenda-model.js").Item | undefined} */
  let ticked;
  let refused = "";

  const { now, soon } = drawing(root, ask, draw);
  // What is being entered stays as it is, whatever is drawn around it.
  const forecast = forecastEditor(app, now);
  const bees = beeEditor(app);
  const weekdays = freeDays();
  const times = numberFields(
    app,
    engine.settable("morning"),
    () => place().morningNumbers,
    (next) => engine.outlook({ ...place(), morningNumbers: next }, app.today()),
    (next) => app.change(() => { place().morningNumbers = next; }),
  );
  const move = moveForm(app, undefined, (plan) => {
    app.change((state) => {
      state.plans.push(plan);
      state.planId = plan.id;
    });
    arrive("plan");
  });

  now();
  // A minute passes, or a day.
  const clock = setInterval(() => (outlook?.today === app.today() ? now() : soon()), 30_000);
  root.leave = () => clearInterval(clock);
  root.update = soon;
  return root;

  function ask() {
    broken = "";
    try {
      outlook = engine.outlook(place(), app.today());
      ({ tasks } = todo(app));
    } catch (error) {
      // What was kept for the place and is no longer accepted is said, not hidden.
      if (!(error instanceof engine.ApiaryError)) throw error;
      broken = error.message;
    }
  }

  function draw() {
    render(broken ? isBroken() : whole(dawnOf({ outlook, tasks, now: app.now(), chosen })), root);
  }

  function isBroken() {
    const reset = () => app.change(() => { Object.assign(place(), { forecast: null, normals: null, beeNumbers: {}, morningNumbers: {}, season: {} }); });
    return html`<h1>${text.views.dawn}</h1>
      <p class="error" role="alert">${broken}</p>
      <p>${words.brokenAdvice}</p>
      <div class="actions"><button type="button" @click=${reset}>${words.brokenReset}</button></div>`;
  }

  /** @param {Dawn} dawn */
  function whole(dawn) {
    return html`
      <div>${doubtList(dawn.doubts, app)}</div>
      <section class="focus">
        ${first(dawn)}
        <div class="actions day-switch" role="group" aria-label=${words.whichDay}>${dawn.days.map((date, n) => html`
          <button type="button" aria-pressed=${String(date === dawn.date)} @click=${() => look(date)}>${n === 0 ? text.common.today : text.common.tomorrow}</button>`)}
        </div>
        ${dawn.next ? html`<p class="hint">${words.howFar} <button type="button" class="plain" @click=${toMove}>${words.howFarShow}</button></p>` : nothing}
        ${strip(dawn.morning, app.now(), dawn.verdict !== "go", words.strip)}
        ${steps(dawn)}
        <div class="actions"><button type="button" class="mind" @click=${() => jump(".to-mind h2")}>${words.mindFirst}</button></div>
        ${why(dawn.shown)}
      </section>
      <div>${betterList(dawn.mild, app)}</div>
      <div>${dueTasks(dawn.due.dated)}</div>
      ${ranked()}
      <div class="to-move">${editor(text.move.heading, move)}</div>
      <div class="for-forecast">${editor(text.forecast.heading, forecast())}</div>
      ${editor(
        text.bees.heading,
        bees(),
        html`<h3>${words.freeDays}</h3><p class="hint">${words.freeDaysHint}</p><div class="ticks">${weekdays()}</div>
          <h3>${words.ownTimes}</h3>${times()}`,
      )}
      <section class="to-mind"><h2>${words.cautions}</h2>${cautionList(dawn.cautions, app)}</section>
      <div><h2>${words.restsOn}</h2>${basisList(outlook.basis, app)}</div>`;
  }

  /** What is read at arm's length: the verdict, one time, one thing to tap. @param {Dawn} dawn */
  function first(dawn) {
    const { said, morning } = dawn;
    return html`<div class=${`first is-${said}`}>
      <h1>${words.verdict[said]} <span class="date">${words[dawn.which]}, ${longDate(dawn.date)}</span></h1>
      ${dawn.next ? onTheWay(dawn, dawn.next) : notThisOne(dawn)}
      ${weather(morning, morning.source === "forecast")}
      ${morning.source === "forecast" ? nothing : html`<p class="means">${words.fromMeans} <button type="button" class="plain" @click=${toForecast}>${words.pasteForecast}</button></p>`}
    </div>`;
  }

  /** @param {Dawn} dawn @param {NonNullable<Dawn["next"]>} next */
  function onTheWay({ verdict, morning, against, lamp, due }, { kind, clock, on, fromClock, untilClock }) {
    const thenMove = words.thenMove(limits({ fromClock, untilClock }));
    const then = { close: thenMove, close_now: thenMove, move: words.moveUntil(untilClock), before: "" }[kind];
    return html`<p class="label">${on ? words.closeOnDay(shortDate(on)) : words.next[kind]}</p>
      <p class="big-time"><span class="bound">${words.bound[kind]}</span> ${clock}</p>
      <p>${then}${morning.firstFlightClock ? ` ${words.thenFlight(morning.firstFlightClock)}` : nothing}</p>
      ${lampLine(lamp)}
      ${verdict === "careful" ? html`<p class="against">${against.map(told).join(" ")}</p>` : nothing}
      ${toTick(due)}`;
  }

  /** The rest of the reasons can wait till the next good morning is said. @param {Dawn} dawn */
  function notThisOne({ against, lamp, instead }) {
    const others = against.slice(2);
    return html`<p class="against">${against.slice(0, 2).map(told).join(" ")}</p>
      ${lampLine(lamp)}
      ${instead
        ? html`<p class="label">${words.nextWith[instead.verdict]}</p>
          <p class=${`big-time day is-${instead.verdict}`}>${shortDate(instead.date)}</p>
          <p>${limits(instead)}. ${words.closeOn(shortDate(instead.closeOn), instead.closeClock)}</p>
          <div class="actions"><button type="button" class="main-action" @click=${() => lookUp(instead.date)}>${words.showDay(shortDate(instead.date))}</button></div>`
        : html`<p class="label">${words.noneGood}</p>`}
      ${others.length > 0 ? html`<p>${words.against} ${others.map(told).join(" ")}</p>` : nothing}`;
  }

  /** @param {any} lamp */
  function lampLine(lamp) {
    return lamp ? html`<p>${words.byLamp(limits(lamp))}</p>` : nothing;
  }

  /** The first task that is due today, at whatever place, to be ticked off by one tap. @param {Dawn["due"]} due */
  function toTick({ first: task, count }) {
    return html`
      ${ticked ? html`<p class="status" role="status">${words.ticked(`${ticked.box}, ${ticked.short}`)} <button type="button" @click=${() => record(undefined)}>${text.common.undo}</button></p>` : nothing}
      ${refused ? html`<p class="error" role="alert">${refused}</p>` : nothing}
      ${count === 0 ? nothing : html`<div class="actions">
        ${task ? says(task) : nothing}
        <a class="button" href="#tasks">${words.toDue(count)}</a>
      </div>`}`;
  }

  /** Done, or what else can be said of a task. @param {import("../agenda-model.js").Item} task */
  function says(task) {
    if (task.answers.length === 0) return html`<button type="button" class="main-action" @click=${() => record(task)}>${words.done(task.box, task.short)}</button>`;
    return task.answers.map(({ said, tasks }, n) => html`<button type="button" class=${n === 0 ? "main-action" : ""} @click=${() => record({ ...task, recorded: tasks })}>${words.said(app.sentence(said), task.box, task.short)}</button>`);
  }

  /** Writes down that a task was done today; without one, takes back what was written down last. @param {import("../agenda-model.js").Item | undefined} done */
  function record(done) {
    refused = "";
    if (done) refused = tickOff(app, done, done.today) ?? "";
    else if (ticked) untick(app, ticked);
    if (!refused) ticked = done;
    now();
    focusOn(root.querySelector(".focus .status button") ?? root.querySelector("h1"));
  }

  /** @param {import("../agenda-model.js").Item[]} items */
  function dueTasks(items) {
    if (items.length === 0) return nothing;
    return html`<section class="due-box">
      <h2>${text.tasks.due}</h2>
      ${list(items.map((item) => html`<b>${item.box}</b> ${shortDate(item.date)} ${item.clocks ? `${item.clocks} ` : nothing}${item.title}${item.then ? `. ${text.todo.then(item.then)}` : nothing}`))}
      <p><a href="#tasks">${text.views.tasks}</a></p>
    </section>`;
  }

  /** @param {string} date */
  function look(date) {
    chosen = date;
    now();
  }

  /** Looks at a date that is chosen further down. @param {string} date */
  function lookUp(date) {
    look(date);
    focusOn(root.querySelector("h1"));
    root.querySelector(".focus")?.scrollIntoView();
  }

  /** @param {string} selector */
  function jump(selector) {
    const target = root.querySelector(selector);
    focusOn(target);
    target?.scrollIntoView();
  }

  function toMove() {
    openAt(".to-move");
  }

  function toForecast() {
    openAt(".for-forecast");
  }

  /** @param {string} around what holds the fold */
  function openAt(around) {
    root.querySelector(`${around} details`)?.setAttribute("open", "");
    jump(`${around} summary`);
  }

  /** @param {any} morning @param {boolean} [withOrigin] whether it says where that comes from */
  function weather({ minimumC, maximumC, rainMm, windMS, windBeaufort, temperatureC, source }, withOrigin = true) {
    const { show } = app;
    const parts = [
      words.weather(show.temperature(minimumC), show.temperature(maximumC)),
      rainMm === null ? null : words.rain(rainMm),
      windMS === null ? null : words.wind(Number(windMS.toFixed(1)), engine.word(`wind.${windBeaufort}`)),
      temperatureC === null ? null : words.atWork(show.temperature(temperatureC)),
    ];
    return html`<p class="weather">${parts.filter(Boolean).join(" · ")}${withOrigin ? html` <span class="origin">${text.sources.origin[/** @type {keyof typeof text.sources.origin} */ (source)] ?? source}</span>` : nothing}</p>`;
  }

  /** @param {Dawn} dawn */
  function steps(dawn) {
    return html`<ol class="steps">${repeat(dawn.steps, ({ name }) => name, (step) => (step.clock === null ? missing(step.name, dawn) : taken(step, dawn)))}</ol>`;
  }

  /** @param {import("../dawn-model.js").Step} step @param {Dawn} dawn */
  function taken({ name, clock, until, day, soonMin, isPast }, dawn) {
    const kind = name !== "move" ? "" : dawn.verdict === "go" ? "move" : "move doubtful";
    return html`<li class=${`step ${kind}${isPast ? " past" : ""}`}>
      <p class="time">${clock}${until ? html`<span class="to">–</span>${until}` : nothing}</p>
      <p class="what">${name === "move" && dawn.verdict === "no" ? words.wouldMove : name === "close" && day ? words.wasClosed(shortDate(day)) : words.step[name]}${soonMin === null ? nothing : html` <span class="soon">${words.in(soonMin)}</span>`}</p>
      <p class="because">${because(name, dawn)}</p>
    </li>`;
  }

  /** What is said of a step. @param {import("../dawn-model.js").Step["name"]} name @param {Dawn} dawn */
  function because(name, { morning, againstMove, minutes }) {
    const { eveningBefore: evening, window, firstFlight, earlyFirstFlight } = morning;
    switch (name) {
      case "close":
        return html`${shortDate(dateOf(evening.from))}. ${evening.lastFlight ? words.closeWhy(evening.lastFlightClock, limit(evening.lastFlight)) : words.closeNoFlight}
          ${evening.daylightUntil ? (evening.lampNeeded ? words.lampNeeded : words.daylightUntil)(evening.daylightUntilClock) : nothing}`;
      case "light":
        return morning.sunrise ? words.sunrise(morning.sunriseClock) : words.noSunrise;
      case "move":
        return html`${againstMove.length > 0 ? html`<span class="against">${words.against} ${againstMove.map(told).join(" ")}</span>` : nothing}
          ${words.moveWhy(minutes, firstFlight !== null)}
          ${window.carefulFrom ? (window.carefulFrom <= window.from ? words.carefulAll : words.careful(window.carefulFromClock)) : nothing}`;
      default:
        return html`${words.flightWhy(limit(firstFlight))} ${earlyFirstFlight && earlyFirstFlight.at < firstFlight.at ? words.earlyFlight(morning.earlyFirstFlightClock) : nothing}`;
    }
  }

  /** A step that does not take place. @param {import("../dawn-model.js").Step["name"]} name @param {Dawn} dawn */
  function missing(name, { morning, lamp }) {
    const { window } = morning;
    if (name === "light") return html`<li class="step none"><p class="what">${words.noWorkLight}</p></li>`;
    if (name === "flight") return html`<li class="step none"><p class="what">${words.noFlight}</p><p>${app.sentence(morning.flightDayReason)}</p></li>`;
    return html`<li class="step none">
      <p class="what">${words.noMove}</p>
      ${lamp ? html`<p><b>${words.byLamp(limits(lamp))}</b></p>` : nothing}
      ${reasonList(window.reasons, app)}
      ${window.help.length > 0 ? html`<p>${words.helps}</p>${reasonList(window.help, app)}` : nothing}
    </li>`;
  }

  /** A reason in words; how short the time is stands beside it, in whole minutes of the clock. @param {any} reason @returns {string} */
  function told(reason) {
    return reason.code === "short_time" ? words.shortTime : app.sentence(reason);
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
    const own = /** @type {any} */ (place().morningNumbers);
    return sources(
      words.why,
      [
        ...["flightMinimumC", "flightLight", "flyingDayH", "rainLimitMm", "windLimitMS"].map((name) => ({
          label: numberLabel(name.replace(/[A-Z]/g, (letter) => `_${letter.toLowerCase()}`)),
          value: quantity(bee[name], app.show),
          source: bee[name].source,
        })),
        ...engine.parameters().filter(({ group }) => group === "morning").map(({ name, number }) => {
          const set = own[overrideName(name, number.unit)];
          return {
            label: numberLabel(name),
            value: quantity(set === undefined ? number : { ...number, value: set }, app.show),
            source: set === undefined ? number.source : text.sources.yours,
          };
        }),
      ],
      list(reasons.map(told)),
      html`<p>${app.sentence(morning.flightDayReason)}</p><p>${words.howReckoned(beeLabel(place().bee))}</p>`,
    );
  }

  function calendar() {
    download(fileName(place().name, "ics"), "text/calendar", engine.dawnsCalendar(place(), outlook.mornings, app.now()));
  }

  function ranked() {
    return html`<section>
      <h2>${words.ranked}</h2>
      <p class="hint">${words.rankedAbout}</p>
      <ol class="ranked">${repeat(outlook.mornings, (/** @type {any} */ { morning }) => morning.date, oneOfTen)}</ol>
      <div class="actions no-print"><button type="button" @click=${calendar}>${words.calendar}</button></div>
      <p class="hint no-print">${words.calendarAbout}</p>
    </section>`;
  }

  /** @param {any} one */
  function oneOfTen({ morning, points, reasons, free }) {
    const { window, byLamp } = morning;
    const open = window.kind === "open";
    const verdict = words.verdictShort[/** @type {"go"} */ (morning.verdict)];
    const isNone = morning.verdict === "no";
    const notes = [
      isNone ? null : verdict,
      !open && byLamp ? words.byLampShort(limits(byLamp)) : null,
      free ? null : words.notFree,
      morning.source === "forecast" ? text.sources.origin.forecast : words.meanShort,
    ];
    return html`<li><details>
      <summary><span class="r-date">${shortDate(morning.date)}</span>
        <span class="r-window">${isNone ? verdict : open ? limits(window) : words.noneShort}</span>
        <span class="r-notes">${notes.filter(Boolean).join(" · ")}</span></summary>
      ${weather(morning)}
      ${list([...reasons.map(told), words.points(points), ...(open ? [] : window.help.map(app.sentence))])}
      <div class="actions"><button type="button" @click=${() => lookUp(morning.date)}>${words.showThis}</button></div>
    </details></li>`;
  }

  /** The days on which the keeper is free. @returns {() => any} */
  function freeDays() {
    const boxes = text.weekdays.map(([name, label]) => {
      const { box, bind } = tick(label, false, (on) => app.change(() => {
        const { freeWeekdays: before } = place();
        place().freeWeekdays = text.weekdays.map(([one]) => one).filter((one) => (one === name ? on : before.includes(one)));
      }));
      return { name, box, bind };
    });
    return () => boxes.map(({ name, box, bind }) => {
      bind(place().freeWeekdays.includes(name));
      return box;
    });
  }
}
