// The page Plan: the drawing walked through move by move, the table beside it, the figures that can be changed.

import { $, MM, Refused, ask, calm, facts, h, s, svgOf, typeset } from "./common.js";
import { bindFields, fillFields, goToField, showFaults } from "./fields.js";
import { Kept, bindSheet } from "./kept.js";
import { bestChange, loadHelps } from "./helps.js";
import { savePicture } from "./save.js";
import { drawTrade } from "./trade.js";
import { Turned } from "./turned.js";
import { Walk } from "./walk.js";
import { Zoom, scaleOf } from "./zoom.js";

const kept = new Kept(facts().kept);
const zoom = new Zoom($("drawing"));
const turned = new Turned($("turned"), $("exaggerate"));
let walk = null,
  view = null,
  planning = null,
  later = null, // what follows the plan that is shown
  trade = null,
  previewing = null,
  previewed = null;
let refusal = null; // what no tool reaches, where that is what is drawn: with `ended` once something else is asked for

bindSheet(kept);
$("f-finish.by.slide").addEventListener("change", chooseSteps);
bindFields(document.body, kept);
goToField();
showSteps();
kept.addEventListener("change", () => {
  showSteps();
  plan();
});
kept.addEventListener("taken", () => fillFields(document.body, kept, true));
kept.addEventListener("back", () => plan());
kept.addEventListener("replaced", () => {
  fillFields(document.body, kept, true);
  showSteps();
  plan();
});
$("stop").addEventListener("click", () => planning?.abort());
zoom.addEventListener("view", showScale);
for (const link of document.querySelectorAll("[data-file]")) {
  link.addEventListener("click", async (event) => {
    if (!kept.dirty) return;
    event.preventDefault(); // the file shall hold what was typed
    await kept.save();
    if (kept.dirty) return;
    if ("inline" in link.dataset) window.open(link.href);
    else location.href = link.href;
  });
}
$("save-svg").addEventListener("click", () => savePicture("svg", view || refusal?.shown, zoom));
$("save-turned").addEventListener("click", () => turned.save(view?.title || "job"));
$("save-png").addEventListener("click", () => savePicture("png", view || refusal?.shown, zoom));
plan();

/** Plan the job as it stands here; what was asked before is given up. */
async function plan() {
  planning?.abort();
  later?.abort();
  refusal?.ended.abort();
  const mine = (planning = new AbortController());
  const late = setTimeout(() => {
    $("busy").hidden = false;
    $("scene").classList.add("stale");
  }, 350);
  try {
    const next = await ask("POST", "/api/plan/view", kept.document, { signal: mine.signal });
    if (planning !== mine) return;
    show(next);
    later = new AbortController();
    loadTrade(later.signal);
    loadMore(later.signal);
  } catch (wrong) {
    if (planning !== mine) return;
    if (wrong.name === "AbortError") say("Stopped. What is shown is the plan before.");
    else refuse(wrong);
  } finally {
    clearTimeout(late);
    if (planning === mine || mine.signal.aborted === false) {
      $("busy").hidden = true;
    }
    if (planning === mine) planning = null;
  }
}

/** What one turn of a slide's handwheel adds to its figure, where that is told as a number. */
function turnOf(name) {
  const { per_turn: turn, reads } = kept.document.slide?.[name] || {};
  if (typeof turn !== "number") return undefined;
  return name === "cross" && reads !== "radius" ? 2 * turn : turn;
}

/** A slide is chosen for equal steps: whole turns of it to begin with, where a turn is known. */
function chooseSteps(event) {
  const slide = event.target.value,
    amount = turnOf(slide) ?? kept.document.finish?.by?.amount;
  if (!slide) return;
  kept.set(["finish", "by"], { slide, ...(amount === undefined ? {} : { amount }) }, "equal steps");
  fillFields($("by"), kept, true);
  if (amount === undefined) $("f-finish.by.amount").focus();
}

function showSteps() {
  const { slide } = kept.document.finish?.by || {};
  $("by").hidden = kept.document.finish?.by === undefined;
  const turn = turnOf(slide);
  $("by-turn").textContent = `In what that slide reads${turn === undefined ? "" : `; a whole turn is ${turn}`}.`;
}

