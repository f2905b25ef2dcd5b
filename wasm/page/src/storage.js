// Keeps the state in the browser's local storage, and only where the user has said so; else only in the tab, so
// that a reload loses nothing. What this page cannot read, and what another tab has put there meanwhile, is set
// aside under a key of its own, never written over.

import { firstState, readState } from "./state.js";

const key = "apiary-almanac";
const aside = `${key}-aside-`;

/** What this tab last read or wrote; null where nothing of its own is kept. @type {string | null} */
let last = null;
/** Whether the entry holds what could be neither read nor set aside: then nothing is kept. */
let held = false;

/** The storage of a kind, where the browser gives one. @param {"localStorage" | "sessionStorage"} kind @returns {Storage | null} */
function storage(kind) {
  try {
    return globalThis[kind];
  } catch {
    return null;
  }
}

/** Whether there may be something to load. */
export const hasSomething = () => ["localStorage", "sessionStorage"].some((kind) => {
  try {
    return storage(/** @type {"localStorage"} */ (kind))?.getItem(key) != null;
  } catch {
    return false;
  }
});

/**
 * What is kept: a state, nothing, or where it cannot be read; `held` where it could not even be set aside.
 * What was entered in this tab and is kept nowhere else comes back from the tab's own copy.
 * @param {(state: import("./state.js").State) => string | null} check where the state is wrong all the same
 * @returns {null | {state: import("./state.js").State, ofTab?: true} | {wrong: string, held: boolean}}
 */
export function load(check) {
  let text;
  let copy;
  try {
    text = localStorage.getItem(key);
    copy = storage("sessionStorage")?.getItem(key) ?? null;
  } catch {
    return null;
  }
  const ofTab = copy === null ? null : understood(copy, check);
  if (ofTab && "state" in ofTab && (text === null || ofTab.state.places.length > 0)) return { ...ofTab, ofTab: true };
  if (ofTab && "wrong" in ofTab) {
    sessionStorage.setItem(`${aside}of-tab`, /** @type {string} */ (copy));
    sessionStorage.removeItem(key);
  }
  if (text === null) return ofTab && "wrong" in ofTab ? { ...ofTab, held: false } : null;
  const read = understood(text, check);
  if ("state" in read) {
    last = text;
    return read;
  }
  try {
    setAside(text);
    localStorage.removeItem(key);
  } catch {
    held = true;
  }
  return { ...read, held };
}

/** @param {string} text @param {(state: import("./state.js").State) => string | null} check */
function understood(text, check) {
  const read = readState(text);
  if ("wrong" in read) return read;
  const wrong = check(read.state);
  return wrong === null ? read : { wrong };
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
  const isStored = saveOnDevice(state);
  try {
    // Through a reload or a new version of the page, what is kept nowhere else lives in the tab.
    const text = JSON.stringify(state);
    if ((state.keep && isStored) || text === JSON.stringify(firstState())) sessionStorage.removeItem(key);
    else sessionStorage.setItem(key, text);
  } catch {
    // Then it is not: the page says that it is not kept.
  }
  return isStored;
}

let asked = false;
/** @param {import("./state.js").State} state */
function saveOnDevice(state) {
  if (!state.keep && last === null) return true;
  if (held) return false;
  try {
    const there = localStorage.getItem(key);
    if (there !== null && there !== last) setAside(there);
    if (state.keep) {
      const text = JSON.stringify(state);
      localStorage.setItem(key, text);
      last = text;
      // Else the browser may drop it when the device runs out of room.
      if (!asked) navigator.storage?.persist?.().catch(() => {});
      asked = true;
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
    if ("state" in read && found(read.state)) {
      last = text;
      storage("sessionStorage")?.removeItem(key);
    }
  }
  look(); // This tab may have come back with a copy of its own.
  addEventListener("storage", (event) => { if (event.key === key || event.key === null) look(); });
  // A tab that slept may have missed it.
  document.addEventListener("visibilitychange", () => { if (!document.hidden) look(); });
}

const storages = () => [storage("localStorage"), storage("sessionStorage")].filter((one) => one !== null);

/** What was set aside. @returns {{name: string, text: string}[]} */
export function asides() {
  try {
    return storages().flatMap((one) => {
      const names = Object.keys(one).filter((name) => name.startsWith(aside) || (held && one === localStorage && name === key));
      return names.sort().map((name) => ({ name, text: one.getItem(name) ?? "" }));
    });
  } catch {
    return [];
  }
}

/** @param {string} name */
export function dropAside(name) {
  for (const one of storages()) if (name !== key || one === localStorage) one.removeItem(name);
  if (name === key) held = false;
}
