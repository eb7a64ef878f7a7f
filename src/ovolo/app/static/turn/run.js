// A run as this device knows it: ticks of its own and of others, where it is, what has to be done ahead.
import { keeping } from "./keep.js";
import { sending } from "./send.js";
import { alive, does, paceOf, placeOf } from "./ticks.js";

const LONG = 30 * 60 * 1000;

const random = (bytes) =>
  [...crypto.getRandomValues(new Uint8Array(bytes))].map((byte) => byte.toString(16).padStart(2, "0")).join("");

/**
 * @param {any} facts
 * @param {any[]} brought ticks that a kept file brings along
 * @param {() => void} changed
 */
export async function runOf(facts, brought, changed) {
  const kept = await keeping(facts.run);
  const [known, ticked, own] = await Promise.all([
    kept.mark("device"),
    kept.mark(`done ${facts.run}`),
    kept.ticks().catch(() => []),
  ]);
  const device = known ?? random(4);
  if (!known) kept.setMark("device", device);
  const marks = new Set(ticked ?? []);
  const rows = new Map();
  for (const tick of brought) rows.set(tick.key, { tick, sent: false, n: rows.size });
  for (const row of own) rows.set(row.tick.key, row);
  let live = [];
  let place = 1;
  const run = { facts, device, lasting: kept.lasting, reached: false, says: "", look: null };

  const count = () => {
    live = alive([...rows.values()].map((row) => row.tick));
    place = placeOf(live, facts.moves.length);
  };

  function keep(tick, sent) {
    const row = { tick, sent, n: rows.size };
    rows.set(tick.key, row);
    return row;
  }

  /** Make a tick of it: shown at once, kept, then sent. */
  run.tick = (what) => {
    const tick = { key: `${device}-${random(10)}`, at: new Date().toISOString(), ...what };
    const row = keep(tick, false);
    count();
    kept
      .put([row])
      .catch(() => undefined)
      .then(() => run.send?.());
    return tick;
  };
  run.undo = (ticks) =>
    ticks.forEach((tick) =>
      run.tick({ move: tick.move, undo: tick.key, ...(tick.before ? { before: tick.before } : {}) }),
    );
  run.live = () => live;
  run.place = () => place;
  run.all = () => [...rows.values()].map((row) => row.tick);
  run.unsent = () => [...rows.values()].filter((row) => !row.sent).map((row) => row.tick);
  run.pace = () => paceOf(live, facts, device);
  run.of = (n) => live.filter((tick) => does(tick) && tick.move === n);
  run.mark = (name) => kept.mark(name);
  run.setMark = (name, value) => kept.setMark(name, value);

  const isDone = (step) => {
    if (step.kept) return true;
    if (step.before) return live.some((tick) => tick.before === step.before);
    return marks.has(step.index) || (step.kind !== "stand" && step.kind !== "face" && live.length > 0);
  };
  run.ahead = (n) => facts.steps.filter((step) => step.move === n && !isDone(step));
  run.behind = (n) => facts.steps.filter((step) => step.move === n && !step.kept && isDone(step));
  run.did = (step, more = {}) => {
    if (step.before) run.tick({ move: step.move, before: step.before, ...more });
    else {
      marks.add(step.index);
      kept.setMark(`done ${facts.run}`, [...marks]);
    }
  };
  run.undid = (step) => {
    run.undo(live.filter((tick) => step.before && tick.before === step.before));
    marks.delete(step.index);
    kept.setMark(`done ${facts.run}`, [...marks]);
  };

  /** Whether both slides have to be read first: parked, on another device, or long ago. */
  run.toBeRead = () => {
    const last = live.at(-1);
    if (!last || !live.some(does)) return false;
    return last.note != null || !last.key.startsWith(device) || Math.abs(Date.now() - Date.parse(last.at)) > LONG;
  };
  run.parked = () => (live.at(-1)?.note != null ? live.at(-1) : null);

  function came(ticks, all) {
    const fresh = [];
    const names = new Set(ticks.map((tick) => tick.key));
    const lost = all ? [...rows.values()].filter((row) => row.sent && !names.has(row.tick.key)) : [];
    for (const row of lost) {
      row.sent = false;
      fresh.push(row);
    } // kept here, no longer there: it is sent again
    for (const tick of ticks) {
      const row = rows.get(tick.key);
      if (!row) fresh.push(keep(tick, true));
      else if (!row.sent) {
        row.sent = true;
        fresh.push(row);
      }
    }
    if (fresh.length) {
      kept.put(fresh).catch(() => undefined);
      count();
    }
    run.look?.();
    if (fresh.length) changed();
    if (run.unsent().length) run.send?.();
  }

  count();
  if (location.protocol.startsWith("http")) {
    run.send = sending(facts.run, {
      unsent: run.unsent,
      sent: (keys) => {
        const done = keys.map((key) => rows.get(key));
        done.forEach((row) => {
          row.sent = true;
        });
        kept.put(done).catch(() => undefined);
      },
      came,
      state: (reached, says) => {
        const other = run.reached !== reached || run.says !== says;
        run.reached = reached;
        run.says = says;
        run.look?.();
        if (other) changed();
      },
    });
  }
  return run;
}