function refuse(wrong) {
  $("by-cost").textContent = "";
  $("scene").classList.add("stale");
  if (wrong instanceof Refused) {
    showFaults(wrong.faults, $("faults"), kept);
    $("main").classList.add("refused");
    drawRefusal();
    say(view ? "There is no plan for this yet; what is shown is the one before." : "There is no plan for this yet.");
  } else kept.retry(wrong);
}

/** What no tool reaches, drawn as large as the screen has room for; else the part, where no plan was shown before. */
async function drawRefusal() {
  const mine = (refusal = { ended: new AbortController(), shown: refusal?.shown });
  const { signal } = mine.ended,
    [width, height] = Object.values(zoom.size()).map((px) => (px * 25.4) / 96);
  loadHelps(kept, signal);
  try {
    const found = await ask("POST", "/api/plan/unreached", { job: kept.document, width, height }, { signal });
    if (refusal !== mine) return;
    if (found.picture) showRefusal(found);
    else if (!view) showPart(await ask("POST", "/api/part", kept.document, { signal }), mine);
  } catch {
    /* the faults stand without it */
  }
}

/** The part of a job that has no plan, as far as it can be drawn. */
function showPart(found, mine) {
  if (refusal !== mine || !found.scene) return;
  clearPlan();
  showScene(found.scene, found.box);
}

function showScene(text, box) {
  const svg = svgOf(text);
  $("scene").classList.remove("stale");
  $("scene").replaceChildren(svg);
  zoom.take(svg, box);
  zoom.toWhole();
}

function showRefusal(found) {
  clearPlan();
  refusal.shown = found;
  showScene(found.picture, found.box);
  const [first, ...others] = found.says;
  say(`There is no plan for this. ${first}`);
  for (const old of document.querySelectorAll("#faults .told")) old.remove();
  for (const line of document.querySelectorAll("#faults > p"))
    if (found.instead.includes(line.dataset.says)) line.remove(); // the sentence says it, and the drawing shows it
  $("faults").prepend(...others.map((line) => h("p", { class: "told" }, line)));
}

/** Nothing of a plan that was shown before is left beside the drawing of a refusal. */
function clearPlan() {
  $("main").classList.add("no-plan");
  walk?.end();
  walk = view = trade = null;
  for (const id of ["rows", "inset", "setting-up", "expected-at", "tools-used", "speeds", "cautions", "now-more"])
    $(id).replaceChildren();
  for (const id of ["moves-figure", "leaves-figure", "settings-figure", "minutes-figure", "scrub-figure", "now-figure"])
    $(id).textContent = "–";
  for (const id of ["strip-figure", "trade-figure"]) $(id).hidden = true;
  $("settings").disabled = true;
  $("scrub").value = $("scrub").max = 0;
  $("tb-job").textContent = kept.document.title || "";
  $("tb-plan").textContent = "none";
  $("rows").replaceChildren(h("p", { class: "hint none" }, "No moves: there is no plan."));
}

let resized = 0;
window.addEventListener("resize", () => {
  clearTimeout(resized);
  resized = setTimeout(() => {
    if (refusal?.shown) drawRefusal();
  }, 300);
});

function say(text) {
  $("sentence").textContent = typeset(text);
}

function show(next) {
  const first = !view;
  view = next;
  if (refusal?.shown) zoom.box = null; // another drawing was looked at
  refusal = null;
  $("main").classList.remove("refused", "no-plan");
  $("scene").classList.remove("stale");
  showFaults([], $("faults"));
  $("sentence").replaceChildren(next.sentence.before, h("strong", {}, next.sentence.figure), next.sentence.after);
  $("tools-used").replaceChildren(...next.tools.map((name) => h("li", {}, name)));
  $("moves-figure").textContent = next.figures.moves;
  $("leaves-figure").textContent = next.figures.leaves;
  $("settings-figure").textContent = next.figures.settings;
  $("by-cost").textContent = next.steps_cost;
  $("power-feed").textContent = next.power;
  $("tb-job").textContent = next.title;
  $("tb-material").textContent = next.material || "not said";
  $("tb-plan").textContent = `${next.checksum} · rev ${kept.revision}`;
  const svg = svgOf(next.scene);
  $("scene").replaceChildren(svg);
  walk?.end();
  walk = new Walk(svg, next, first ? 0 : Math.min(walk.done, next.moves.length));
  walk.addEventListener("choose", () => {
    scrollTo();
    showNow();
  });
  zoom.take(svg, next.box);
  showRows(next);
  showSettingUp(next);
  showInset(next);
  walk.show();
}

