// The screens ahead of a move and beside it: what they say, what Done means there.
import { plain, read } from "./figures.js";
import { padOf } from "./pad.js";
import { canStayOn } from "./senses.js";
import { bothAt, capital, correctedBy, figuresBy } from "./words.js";

/**
 * An element.
 * @param {string} name
 * @param {Record<string, any>} attributes
 * @param {(Node | string | null)[]} children
 */
export function h(name, attributes = {}, ...children) {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) {
    if (key === "onclick") made.addEventListener("click", value);
    else if (value !== null && value !== undefined) made.setAttribute(key, value);
  }
  made.append(...children.filter((child) => child !== null));
  return made;
}

/** A large button that says what it does. */
export const choice = (words, onclick, more = {}) =>
  h("button", { type: "button", class: "choice", onclick, ...more }, words);

/**
 * @param {string} inner
 * @param {number[]} box
 * @param {string} says
 */
export function pictureOf(inner, box, says) {
  const made = document.createElementNS("http://www.w3.org/2000/svg", "svg");
  made.setAttribute("viewBox", `0 0 ${box[0]} ${box[1]}`);
  made.setAttribute("class", "drawn");
  made.setAttribute("role", "img");
  made.setAttribute("aria-label", says);
  made.innerHTML = inner;
  return made;
}

const figures = (facts, entries) =>
  h(
    "dl",
    { class: "figures" },
    ...entries.flatMap((entry) => [
      h("dt", {}, capital(facts.slides[entry.slide].name)),
      h("dd", {}, read(facts.slides[entry.slide], entry.figure)),
    ]),
  );

/**
 * A screen with a number pad: the value goes to `done`.
 * @param {object} given
 */
export function padScreen({ title, says, slide, start, done, cancel, more = [] }) {
  const shown = h("output", { class: "typed" }, read(slide, start));
  const pad = padOf(plain(slide, start), (text) => {
    shown.textContent = `${slide.diameter ? "Ø " : ""}${text.replace("-", "−") || " "}`;
  });
  return {
    title,
    stopped: true,
    body: [h("div", { class: "asked" }, h("p", {}, says), shown), pad.box, ...more],
    key: pad.typed,
    done: () => {
      const value = pad.value();
      return value === null ? "That is no figure: type it again." : done(value);
    },
    cancel,
  };
}

/**
 * The screen of a step ahead of a move.
 * @param {any} app
 * @param {any} step
 */
export function stepScreen(app, step) {
  const { facts } = app;
  const body = [];
  if (step.picture) body.push(pictureOf(step.picture, facts.box, `${step.title}: picture`));
  if (step.tool != null) body.push(h("div", { class: "tool-at" }));
  if (step.tool != null) body.at(-1).innerHTML = facts.pictures[step.tool];
  if (step.kind === "stand") body.push(figures(facts, step.entries));
  if (step.kind === "touch") body.push(...touching(app, step));
  if (step.kind === "measure") body.push(...measuring(app, step));
  body.push(...(step.lines ?? []).map((line) => h("p", {}, line)));
  if (step.kind === "piece" && !canStayOn())
    body.push(h("p", {}, "This browser cannot keep the screen on: set the phone's screen to stay on."));
  const typed = app.typedOf(step);
  return {
    title: step.title,
    stopped: Boolean(step.stopped),
    body,
    done: () => app.run.did(step, typed),
  };
}

/** What the slides are made to read; what was measured can be typed. */
function touching(app, step) {
  const { facts } = app;
  const typed = app.typedOf(step).typed ?? {};
  return step.entries.map((entry) => {
    const slide = facts.slides[entry.slide];
    const figure = typed[entry.slide] ?? entry.figure;
    const says = `${capital(slide.name)}: ${slide.dial ? "set the dial to" : "enter"} ${read(slide, figure)}`;
    const type = () =>
      app.show(
        padScreen({
          title: capital(slide.name),
          says:
            entry.slide === "cross"
              ? "Diameter as the micrometer has it:"
              : "How far the face is from the finished end:",
          slide: entry.slide === "cross" ? { ...slide, diameter: true, decimals: 3 } : slide,
          start: entry.slide === "cross" ? Math.abs(figure) * (slide.diameter ? 1 : 2) : figure,
          done: (value) => {
            app.type(step, {
              typed: { ...typed, [entry.slide]: entry.slide === "cross" ? asRead(slide, value) : value },
            });
            app.close();
          },
        }),
      );
    return choice(h("span", {}, `${says} `, h("small", {}, "tap to type what you measured")), type);
  });
}

/** A diameter as the cross slide reads it. */
const asRead = (slide, diameter) =>
  Number(((slide.diameter ? diameter : diameter / 2) * Math.sign(slide.per_mm)).toFixed(6));

