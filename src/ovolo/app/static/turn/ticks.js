// What ticks amount to; the order in which they came does not matter, but for the last of several measurements.

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
  let shift = 0;
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

/** Whether a tool is touched off again after one move and before or at another. */
function touchedBetween(facts, tool, from, to) {
  return facts.steps.some(
    (step) => step.kind === "touch" && step.move > from && step.move <= to && facts.moves[step.move - 1].tool === tool,
  );
}

/** Whether a tool was touched off once more, because something had moved, after a tick. */
function touchedAgain(live, facts, tool, after) {
  return live.slice(after + 1).some((tick) => tick.again && facts.moves[tick.move - 1].tool === tool);
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
