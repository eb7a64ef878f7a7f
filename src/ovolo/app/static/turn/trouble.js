// When it goes otherwise than planned: something moved, a person is lost, the moves are rehearsed.
import { read } from "./figures.js";
import { choice, h } from "./screens.js";
import { bothAt, capital } from "./words.js";

const STOP = "Stop the spindle. Wind the tool clear of the work.";

/** @param {any} app */
export function movedScreen(app) {
  const ask = (words, lines, bar) => choice(words, () => app.show(touchAgain(app, words, lines, bar)));
  return {
    title: "What moved?",
    stopped: true,
    body: [
      h("p", {}, STOP),
      ask(
        "The tool slipped, or its edge chipped",
        [
          "Clamp it, or change the edge; see that it is on centre height.",
          "Touch it off again, on a cylinder or a face, never on the curve.",
        ],
        false,
      ),
      ask(
        "A readout or dial lost its place",
        ["Touch the tool off again, on a cylinder or a face, never on the curve."],
        false,
      ),
      ask(
        "The bar was pushed in, or slipped",
        ["Clamp it, and clock it: it must run true.", "Skim a new face, then touch off both slides."],
        true,
      ),
    ],
    done: () => app.close(),
    cancel: true,
  };
}

/** Instructions, the touching off of the tool in use, and where both slides are before going on. */
function touchAgain(app, title, lines, bar) {
  const { facts, run } = app;
  const place = run.place();
  const tool = facts.moves[place - 1].tool;
  const touch = facts.steps
    .filter((step) => step.kind === "touch" && step.move <= place && facts.moves[step.move - 1].tool === tool)
    .at(-1);
  const last = () => app.show(lostScreen(app, true));
  const cross = facts.slides.cross.diameter ? "what you measured" : "half of what you measured";
  const touching = () =>
    app.show({
      title: bar ? "New face, then touch off both" : "Touch off again",
      stopped: true,
      body: [
        h(
          "p",
          { class: "lead" },
          "Diameter: measure a cylinder that you have cut and that is there now. " +
            `Paper between it and the tool: make the cross slide show ${cross}, and the paper with it.`,
        ),
        h(
          "p",
          { class: "lead" },
          "Length: paper between the end face and the tool: make it show how far the face is from the finished end, " +
            "and the paper with it.",
        ),
        h("p", {}, "The figures of the first touching off are no longer those of the piece: do not use them."),
      ],
      done: () => {
        run.tick({ move: touch.move, before: touch.before, again: true });
        last();
      },
      cancel: true,
    });
  return {
    title,
    stopped: true,
    body: [
      h("p", { class: "lead" }, STOP),
      ...lines.map((line) => h("p", {}, line)),
      h("p", {}, "A shift of figures that was measured with this tool ends with that."),
    ],
    done: () => (touch?.before ? touching() : last()),
    cancel: true,
  };
}

/**
 * Which slide leads out, where both are brought to, from which move to go on.
 * @param {object} app
 * @param {boolean} [touched]
 */
export function lostScreen(app, touched = false) {
  const { facts, run } = app;
  const place = run.place();
  const [out, aside, clear, goOn] = facts.moves[place - 1].way;
  const from = facts.moves[goOn - 1];
  const both = bothAt(facts, run.live(), goOn);
  const lines = [];
  if (!touched) {
    if (!out) lines.push("Wind the tool out the way it came, until it is clear of the work.");
    else {
      if (aside) lines.push(`${capital(sideOf(facts, out))} first, ${sidewards(out, aside)} by ${Math.abs(aside)} mm.`);
      lines.push(
        `${aside ? "Then the" : "The"} ${nameOf(facts, out)} ${out === "cross" ? "out" : "away from the chuck"} ` +
          `to ${read(facts.slides[out] ?? facts.slides.saddle, clear)}: it is clear there.`,
      );
    }
  }
  const order = out === "saddle" ? both : [...both].reverse();
  const aims = order.map((one) => {
    const slide = facts.slides[one.slide];
    return `${slide.name} to ${read(slide, one.figure)}`;
  });
  lines.push(`Then, clear of the work: ${aims.join(", then ")}.`);
  const again = place - goOn;
  lines.push(
    again
      ? `Go on from move ${goOn}: ${again === 1 ? "one move is" : `${again} moves are`} done again, which does no harm.`
      : `Go on with move ${place}. A setting done twice does no harm.`,
  );
  return {
    title: touched ? "Back to the work" : "I am lost",
    stopped: true,
    body: lines.map((line) => h("p", { class: "lead" }, line)),
    done: () => {
      for (let n = place - 1; n >= from.n; n -= 1) run.undo(run.of(n));
      app.overlay = null;
    },
    cancel: true,
  };
}

const nameOf = (facts, slide) => (facts.slides[slide] ?? facts.slides.saddle).name;
const sideOf = (facts, out) => nameOf(facts, out === "cross" ? "saddle" : "cross");
const sidewards = (out, aside) =>
  out === "cross" ? (aside > 0 ? "away from the chuck" : "toward the chuck") : aside > 0 ? "out" : "in";
