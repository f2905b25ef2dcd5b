// Reads coordinates as people write and copy them.

/** @typedef {{latitudeDeg: number, longitudeDeg: number}} Position */

const marks = [
  [/[\u2212\u2013\u2014]/g, "-"],
  [/[\u00ba\u02da\u00b0]/g, "\u00b0"],
  [/''|[\u201c\u201d\u2033\u02ba]/g, '"'],
  [/[\u2018\u2019\u2032\u02b9\u00b4`]/g, "'"],
  [/\b(NORTH|NORTE|NORD)\b/g, "N"],
  [/\b(SOUTH|SUL|SUR|SUD)\b/g, "S"],
  [/\b(EAST|ESTE|LESTE|EST)\b/g, "E"],
  [/\b(WEST|OESTE|OUEST)\b/g, "W"],
  [/\b(LATITUDE|LONGITUDE|LAT|LON|LONG|LNG)\b[:=. ]*/g, " "],
  [/\bDEG(REES?)?\b/g, "\u00b0"],
  [/^GEO:/, ""],
  [/[?#].*$/, ""],
];

/**
 * Latitude and longitude from a text such as `-28.81, 153.28`, `28.81 S 153.28 E`,
 * `28°48'36"S 153°16'48"E` or `S28 48.6, E153 16.8`; or the name of what is wrong with it:
 * `empty`, `two_wanted`, `minutes`, `latitude_range`, `longitude_range`.
 * @param {string} text
 * @returns {Position | {wrong: string}}
 */
export function readCoordinates(text) {
  let t = text.toUpperCase().trim();
  for (const [pattern, mark] of marks) t = t.replace(pattern, /** @type {string} */ (mark));
  t = t.replace(/[()[\]]/g, " ").trim();
  if (t === "") return { wrong: "empty" };
  // -28,81; 153,28 and 28,81 S 153 E: where nothing else can be meant, a comma is a decimal one.
  if (!t.includes(".") && (/[NSEWOL]/.test(t) || /\d,\d+\s*[;\s/]\s*[-+]?\s*\d+,\d/.test(t))) {
    t = t.replace(/(\d),(\d)/g, "$1.$2");
  }
  const halves = split(t);
  if (!halves) return { wrong: "two_wanted" };
  const read = halves.map(one);
  const wrong = read.find((half) => half.wrong);
  if (wrong) return { wrong: /** @type {string} */ (wrong.wrong) };
  let [first, second] = read;
  if (first.axis === "longitude" || second.axis === "latitude") [first, second] = [second, first];
  if (first.axis === "longitude" || second.axis === "latitude") return { wrong: "two_wanted" };
  const latitudeDeg = round(/** @type {number} */ (first.value));
  const longitudeDeg = round(/** @type {number} */ (second.value));
  if (Math.abs(latitudeDeg) > 90) return { wrong: "latitude_range" };
  if (Math.abs(longitudeDeg) > 180) return { wrong: "longitude_range" };
  return { latitudeDeg, longitudeDeg };
}

const round = (/** @type {number} */ x) => Math.round(x * 1e6) / 1e6 + 0;

/** @param {string} t @returns {string[] | undefined} */
function split(t) {
  const letters = t.match(/[NSEWOL]/g) ?? [];
  if (letters.length === 2) {
    const parts = /^[NSEWOL]/.test(t)
      ? t.match(/^([NSEWOL][^NSEWOL]*)([NSEWOL][^NSEWOL]*)$/)
      : t.match(/^([^NSEWOL]*[NSEWOL])([^NSEWOL]*[NSEWOL])$/);
    return parts ? [parts[1], parts[2]] : undefined;
  }
  if (letters.length > 0) return undefined;
  for (const separator of [/\s*[;,/|]\s*/, /\s+/]) {
    const parts = t.split(separator).filter((part) => part !== "");
    if (parts.length === 2) return parts;
  }
  return undefined;
}

/** One coordinate: degrees, perhaps minutes and seconds. @param {string} text */
function one(text) {
  const letter = text.match(/[NSEWOL]/)?.[0];
  // O is oeste and ouest, L is leste.
  const axis = letter === undefined ? undefined : "NS".includes(letter) ? "latitude" : "longitude";
  const bare = text.replace(/[NSEWOL]/, " ").replace(/[,;]/g, " ").trim();
  const shape = /^([-+]?)\s*(\d+(?:\.\d+)?)\s*°?(?:\s*(\d+(?:\.\d+)?)\s*'?(?:\s*(\d+(?:\.\d+)?)\s*"?)?)?$/;
  const found = shape.exec(bare);
  if (!found) return { wrong: "two_wanted" };
  const [, sign, degrees, minutes, seconds] = found;
  if ((minutes && degrees.includes(".")) || (seconds && minutes?.includes("."))) return { wrong: "two_wanted" };
  if (Number(minutes ?? 0) >= 60 || Number(seconds ?? 0) >= 60) return { wrong: "minutes" };
  const size = Number(degrees) + Number(minutes ?? 0) / 60 + Number(seconds ?? 0) / 3600;
  const negative = (sign === "-") !== (letter !== undefined && "SWO".includes(letter));
  return { axis, value: negative ? -size : size };
}

/** `28.81° S, 153.28° E` @param {Position} position */
export function writeCoordinates({ latitudeDeg, longitudeDeg }) {
  const half = (/** @type {number} */ x, /** @type {string} */ letters) =>
    `${Math.abs(Math.round(x * 1e4) / 1e4)}° ${letters[x < 0 ? 1 : 0]}`;
  return `${half(latitudeDeg, "NS")}, ${half(longitudeDeg, "EW")}`;
}
