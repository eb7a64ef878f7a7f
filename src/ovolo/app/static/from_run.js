// What a run at the lathe has left for Check: what was measured at its stops, and where a slide went past its figure.

import { $, Refused, ask, h, typeset } from "./common.js";

const SLIDES = { cross: "cross slide", saddle: "saddle", top: "top slide" };

/** Show what the last run of a job has left. @param {string} job */
export async function fromRun(job) {
  try {
    const { items } = await ask("GET", `/api/runs?of=${job}`);
    const run = items.find((one) => one.place > one.moves) ?? items[0];
    if (!run) return;
    const lines = linesOf(await ask("GET", `/api/runs/${run.id}`));
    const place = run.place > run.moves ? "all moves done" : `at move ${run.place} of ${run.moves}`;
    $("run-says").textContent = `Run of ${run.made.slice(0, 16).replace("T", " ")}, plan ${run.checksum}, ${place}.`;
    const none = "Nothing was measured at a stop, and no slide went past its figure.";
    $("run-left").replaceChildren(...(lines.length ? lines : [none]).map((line) => h("li", {}, typeset(line))));
    $("from-run").hidden = false;
  } catch (wrong) {
    if (!(wrong instanceof Refused)) throw wrong;
  }
}

/**
 * What ticks that were not taken back say, in the order of the moves.
 * @param {{plan: any, ticks: any[]}} run
 */
export function linesOf(run) {
  const { plan, ticks } = run;
  const gone = new Set(ticks.map((tick) => tick.undo).filter(Boolean));
  const live = ticks.filter((tick) => !tick.undo && !gone.has(tick.key)).sort((a, b) => a.move - b.move);
  return live.flatMap((tick) => {
    if (tick.measured) return measured(plan, tick);
    return tick.stopped_at == null ? [] : past(plan, tick);
  });
}

/** A stop to measure: what was read, what it should be, what was done about it. */
function measured(plan, tick) {
  const should = plan.before[tick.before - 1].should ?? {};
  const done = tick.by === "readout" ? "the readout was corrected" : "the figures that follow were changed";
  return Object.entries(tick.measured).map(([slide, figure]) => {
    const wanted = should[slide] === undefined ? "" : ` where it should be ${should[slide]}`;
    return `Before move ${tick.move}, ${SLIDES[slide]}: measured ${figure}${wanted}; ${done}.`;
  });
}

/** A slide that went past its figure. */
function past(plan, tick) {
  const move = plan.moves[tick.move - 1];
  const then = tick.back ? "it was brought back" : "the next setting was taken from there";
  return [`Move ${tick.move}, ${SLIDES[move.slide]}: stopped at ${tick.stopped_at} instead of ${move.shown}; ${then}.`];
}
