// Dimensions on a drawing, edited where they stand, and points that are dragged. Figures never lie on one another:
// diameters and radii stand in a row above the part, lengths in rows below it.

import { h, s, shown, steps, typed } from "./common.js";

const ROW = 30,
  GAP = 8,
  OUT = 16,
  FINGER = 22; // px that a finger may be off

export class Overlay {
  constructor(layer, zoom, handlers) {
    Object.assign(this, { layer, zoom, handlers });
    this.lines = s("svg", { "aria-hidden": "true" });
    this.boxes = h("div");
    this.points = h("div");
    layer.append(this.lines, this.boxes, this.points);
    zoom.addEventListener("view", () => this.place());
  }

  take(view) {
    const typing = document.activeElement?.closest?.(".dim-box") && document.activeElement;
    const at = typing ? typing.closest(".dim-box").dataset.key : null,
      holding = document.activeElement?.dataset?.handle;
    this.view = view;
    this.dims = view.dimensions.map((dim) => ({ ...dim, box: this.box(dim) }));
    this.boxes.replaceChildren(...this.dims.map((dim) => dim.box));
    this.handles = view.handles.map((handle) => ({ ...handle, button: this.handle(handle) }));
    if (!this.dragging) this.points.replaceChildren(...this.handles.map((handle) => handle.button));
    this.place();
    const again = at && this.boxes.querySelector(`[data-key="${at}"] input`);
    if (again) {
      // what is being typed stays, as it was typed and where
      const { value, selectionStart: from, selectionEnd: to } = typing;
      again.focus();
      again.value = value;
      again.setSelectionRange(from, to);
    }
    if (this.held) this.hold(this.held);
    if (holding) this.points.querySelector(`[data-handle="${holding}"]`)?.focus();
  }

  box(dim) {
    const value = dim.sign < 0 ? negated(dim.value) : dim.value;
    const kinds = { diameter: "diameter", radius: "radius", length: "length", note: dim.label.trim() };
    const words = `${kinds[dim.kind]} on the drawing`;
    const input = h("input", { "aria-label": words, value: shown(value), autocomplete: "off", spellcheck: "false" });
    const fit = () => {
      input.style.width = `${Math.max(3, input.value.length) + 1}ch`;
    };
    fit();
    input.addEventListener("input", fit);
    const commit = () => {
      const next = typed(input.value);
      if (next === undefined || input.value === shown(value)) {
        input.value = shown(value);
        return;
      }
      this.handlers.set(dim.path, dim.sign < 0 ? negated(next) : next, words);
    };
    input.addEventListener("change", commit);
    input.addEventListener("keydown", (event) => {
      if (event.key === "Enter") commit();
      if (event.key === "Escape") input.value = shown(value);
    });
    return h("span", { class: "dim-box", "data-key": dim.path.join(".") }, dim.label, input);
  }

  handle(handle) {
    const button = h("button", {
      type: "button",
      class: handle.arc ? "handle arc" : "handle",
      "data-handle": handle.name,
      "aria-label": `Move ${handle.name}: drag it, or use the arrow keys`,
    });
    button.addEventListener("pointerdown", (event) => {
      const meant = this.meant(event, { ...handle, button });
      this.hold(meant.name);
      this.drag(event, meant, meant.button);
    });
    button.addEventListener("focus", () => this.dragging || this.hold(handle.name));
    button.addEventListener("keydown", (event) => {
      const by = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[event.key];
      if (!by) return;
      event.preventDefault();
      const step = this.fine();
      const now = this.handles.find((one) => one.name === handle.name) || handle;
      this.pull(now, now.at[0] + by[0] * step, now.at[1] + by[1] * step, { z: by[0] !== 0, r: by[1] !== 0 });
    });
    return button;
  }

  /** Hold the next handle (1) or the one before (-1): a finger then drags that one, whatever lies over it. */
  step(by) {
    const all = (this.handles || []).filter(({ button }) => !button.hidden),
      now = all.findIndex(({ name }) => name === this.held);
    const next = all[(now + by + all.length) % all.length] ?? all[0];
    if (!next) return;
    this.hold(next.name);
    next.button.focus();
  }

  hold(name) {
    this.held = name;
    for (const one of this.handles) one.button.classList.toggle("held", one.name === name);
  }

  /** The handle that a press means: the one held, where it is within a finger of it; else the nearest. */
  meant(event, pressed) {
    const far = ({ button }) => {
      const { left, top, width, height } = button.getBoundingClientRect();
      return Math.hypot(event.clientX - left - width / 2, event.clientY - top - height / 2);
    };
    const held = this.handles.find(({ name }) => name === this.held);
    if (held && !held.button.hidden && far(held) <= FINGER) return held;
    const near = this.handles.filter(({ button }) => !button.hidden).sort((a, b) => far(a) - far(b))[0];
    return near ?? pressed;
  }

