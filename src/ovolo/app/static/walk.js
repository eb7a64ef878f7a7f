// Walking through a plan: which cuts are gone, where the tool stands, which row and which setting that is.

import { $ } from "./common.js";

export class Walk extends EventTarget {
  constructor(svg, view, done) {
    super();
    this.svg = svg;
    this.view = view;
    this.done = done; // moves done; a fraction while one is being made
    this.chips = new Map([...svg.querySelectorAll(".chip")].map((chip) => [Number(chip.dataset.n), chip]));
    this.tools = [...svg.querySelectorAll(".tool-at")];
    this.settings = new Map([...svg.querySelectorAll(".setting")].map((mark) => [Number(mark.dataset.setting), mark]));
    this.swept = svg.querySelector(".swept");
    this.clip = document.createElementNS(svg.namespaceURI, "clipPath");
    this.clip.id = "now";
    this.clip.append(document.createElementNS(svg.namespaceURI, "path"));
    svg.querySelector("defs").append(this.clip);
    this.swept.setAttribute("clip-path", "url(#now)");
    for (const [n, chip] of this.chips) {
      chip.addEventListener("click", () => this.to(n));
      chip.addEventListener("pointerenter", () => this.point(n));
      chip.addEventListener("pointerleave", () => this.point(0));
    }
    for (const [setting, mark] of this.settings) {
      const move = view.moves.find((one) => one.station === setting);
      if (move) mark.addEventListener("click", () => this.to(move.n));
    }
    $("scrub").max = view.moves.length;
  }

  /** Show the plan after so many moves. */
  to(done) {
    this.halt();
    this.done = Math.max(0, Math.min(Math.round(done), this.view.moves.length));
    this.show();
  }

  show() {
    const whole = Math.floor(this.done),
      part = this.done - whole,
      moves = this.view.moves;
    for (const [n, chip] of this.chips) chip.classList.toggle("gone", n <= whole);
    const move = moves[part ? whole : Math.max(whole - 1, 0)];
    const place = part || whole === 0 ? between(moves[whole] || move, part) : move.to;
    this.tools.forEach((tool, i) => {
      tool.toggleAttribute("hidden", i !== move.tool);
      if (i === move.tool) tool.setAttribute("transform", `translate(${place[0]} ${-place[1]})`);
    });
    this.sweep(part ? moves[whole] : null, place);
    this.mark(move, whole, part);
  }

  /** What the move being made has taken so far. */
  sweep(move, place) {
    const chip = move && this.chips.get(move.n);
    if (!chip) {
      this.swept.setAttribute("d", "");
      return;
    }
    this.clip.firstChild.setAttribute("d", chip.getAttribute("d"));
    const shape = this.view.shapes[move.tool];
    this.swept.setAttribute("d", hull([...shape.map((p) => add(p, move.from)), ...shape.map((p) => add(p, place))]));
  }

  /** The row, the setting, the slider and the words that go with it. */
  mark(move, whole, part) {
    const n = part ? whole + 1 : whole,
      total = this.view.moves.length;
    if (this.marked === n) return;
    this.marked = n;
    const rows = $("rows");
    rows.querySelector("tr[aria-current]")?.removeAttribute("aria-current");
    if (n) rows.querySelector(`tr[data-n="${n}"]`)?.setAttribute("aria-current", "step");
    for (const [setting, mark] of this.settings) mark.classList.toggle("now", n > 0 && setting === move.station);
    $("scrub").value = n;
    const slide = move?.slide === "saddle" ? "saddle" : `${move?.slide} slide`;
    const words = n
      ? `Move ${n} of ${total}: ${slide} ${move.toward} to ${move.shown}`
      : `Before the first of ${total} moves`;
    $("scrub").setAttribute("aria-valuetext", words);
    $("scrub-figure").textContent = n ? `move ${n} of ${total}` : `0 of ${total}`;
    this.dispatchEvent(new Event("choose"));
  }

  /** Point at a move without going there, in the drawing and in the table. */
  point(n) {
    if (this.pointed === n) return;
    this.chips.get(this.pointed)?.classList.remove("pointed");
    $("rows").querySelector("tr.pointed")?.classList.remove("pointed");
    this.pointed = n;
    this.chips.get(n)?.classList.add("pointed");
    $("rows").querySelector(`tr[data-n="${n}"]`)?.classList.add("pointed");
  }

  /** Play from here, or from the start where the end is shown; stop where it plays. Without movement: move by move. */
  play(calm) {
    if (this.playing) {
      this.halt();
      return;
    }
    if (this.done >= this.view.moves.length) this.done = 0;
    this.playing = true;
    $("play").textContent = "Stop";
    let before = performance.now();
    const tick = (now) => {
      if (!this.playing) return;
      this.advance(now - before, calm);
      before = now;
      if (this.done >= this.view.moves.length) {
        this.halt();
        return;
      }
      this.frame = calm ? setTimeout(() => tick(performance.now()), 600) : requestAnimationFrame(tick);
    };
    this.frame = calm ? setTimeout(() => tick(performance.now()), 600) : requestAnimationFrame(tick);
  }

  advance(ms, calm) {
    const whole = Math.floor(this.done),
      move = this.view.moves[whole];
    const travel = Math.hypot(move.to[0] - move.from[0], move.to[1] - move.from[1]);
    const lasts = Math.max(120, Math.min(900, travel * 60));
    const part = calm ? 1 : Math.min(1, this.done - whole + ms / lasts);
    this.done = part >= 1 ? whole + 1 : whole + part;
    this.show();
  }

  halt() {
    this.playing = false;
    cancelAnimationFrame(this.frame);
    clearTimeout(this.frame);
    $("play").textContent = "Play";
  }

  end() {
    this.halt();
    this.done = Math.floor(this.done);
  }
}

const add = (p, q) => [p[0] + q[0], p[1] + q[1]];

function between(move, part) {
  return [move.from[0] + (move.to[0] - move.from[0]) * part, move.from[1] + (move.to[1] - move.from[1]) * part];
}

/**
 * The convex hull of points (z, r), as the `d` of a path.
 * @param {object[]} points
 */
export function hull(points) {
  const sorted = [...points].sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const half = (list) => {
    const chain = [];
    for (const p of list) {
      while (chain.length > 1 && turn(chain[chain.length - 2], chain[chain.length - 1], p) <= 0) chain.pop();
      chain.push(p);
    }
    return chain.slice(0, -1);
  };
  return `M${[...half(sorted), ...half(sorted.reverse())].map((p) => `${p[0]} ${-p[1]}`).join("L")}Z`;
}

const turn = (a, b, c) => (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
