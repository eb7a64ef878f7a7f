// Looking at a drawing: closer, farther, moved, and back to the whole part. Lines keep their weight at every scale.

const LEAST = 0.004; // mm across: a few microns
const PX_PER_MM = 96 / 25.4;

export class Zoom extends EventTarget {
  constructor(frame) {
    super();
    this.frame = frame;
    this.whole = this.box = null;
    this.pointers = new Map();
    frame.addEventListener("wheel", (event) => this.wheel(event), { passive: false });
    frame.addEventListener("keydown", (event) => this.key(event));
    frame.addEventListener("pointerdown", (event) => this.down(event));
    frame.addEventListener("pointermove", (event) => this.move(event));
    for (const name of ["pointerup", "pointercancel"]) frame.addEventListener(name, (event) => this.up(event));
    for (const button of document.querySelectorAll("[data-zoom]"))
      button.addEventListener("click", () => this.button(button.dataset.zoom));
    new ResizeObserver(() => this.show()).observe(frame);
  }

  /** Show an SVG; what was looked at stays, unless the whole part is looked at or the part is another one. */
  take(svg, box) {
    const far = this.isWhole();
    this.svg = svg;
    this.whole = box;
    if (far || !this.box) this.box = [...box];
    this.show();
  }

  isWhole() {
    return !this.box || this.box.every((value, i) => Math.abs(value - this.whole[i]) < 1e-9);
  }

  /** mm for one pixel of the screen. */
  get unit() {
    const { width, height } = this.size();
    return Math.max(this.box[2] / width, this.box[3] / height);
  }

  size() {
    return { width: this.frame.clientWidth || 1, height: this.frame.clientHeight || 1 };
  }

  /** A place of the drawing (z, r) on the screen, px from the frame's corner. */
  place(z, r) {
    const { width, height } = this.size(),
      unit = this.unit;
    const [x, y, w, t] = this.box;
    return [(z - x - w / 2) / unit + width / 2, (-r - y - t / 2) / unit + height / 2];
  }

  /** And back. */
  where(px, py) {
    const { width, height } = this.size(),
      unit = this.unit;
    const [x, y, w, t] = this.box;
    return [x + w / 2 + (px - width / 2) * unit, -(y + t / 2 + (py - height / 2) * unit)];
  }

  show() {
    if (!this.svg) return;
    this.svg.setAttribute("viewBox", this.box.join(" "));
    const unit = this.unit;
    const lean = { metal: 45, "to-go": -45 };
    for (const [id, angle] of Object.entries(lean)) {
      this.svg
        .querySelector(`#${id}`)
        ?.setAttribute("patternTransform", `rotate(${angle}) scale(${unit * (id === "metal" ? 8 : 6)})`);
    }
    this.dispatchEvent(new Event("view"));
  }

  /** Zoom by a factor about a place of the screen (the middle by default). */
  by(factor, px, py) {
    if (!this.box) return;
    const { width, height } = this.size();
    const [z, r] = this.where(px ?? width / 2, py ?? height / 2);
    const least = Math.min(this.box[2], this.box[3]);
    const most = Math.max(this.box[2] / this.whole[2], this.box[3] / this.whole[3]);
    const f = Math.min(Math.max(factor, LEAST / least), 2.5 / most);
    this.box = [z + (this.box[0] - z) * f, -r + (this.box[1] + r) * f, this.box[2] * f, this.box[3] * f];
    this.show();
  }

  pan(dx, dy) {
    const unit = this.unit;
    this.box = [this.box[0] - dx * unit, this.box[1] - dy * unit, this.box[2], this.box[3]];
    this.show();
  }

  toWhole() {
    this.box = [...this.whole];
    this.show();
  }

  /** Look at a place, so many mm across. */
  toPlace(z, r, across) {
    this.box = [z - across / 2, -r - across / 2, across, across];
    this.show();
  }

  button(name) {
    if (!this.box) return;
    if (name === "whole") this.toWhole();
    else this.by(name === "in" ? 1 / 1.6 : 1.6);
  }

  wheel(event) {
    if (
      !this.box ||
      (!event.ctrlKey && !this.frame.contains(document.activeElement) && this.isWhole() && event.deltaY > 0)
    )
      return;
    event.preventDefault();
    const [px, py] = this.local(event);
    this.by(Math.exp(Math.max(-60, Math.min(60, event.deltaY)) * 0.006), px, py);
  }

  key(event) {
    if (event.target !== this.frame || event.ctrlKey || event.metaKey || !this.box) return;
    const pan = { ArrowLeft: [60, 0], ArrowRight: [-60, 0], ArrowUp: [0, 60], ArrowDown: [0, -60] }[event.key];
    if (pan) this.pan(...pan);
    else if (event.key === "+" || event.key === "=") this.by(1 / 1.6);
    else if (event.key === "-") this.by(1.6);
    else if (event.key === "0") this.toWhole();
    else return;
    event.preventDefault();
  }

  local(event) {
    const edge = this.frame.getBoundingClientRect();
    return [event.clientX - edge.left, event.clientY - edge.top];
  }

  down(event) {
    if (!this.box || event.target.closest("button, input, .dim-box")) return;
    // One finger scrolls the page while the whole part is shown; it moves the drawing once one has looked closer.
    if (event.pointerType === "touch" && this.isWhole() && this.pointers.size === 0) {
      this.pointers.set(event.pointerId, this.local(event));
      return;
    }
    this.pointers.set(event.pointerId, this.local(event));
    this.moved = false;
  }

  move(event) {
    const before = this.pointers.get(event.pointerId);
    if (!before || !this.box) return;
    const now = this.local(event);
    if (this.pointers.size === 2) {
      const other = [...this.pointers].find(([id]) => id !== event.pointerId)[1];
      const d0 = Math.hypot(before[0] - other[0], before[1] - other[1]),
        d1 = Math.hypot(now[0] - other[0], now[1] - other[1]);
      if (d0 > 4 && d1 > 4) this.by(d0 / d1, (now[0] + other[0]) / 2, (now[1] + other[1]) / 2);
    } else if (event.pointerType !== "touch" || !this.isWhole()) {
      const distance = Math.hypot(now[0] - before[0], now[1] - before[1]);
      if (!this.moved && distance < 3) return;
      if (!this.moved) this.frame.setPointerCapture(event.pointerId);
      this.moved = true;
      this.pan(now[0] - before[0], now[1] - before[1]);
    }
    this.pointers.set(event.pointerId, now);
  }

  up(event) {
    this.pointers.delete(event.pointerId);
  }
}

/**
 * The scale in words, and a bar of a round length to hold the drawing against.
 * @param {object} zoom
 * @param {string} [unit]
 */
export function scaleOf(zoom, unit = "mm") {
  const times = 1 / (zoom.unit * PX_PER_MM);
  const round = (value) => Number(value.toPrecision(2));
  const words = times >= 1 ? `${round(times)} : 1` : `1 : ${round(1 / times)}`;
  const mm = unit === "in" ? 25.4 : 1,
    target = (zoom.unit * 90) / mm;
  const power = 10 ** Math.floor(Math.log10(target));
  const length = [5, 2, 1].map((step) => step * power).find((step) => step <= target);
  const small = unit === "in" ? "thou" : "µm",
    least = unit === "in" ? 0.01 : 0.1;
  const text =
    length >= least ? `${Number(length.toPrecision(1))} ${unit}` : `${Number((length * 1000).toPrecision(1))} ${small}`;
  return { words, text, px: (length * mm) / zoom.unit };
}
