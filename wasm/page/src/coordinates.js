// Coordinates as they are shown; the engine reads them.

/** @typedef {{latitudeDeg: number, longitudeDeg: number}} Position */

/** `28.81° S, 153.28° E` @param {Position} position */
export function writeCoordinates({ latitudeDeg, longitudeDeg }) {
  const half = (/** @type {number} */ x, /** @type {string} */ letters) =>
    `${Math.abs(Math.round(x * 1e4) / 1e4)}° ${letters[x < 0 ? 1 : 0]}`;
  return `${half(latitudeDeg, "NS")}, ${half(longitudeDeg, "EW")}`;
}
