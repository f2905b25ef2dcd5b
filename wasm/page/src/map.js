// A map of outlines on which a place can be picked: by tap, by buttons, by keys.

import { writeCoordinates } from "./coordinates.js";
import { fill, h, newId, svg } from "./dom.js";
import { land, unitsPerDegree } from "./land.js";
import { text } from "./text/en.js";

const widths = [165, 70, 30, 12, 5, 2];
const shape = 0.62; // height by width
const northEdge = 52;
const words = text.map;

/**
 * @param {import("./coordinates.js").Position | undefined} start
 * @param {(position: import("./coordinates.js").Position) => void} pick
 */
export function map(start, pick) {
  // Without a place, the side of the Earth that the device's clock points to.
  let at = start ?? { latitudeDeg: 0, longitudeDeg: -new Date().getTimezoneOffset() / 4 };
  let level = start ? 2 : 0;
  let centre = { ...at };

  const lines = svg("g", { class: "map-lines" });
  const mark = svg("g", { class: "map-mark" });
  const drawing = svg(
    "svg",
    { class: "map", preserveAspectRatio: "xMidYMid slice", "aria-hidden": "true" },
    // Once more on either side, so that the date line is no edge.
    [-360, 0, 360].map((turn) =>
      svg("path", { class: "map-land", d: land, transform: `translate(${turn * unitsPerDegree} 0)` }),
    ),
    lines,
    mark,
  );
  const words1 = newId("map-help");
  const readout = h("p", { class: "map-readout", "aria-live": "polite" });
  const frame = h(
    "div",
    { class: "map-frame", tabindex: "0", role: "application", "aria-label": words.label, "aria-describedby": words1, onkeydown: key },
    drawing,
  );
  drawing.addEventListener("click", (event) => {
    const box = drawing.getBoundingClientRect();
    const [w, n, width, height] = view();
    // The drawing fills its box and is cut where the two shapes differ.
    const scale = Math.max(box.width / width, box.height / height);
    const x = w + width / 2 + (event.clientX - box.left - box.width / 2) / scale;
    const y = n + height / 2 + (event.clientY - box.top - box.height / 2) / scale;
    go(-y / unitsPerDegree, x / unitsPerDegree);
  });

  const button = (/** @type {string} */ sign, /** @type {string} */ label, /** @type {() => void} */ act) =>
    h("button", { type: "button", "aria-label": label, onclick: act }, sign);
  const step = () => widths[level] / 33;
  const buttons = h(
    "div",
    { class: "map-buttons" },
    button("+", words.closer, () => zoom(1)),
    button("−", words.wider, () => zoom(-1)),
    button("↑", words.north, () => go(at.latitudeDeg + step(), at.longitudeDeg)),
    button("↓", words.south, () => go(at.latitudeDeg - step(), at.longitudeDeg)),
    button("←", words.west, () => go(at.latitudeDeg, at.longitudeDeg - step())),
    button("→", words.east, () => go(at.latitudeDeg, at.longitudeDeg + step())),
  );
  const take = h("button", { type: "button", class: "main-action", onclick: () => pick(rounded()) }, words.take);

  /** West edge, north edge, width and height in units of the path. */
  function view() {
    const width = widths[level];
    const height = width * shape;
    const half = height / 2;
    const lat = Math.max(-northEdge + half, Math.min(northEdge - half, centre.latitudeDeg));
    return [centre.longitudeDeg - width / 2, -lat - half, width, height].map((x) => x * unitsPerDegree);
  }

  /** As exact as a tap can be. */
  function rounded() {
    const digits = widths[level] > 100 ? 1 : widths[level] > 10 ? 2 : 3;
    const round = (/** @type {number} */ x) => Number(x.toFixed(digits));
    return { latitudeDeg: round(at.latitudeDeg), longitudeDeg: round(at.longitudeDeg) };
  }

  /** @param {number} latitudeDeg @param {number} longitudeDeg */
  function go(latitudeDeg, longitudeDeg) {
    at = {
      latitudeDeg: Math.max(-50, Math.min(50, latitudeDeg)),
      longitudeDeg: ((((longitudeDeg + 180) % 360) + 360) % 360) - 180,
    };
    centre = { ...at };
    draw();
  }

  /** @param {number} by */
  function zoom(by) {
    level = Math.max(0, Math.min(widths.length - 1, level + by));
    draw();
  }

  /** @param {KeyboardEvent} event */
  function key(event) {
    const moves = { ArrowUp: [1, 0], ArrowDown: [-1, 0], ArrowLeft: [0, -1], ArrowRight: [0, 1] };
    const move = moves[/** @type {keyof typeof moves} */ (event.key)];
    if (move) go(at.latitudeDeg + move[0] * step(), at.longitudeDeg + move[1] * step());
    else if (event.key === "+" || event.key === "=") zoom(1);
    else if (event.key === "-") zoom(-1);
    else if (event.key === "Enter") pick(rounded());
    else return;
    event.preventDefault();
  }

  function draw() {
    const [west, north, width, height] = view();
    drawing.setAttribute("viewBox", [west, north, width, height].join(" "));
    const unit = width / 360;
    const every = [15, 10, 5, 2, 1, 0.5][level] * unitsPerDegree;
    const grid = [];
    const degrees = (/** @type {number} */ units, /** @type {string} */ letters) => {
      const turned = ((((units / unitsPerDegree + 180) % 360) + 360) % 360) - 180;
      const of = letters === "EW" ? turned : -units / unitsPerDegree;
      return `${Math.abs(of)}°${of === 0 ? "" : letters[of < 0 ? 1 : 0]}`;
    };
    const label = (/** @type {number} */ x, /** @type {number} */ y, /** @type {string} */ words) =>
      grid.push(svg("text", { x, y, "font-size": unit * 10, class: "map-degrees" }, words));
    for (let x = Math.ceil(west / every) * every; x < west + width; x += every) {
      if (Math.round(x / every) % 2 === 0) label(x + unit * 2, north + height - unit * 4, degrees(x, "EW"));
      grid.push(svg("path", { d: `M${x} ${north}v${height}`, "stroke-width": unit / 2 }));
    }
    for (let y = Math.ceil(north / every) * every; y < north + height; y += every) {
      if (y > north + height * 0.08 && y < north + height * 0.9) label(west + unit * 2, y - unit * 2, degrees(y, "NS"));
      grid.push(svg("path", { d: `M${west} ${y}h${width}`, "stroke-width": unit / 2 }));
    }
    for (const tropic of [23.44, 0, -23.44]) {
      const y = -tropic * unitsPerDegree;
      grid.push(svg("path", { d: `M${west} ${y}h${width}`, "stroke-width": unit, "stroke-dasharray": `${unit * 4} ${unit * 3}`, class: "map-tropic" }));
    }
    fill(lines, grid);
    const [x, y, r] = [at.longitudeDeg * unitsPerDegree, -at.latitudeDeg * unitsPerDegree, unit * 7];
    fill(
      mark,
      svg("path", { d: `M${x - 2 * r} ${y}h${1.3 * r}M${x + 2 * r} ${y}h${-1.3 * r}M${x} ${y - 2 * r}v${1.3 * r}M${x} ${y + 2 * r}v${-1.3 * r}`, "stroke-width": unit * 2 }),
      svg("circle", { cx: x, cy: y, r: unit * 1.6, class: "map-dot" }),
    );
    fill(readout, words.at(writeCoordinates(rounded())));
  }
  draw();
  return h("div", { class: "map-box" }, h("p", { class: "hint", id: words1 }, words.help), frame, buttons, readout, take);
}
