// Keeps the state in the browser's local storage, and only where the user has said so. What this page cannot
// read, and what another tab has put there meanwhile, is set aside under a key of its own, never written over.

import { readState } from "./state.js";

const key = "apiary-almanac";
const aside = `${key}-aside-`;

/** What this tab last read or wrote; null where nothing of its own is kept. @type {string | null} */
let last = null;
/** Whether the entry holds what could be neither read nor set aside: then nothing is kept. */
let held = false;

/**
 * What is kept: a state, nothing, or where it cannot be read; `held` where it could not even be set aside.
 * @param {(state: import("./state.js").State) => string | null} check where the state is wrong all the same
 * @returns {null | {state: import("./state.js").State} | {wrong: string, held: boolean}}
 */
export function load(check) {
  let text;
  try {
    text = localStorage.getItem(key);
  } catch {
    return null;
  }
  if (text === null) return null;
  const read = readState(text);
  const wrong = "wrong" in read ? read.wrong : check(read.state);
  if (wrong === null && "state" in read) {
    last = text;
    return read;
  }
  try {
    setAside(text);
    localStorage.removeItem(key);
  } catch {
    held = true;
  }
  return { wrong: wrong ?? "{}", held };
}

/** @param {string} text */
function setAside(text) {
  if (asides().some((one) => one.text === text)) return;
  let n = 1;
  while (localStorage.getItem(`${aside}${n}`) !== null) n += 1;
  localStorage.setItem(`${aside}${n}`, text);
}

/** Keeps the state, or forgets what was kept; false where the device refuses. @param {import("./state.js").State} state */
export function save(state) {
  if (!state.keep && last === null) return true;
  if (held) return false;
  try {
    const there = localStorage.getItem(key);
    if (there !== null && there !== last) setAside(there);
    if (state.keep) {
      const text = JSON.stringify(state);
      localStorage.setItem(key, text);
      last = text;
    } else {
      localStorage.removeItem(key);
      last = null;
    }
    return true;
  } catch {
    return false;
  }
}

/**
 * Tells when another tab has kept something else, or has forgotten what was kept (null).
 * @param {(other: import("./state.js").State | null) => boolean} found gives whether this tab goes on with it
 */
export function watch(found) {
  function look() {
    let text;
    try {
      text = localStorage.getItem(key);
    } catch {
      return;
    }
    if (text === last || held) return;
    if (text === null) {
      last = null;
      found(null);
      return;
    }
    const read = readState(text);
    if ("state" in read && found(read.state)) last = text;
  }
  addEventListener("storage", (event) => { if (event.key === key || event.key === null) look(); });
  // A tab that slept may have missed it.
  document.addEventListener("visibilitychange", () => { if (!document.hidden) look(); });
}

/** What was set aside. @returns {{name: string, text: string}[]} */
export function asides() {
  try {
    const names = Object.keys(localStorage).filter((name) => name.startsWith(aside) || (held && name === key));
    return names.sort().map((name) => ({ name, text: localStorage.getItem(name) ?? "" }));
  } catch {
    return [];
  }
}

/** @param {string} name */
export function dropAside(name) {
  localStorage.removeItem(name);
  if (name === key) held = false;
}
