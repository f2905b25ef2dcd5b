// What is asked most often, from a place alone.

import { calendar, civilDay, mornings, season } from "./functions.js";

const DAY_MS = 86_400_000;

/** The date some days on. */
const on = (date, days) => new Date(Date.parse(`${date}T00:00Z`) + days * DAY_MS).toISOString().slice(0, 10);

export function tomorrow(site, { now = new Date(), ...more } = {}) {
  const { date } = civilDay({ site, instant: now });
  return mornings({ ...more, site, first: on(date, 1), days: 1 })[0];
}

export function seasonNow(site, { now = new Date(), ...more } = {}) {
  const { date } = civilDay({ site, instant: now });
  const year = season({ ...more, site, first: date, last: on(date, 365) });
  const [{ state, last }] = year.states;
  return { today: date, state, until: last === year.last ? null : last, season: year };
}

export function icsLink(plan, { stamp = new Date(), ...more } = {}) {
  const { ics } = calendar({ ...more, plans: [plan], stamp });
  return `data:text/calendar;charset=utf-8,${encodeURIComponent(ics)}`;
}