  /** Figures are round ones, as fine as can be seen at this scale, mm. */
  fine() {
    const target = this.zoom.unit * 3;
    return Math.max(0.001, 10 ** Math.ceil(Math.log10(target) - 0.35) / 2);
  }

  drag(event, handle, button) {
    event.preventDefault();
    event.stopPropagation();
    button.focus();
    button.setPointerCapture(event.pointerId);
    this.dragging = true;
    const edge = this.layer.getBoundingClientRect();
    const [x, y] = this.zoom.place(...handle.at),
      grip = [event.clientX - edge.left - x, event.clientY - edge.top - y];
    let far = false; // a press that does not move is no drag
    const move = (moved) => {
      far ||= Math.hypot(moved.clientX - event.clientX, moved.clientY - event.clientY) >= 3;
      if (!far) return;
      const to = [moved.clientX - edge.left - grip[0], moved.clientY - edge.top - grip[1]],
        [z, r] = this.zoom.where(...to);
      [button.style.left, button.style.top] = to.map((px) => `${px}px`);
      this.pull(handle, z, r);
    };
    const end = () => {
      button.removeEventListener("pointermove", move);
      this.dragging = false;
      if (far) this.handlers.settled();
    };
    button.addEventListener("pointermove", move);
    button.addEventListener("pointerup", end, { once: true });
    button.addEventListener("pointercancel", end, { once: true });
  }

  /** Turn a place (z, r) into the figures of the fields behind a handle; only along the axes that were moved. */
  pull(handle, z, r, axes = { z: true, r: true }) {
    const step = this.fine(),
      unit = this.handlers.unit();
    const round = (mm) => Number(((Math.round(mm / step) * step) / unit).toFixed(unit === 1 ? 4 : 5));
    const changes = [];
    if (handle.z && axes.z) changes.push([handle.z.path ?? handle.z[0], value(handle.z, z)]);
    if (handle.r && axes.r) changes.push([handle.r.path ?? handle.r[0], Math.max(0, value(handle.r, Math.max(0, r)))]);
    if (handle.arc) changes.push([handle.arc, radiusThrough(handle.ends[0], [z, r], handle.ends[1])]);
    this.handlers.pull(
      changes.filter(([, mm]) => Number.isFinite(mm)).map(([path, mm]) => [path, round(mm)]),
      handle.name,
    );
  }

  place() {
    if (!this.dims || !this.zoom.box) return;
    const size = this.zoom.size(),
      inside = this.dims
        .map((dim) => ({ dim, p: this.zoom.place(...dim.at) }))
        .filter(({ p }) => p[0] > -40 && p[0] < size.width + 40 && p[1] > -40 && p[1] < size.height + 40);
    for (const { box } of this.dims) box.hidden = true;
    const paths = [];
    const above = inside.filter(({ dim }) => dim.kind !== "length").sort((a, b) => a.p[0] - b.p[0]);
    this.placeAbove(above, size, paths);
    this.placeBelow(
      this.dims.filter((dim) => dim.kind === "length"),
      size,
      paths,
    );
    this.lines.replaceChildren(...paths);
    for (const handle of this.handles) {
      if (this.dragging) break;
      const [x, y] = this.zoom.place(...handle.at);
      handle.button.hidden = x < 0 || y < 0 || x > size.width || y > size.height;
      [handle.button.style.left, handle.button.style.top] = [`${x}px`, `${y}px`];
    }
  }

  /**
   * Diameters and radii: in a row along the upper edge, each with a leader to its place; in two where one is too
   * short.
   */
  placeAbove(found, size, paths) {
    for (const { dim } of found) dim.box.hidden = false;
    const wide = found.map(({ dim }) => dim.box.offsetWidth + GAP),
      room = wide.reduce((sum, one) => sum + one, 0);
    const rows =
      room <= size.width
        ? [found.map((_, i) => i)]
        : [found.map((_, i) => i).filter((i) => i % 2 === 0), found.map((_, i) => i).filter((i) => i % 2 === 1)];
    rows.forEach((row, n) => {
      const places = spread(
          row.map((i) => found[i].p[0]),
          row.map((i) => wide[i]),
          size.width,
        ),
        y = 16 + n * ROW;
      row.forEach((i, k) => {
        const { dim, p } = found[i],
          x = places[k];
        [dim.box.style.left, dim.box.style.top] = [`${x}px`, `${y}px`];
        paths.push(
          s("path", { class: "dim", d: `M${x} ${y + 13}L${p[0]} ${p[1]}` }),
          arrow(p, [p[0] - x, p[1] - y - 13]),
        );
      });
    });
  }

