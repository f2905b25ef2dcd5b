// Takes an SVG text of the engine into the page: only drawing elements and their drawing
// attributes go in; whatever else a text could hold stays out.

import { newId, svg } from "./dom.js";

const elements = new Set(["svg", "g", "path", "text", "tspan", "title", "desc", "line", "rect", "circle", "polyline", "polygon"]);
const attributes = new Set([
  "viewBox", "d", "x", "y", "x1", "x2", "y1", "y2", "cx", "cy", "r", "rx", "ry", "width", "height", "points",
  "fill", "fill-opacity", "stroke", "stroke-width", "stroke-dasharray", "stroke-linecap", "stroke-linejoin", "opacity",
  "font-size", "font-weight", "font-style", "text-anchor", "transform",
]);

/**
 * The picture as an element, or null where the text is no SVG.
 * @param {string} text
 * @returns {SVGElement | null}
 */
export function picture(text) {
  const root = new DOMParser().parseFromString(text, "image/svg+xml").documentElement;
  if (root.localName !== "svg") return null;
  const copy = /** @type {SVGElement} */ (take(root));
  const [title, desc] = ["title", "desc"].map((name) => copy.querySelector(`:scope > ${name}`));
  copy.setAttribute("role", "img");
  copy.classList.add("picture");
  if (title) {
    title.id = newId("picture-title");
    copy.setAttribute("aria-labelledby", title.id);
  }
  if (desc) {
    desc.id = newId("picture-words");
    copy.setAttribute("aria-describedby", desc.id);
  }
  return copy;
}

/** The words that come with a picture. @param {string} text */
export function pictureWords(text) {
  const root = new DOMParser().parseFromString(text, "image/svg+xml").documentElement;
  return root.querySelector("desc")?.textContent ?? "";
}

/** A text, sentence by sentence. @param {string} words */
export const sentences = (words) => words.split("\n");

/** @param {Element} element @returns {Element} */
function take(element) {
  const copy = svg(element.localName, {});
  for (const { name, value } of element.attributes) {
    if (attributes.has(name) && !/url\(/i.test(value)) copy.setAttribute(name, value);
  }
  for (const child of element.childNodes) {
    if (child.nodeType === Node.TEXT_NODE) copy.append(child.textContent ?? "");
    else if (child instanceof Element && elements.has(child.localName)) copy.append(take(child));
  }
  return copy;
}