kept.addEventListener("saved", () => {
  if (view) $("tb-plan").textContent = `${view.checksum} · rev ${kept.revision}`;
});

function showScale() {
  const { words, text, px } = scaleOf({ unit: zoom.unit / (refusal?.shown?.scale ?? 1) }, kept.document.units || "mm");
  $("tb-scale").textContent = words;
  const bar = s(
    "svg",
    { width: px + 2, height: 10, "aria-hidden": "true" },
    s("path", { d: `M1 1V9M1 5H${px}M${px} 1V9`, stroke: "currentColor", fill: "none" }),
  );
  $("scale").replaceChildren(bar, `${text}, scale ${words}`);
  const inset = $("inset"),
    near = view && zoom.whole && zoom.box[2] < zoom.whole[2] * 0.4;
  inset.toggleAttribute("hidden", !near);
  if (near) {
    const frame = inset.querySelector(".frame"),
      least = zoom.whole[2] * 0.04;
    const [x, y, w, t] = zoom.box,
      wide = Math.max(w, least),
      tall = Math.max(t, least);
    for (const [key, value] of Object.entries({
      x: x + (w - wide) / 2,
      y: y + (t - tall) / 2,
      width: wide,
      height: tall,
    }))
      frame?.setAttribute(key, value);
  }
}

function showInset(next) {
  const edges = [...$("scene").querySelectorAll(".edge")].map((edge) => edge.cloneNode());
  $("inset").setAttribute("viewBox", next.box.join(" "));
  $("inset").replaceChildren(...edges, s("rect", { class: "frame" }));
}

$("methods").addEventListener("toggle", () => {
  if ($("methods").open) loadMethods();
});

async function loadMethods() {
  try {
    const found = await ask("POST", "/api/plan/methods", kept.document);
    const list = (label, items) =>
      items.length ? h("p", {}, h("strong", {}, `${label} `), items.join("; "), ".") : null;
    const figures = (card) =>
      [
        ["form error, all set right", card.alone],
        ["with the usual errors", card.error],
        ["settings", card.settings],
        ["time for one", card.first],
        [`time for ${found.many}`, card.many],
      ].filter(([, value]) => value);
    const cards = found.cards.map((card) =>
      h(
        "li",
        {},
        h("h3", {}, card.name),
        svgOf(card.picture),
        card.can ? null : h("p", {}, `Cannot: ${card.why}`),
        h(
          "dl",
          { class: "lines" },
          ...(card.can
            ? figures(card).map(([label, value]) => h("div", { class: "line" }, h("dt", {}, label), h("dd", {}, value)))
            : []),
        ),
        list("Needs", card.owned),
        list("Watch for", card.risks),
      ),
    );
    $("methods-at").replaceChildren(
      ...found.sentences.map((line) => h("p", {}, line)),
      h(
        "p",
        { class: "hint" },
        `Lengths in ${found.unit}. Hatched is the part, blue what comes out with the usual errors, ` +
          `drawn ${found.times} times as far from the outline as it is.`,
      ),
      h("ul", { class: "plain methods" }, ...cards),
    );
  } catch (wrong) {
    $("methods-at").replaceChildren(h("p", {}, wrong.message));
  }
}

// The table of moves, linked to the drawing both ways.

function showRows(next) {
  const sections = next.sections.map((section) =>
    h(
      "table",
      {},
      h("caption", {}, section.heading),
      h(
        "thead",
        {},
        h(
          "tr",
          {},
          h("th", { scope: "col" }, "move"),
          h("th", { scope: "col" }, "slide"),
          h("th", { scope: "col", class: "figure" }, `stop at`),
          h("th", { scope: "col" }, "cut"),
          h("th", { scope: "col" }, "setting"),
        ),
      ),
      h(
        "tbody",
        {},
        ...section.rows.flatMap((row, i) => [
          ...row.before.map((text) => h("tr", { class: "before" }, h("td", { colspan: "5" }, typeset(text)))),
          rowOf(row, isReturn(section.rows[i - 1], row)),
        ]),
      ),
    ),
  );
  $("rows").replaceChildren(...sections);
  rowByMove = new Map(next.sections.flatMap((section) => section.rows.map((row) => [row.n, row])));
}

