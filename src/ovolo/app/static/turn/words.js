// What a move, a shift and what comes next are in words; nothing here looks at the page.
import { change, large, onGrid, plain, read, spoken } from "./figures.js";
import { does, shiftAt } from "./ticks.js";

/**
 * The figure of a move with its shift, what stands large, and from where.
 * @param {any} facts
 * @param {any[]} live
 * @param {number} n
 * @param {number} [farther]
 */
export function aimOf(facts, live, n, farther = 0) {
  const move = facts.moves[n - 1];
  const slide = facts.slides[move.slide];
  const by = shiftAt(live, facts, n, move.slide) + (move.slide === "cross" ? farther : 0);
  const from = onGrid(slide, move.begins + by);
  const to = by ? onGrid(slide, move.figure + by) : move.figure;
  return { move, slide, by, from, to, ...large(slide, from, to) };
}

/**
 * Where a slide is after the moves before `n`, as it reads: where it stopped, if it went past and was not brought back.
 * @param {object} facts
 * @param {object} live
 * @param {number} n
 * @param {*} slide
 * @param {number} figure
 */
export function standsAt(facts, live, n, slide, figure) {
  const tool = facts.moves[n - 1].tool;
  const by = shiftAt(live, facts, n, slide);
  for (let k = n - 1; k > 0 && facts.moves[k - 1].tool === tool; k -= 1) {
    if (facts.moves[k - 1].slide !== slide) continue;
    const stopped = live.filter((tick) => does(tick) && tick.move === k && tick.stopped_at != null).at(-1);
    if (stopped && !stopped.back) return stopped.stopped_at;
    break;
  }
  return onGrid(facts.slides[slide], figure + by);
}

/**
 * What both slides read before a move.
 * @param {object} facts
 * @param {object} live
 * @param {number} n
 * @returns {{slide: string, figure: number}[]}
 */
export function bothAt(facts, live, n) {
  const move = facts.moves[n - 1];
  return [
    [move.slide, move.begins],
    [move.other, move.other_figure],
  ]
    .map(([slide, figure]) => ({ slide, figure: standsAt(facts, live, n, slide, figure) }))
    .sort((a, b) => (a.slide === "cross" ? -1 : b.slide === "cross" ? 1 : 0));
}

export const capital = (words) => words.charAt(0).toUpperCase() + words.slice(1);

/**
 * What is said small beside a figure: how far, what kind of cut, how near.
 * @param {object} aim
 */
export function factsOf(aim) {
  const { move } = aim;
  const parts = [`${move.travel} from here`, move.cut || (move.past ? "past on purpose" : "no cut")];
  parts.push(`within ${move.within}`);
  return parts.join(" · ");
}

/**
 * Where the other slide must be meanwhile.
 * @param {object} facts
 * @param {object} live
 * @param {number} n
 * @param {number} [farther]
 */
export function otherOf(facts, live, n, farther = 0) {
  const move = facts.moves[n - 1];
  const slide = facts.slides[move.other];
  const figure = read(
    slide,
    standsAt(facts, live, n, move.other, move.other_figure) + (move.other === "cross" ? farther : 0),
  );
  return move.lock ? `Lock the ${move.lock} at ${figure}` : `${capital(slide.name)} stays at ${figure}`;
}

/**
 * The next move in one short sentence; "" after the last.
 * @param {object} facts
 * @param {object} live
 * @param {number} n
 * @param {object} ahead
 */
export function nextOf(facts, live, n, ahead) {
  if (n >= facts.moves.length) return "then the turning is done";
  if (ahead) return `then ${ahead.title.charAt(0).toLowerCase()}${ahead.title.slice(1)}`;
  const aim = aimOf(facts, live, n + 1);
  return `then ${aim.slide.name} ${aim.move.toward} to ${read(aim.slide, aim.to)}`;
}

/**
 * The shift in force, with its size; "" where there is none.
 * @param {object} aim
 */
export function shiftOf(aim) {
  return aim.by ? `${capital(aim.slide.name)} figures changed by ${change(aim.slide, aim.by)}` : "";
}

/**
 * What is read out: the figure last.
 * @param {object} aim
 */
export function speechOf(aim) {
  const { move, slide } = aim;
  const turns = slide.dial ? `${aim.beside.split("stop at")[0]}stop at ` : "to ";
  return `${slide.name}, ${move.toward}, ${turns}${spoken(aim.text)}`;
}

/**
 * "Finish · setting 8 of 16".
 * @param {object} facts
 * @param {number} n
 */
export function stageOf(facts, n) {
  const move = facts.moves[Math.min(n, facts.moves.length) - 1];
  if (move.stage === "rough") return "Rough";
  const next = facts.moves.slice(move.n - 1).find((one) => one.setting);
  return next ? `Finish · setting ${next.setting} of ${facts.stations}` : "Finish";
}

/**
 * Minutes that are left at a pace.
 * @param {object} facts
 * @param {number} n
 * @param {object} pace
 */
export function minutesLeft(facts, n, pace) {
  const seconds = facts.moves.slice(n - 1).reduce((sum, move) => sum + move.seconds, 0) * pace;
  return `${Math.max(1, Math.round(seconds / 60))} min left`;
}

/**
 * How a readout is made to show what was measured.
 * @param {*} slide
 * @param {number} should
 * @param {number} measured
 */
export function correctedBy(slide, should, measured) {
  const off = measured - should;
  if (Math.abs(off) < slide.count / 2) return `It is as it should be: leave the ${slide.name} as it is.`;
  const more = off > 0 ? "more" : "less";
  const shown = plain(slide, Math.abs(off));
  return `Off by ${change(slide, off)}. Make the ${slide.name} show ${shown} ${more}, where it is.`;
}

/**
 * How figures change by what was measured.
 * @param {*} slide
 * @param {number} should
 * @param {number} measured
 */
export function figuresBy(slide, should, measured) {
  const off = should - measured;
  if (Math.abs(off) < slide.count / 2) return `It is as it should be: no figure changes.`;
  const said = `Off by ${change(slide, -off)}. From here on every figure of the ${slide.name} changes by `;
  return `${said}${change(slide, off)}. Leave the ${slide.dial ? "dial" : "readout"} as it is.`;
}
