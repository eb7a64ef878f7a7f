// Figures as they are read at the lathe: the same words that the plan has, for figures that were shifted too.

/**
 * @typedef {{name: string, diameter: boolean, decimals: number, count: number, per_mm: number, unit: string, dial:
 * boolean, per_turn: number | null, divisions: number | null, lock: boolean}} Slide
 */

/**
 * A figure as a slide shows it, without Ø: never a negative zero.
 * @param {Slide} slide
 * @param {number} figure
 */
export function plain(slide, figure) {
  const text = figure.toFixed(slide.decimals);
  return Number(text) === 0 ? text.replace("-", "") : text;
}

/** The same with Ø before a diameter. @param {Slide} slide @param {number} figure */
export const read = (slide, figure) => (slide.diameter ? "Ø " : "") + plain(slide, figure).replace("-", "−");

/** A figure on the slide's own grid. @param {Slide} slide @param {number} figure */
export const onGrid = (slide, figure) => Number((Math.round(figure / slide.count) * slide.count).toFixed(9));

/**
 * Where a dial is at a figure: whole turns from its figure 0, and the division.
 * @param {Slide} slide
 * @param {number} figure
 */
export function dialPlace(slide, figure) {
  const travel = figure / Math.abs(slide.per_mm);
  const turns = Math.floor(travel / slide.per_turn + 1e-9);
  const division = (travel / slide.per_turn - turns) * slide.divisions;
  return { turns, division: (Math.round(division * 1000) / 1000) % slide.divisions };
}

/**
 * How often a dial's 0 goes by on the way from one figure to another, in words.
 * @param {Slide} slide
 * @param {number} from
 * @param {number} to
 */
export function turnsPast(slide, from, to) {
  const before = dialPlace(slide, from);
  const after = dialPlace(slide, to);
  let passed = after.turns - before.turns;
  if (passed < 0) passed = -passed - (before.division === 0 ? 1 : 0);
  else if (passed > 0 && after.division === 0) passed -= 1;
  return { 0: "", 1: "past 0 once, ", 2: "past 0 twice, " }[passed] ?? `past 0 ${passed} times, `;
}

/**
 * What stands large: on a readout the figure, on a dial the division; and what stands beside it.
 * @param {Slide} slide
 * @param {number} from
 * @param {number} to
 */
export function large(slide, from, to) {
  if (!slide.dial) return { before: slide.diameter ? "Ø" : "", text: plain(slide, to), beside: "" };
  const { division } = dialPlace(slide, to);
  return {
    before: "",
    text: String(division),
    beside: `${turnsPast(slide, from, to)}stop at ${division} · ${read(slide, to)}`,
  };
}

/** A change of a figure with its sign, as it is said. @param {Slide} slide @param {number} by */
export const change = (slide, by) => `${by < 0 ? "−" : "+"}${plain(slide, Math.abs(by))}`;

const DIGITS = {
  "-": "minus",
  ".": "point",
  0: "zero",
  1: "one",
  2: "two",
  3: "three",
  4: "four",
  5: "five",
  6: "six",
  7: "seven",
  8: "eight",
  9: "nine",
};

/** A figure digit by digit, as it is read out. @param {string} text */
export const spoken = (text) =>
  [...text]
    .map((sign) => DIGITS[sign] ?? "")
    .filter(Boolean)
    .join(" ");
