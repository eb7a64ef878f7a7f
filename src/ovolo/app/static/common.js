// What every page uses: elements, requests, the facts that came with the page.

export const $ = (id) => document.getElementById(id);

/**
 * An element: h("p", {class: "x", onclick: f}, "text", child). Attributes with a hyphen or a text value are set as
 * such.
 * @param {string} name
 * @param {Object<string, *>} [attributes]
 * @param {...(Node|string)} children
 */
export function h(name, attributes = {}, ...children) {
  const element = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) {
    if (key.startsWith("on")) element.addEventListener(key.slice(2), value);
    else if (typeof value === "boolean") element.toggleAttribute(key, value);
    else if (value !== undefined && value !== null) element.setAttribute(key, value);
  }
  element.append(...children.filter((child) => child !== null && child !== undefined));
  return element;
}

/** A true minus before a figure, as the sheet has it; a hyphen in a word stays one. */
export const typeset = (text) => text.replace(/(?<![\w.])-(?=[0-9.])/g, "−");

export const svgNS = "http://www.w3.org/2000/svg";

/**
 * An element of SVG, like `h`.
 * @param {string} name
 * @param {Object<string, *>} [attributes]
 * @param {...(Node|string)} children
 */
export function s(name, attributes = {}, ...children) {
  const element = document.createElementNS(svgNS, name);
  for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
  element.append(...children);
  return element;
}

/**
 * SVG from our own server as an element.
 * @param {string} text
 */
export function svgOf(text) {
  const parsed = new DOMParser().parseFromString(text, "image/svg+xml").documentElement;
  return document.importNode(parsed, true);
}

/**
 * The facts that the server has put into the page.
 */
export function facts() {
  return JSON.parse($("facts").textContent);
}

export class Refused extends Error {
  constructor(status, answer) {
    super(answer.faults?.map((fault) => fault.says).join("; ") || `answer ${status}`);
    this.status = status;
    this.faults = answer.faults || [];
    this.current = answer.current;
  }
}

/**
 * Ask our server; gives the JSON, throws Refused with its faults.
 * @param {string} method
 * @param {string} address
 * @param {*} body
 * @param {object} [options]
 */
export async function ask(method, address, body, options = {}) {
  const init = { method, signal: options.signal, keepalive: options.keepalive, headers: {} };
  if (body instanceof FormData) init.body = body;
  else if (typeof body === "string") {
    init.body = body;
    init.headers["content-type"] = options.type || "application/toml";
  } else if (body !== undefined) {
    init.body = JSON.stringify(body);
    init.headers["content-type"] = "application/json";
  }
  const answer = await fetch(address, init);
  const data = await answer.json().catch(() => ({}));
  if (!answer.ok) throw new Refused(answer.status, data);
  return data;
}

/** A value on one line, cut short where it is long: a fault quotes, it does not recite. */
function quoted(value, most = 60) {
  const text = typeof value === "object" ? JSON.stringify(value) : String(value);
  return text.length <= most ? text : `${text.slice(0, most - 1)}…`;
}

/**
 * A fault as a person reads it, without its place: a sentence of its own, or what follows its place and a colon.
 * @param {object} fault
 * @param {boolean} [follows]
 */
export function faultText(fault, follows = false) {
  const given =
    fault.value === null || fault.value === undefined
      ? []
      : [`given: ${quoted(fault.value)}`];
  const facts = [...given, ...(fault.limit ? [`allowed: ${fault.limit}`] : [])].join("; ");
  const remedy = fault.remedy ? ` ${fault.remedy.replace(/[.?]?$/, (end) => end || ".")}` : "";
  const says = follows ? fault.says : fault.says.charAt(0).toUpperCase() + fault.says.slice(1);
  return typeset(`${says}${facts ? ` (${facts})` : ""}.${remedy}`);
}

export const MM = { mm: 1, in: 25.4 };

/**
 * A figure as people type it: "7,25" and "7.25" are numbers, "5/16 in" stays text, nothing is nothing.
 * @param {string} text
 */
export function typed(text) {
  const bare = text.trim();
  if (!bare) return undefined;
  const number = bare.replace("−", "-").replace(/^(-?\d+),(\d{1,6})$/, "$1.$2");
  return /^-?(\d+\.?\d*|\.\d+)$/.test(number) ? Number(number) : bare;
}

/**
 * A value of the document as a field shows it.
 * @param {*} value
 */
export function shown(value) {
  if (value === undefined || value === null) return "";
  return typeof value === "number" ? typeset(String(value)) : String(value);
}

/**
 * What a document holds at a path.
 * @param {object} document
 * @param {string} path
 */
export function at(document, path) {
  return path.reduce((inner, step) => (inner === undefined || inner === null ? undefined : inner[step]), document);
}

/**
 * The document with one value changed; undefined removes it, and tables left empty on the way are removed with it.
 * @param {object} document
 * @param {string} path
 * @param {*} value
 */
export function withValue(document, path, value) {
  const [step, ...rest] = path;
  const list = typeof step === "number";
  const copy = list ? [...(Array.isArray(document) ? document : [])] : { ...document };
  const inner = rest.length ? withValue(copy[step], rest, value) : value;
  const empty =
    inner === undefined ||
    (rest.length && typeof inner === "object" && !Array.isArray(inner) && !Object.keys(inner).length);
  if (!empty) copy[step] = inner;
  else if (list) copy.splice(step, 1);
  else delete copy[step];
  return copy;
}

export const steps = (path) => path.split(".").map((step) => (/^\d+$/.test(step) ? Number(step) : step));

/** "part.outline[1].convex" -> "part.outline.1.convex". */
export const dotted = (where) => where.replace(/\[(\d+)\]/g, ".$1");

export const calm = () => matchMedia("(prefers-reduced-motion: reduce)").matches;