  /**
   * Lengths: in rows below the part, the shortest nearest to it; a figure that does not fit in between stands
   * beside.
   */
  placeBelow(dims, size, paths) {
    const low = Math.min(this.zoom.place(0, -this.view.lowest)[1] + 22, size.height - 24);
    const sorted = dims
      .map((dim) => ({ dim, x: [this.zoom.place(dim.a, 0)[0], this.zoom.place(dim.b, 0)[0]].sort((a, b) => a - b) }))
      .sort((a, b) => a.x[1] - a.x[0] - (b.x[1] - b.x[0]));
    const rows = [];
    for (const { dim, x } of sorted) {
      if (x[1] < 0 || x[0] > size.width) continue;
      dim.box.hidden = false;
      const wide = dim.box.offsetWidth,
        tight = x[1] - x[0] < wide + 30,
        right = x[1] + OUT + wide < size.width;
      const inside = (Math.max(x[0], 0) + Math.min(x[1], size.width)) / 2,
        beside = right ? x[1] + OUT + wide / 2 : x[0] - OUT - wide / 2;
      const middle = Math.min(Math.max(tight ? beside : inside, wide / 2), size.width - wide / 2);
      const from = Math.min(x[0] - (tight ? OUT : 0), middle - wide / 2) - 3,
        to = Math.max(x[1] + (tight ? OUT : 0), middle + wide / 2) + 3;
      let row = rows.findIndex((taken) => taken.every(([a, b]) => to <= a || from >= b));
      if (row < 0) row = rows.push([]) - 1;
      rows[row].push([from, to]);
      const y = Math.min(low + row * ROW, size.height - 14),
        base = this.zoom.place(0, 0)[1];
      [dim.box.style.left, dim.box.style.top] = [`${middle}px`, `${y}px`];
      for (const end of x) paths.push(s("path", { class: "dim", d: `M${end} ${Math.max(base, low - 20)}V${y + 6}` }));
      const line = tight ? `M${x[0] - OUT} ${y}H${x[1] + OUT}` : `M${x[0]} ${y}H${x[1]}`,
        way = tight ? -1 : 1;
      paths.push(s("path", { class: "dim", d: line }), arrow([x[0], y], [-way, 0]), arrow([x[1], y], [way, 0]));
    }
  }
}

/**
 * Places as near to the wanted ones (rising) as boxes so wide allow that must not lie on one another, from 0 to `most`.
 * @param {number[]} wanted
 * @param {number[]} wide
 * @param {number} most
 */
export function spread(wanted, wide, most) {
  const groups = [];
  wanted.forEach((_, i) => {
    groups.push({ first: i, offsets: [0], wide: wide[i] });
    while (groups.length > 1) {
      const b = groups[groups.length - 1],
        a = groups[groups.length - 2];
      if (left(a, most) + a.wide <= left(b, most)) break;
      groups.pop();
      // Joined: the boxes of b follow those of a without a gap, all as near as can be to where they would rather be.
      a.offsets.push(...b.offsets.map((offset) => offset + a.wide));
      a.wide += b.wide;
    }
  });
  return groups.flatMap((group) =>
    group.offsets.map((offset, k) => left(group, most) + offset + wide[group.first + k] / 2),
  );

  function left(group, end) {
    const halves = group.offsets.reduce((sum, _, k) => sum + wide[group.first + k] / 2, 0),
      inner = group.offsets.reduce((sum, offset) => sum + offset, 0);
    const shift = group.offsets.reduce((sum, _, k) => sum + wanted[group.first + k], 0);
    const at = (shift - halves - inner) / group.offsets.length;
    return Math.min(Math.max(at, 0), end - group.wide);
  }
}

function value(pull, mm) {
  const [, base, factor] = Array.isArray(pull) ? pull : [0, pull.base, pull.factor];
  return base + factor * mm;
}

const negated = (figure) =>
  typeof figure === "number" ? -figure + 0 : /^[-−]/.test(figure) ? figure.slice(1) : `-${figure}`;

function arrow(tip, toward) {
  const size = Math.hypot(...toward) || 1,
    [ux, uy] = [toward[0] / size, toward[1] / size],
    back = [tip[0] - ux * 11, tip[1] - uy * 11];
  return s("path", {
    class: "arrow",
    d: `M${tip[0]} ${tip[1]}L${back[0] - uy * 2.2} ${back[1] + ux * 2.2}L${back[0] + uy * 2.2} ${back[1] - ux * 2.2}Z`,
  });
}

/**
 * The radius of the circle through three points; not a number where they lie on one line.
 * @param {number[]} a
 * @param {number[]} b
 * @param {number[]} c
 */
export function radiusThrough(a, b, c) {
  const det = 2 * ((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]));
  const side = (p, q) => Math.hypot(p[0] - q[0], p[1] - q[1]);
  return Math.abs(det) < 1e-9 ? NaN : (side(a, b) * side(b, c) * side(c, a)) / Math.abs(det);
}

export { steps };