// The move itself, large, beside the slider.

let rowByMove = new Map();

function wordsOf(row) {
  return typeset(`${row.slide} ${row.direction} to ${row.figure.split(": ")[0]}`);
}

function showNow() {
  const n = walk?.marked ?? 0,
    row = rowByMove.get(n),
    next = rowByMove.get(n + 1),
    total = rowByMove.size;
  $("now-figure").textContent = row ? wordsOf(row) : "Before the first move";
  const kind = row ? (row.cuts ? (row.heavy ? "heavy cut" : "light cut") : "no cut") : "";
  const more = [
    row ? `move ${n} of ${total}` : `${total} moves`,
    kind,
    row?.setting ? `setting ${row.setting}` : "",
    next ? `next: ${wordsOf(next)}` : "the last move",
  ];
  $("now-more").textContent = more.filter(Boolean).join(" · ");
}

/** Whether a move takes the tool back the way that the cut before it has gone: the two are read as one line. */
function isReturn(cut, row) {
  return Boolean(cut?.cuts) && !row.cuts && cut.slide === row.slide && !row.before.length;
}

function rowOf(row, back) {
  // On a dial the figure is followed by how it is counted: that stands on a line of its own.
  const [figure, ...counted] = typeset(row.figure).split(": ");
  const way = back ? "and back" : `${row.slide.replace(" slide", "")} ${row.direction.replace("the chuck", "chuck")}`;
  const off = row.feed_off ? [h("span", { class: "counted" }, typeset(`feed off at ${row.feed_off}`))] : [];
  return h(
    "tr",
    { "data-n": row.n, class: back ? "back" : undefined },
    h("td", {}, String(row.n)),
    h("td", {}, way, ...off, ...(counted.length ? [h("strong", { class: "counted" }, counted.join(": "))] : [])),
    h("td", { class: "figure" }, figure),
    h("td", {}, row.cuts ? (row.heavy ? "heavy" : "light") : ""),
    h("td", {}, row.setting ?? ""),
  );
}

$("rows").addEventListener("click", (event) => {
  const row = event.target.closest("tr[data-n]");
  if (row) walk?.to(Number(row.dataset.n));
});
$("rows").addEventListener("pointerover", (event) =>
  walk?.point(Number(event.target.closest("tr[data-n]")?.dataset.n) || 0),
);
$("rows").addEventListener("pointerleave", () => walk?.point(0));
$("rows").addEventListener("keydown", (event) => {
  const by = { ArrowDown: 1, ArrowUp: -1, PageDown: 10, PageUp: -10, Home: -1e6, End: 1e6 }[event.key];
  if (!by || !walk) return;
  event.preventDefault();
  walk.to(walk.done + by);
});

function scrollTo() {
  const row = $("rows").querySelector("tr[aria-current]");
  if (!row) return;
  const box = $("rows"),
    table = row.closest("table");
  const top = row.offsetTop + (row.offsetParent === box ? 0 : table.offsetTop);
  if (top < box.scrollTop + 40 || top + row.offsetHeight > box.scrollTop + box.clientHeight)
    box.scrollTop = top - box.clientHeight / 2;
}

/** The set-up is open until somebody has gone through it, and opens again where another one is needed. */
const SET_UP = `ovolo-set-up-${kept.id}`;
let setUpFor = "";

function wasSetUp(words) {
  try {
    return localStorage.getItem(SET_UP) === words;
  } catch {
    return false;
  }
}

$("set-up-done").addEventListener("click", () => {
  try {
    localStorage.setItem(SET_UP, setUpFor);
  } catch {
    /* it opens again next time, that is all */
  }
  $("set-up").open = false;
  $("rows").focus();
});

function showSettingUp(next) {
  const words = next.setting_up.map((item) => item.lines.join(" ")).join(" ");
  if (words !== setUpFor) {
    setUpFor = words;
    $("set-up").open = !wasSetUp(words);
  }
  $("setting-up").replaceChildren(
    ...next.setting_up.map((item) =>
      h("li", {}, h("h3", {}, item.title), ...item.lines.map((line) => h("p", {}, typeset(line)))),
    ),
  );
}

