// Building the page: elements by plain calls, texts never as markup, sizes with real fractions.

const SVG = "http://www.w3.org/2000/svg";

export const words = JSON.parse(document.getElementById("words").textContent);

/** A text of the page by its key, with what stands in braces filled in. */
export function say(key, values = {}) {
  const text = words[key];
  if (text === undefined) throw new Error(`no words for ${key}`);
  return text.replace(/\{(\w+)\}/g, (_, name) => String(values[name] ?? ""));
}

/** An element. Attributes that are null or false are left out; "on…" ones are listeners. */
export function el(name, attributes = {}, ...children) {
  return put(document.createElement(name), attributes, children);
}

/** An SVG element. */
export function svg(name, attributes = {}, ...children) {
  return put(document.createElementNS(SVG, name), attributes, children);
}

function put(made, attributes, children) {
  for (const [key, value] of Object.entries(attributes)) {
    if (value === null || value === undefined || value === false) continue;
    if (key.startsWith("on")) made.addEventListener(key.slice(2), value);
    else made.setAttribute(key, value === true ? "" : String(value));
  }
  made.append(...children.flat(9).filter((child) => child !== null && child !== undefined && child !== false));
  return made;
}

/** Puts these children in place of all that an element has. */
export function fill(element, ...children) {
  element.replaceChildren(...children.flat(9).filter((child) => child !== null && child !== undefined && child !== false));
}

/** A text in which every fraction is set as one: "3 1/4 in" keeps its space, so it is read and copied rightly. */
export function sized(text) {
  const parts = String(text).split(/((?:\d+ )?\d+\/\d+)/);
  return parts.map((part, at) => (at % 2 ? size(part) : part)).filter((part) => part !== "");
}

function size(text) {
  const [whole, part] = text.includes(" ") ? text.split(" ") : ["", text];
  return el("span", { class: "size" }, whole, whole && el("span", { class: "hair" }, " "), el("span", { class: "fraction" }, part));
}

/** A drawing the server made, as elements of this page. */
export function drawing(text) {
  const read = new DOMParser().parseFromString(text, "image/svg+xml").documentElement;
  return document.importNode(read, true);
}

/** Tells a screen reader, without moving anything. */
export function tell(text) {
  const place = document.getElementById("told");
  if (place) place.textContent = text;
}

export const still = () => matchMedia("(prefers-reduced-motion: reduce)").matches;
