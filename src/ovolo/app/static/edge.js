// The cutting edge of a form tool: its points in a table, each reached by a straight line or an arc.

import { h } from "./common.js";

// What is worked out here is written to so many parts of the unit: finer, in inches too, than any hollow that counts.
const ROUND = 1e5;

/** The points of a form tool, as far as they are some. */
const pointsOf = ({ outline }) =>
  Array.isArray(outline) && outline.every((point) => point && typeof point === "object") ? outline : [];
const byThird = (point) => Array.isArray(point.through);

/**
 * What has to be laid out anew when it changes: how many points there are, and which are reached through a third
 * one.
 */
export const edgeShape = (tool) =>
  tool.kind === "form"
    ? `form${pointsOf(tool)
        .map((point) => (byThird(point) ? "t" : "-"))
        .join("")}`
    : "";

/**
 * The editor of the edge of tool `i`; `put(how, said)` puts what `how` makes of the tool as its outline.
 * @param {object} tool
 * @param {number} i
 * @param {Function} put
 */
export function edgeEditor(tool, i, put) {
  const change = (how, said) => put((now) => how(pointsOf(now)), said);
  const points = pointsOf(tool),
    path = `tool.${i}.outline`;
  const add = h("button", {
    type: "button",
    id: `add-${path}`,
    onclick: () => insert(add.after, points.length, change, path),
  });
  const follow = (after) => {
    add.after = after;
    add.textContent =
      after === undefined || after === points.length - 1 ? "Add a point at the end" : `Add a point after ${after + 1}`;
  };
  follow(points.length ? points.length - 1 : undefined);
  const remove = (k) => {
    change((now) => begun(now.filter((_, n) => n !== k)), `removed point ${k + 1}`);
    focus(`remove-${path}.${Math.min(k, points.length - 2)}`, add.id);
  };
  const rows = points.flatMap((point, k) =>
    pointRows(point, k, path, k === points.length - 1, change, remove).map((row) => {
      row.addEventListener("focusin", () => follow(k));
      return row;
    }),
  );
  return h(
    "div",
    { class: "edge", role: "group", "aria-label": `Cutting edge of ${tool.name}` },
    h(
      "p",
      { class: "hint" },
      "Its cutting edge from the end toward the chuck along its underside, measured from any place; " +
        "z grows away from the chuck, the height away from the work. " +
        "R is the radius of an arc that leads to a point and bulges out; empty is straight.",
    ),
    points.length
      ? h(
          "table",
          { class: "points edges" },
          h(
            "thead",
            {},
            h(
              "tr",
              {},
              ...["", "z", "height", "R", ""].map((text) => (text ? h("th", { scope: "col" }, text) : h("td"))),
            ),
          ),
          h("tbody", {}, ...rows),
        )
      : null,
    h("div", { class: "buttons" }, add),
  );
}

function pointRows(point, k, path, last, change, remove) {
  const at = `${path}.${k}`,
    n = k + 1;
  const cell = (where, label, more = {}) =>
    h(
      "td",
      {},
      h("input", {
        id: `f-${where}`,
        "data-path": where,
        "data-kind": "figure",
        "aria-label": label,
        autocomplete: "off",
        ...more,
      }),
    );
  // A fault of a whole point, or of all of them, stands at its z.
  const faults = [at, ...(last ? [path] : [])].join(" ");
  const straight = () => {
    change((now) => now.map(({ through: third, ...rest }, m) => (m === k ? rest : now[m])), `point ${n} straight`);
    focus(`f-${at}.convex`, `f-${at}.z`);
  };
  const bend =
    !k && point.convex === undefined
      ? h("td", {})
      : !byThird(point)
        ? cell(`${at}.convex`, `radius of the arc to point ${n}`, { placeholder: "straight" })
        : h("td", {}, "arc");
  const row = h(
    "tr",
    {},
    h("td", {}, String(n)),
    cell(`${at}.z`, `z of point ${n}`, { "data-fault": faults }),
    cell(`${at}.r`, `height of point ${n}`),
    bend,
    h(
      "td",
      {},
      h(
        "button",
        { type: "button", id: `remove-${at}`, "aria-label": `Remove point ${n}`, onclick: () => remove(k) },
        "×",
      ),
    ),
  );
  if (!byThird(point)) return [row];
  const third = h(
    "tr",
    {},
    h("td", {}, ""),
    cell(`${at}.through.0`, `z of a third point of the arc to point ${n}`, { "data-fault": `${at}.through` }),
    cell(`${at}.through.1`, `height of a third point of the arc to point ${n}`),
    h("td", {}, "third point"),
    h(
      "td",
      {},
      h(
        "button",
        { type: "button", "aria-label": `Take the third point out: straight to point ${n}`, onclick: straight },
        "×",
      ),
    ),
  );
  return [third, row];
}