/**
 * What to expect: the spindle beside the figures, what to watch for below the drawing, all the rest where it is
 * opened.
 */
function showExpected({ few, cautions, groups }) {
  $("speeds").replaceChildren(...few.slice(0, 1).map((line) => h("p", {}, line)));
  showCautions(cautions);
  const whole = groups.map((group) =>
    h(
      "section",
      {},
      h("h3", {}, group.title),
      group.lines.some((line) => /\S {2,}\S/.test(line))
        ? h("pre", { tabindex: "0" }, group.lines.join("\n"))
        : h("ul", { class: "plain" }, ...group.lines.map((line) => h("li", {}, line))),
    ),
  );
  $("expected-at").replaceChildren(...few.map((line) => h("p", {}, line)), ...whole);
}

/** The first ones, the others on demand; each move that they name can be gone to. */
function showCautions(cautions) {
  const items = cautions.map((line) => h("li", { class: "caution" }, ...linked(line)));
  const rest = items.splice(FIRST);
  $("cautions").replaceChildren(
    ...items,
    ...(rest.length
      ? [
          h(
            "li",
            {},
            h(
              "details",
              {},
              h("summary", {}, `${rest.length} more to watch for`),
              h("ul", { class: "plain" }, ...rest),
            ),
          ),
        ]
      : []),
  );
}

const FIRST = 3;

/** Of many moves the first few are named. */
function shortened(line) {
  const [, numbers, more] = line.match(/^Moves ([\d, ]+?)(?: and (\d+) more)?:/) || [],
    all = numbers?.split(", ") || [];
  if (all.length <= FIRST) return line;
  const rest = all.length - FIRST + Number(more || 0);
  return `Moves ${all.slice(0, FIRST).join(", ")} and ${rest} more${line.slice(line.indexOf(":"))}`;
}

function linked(whole) {
  const line = shortened(whole),
    named = line.match(/^Moves? [\d, ]*\d(?= and \d+ more|:)/)?.[0] ?? "";
  const parts = named.split(/(\d+)/).map((part) =>
    /^\d+$/.test(part)
      ? h(
          "button",
          {
            type: "button",
            class: "to-move",
            "aria-label": `Go to move ${part}`,
            onclick: () => walk?.to(Number(part)),
          },
          part,
        )
      : part,
  );
  return [...parts, line.slice(named.length)];
}

// How many settings are worth it, reckoned when somebody looks.

$("worth").addEventListener("toggle", () => {
  if ($("worth").open) loadWorth();
});

async function loadWorth() {
  const asked = kept.document;
  try {
    const worth = await ask("POST", "/api/plan/worth", asked);
    const cell = (text, cls) => h("td", cls ? { class: cls } : {}, text);
    const rows = worth.rows.map((row) =>
      h(
        "tr",
        {},
        cell(row.tool),
        cell(String(row.settings), "figure"),
        cell(row.ridge, "figure"),
        cell(row.minutes, "figure"),
        cell(row.note),
      ),
    );
    const head = ["tool", "settings", `leaves, ${worth.unit}`, "minutes", "note"].map((text, i) =>
      h("th", { scope: "col", ...(i > 0 && i < 4 ? { class: "figure" } : {}) }, text),
    );
    $("worth-at").replaceChildren(
      ...worth.sentences.map((line) => h("p", {}, line)),
      h("table", { class: "ruled" }, h("thead", {}, h("tr", {}, ...head)), h("tbody", {}, ...rows)),
      ...coarseOf(worth.coarse),
    );
  } catch (wrong) {
    $("worth-at").replaceChildren(h("p", {}, wrong.message));
  }
}

/** Coarse work: what it comes to, and a button that takes it. */
function coarseOf(coarse) {
  if (coarse.ridge === null) return [h("p", { class: "hint" }, `No coarse work here: ${coarse.says.join(" ")}.`)];
  const take = () => kept.set(["finish", "ridge"], coarse.ridge, "coarse work");
  return [
    h("h3", {}, "Coarse work"),
    ...coarse.says.map((line) => h("p", {}, line)),
    h("button", { type: "button", onclick: take }, "Plan coarse work"),
  ];
}

