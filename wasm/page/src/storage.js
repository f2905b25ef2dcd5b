// Keeps the state in the browser's local storage, and only where the user has said so.

import { readState } from "./state.js";

const key = "apiary-almanac";

/** What is kept: a state, nothing, or something that cannot be read. */
export function load() {
  let text;
  try {
    text = localStorage.getItem(key);
  } catch {
    return null;
  }
  return text === null ? null : readState(text);
}

/** Keeps the state, or forgets what was kept; false where the device refuses. @param {import("./state.js").State} state */
export function save(state) {
  try {
    if (state.keep) localStorage.setItem(key, JSON.stringify(state));
    else localStorage.removeItem(key);
    return true;
  } catch {
    return false;
  }
}
