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
 * The value of a line at a place, in mm: straight between the places that are known.
 * @param {number[]} line places and values one after the other, micrometres
 * @param {number} at mm
 */
export function lineAt(line, at) {
  const um = at * 1000;
  let i = 2;
  while (i < line.length - 2 && line[i] < um) i += 2;
  const share = Math.min(1, Math.max(0, (um - line[i - 2]) / (line[i] - line[i - 2])));
  return (line[i - 1] + share * (line[i + 1] - line[i - 1])) / 1000;
}

/**
 * How deep that is below the outline, mm; null past what was worked out.
 * @param {number} farthest
 * @param {number[] | undefined} below
 * @param {number} past
 */
export function belowAt(farthest, below, past) {
  if (past <= 0) return 0;
  if (past > farthest) return null;
  return below ? lineAt(below, past) : 0;
}

/**
 * What comes of it if the next setting is taken from there: null where that is not known, or not meant.
 * @param {any} facts
 * @param {any} move
 * @param {number} past
 */
export function onFrom(facts, move, past) {
  if (!move.on || past <= 0 || past > facts.farthest[1]) return null;
  return { ridge: lineAt(move.on.ridge, past), below: move.on.below ? lineAt(move.on.below, past) : 0 };
}

/** A length as it is said, in the job's unit. */
const length = (facts, mm) => (facts.unit === "in" ? `${(mm / 25.4).toFixed(4)} in` : `${mm.toFixed(2)} mm`);

/**
 * What has become of it, and what to do now.
 * @param {object} facts
 * @param {object} aim
 * @param {number} stopped
 * @returns {{what: string, now: string, harm: boolean, lost?: boolean, not?: string, on?: string}} `on`: what comes of
 * it if the next setting is taken from here, where that can be; `not`: why it cannot
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
  const below = belowAt(facts.farthest[0], move.below, past);
  const by = `Past by ${length(facts, past)}`;
  if (below === null)
    return {
      what: `${by}: farther than was worked out.`,
      now: "Spindle stopped. Wind clear and measure before going on.",
      harm: true,
      lost: true,
    };
  if (below > NOTHING) {
    const little = below <= facts.ridge;
    const what = `${by}: it is ${length(facts, below)} below the outline there.`;
    const now = little
      ? `Less than the ridge allowed (${length(facts, facts.ridge)}). ${back} Blend it when filing.`
      : `Go no deeper. ${back} Then stop and measure: the part may be undersize there.`;
    return { what, now, harm: true };
  }
  const took = move.cuts_from !== undefined && past > move.cuts_from;
  const what = `${by}: harmless. ${took ? "It took metal that has to go." : "Nothing was cut there."}`;
  return { what, now: back, harm: false, ...goingOn(facts, onFrom(facts, move, past)) };
}

/** What is said of taking the next setting from where it stopped. */
function goingOn(facts, on) {
  if (!on) return {};
  if (on.below > NOTHING)
    return { not: `Not from here: the next cut would go ${length(facts, on.below)} below the outline.` };
  const asked = `${length(facts, facts.ridge)} asked for`;
  return { on: `the ridge there becomes ${length(facts, on.ridge)} (${asked})` };
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