// Playing and stepping.

$("scrub").addEventListener("input", (event) => walk?.to(Number(event.target.value)));
$("step-on").addEventListener("click", () => walk?.to(walk.done + 1));
$("step-back").addEventListener("click", () => walk?.to(walk.done - 1));
$("play").addEventListener("click", () => walk?.play(calm()));

async function loadMore(signal) {
  try {
    const more = await ask("POST", "/api/plan/further", kept.document, { signal });
    if (more.sharp) $("sentence").append(more.sharp);
    $("minutes-figure").textContent = more.minutes;
    $("strip-figure").hidden = false;
    $("strip").replaceChildren(svgOf(more.strip));
    $("strip-says").textContent = more.strip_says;
    turned.take(more.turned);
    if ($("worth").open) loadWorth();
    if ($("methods").open) loadMethods();
    showExpected(more.expected);
    const best = await bestChange(kept, { moves: view.moves.length, minutes: Number(more.minutes) }, signal);
    if (best && !signal.aborted) $("cautions").append(best);
  } catch {
    /* the plan stands without it */
  }
}

// Settings: dragged, previewed, then planned.

async function loadTrade(signal) {
  const settings = $("settings");
  try {
    trade = (await ask("POST", "/api/trade", kept.document, { signal })).points;
  } catch {
    return;
  }
  if (!view) return;
  $("settings-hint").textContent =
    trade.length < 2 ? "Their number follows from the steps of the job." : "Drag: more settings leave less to file.";
  settings.disabled = trade.length < 2;
  $("trade-figure").hidden = trade.length < 2;
  if (trade.length < 2) return;
  settings.min = trade[0][0];
  settings.max = trade[trade.length - 1][0];
  settings.value = view.stations;
  settings.disabled = false;
  $("trade-figure").hidden = false;
  drawTrade($("trade"), trade, view, (n, last) => drag(n, last));
}

$("settings").addEventListener("input", () => drag(Number($("settings").value), false));
$("settings").addEventListener("change", () => drag(Number($("settings").value), true));

/** A number of settings is tried: a preview at once; when let go, the ridge that it leaves is asked for. */
async function drag(n, last) {
  previewing?.abort();
  const mine = (previewing = new AbortController());
  $("settings-figure").textContent = n;
  if ($("settings").value !== String(n)) $("settings").value = n;
  performance.mark("drag");
  if (last && previewed?.n === n && previewed.document === kept.document) {
    take(previewed.found);
    return;
  }
  try {
    const found = await ask(
      "POST",
      "/api/preview",
      { job: kept.document, stations: n, near: trade?.find((p) => p[0] === n)?.[1] },
      { signal: mine.signal },
    );
    if (previewing !== mine || found.ridge === null) return;
    showPreview(found);
    previewed = { n, found, document: kept.document };
    performance.measure("preview", "drag");
    if (last) take(found);
  } catch (wrong) {
    if (wrong.name !== "AbortError") say(wrong.message);
  }
}

function showPreview(found) {
  const group = $("scene").querySelector(".settings");
  group?.replaceChildren(
    ...found.feet.map(([z, r]) =>
      s(
        "g",
        { class: "setting preview" },
        s("path", { class: "mark-outer", d: `M${z} ${-r}h0` }),
        s("path", { class: "mark-inner", d: `M${z} ${-r}h0` }),
      ),
    ),
  );
  const unit = kept.document.units || "mm",
    leaves = (found.ridge / MM[unit]).toFixed(unit === "mm" ? 3 : 4);
  $("sentence").replaceChildren(
    `Preview: ${found.stations} settings leave about `,
    h("strong", {}, leaves),
    ` ${unit}.`,
  );
  $("settings-figure").textContent = found.stations;
  trade &&
    drawTrade($("trade"), trade, { ...view, stations: found.stations, ridge_max: found.ridge }, (n, end) =>
      drag(n, end),
    );
}

function take(found) {
  const unit = kept.document.units || "mm",
    fine = unit === "mm" ? 1e4 : 1e5;
  const ridge = Math.ceil((found.ridge / MM[unit]) * fine - 1e-6) / fine;
  kept.set(["finish", "ridge"], ridge, `${found.stations} settings`);
  fillFields(document.body, kept, true);
}
