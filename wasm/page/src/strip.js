// A strip of the morning: dark, work light, the stretch for the move, first flight. For the eye only;
// the same stands beside it in words.

import { svg } from "./dom.js";

const width = 360;
const minute = 60_000;

/** @param {any} morning @param {Date} now @param {boolean} doubtful that something speaks against the move @returns {SVGElement | null} */
export function strip(morning, now, doubtful) {
  const open = morning.window.kind === "open" ? morning.window : null;
  const times = [morning.workLight, morning.sunrise, morning.firstFlight?.at, open?.from, open?.until].filter(Boolean).map(Date.parse);
  if (times.length === 0) return null;
  const start = Math.min(...times) - 45 * minute;
  const end = Math.max(...times) + 30 * minute;
  const x = (/** @type {number | string} */ at) =>
    Number((((typeof at === "string" ? Date.parse(at) : at) - start) / (end - start) * width).toFixed(1));
  const drawing = svg("svg", { class: "strip", viewBox: `0 0 ${width} 64`, "aria-hidden": "true" });
  const add = (/** @type {string} */ tag, /** @type {Record<string, any>} */ attributes, /** @type {string} */ words = "") =>
    drawing.append(svg(tag, attributes, words));

  add("rect", { x: 0, y: 22, width, height: 20, class: "strip-day" });
  const light = morning.workLight ? x(morning.workLight) : width;
  add("rect", { x: 0, y: 22, width: light, height: 20, class: "strip-night" });
  if (morning.sunrise) {
    const rise = x(morning.sunrise);
    if (rise > light) add("rect", { x: light, y: 22, width: rise - light, height: 20, class: "strip-dusk" });
    add("path", { d: `M${rise - 7} 22a7 7 0 0 1 14 0z`, class: "strip-sun" });
  }
  if (open) add("rect", { x: x(open.from), y: 27, width: Math.max(2, x(open.until) - x(open.from)), height: 10, class: doubtful ? "strip-move doubtful" : "strip-move" });
  // The whole hours, so that the eye can tell how long an hour is.
  const first = new Date(start);
  const shift = Date.parse(`${(morning.workLight ?? morning.firstFlight?.at).slice(0, 19)}Z`) - Date.parse(morning.workLight ?? morning.firstFlight?.at);
  let hour = Math.ceil((first.getTime() + shift) / (60 * minute)) * 60 * minute - shift;
  for (; hour < end; hour += 60 * minute) {
    const at = x(hour);
    add("path", { d: `M${at} 42v5`, class: "strip-tick" });
    const words = new Date(hour + shift).toISOString().slice(11, 16);
    if (at > 16 && at < width - 16) add("text", { x: at, y: 60, "text-anchor": "middle", class: "strip-hour" }, words);
  }
  if (morning.firstFlight) {
    const at = x(morning.firstFlight.at);
    add("path", { d: `M${at} 14v28`, class: "strip-flight" });
    for (const [dx, dy] of [[0, 9], [7, 5], [13, 11]]) add("circle", { cx: at + dx, cy: dy, r: 2, class: "strip-bee" });
  }
  if (now.getTime() > start && now.getTime() < end) {
    const at = x(now.getTime());
    add("path", { d: `M${at} 16v32M${at - 4} 12h8l-4 5z`, class: "strip-now" });
  }
  return /** @type {SVGElement} */ (drawing);
}
