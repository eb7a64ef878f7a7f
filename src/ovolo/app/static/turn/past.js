// Where a slide stopped that went past its figure: what has become of the part, from what was worked out beforehand.
import { read } from "./figures.js";

const NOTHING = 0.0015;

/**
 * How far past its figure a slide is, mm of travel; negative where it has not reached it.
 * @param {any} aim
 * @param {number} stopped
 */
export function pastBy(aim, stopped) {
  const way = aim.move.toward === "out" || aim.move.toward === "away from the chuck" ? 1 : -1;
  return (way * (stopped - aim.to)) / aim.slide.per_mm;
}

/**
 * How deep that is below the outline, mm; null past what was worked out.
 * @param {number[]} reached
 * @param {number[] | undefined} below micrometres
 * @param {number} past
 */
export function belowAt(reached, below, past) {
  if (past <= 0) return 0;
  if (past > reached.at(-1)) return below || past > reached.at(-1) ? null : 0;
  if (!below) return 0;
  const i = reached.findIndex((one) => one >= past);
  const share = (past - reached[i - 1]) / (reached[i] - reached[i - 1]);
  return (below[i - 1] + share * (below[i] - below[i - 1])) / 1000;
}

/** A length as it is said, in the job's unit. */
const length = (facts, mm) => (facts.unit === "in" ? `${(mm / 25.4).toFixed(4)} in` : `${mm.toFixed(2)} mm`);

/**
 * What has become of it, and what to do now.
 * @param {object} facts
 * @param {object} aim
 * @param {number} stopped
 * @returns {{what: string, now: string, harm: boolean}}
 */
export function answerOf(facts, aim, stopped) {
  const { move, slide } = aim;
  const past = pastBy(aim, stopped);
  const target = read(slide, aim.to);
  const step = slide.count / Math.abs(slide.per_mm);
  if (Math.abs(past) < step / 2) return { what: "It is at its figure.", now: "Go on.", harm: false };
  if (past < 0)
    return {
      what: `Short by ${length(facts, -past)}: nothing is lost.`,
      now: `Wind on to ${target}, then Done.`,
      harm: false,
    };
  const side = slide.dial ? ", from the same side as always" : "";
  const back = `Bring the ${slide.name} back to ${target}${side}, then Done.`;
  const below = belowAt(facts.reached, move.below, past);
  const by = `Past by ${length(facts, past)}`;
  if (below === null)
    return {
      what: `${by}: farther than was worked out.`,
      now: "Spindle stopped. Wind clear and measure before going on.",
      harm: true,
    };
  if (below > NOTHING) {
    const little = below <= facts.ridge;
    const what = `${by}: it is ${length(facts, below)} below the outline there.`;
    const now = little
      ? `Less than the ridge allowed (${length(facts, facts.ridge)}). ${back} Blend it when filing.`
      : `Go no deeper. ${back} Then stop and measure: the part may be undersize there.`;
    return { what, now, harm: true };
  }
  if (move.cuts_from !== undefined && past > move.cuts_from)
    return { what: `${by}: harmless. It took metal that has to go.`, now: back, harm: false };
  return { what: `${by}: harmless. Nothing was cut there.`, now: back, harm: false };
}

/**
 * The figure nearest to the target at which a dial shows this division.
 * @param {*} slide
 * @param {number} target
 * @param {number} division
 */
export function nearestOn(slide, target, division) {
  const turn = slide.per_turn * Math.abs(slide.per_mm);
  const shown = ((target / turn - Math.floor(target / turn + 1e-9)) * slide.divisions) % slide.divisions;
  const off = ((division - shown) / slide.divisions) * turn;
  return Number((target + off - Math.round(off / turn) * turn).toFixed(6));
}

/** What was typed as the slide's own figure. */
export const typedAs = (slide, aim, value) => (slide.dial ? nearestOn(slide, aim.to, value) : Number(value.toFixed(6)));

export const typedStart = (slide, aim) => (slide.dial ? Number(aim.text) : aim.to);