/** Another point: halfway along the piece behind one, or beyond the end the way that it runs there. */
function insert(after, many, change, path) {
  const at = after === undefined ? 0 : after + 1;
  change(
    (points) => (at === 0 ? start() : at === many ? [...points, beyond(points)] : halved(points, after)),
    after === undefined ? "began an edge" : `added point ${at + 1}`,
  );
  focus(`f-${path}.${at}.z`);
}

/** Nothing leads to the first point. */
function begun([first, ...rest]) {
  if (first === undefined) return [];
  const { convex, through: third, ...point } = first;
  return [point, ...rest];
}

const start = () => [
  { z: 0, r: 0 },
  { z: 1, r: 0 },
];
const rounded = (value) => Math.round(value * ROUND) / ROUND;
const placed = (z, r) => ({ z: rounded(z), r: rounded(r) });

function xy({ z, r }) {
  return [Number(z) || 0, Number(r) || 0];
}

/** The piece from a to b: how long its chord is, which way that runs, how far an arc has turned by half of it. */
function piece(a, b) {
  const [za, ra] = xy(a),
    [zb, rb] = xy(b),
    chord = Math.hypot(zb - za, rb - ra);
  const radius = byThird(b) ? through(a, b) : Number(b.convex);
  const half = radius > 0 ? Math.asin(Math.min(1, chord / 2 / radius)) : 0;
  return { za, ra, zb, rb, chord, radius, half, way: Math.atan2(rb - ra, zb - za) };
}

/** The radius of the circle through three points. */
function through(a, b) {
  const [p, q, m] = [xy(a), xy(b), b.through.map(Number)];
  const long = (one, other) => Math.hypot(one[0] - other[0], one[1] - other[1]);
  const area = Math.abs((q[0] - p[0]) * (m[1] - p[1]) - (q[1] - p[1]) * (m[0] - p[0])) / 2;
  return area > 0 ? (long(p, q) * long(p, m) * long(q, m)) / 4 / area : NaN;
}

function halved(points, after) {
  const a = points[after],
    b = points[after + 1],
    { za, ra, zb, rb, radius, half, way } = piece(a, b);
  const deep = half ? radius * (1 - Math.cos(half)) : 0; // an arc bulges to the right of its way
  const middle = placed((za + zb) / 2 + deep * Math.sin(way), (ra + rb) / 2 - deep * Math.cos(way));
  const { convex, through: third, ...end } = b,
    bend = half ? { convex: third ? rounded(radius) : convex } : {};
  return [...points.slice(0, after + 1), { ...middle, ...bend }, { ...end, ...bend }, ...points.slice(after + 2)];
}

function beyond(points) {
  const last = points[points.length - 1],
    { zb, rb, chord, half, way } =
      points.length > 1
        ? piece(points[points.length - 2], last)
        : { zb: xy(last)[0], rb: xy(last)[1], chord: 1, half: 0, way: 0 };
  const far = (chord || 1) / 4;
  return placed(zb + far * Math.cos(way + half), rb + far * Math.sin(way + half));
}

/** Go to the first of some fields that is there. */
function focus(...ids) {
  const found = ids.map((id) => document.getElementById(id)).find(Boolean);
  found?.focus();
  found?.select?.();
}
