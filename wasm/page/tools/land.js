// Writes src/land.js: the outline of the land between 50° N and 50° S as one SVG path.
//
// Data: Natural Earth, 1:50 million land (public domain), through the npm package world-atlas.
// Run with: npm ci && node tools/land.js

import { readFileSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { feature } from "topojson-client";

const unitsPerDegree = 20;
const limitDeg = 52; // a little more than is shown, so that the edge cuts clean
const toleranceDeg = 0.09;
const smallestDeg = 0.12; // islands smaller than this become a dot of this size

const topology = JSON.parse(readFileSync(createRequire(import.meta.url).resolve("world-atlas/land-50m.json"), "utf8"));
const rings = feature(topology, topology.objects.land).features
  .flatMap(({ geometry }) => (geometry.type === "Polygon" ? [geometry.coordinates] : geometry.coordinates))
  .flat();

/** The part of a ring between the two limits of latitude (Sutherland and Hodgman's clipping). */
function clip(ring) {
  for (const [inside, limit] of [[(y) => y <= limitDeg, limitDeg], [(y) => y >= -limitDeg, -limitDeg]]) {
    const out = [];
    ring.forEach(([x, y], i) => {
      const [px, py] = ring[(i + ring.length - 1) % ring.length];
      if (inside(y) !== inside(py)) out.push([px + ((x - px) * (limit - py)) / (y - py), limit]);
      if (inside(y)) out.push([x, y]);
    });
    ring = out;
    if (ring.length === 0) break;
  }
  return ring;
}

function distance([x, y], [ax, ay], [bx, by]) {
  const [dx, dy] = [bx - ax, by - ay];
  const length = Math.hypot(dx, dy);
  return length === 0 ? Math.hypot(x - ax, y - ay) : Math.abs(dx * (ay - y) - (ax - x) * dy) / length;
}

/** Leaves out points that lie nearer than the tolerance to the line without them (Douglas and Peucker). */
function simplify(points) {
  if (points.length < 3) return points;
  let [far, at] = [0, 0];
  for (let i = 1; i < points.length - 1; i += 1) {
    const d = distance(points[i], points[0], points.at(-1));
    if (d > far) [far, at] = [d, i];
  }
  if (far <= toleranceDeg) return [points[0], points.at(-1)];
  return [...simplify(points.slice(0, at + 1)).slice(0, -1), ...simplify(points.slice(at))];
}

function path(ring) {
  const [xs, ys] = [ring.map(([x]) => x), ring.map(([, y]) => y)];
  const [west, east, south, north] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  let points = ring;
  if (east - west < smallestDeg && north - south < smallestDeg) {
    const [x, y, r] = [(east + west) / 2, (north + south) / 2, smallestDeg / 2];
    points = [[x - r, y], [x, y - r], [x + r, y], [x, y + r]];
  } else {
    const half = Math.floor(ring.length / 2);
    points = [...simplify(ring.slice(0, half + 1)).slice(0, -1), ...simplify([...ring.slice(half), ring[0]]).slice(0, -1)];
  }
  let [px, py] = [0, 0];
  const steps = [];
  for (const [x, y] of points) {
    const [ux, uy] = [Math.round(x * unitsPerDegree), Math.round(-y * unitsPerDegree)];
    if (steps.length > 0 && ux === px && uy === py) continue;
    steps.push(steps.length === 0 ? `M${ux} ${uy}` : `${steps.length === 1 ? "l" : " "}${ux - px} ${uy - py}`);
    [px, py] = [ux, uy];
  }
  return steps.length > 2 ? `${steps.join("").replaceAll(" -", "-")}z` : "";
}

const land = rings.map(clip).filter((ring) => ring.length > 2).map(path).join("");
const file = new URL("../src/land.js", import.meta.url);
writeFileSync(
  file,
  `// Written by tools/land.js from Natural Earth (public domain).
/** Units of the path in one degree; x grows to the east, y to the south. */
export const unitsPerDegree = ${unitsPerDegree};
export const land =
  ${JSON.stringify(land)};
`,
);
console.log(`${file.pathname}: ${land.length} characters`);
