// Builds elements. Text goes in as text, never as markup.

/** @typedef {Node | string | number | null | undefined | false | readonly any[]} Child */

/**
 * An element with properties and children. `on...` properties are listeners, `true` and `false`
 * set and leave out, everything else is an attribute.
 * @param {string} tag
 * @param {Record<string, any> | null} [properties]
 * @param {...Child} children
 * @returns {any}
 */
export function h(tag, properties, ...children) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(properties ?? {})) {
    if (value === undefined || value === null || value === false) continue;
    if (name.startsWith("on")) element.addEventListener(name.slice(2), value);
    else if (name === "value") /** @type {any} */ (element).value = value;
    else if (value === true) element.setAttribute(name, "");
    else element.setAttribute(name, String(value));
  }
  add(element, children);
  return element;
}

/** @param {Element} element @param {Child} child */
function add(element, child) {
  if (Array.isArray(child)) for (const one of child) add(element, one);
  else if (child !== null && child !== undefined && child !== false) {
    element.append(child instanceof Node ? child : String(child));
  }
}

/** Puts children in place of what an element held. @param {Element} element @param {...Child} children */
export function fill(element, ...children) {
  element.replaceChildren();
  add(element, children);
}

let count = 0;
/** An id that nothing else on the page has. @param {string} name */
export const newId = (name) => `${name}-${(count += 1)}`;

/** A line that opens to more. @param {Child} summary @param {...Child} more */
export const more = (summary, ...more) => h("details", null, h("summary", null, summary), ...more);

/** Puts the focus on what stands in place of what had it, so that keys go on from there. @param {Element | null | undefined} element */
export function focusOn(element) {
  if (!(element instanceof HTMLElement)) return;
  if (element.tabIndex < 0) element.tabIndex = -1;
  element.focus({ preventScroll: true });
}

const svgSpace = "http://www.w3.org/2000/svg";
/** An SVG element. @param {string} tag @param {Record<string, any>} attributes @param {...Child} children */
export function svg(tag, attributes, ...children) {
  const element = document.createElementNS(svgSpace, tag);
  for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, String(value));
  add(element, children);
  return element;
}
