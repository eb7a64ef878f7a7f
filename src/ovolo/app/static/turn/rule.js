// Progress as a steel rule: a graduation for each move, a numeral at every tenth; the red mark is where one is.

const SHOWN = 72;
const WIDE = 360;
const HIGH = 38;

/**
 * The rule as the inside of an SVG, 360 by 38.
 * @param {number} place
 * @param {number} moves
 */
export function ruleOf(place, moves) {
  const many = Math.min(moves, SHOWN);
  const first = Math.max(0, Math.min(place - 1 - Math.floor(many * 0.4), moves - many));
  const step = (WIDE - 24) / many;
  const x = (n) => (12 + (n - first) * step).toFixed(1);
  const at = Math.min(Math.max(place - 1, 0), moves);
  const lines = [`<path class="done" d="M${x(Math.max(first, 0))} 0H${x(at)}V${HIGH}H${x(first)}z"/>`];
  let marks = "";
  let words = "";
  for (let n = first; n <= first + many; n += 1) {
    const long = n % 10 === 0 ? 22 : n % 5 === 0 ? 16 : 10;
    marks += `M${x(n)} 0v${long}`;
    if (n % 10 === 0) words += `<text x="${Number(x(n)) + 2.5}" y="34">${n}</text>`;
  }
  const here = Number(x(at));
  lines.push(
    `<path class="marks" d="${marks}"/>`,
    words,
    `<path class="here" d="M${here} 12l-7 -12h14zM${here} 0v${HIGH}"/>`,
  );
  return lines.join("");
}
