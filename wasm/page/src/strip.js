// A strip of the morning: dark, work light, the stretch for the move with its word, first flight. For the eye only;
// the same stands beside it in words.

import { html, nothing, svg } from "./lit-html/lit-html.js";

const width = 360;
const minute = 60_000;
const bees = [[6, 9], [13, 5], [19, 11]];

/** @param {any} morning @param {Date} now @param {boolean} doubtful that something speaks against the move @param {{move: string, bees: string}} words */
export function strip(morning, now, doubtful, words) {
  const open = morning.window.kind === "open" ? morning.window : null;
  const times = [morning.workLight, morning.sunrise, morning.firstFlight?.at, open?.from, open?.until].filter(Boolean).map(Date.parse);
  if (times.length === 0) return nothing;
  const start = Math.min(...times) - 45 * minute;
  const end = Math.max(...times) + 30 * minute;
  const x = (/** @type {number | string} */ at) =>
    Number((((typeof at === "string" ? Date.parse(at) : at) - start) / (end - start) * width).toFixed(1));
  const light = morning.workLight ? x(morning.workLight) : width;
  const rise = morning.sunrise ? x(morning.sunrise) : null;
  const flight = morning.firstFlight ? x(morning.firstFlight.at) : null;
  const at = now.getTime() > start && now.getTime() < end ? x(now.getTime()) : null;
  return html`<svg class="strip" viewBox="0 0 ${width} 64" aria-hidden="true">
    <rect x="0" y="22" width=${width} height="20" class="strip-day"></rect>
    <rect x="0" y="22" width=${light} height="20" class="strip-night"></rect>
    ${rise !== null && rise > light ? svg`<rect x=${light} y="22" width=${rise - light} height="20" class="strip-dusk"></rect>` : nothing}
    ${rise === null ? nothing : svg`<path d=${`M${rise} 22v20`} class="strip-sun"></path>`}
    ${open ? svg`<rect x=${x(open.from)} y="27" width=${Math.max(2, x(open.until) - x(open.from))} height="10" class=${doubtful ? "strip-move doubtful" : "strip-move"}></rect>` : nothing}
    ${open ? svg`<text x=${x(open.from)} y="17" class="strip-word">${words.move}</text>` : nothing}
    ${hours().map((hour) => svg`<path d=${`M${hour.at} 42v5`} class="strip-tick"></path>${hour.at > 16 && hour.at < width - 16 ? svg`<text x=${hour.at} y="60" text-anchor="middle" class="strip-hour">${hour.clock}</text>` : nothing}`)}
    ${flight !== null && (!open || flight - x(open.from) > 90) ? svg`<text x=${flight - 4} y="17" text-anchor="end" class="strip-word">${words.bees}</text>` : nothing}
    ${flight === null ? nothing : svg`<path d=${`M${flight} 8v34`} class="strip-flight"></path>${bees.map(([dx, dy]) => svg`<circle cx=${flight + dx} cy=${dy} r="2" class="strip-bee"></circle>`)}`}
    ${at === null ? nothing : svg`<path d=${`M${at} 16v32M${at - 4} 12h8l-4 5z`} class="strip-now"></path>`}
  </svg>`;

  /** The whole hours, so that the eye can tell how long an hour is. */
  function hours() {
    const instant = morning.workLight ?? morning.firstFlight?.at;
    const shift = Date.parse(`${instant.slice(0, 19)}Z`) - Date.parse(instant);
    const all = [];
    for (let hour = Math.ceil((start + shift) / (60 * minute)) * 60 * minute - shift; hour < end; hour += 60 * minute) {
      all.push({ at: x(hour), clock: new Date(hour + shift).toISOString().slice(11, 16) });
    }
    return all;
  }
}
