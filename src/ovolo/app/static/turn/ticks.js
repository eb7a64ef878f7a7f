// What ticks amount to; the order in which they came does not matter, but for the last of several measurements.

const PAUSE = 30 * 60 * 1000;

/**
 * @typedef {{key: string, move: number, at: string, undo?: string, before?: number, stopped_at?: number | null,
 * measured?: Object<string, number>, by?: string, typed?: Object<string, number>, note?: string, readings?:
 * Object<string, number>, received?: string}} Tick
 */

/** Those not taken back, undos aside. @param {Tick[]} ticks */
export function alive(ticks) {
  const gone = new Set(ticks.map((tick) => tick.undo).filter(Boolean));
  return ticks.filter((tick) => !tick.undo && !gone.has(tick.key));
}

/** Whether it ticks its move. @param {Tick} tick */
export const does = (tick) => tick.before == null && tick.note == null && tick.readings == null && !tick.undo;

/**
 * The first move not done.
 * @param {Tick[]} live
 * @param {number} moves
 */
export function placeOf(live, moves) {
  const done = new Set(live.filter(does).map((tick) => tick.move));
  let n = 1;
  while (n <= moves && done.has(n)) n += 1;
  return n;
}

/**
 * By how much every figure of a slide is shifted at a move, from what was measured on the way there.
 * @param {Tick[]} live
 * @param {any} facts
 * @param {number} n
 * @param {string} slide
 */
export function shiftAt(live, facts, n, slide) {
  const tool = facts.moves[n - 1].tool;
  let shift = carriedAt(live, facts, n, slide);
  for (const step of facts.steps) {
    if (step.kind !== "measure" || step.move > n || !step.before) continue;
    if (facts.moves[step.move - 1].tool !== tool || touchedBetween(facts, tool, step.move, n)) continue;
    const tick = live.filter((one) => one.before === step.before && one.measured).at(-1);
    if (tick && touchedAgain(live, facts, tool, live.indexOf(tick))) continue;
    const should = step.entries.find((entry) => entry.slide === slide);
    if (tick?.by === "figures" && should && tick.measured[slide] != null) shift += should.figure - tick.measured[slide];
  }
  return shift;
}

/** By how much the figures of a slide are shifted from the part before, until the tool is touched off again. */
function carriedAt(live, facts, n, slide) {
  const tool = facts.moves[n - 1].tool;
  if (touchedBetween(facts, tool, 0, n) || touchedAgain(live, facts, tool, -1)) return 0;
  const carried = facts.series.carried.filter((one) => one.tool === facts.tools[tool] && one.slide === slide);
  return carried.reduce((sum, one) => sum + one.by, 0);
}

/** Whether a tool is touched off again after one move and before or at another. */
function touchedBetween(facts, tool, from, to) {
  const touches = facts.steps.filter((step) => step.kind === "touch" && !step.kept);
  return touches.some((step) => step.move > from && step.move <= to && facts.moves[step.move - 1].tool === tool);
}

/** Whether a tool was touched off once more, because something had moved, after a tick. */
function touchedAgain(live, facts, tool, after) {
  return live.slice(after + 1).some((tick) => tick.again && facts.moves[tick.move - 1].tool === tool);
}

/**
 * By how much the figures of each tool's slides are shifted at its last move: what the next part begins with.
 * @param {Tick[]} live
 * @param {any} facts
 * @param {boolean} rechucked the piece is clamped anew, so that lengths are found again
 */
export function carriedOn(live, facts, rechucked) {
  if (!facts.series.keeps) return [];
  return facts.tools.flatMap((tool, index) => {
    const last = facts.moves.findLast((move) => move.tool === index);
    const slides = last ? (rechucked ? ["cross"] : Object.keys(facts.slides)) : [];
    return slides
      .map((slide) => ({ tool, slide, by: Number(shiftAt(live, facts, last.n, slide).toFixed(6)) }))
      .filter((one) => one.by !== 0);
  });
}

/** How long this part took, min: from the first tick to the last, pauses aside. @param {Tick[]} live */
export function minutesOf(live) {
  const at = live.map((tick) => Date.parse(tick.at)).sort((a, b) => a - b);
  let took = 0;
  for (let i = 1; i < at.length; i += 1) if (at[i] - at[i - 1] < PAUSE) took += at[i] - at[i - 1];
  return took / 60000;
}

/**
 * How long moves took against what was foreseen: 1 where nothing is known yet.
 * @param {Tick[]} live
 * @param {any} facts
 * @param {string} device
 */
export function paceOf(live, facts, device) {
  const mine = live
    .filter((tick) => does(tick) && tick.key.startsWith(device))
    .map((tick) => ({ n: tick.move, at: Date.parse(tick.at) }));
  let took = 120;
  let foreseen = 120;
  for (let i = 1; i < mine.length; i += 1) {
    const seconds = (mine[i].at - mine[i - 1].at) / 1000;
    const usual = facts.moves[mine[i].n - 1].seconds;
    if (mine[i].n !== mine[i - 1].n + 1 || !(seconds > 0) || seconds > 20 * usual + 60) continue; // a pause is no pace
    took += seconds;
    foreseen += usual;
  }
  return took / foreseen;
}
