// What would help where a job has no plan: a tool, a rounded corner, a larger bar, each with what its plan would take.

import { $, Refused, ask, faultText, h, typed, typeset, withValue } from "./common.js";

const LONGEST = 60000; // ms that a plan of an offer may take; then pressing it shows the plan

/**
 * Offer what may help, below the faults; then plan each offer in the background, one after the other.
 * @param {object} kept
 * @param {AbortSignal} signal
 */
export async function loadHelps(kept, signal) {
  let found = [];
  try {
    found = (await ask("POST", "/api/plan/helps", kept.document, { signal })).helps;
  } catch {
    return; // the faults stand without them
  }
  if (signal.aborted || !found.length) return;
  const offers = found.map((offer, i) => new Offer(offer, i, kept, signal));
  for (const old of document.querySelectorAll(".helps")) old.remove();
  $("faults").append(
    h(
      "div",
      { class: "helps", role: "group", "aria-label": "What would help" },
      h("p", { class: "lead" }, found.length > 1 ? "Any one of these may do:" : "This may do:"),
      ...offers.map((offer) => offer.element),
    ),
  );
  for (const offer of offers) if (!signal.aborted) await offer.plan();
}

const WORTH = 0.05; // a change that saves less of the minutes or the moves is not worth a line

/**
 * The one change that helps a plan most, planned in the background; null where none saves much.
 * @param {object} kept
 * @param {object} now
 * @param {AbortSignal} signal
 */
export async function bestChange(kept, now, signal) {
  let best = null;
  try {
    const { helps } = await ask("POST", "/api/plan/cheaper", kept.document, { signal });
    for (const { button, document } of helps) {
      const { moves, minutes } = await ask("POST", "/api/plan/brief", document, { signal }).catch(() => ({}));
      if (signal.aborted) return null;
      const saves = Math.max(1 - moves / now.moves, 1 - Number(minutes) / now.minutes);
      const loses = moves > now.moves || Number(minutes) > now.minutes;
      if (!loses && saves >= WORTH && saves > (best?.saves ?? 0)) best = { button, document, moves, minutes, saves };
    }
  } catch {
    return null;
  }
  if (!best) return null;
  const take = () => {
    kept.replace(best.document, best.button.replace(/^./, (letter) => letter.toLowerCase()));
    kept.dispatchEvent(new Event("taken"));
  };
  const effect =
    ` helps most: ${best.moves} moves and about ${best.minutes} min ` +
    `instead of ${now.moves} and ${now.minutes}.`;
  return h("li", { class: "best" }, h("button", { type: "button", onclick: take }, best.button), effect);
}

class Offer {
  constructor({ says, button, document, tool, name }, i, kept, signal) {
    Object.assign(this, { kept, tool, name, document, signal, asked: 0 });
    this.takes = h("span", { role: "status", class: "takes" }, "");
    const press = h("button", { type: "button", onclick: () => this.take(button) }, button);
    const said = typeset(says),
      what = tool === null ? [press, said && ` ${said}`] : [...this.noseOf(said, i), " ", press];
    this.element = h("p", {}, ...what, " ", this.takes);
  }

  /** The nose that the tool really has is asked for: the plan is made for that one. */
  noseOf(says, i) {
    const nose = h("input", {
      id: `help-${i}`,
      value: String(this.document.tool[this.tool].nose_radius),
      inputmode: "decimal",
      autocomplete: "off",
      onchange: () => this.changed(typed(nose.value)),
    });
    const label = `${says[0].toUpperCase()}${says.slice(1)}; its true nose radius`;
    return [h("label", { for: `help-${i}` }, label), " ", nose];
  }

  changed(radius) {
    if (radius === undefined) return;
    const taken = new Set(this.kept.document.tool.map((one) => one.name));
    let name = `${this.name}${radius}`;
    for (let n = 2; taken.has(name); n++) name = `${this.name}${radius}, ${n}`;
    this.document = withValue(this.document, ["tool", this.tool], {
      ...this.document.tool[this.tool],
      name,
      nose_radius: radius,
    });
    this.plan();
  }

  take(button) {
    // The tool of a new nose is taken although its plan is not known yet: the page plans it then.
    this.kept.replace(this.document, button.replace(/^./, (letter) => letter.toLowerCase()));
    this.kept.dispatchEvent(new Event("taken"));
  }

  /** What the plan would take, once it is made; how long that has taken so far, meanwhile. */
  async plan() {
    const n = ++this.asked,
      begun = performance.now(),
      mine = new AbortController(),
      end = () => mine.abort();
    const saying = setInterval(() => {
      if (n === this.asked) this.say(`Planning it: ${Math.round((performance.now() - begun) / 1000)} s…`);
    }, 1000);
    this.say("Planning it…");
    this.signal.addEventListener("abort", end);
    const late = setTimeout(end, LONGEST);
    let says = "Planning it takes long: press to see.";
    try {
      const { moves, minutes } = await ask("POST", "/api/plan/brief", this.document, { signal: mine.signal });
      says = `The plan then takes ${moves} moves, about ${minutes} min.`;
    } catch (wrong) {
      const [first] = wrong instanceof Refused ? wrong.faults : [];
      if (first) says = `Not enough by itself: ${faultText(first, true)}`;
    }
    clearInterval(saying);
    clearTimeout(late);
    this.signal.removeEventListener("abort", end);
    if (n === this.asked) this.say(says);
  }

  say(text) {
    this.takes.textContent = typeset(text);
  }
}