/** One of two ways, chosen before any figure is shown. */
function measuring(app, step) {
  if (!step.entries.length) return [];
  const { facts } = app;
  const told = app.typedOf(step);
  if (told.measured) {
    return step.entries
      .filter((entry) => told.measured[entry.slide] != null)
      .map((entry) => {
        const words = told.by === "readout" ? correctedBy : figuresBy;
        return h("p", { class: "lead" }, words(facts.slides[entry.slide], entry.figure, told.measured[entry.slide]));
      });
  }
  const dial = facts.slides[step.entries[0].slide].dial;
  const ask = (by, rest, measured) => () => {
    const [entry, ...others] = rest;
    const slide = facts.slides[entry.slide];
    const across = entry.slide === "cross";
    app.show(
      padScreen({
        title: `Measured, ${slide.name}`,
        says: across ? "Diameter as the micrometer has it:" : "Length from the finished end, as it is measured:",
        slide: across
          ? { ...slide, diameter: true, decimals: Math.max(3, slide.decimals) }
          : { ...slide, decimals: Math.max(3, slide.decimals) },
        start: across ? Math.abs(entry.figure) * (slide.diameter ? 1 : 2) : entry.figure,
        done: (value) => {
          const found = { ...measured, [entry.slide]: across ? asRead(slide, value) : value };
          app.type(step, { measured: found, by });
          app.close();
          if (others.length) ask(by, others, found)();
        },
      }),
    );
  };
  return [
    h("p", { class: "lead" }, "As it should be: Done. If not, choose one way:"),
    choice(dial ? "Turn the dial's collar" : "Correct the readout", ask("readout", step.entries, {})),
    choice("Change the figures that follow", ask("figures", step.entries, {})),
  ];
}

/**
 * Both slides are read before a run goes on.
 * @param {object} app
 * @param {object} parked
 */
export function readScreen(app, parked) {
  const { facts, run } = app;
  const place = run.place();
  const both = bothAt(facts, run.live(), place);
  const found = Object.fromEntries(both.map((one) => [one.slide, one.figure]));
  const off = both.filter(
    (one) =>
      app.read &&
      app.read[one.slide] !== undefined &&
      Math.abs(app.read[one.slide] - one.figure) > facts.slides[one.slide].count / 2,
  );
  const buttons = both.map((one) =>
    choice(`${capital(facts.slides[one.slide].name)} reads otherwise`, () =>
      app.show(
        padScreen({
          title: capital(facts.slides[one.slide].name),
          says: "What does it read?",
          slide: facts.slides[one.slide],
          start: one.figure,
          done: (value) => {
            app.read = { ...app.read, [one.slide]: value };
            app.close();
          },
        }),
      ),
    ),
  );
  return {
    title: "Read both slides",
    stopped: true,
    body: [
      parked?.note ? h("p", { class: "lead" }, parked.note) : null,
      h("p", {}, `Before move ${place} they must read:`),
      figures(facts, both),
      ...off.map((one) =>
        h(
          "p",
          { class: "caution" },
          `The ${facts.slides[one.slide].name} reads ${read(facts.slides[one.slide], app.read[one.slide])}. ` +
            `Where it was only wound: wind it to ${read(facts.slides[one.slide], one.figure)}, clear of the work. ` +
            "Where it has lost its place: touch the tool off again first.",
        ),
      ),
      h("p", {}, "They do: Done."),
      ...buttons,
    ],
    done: () => {
      run.tick({ move: place, readings: { ...found, ...app.read } });
      app.read = null;
      app.toBeRead = false;
    },
  };
}

/**
 * The run is parked, with a note.
 * @param {object} app
 */
export function stopScreen(app) {
  const { run } = app;
  const note = h("textarea", {
    rows: "3",
    "aria-label": "Note for whoever goes on",
    placeholder: "A note, if you like",
    maxlength: "500",
  });
  note.value = app.note;
  note.addEventListener("input", () => {
    app.note = note.value;
  });
  const park = () => {
    if (app.note === app.noted) return;
    app.noted = app.note;
    run.tick({ move: Math.min(run.place(), app.facts.moves.length), note: app.note });
  };
  let later = 0;
  note.addEventListener("input", () => {
    clearTimeout(later);
    later = setTimeout(park, 700);
  });
  park();
  return {
    title: "Stopped here",
    stopped: true,
    body: [
      h("p", { class: "lead" }, `Parked at move ${run.place()}. Wind the tool clear of the work.`),
      h(
        "p",
        {},
        run.reached
          ? "All is kept: on this device and at the computer."
          : "All is kept on this device; it goes to the computer when that can be reached.",
      ),
      note,
      h("p", {}, "To go on: Done. Both slides are read first."),
    ],
    done: () => {
      clearTimeout(later);
      park();
      app.noted = null;
      app.close();
    },
  };
}
