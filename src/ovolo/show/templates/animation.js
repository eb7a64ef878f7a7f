"use strict";
// Plays the moves of a plan. `place` is how many moves are done, with the share of the one under way behind the point.
const data = JSON.parse(document.getElementById("data").textContent);
const moves = data.moves;
const chips = [...document.querySelectorAll("#chips .chip")];
const tools = [...document.querySelectorAll(".one-tool")];
const element = (id) => document.getElementById(id);
const slider = element("place");
const calm = matchMedia("(prefers-reduced-motion: reduce)");
const BARE_SECONDS = 0.25, LONGEST_SECONDS = 1.6, MM_A_SECOND = 60, CALM_SECONDS = 0.8;
let place = 0, playing = false, before = 0, waited = 0;

const length = (move) => Math.hypot(move.to[0] - move.from[0], move.to[1] - move.from[1]);
const seconds = (move) => Math.min(LONGEST_SECONDS, BARE_SECONDS + length(move) / MM_A_SECOND);

// The convex hull of the tool where the move began and where it is now: what it has passed over (Andrew, 1979).
function hull(points) {
  const sorted = points.slice().sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const half = (list) => {
    const out = [];
    for (const p of list) {
      while (out.length > 1) {
        const [a, b] = out.slice(-2);
        if ((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]) > 0) break;
        out.pop();
      }
      out.push(p);
    }
    return out.slice(0, -1);
  };
  return [...half(sorted), ...half(sorted.reverse())];
}

function swept(move, at) {
  const shape = data.shapes[move.tool];
  const moved = [move.from, at].flatMap(([x, y]) => shape.map(([px, py]) => [px + x, py + y]));
  return "M" + hull(moved).map((p) => p[0].toFixed(2) + " " + p[1].toFixed(2)).join("L") + "Z";
}

function show() {
  const done = Math.min(Math.floor(place), moves.length), share = place - done;
  const move = moves[Math.min(done, moves.length - 1)];
  const at = done < moves.length ? [0, 1].map((k) => move.from[k] + share * (move.to[k] - move.from[k])) : move.to;
  chips.forEach((chip, n) => chip.classList.toggle("gone", n < done));
  const under = done < moves.length && share > 0;
  element("now-shape").setAttribute("d", under ? chips[done].getAttribute("d") : "");
  element("swept").setAttribute("d", under && chips[done].getAttribute("d") ? swept(move, at) : "");
  tools.forEach((tool, n) => {
    tool.toggleAttribute("hidden", n !== move.tool);
    tool.style.display = n === move.tool ? "" : "none";
    tool.setAttribute("transform", `translate(${at[0].toFixed(3)} ${at[1].toFixed(3)})`);
  });
  const last = under ? move : moves[Math.max(0, done - 1)];
  element("says").textContent = done || under ? last.says : "Before the first move";
  element("stage").textContent = done || under ? last.stage + (last.cuts ? ", cuts" : "") : "";
  element("count").textContent = `move ${Math.min(moves.length, done + (under ? 1 : 0))} of ${moves.length}`;
  slider.value = String(done);
}

function go(to) {
  place = Math.max(0, Math.min(moves.length, to));
  show();
}

function set(run) {
  playing = run && moves.length > 0;
  if (playing && place >= moves.length) place = 0;
  element("play").textContent = playing ? "Stop" : "Play";
  before = performance.now();
  waited = 0;
  if (playing) requestAnimationFrame(tick);
}

function tick(now) {
  if (!playing) return;
  let time = ((now - before) / 1000) * Number(element("speed").value);
  before = now;
  if (calm.matches) {
    waited += time;
    if (waited >= CALM_SECONDS) { waited = 0; go(Math.floor(place) + 1); }
  } else {
    while (time > 0 && place < moves.length) {
      const left = (1 - (place % 1)) * seconds(moves[Math.floor(place)]);
      if (time < left) { place += time / seconds(moves[Math.floor(place)]); time = 0; }
      else { place = Math.floor(place) + 1; time -= left; }
    }
    show();
  }
  if (place >= moves.length) set(false);
  else requestAnimationFrame(tick);
}

element("play").addEventListener("click", () => set(!playing));
element("back").addEventListener("click", () => { set(false); go(Math.ceil(place) - 1); });
element("on").addEventListener("click", () => { set(false); go(Math.floor(place) + 1); });
slider.addEventListener("input", () => { set(false); go(Number(slider.value)); });
show();
