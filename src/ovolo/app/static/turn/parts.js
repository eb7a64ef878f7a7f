// The end of a part, and the next of several equal ones.
import { choice, h, padScreen } from "./screens.js";
import { carriedOn, minutesOf } from "./ticks.js";

const COUNT = { decimals: 0, diameter: false };

/** How many minutes, at least one. @param {number} minutes */
const min = (minutes) => `${Math.max(1, Math.round(minutes))} min`;

/**
 * The screen at the end of a part.
 * @param {any} app
 * @param {(words: string) => void} told
 */
export function endOf(app, told) {
  const { facts, run } = app;
  const { series } = facts;
  const took = minutesOf(run.live());
  const before = series.minutes.map((one) => min(one)).join(", ");
  const due = (series.part - 1) % series.every === 0;
  const all = series.parts !== null && series.part >= series.parts;
  return {
    title: all && series.part > 1 ? `All ${series.parts} parts are done` : "The turning is done",
    body: [
      h("p", { class: "lead" }, `Stop the spindle, wind both slides clear${due ? ", then measure" : ""}.`),
      series.every > 1 && due
        ? h("p", {}, `Every ${series.every} parts are measured: this is one of them. Measure before the next one.`)
        : null,
      h("p", {}, `Part ${series.part} took ${min(took)}${before ? `; those before it: ${before}` : ""}.`),
      h("p", {}, `${facts.moves.length} moves, plan ${facts.checksum}.`),
      run.send ? choice("Another part, the same plan", () => app.show(beforeNext(app, told))) : null,
    ],
    done: () => "There is nothing more to tick.",
  };
}

/** What a choice is, and in small what it means. */
const labelled = (words, small) => h("span", {}, `${words} `, h("small", {}, small));

/** What is asked before the next part. */
function beforeNext(app, told) {
  const { facts, run } = app;
  const { series } = facts;
  app.parts ??= { parts: series.parts, every: series.every };
  const again = () => app.show(beforeNext(app, told));
  const ask = (name, says, start) => () =>
    app.show(
      padScreen({
        title: "Another part",
        says,
        slide: COUNT,
        start,
        done: (value) => {
          if (!Number.isInteger(value) || value < 1 || value > 9999) return "A whole number is wanted.";
          app.parts[name] = value;
          again();
        },
      }),
    );
  const go = (rechucked) => () => another(app, rechucked, told);
  const many = app.parts.parts === null ? "How many in all?" : `${app.parts.parts} in all`;
  const every = app.parts.every === 1 ? "Each part is measured" : `Every ${app.parts.every} parts are measured`;
  const shifts = carriedOn(run.live(), facts, false).length;
  return {
    title: `Part ${series.part + 1}, the same plan`,
    stopped: true,
    body: [
      choice(labelled("Clamped anew", "a new piece, or the bar pushed out: the length anew"), go(true)),
      choice(labelled("Up to the same stop", "lengths and diameters hold"), go(false)),
      h(
        "div",
        { class: "choices" },
        choice(many, ask("parts", "How many equal parts in all?", app.parts.parts ?? series.part + 1)),
        choice(every, ask("every", "Measure each part (1), or every how many?", app.parts.every)),
      ),
      h(
        "p",
        {},
        series.keeps
          ? "Corrections are kept: what a readout was corrected by stays in it" +
              `${shifts ? ", changed figures stay changed" : ""}.`
          : "Each tool is touched off again as it comes: corrections end with that.",
      ),
    ],
    done: () => app.close(),
    cancel: true,
  };
}

/** The next part: a run of its own of the very same plan. */
async function another(app, rechucked, told) {
  const { facts, run } = app;
  const carried = carriedOn(run.live(), facts, rechucked);
  const sent = { ...app.parts, rechucked, minutes: minutesOf(run.live()), carried };
  try {
    const answer = await fetch(`/api/runs/${facts.run}/again`, {
      method: "POST",
      headers: { "content-type": "application/json" },
      body: JSON.stringify(sent),
    });
    if (!answer.ok) throw new Error(String(answer.status));
    location.href = (await answer.json()).page;
  } catch {
    told("The computer cannot be reached: try again there.");
  }
}
