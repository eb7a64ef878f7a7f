// What so many settings leave, as a curve with a point that is dragged.

import { MM, s } from "./common.js";

const W = 420,
  H = 186,
  LEFT = 56,
  RIGHT = 14,
  TOP = 26,
  BOTTOM = 44;

/**
 * Draw ridge against settings, the number chosen marked.
 * @param {Element} into
 * @param {object[]} points
 * @param {object} view
 * @param {*} chosen
 */
export function drawTrade(into, points, view, chosen) {
  const unit = MM[view.unit],
    counts = points.map((p) => p[0]),
    least = counts[0],
    most = counts[counts.length - 1];
  const high = Math.min(points[0][1], points[Math.floor(points.length / 6)][1] * 1.6, view.ridge_max * 8);
  const x = (n) => LEFT + ((n - least) / Math.max(1, most - least)) * (W - LEFT - RIGHT);
  const y = (ridge) => TOP + (1 - Math.min(ridge / high, 1)) * (H - TOP - BOTTOM);
  const seen = points.filter((p) => p[1] <= high * 1.0001);
  const own = [view.stations, view.ridge_max]; // as the plan's sweep has it: the figure of the sentence
  const figure = (ridge) => (ridge / unit).toFixed(view.unit === "mm" ? 3 : 4);
  const chart = s("svg", {
    class: "chart",
    viewBox: `0 0 ${W} ${H}`,
    role: "img",
    "aria-label": `${own[0]} settings leave ${figure(own[1])} ${view.unit}`,
  });
  chart.append(s("path", { class: "thin", d: `M${LEFT} ${TOP}V${H - BOTTOM}H${W - RIGHT}` }));
  chart.append(
    text(LEFT, 14, `left, ${view.unit}`, "middle", "faint"),
    text(W - RIGHT, H - 6, "settings", "end", "faint"),
  );
  for (const height of heights(high / unit))
    chart.append(
      text(LEFT - 6, y(height * unit) + 4, String(Number(height.toPrecision(2))), "end", ""),
      s("path", { class: "thin", d: `M${LEFT - 3} ${y(height * unit)}h3` }),
    );
  for (const n of ticks(least, most))
    chart.append(
      text(x(n), H - BOTTOM + 16, n, "middle", ""),
      s("path", { class: "thin", d: `M${x(n)} ${H - BOTTOM}v3` }),
    );
  chart.append(s("path", { class: "curve", d: `M${seen.map((p) => `${x(p[0])} ${y(p[1])}`).join("L")}` }));
  for (const p of seen) chart.append(s("circle", { class: "point", cx: x(p[0]), cy: y(p[1]), r: 2 }));
  const right = x(own[0]) > W * 0.6;
  const words = text(
    x(own[0]) + (right ? -2 : 8),
    Math.max(TOP - 10, y(own[1]) - 14),
    `${own[0]} settings leave ${figure(own[1])}`,
    right ? "end" : "start",
    "strong",
  );
  const point = s("circle", { class: "chosen", cx: x(own[0]), cy: y(own[1]), r: 9 });
  chart.append(words, point);
  const old = into.firstElementChild;
  if (old && old.dragging) {
    old.replaceChildren(...chart.childNodes);
    old.setAttribute("aria-label", chart.getAttribute("aria-label"));
    return;
  }
  into.replaceChildren(chart);
  bind(
    chart,
    (px) => {
      const n = least + ((px - LEFT) / (W - LEFT - RIGHT)) * (most - least);
      return counts.reduce((best, count) => (Math.abs(count - n) < Math.abs(best - n) ? count : best), counts[0]);
    },
    chosen,
  );
}

function bind(chart, nearest, chosen) {
  let at = null;
  const read = (event) => {
    const edge = chart.getBoundingClientRect();
    return nearest(((event.clientX - edge.left) / edge.width) * W);
  };
  chart.addEventListener("pointerdown", (event) => {
    chart.dragging = true;
    chart.setPointerCapture(event.pointerId);
    at = read(event);
    chosen(at, false);
  });
  chart.addEventListener("pointermove", (event) => {
    if (chart.dragging && read(event) !== at) {
      at = read(event);
      chosen(at, false);
    }
  });
  chart.addEventListener("pointerup", () => {
    if (chart.dragging) {
      chart.dragging = false;
      chosen(at, true);
    }
  });
}

function text(x, y, words, anchor, cls) {
  const element = s("text", { x, y, "text-anchor": anchor, class: cls });
  element.textContent = words;
  return element;
}

function heights(high) {
  const power = 10 ** Math.floor(Math.log10(high)),
    step = [1, 0.5, 0.2].map((one) => one * power).find((one) => high / one >= 2) || power / 10;
  return [1, 2, 3, 4, 5, 6, 7, 8, 9, 10].map((n) => n * step).filter((height) => height <= high * 1.001);
}

function ticks(least, most) {
  const step = [1, 2, 5, 10, 20, 50, 100].find((one) => (most - least) / one <= 8) || 200;
  const found = [];
  for (let n = Math.ceil(least / step) * step; n <= most; n += step) found.push(n);
  return found;
}
