// The tab Check: what to measure, the readings, and what they say of the part.

import { $, Refused, ask, facts, h, svgOf, typeset } from "./common.js";
import { Kept, bindSheet } from "./kept.js";
import { bindFields, showFaults } from "./fields.js";
import { fromRun } from "./from_run.js";

const kept = new Kept(facts().kept);
bindSheet(kept);
bindFields(document.body, kept);

const key = `ovolo-readings-${kept.id}`;
const cut = `ovolo-correction-${kept.id}`; // the moves of a correction that was taken to the lathe
let over = 0; // how much of the axis the jaws cover
let found = null,
  header = "z,d",
  extra = [];

$("more").addEventListener("click", () => {
  row({}).querySelector("input").focus();
});
$("clear").addEventListener("click", () => {
  $("rows").replaceChildren();
  localStorage.removeItem(key);
  localStorage.removeItem(cut);
  corrected();
  plain();
  list();
});
$("use-pasted").addEventListener("click", paste);
$("go").addEventListener("click", check);
$("mend").addEventListener("click", mend);
corrected();
before();
list();
fromRun(kept.id);

/** The places to measure as rows to fill in, with what was typed before a reload. */
async function list() {
  const typed = JSON.parse(localStorage.getItem(key) || "[]");
  for (const one of typed) row(one);
  try {
    const { places, says } = await ask("POST", "/api/check/list", kept.document);
    $("worth").textContent = typeset(says.join(" "));
    over = places[0]?.over ?? 0;
    for (const place of places) {
      const there = [...$("rows").children].find((line) => Number(line.dataset.z) === Number(place.z));
      if (there) about(there, place);
      else if (!typed.length) row(place);
    }
  } catch (wrong) {
    if (!(wrong instanceof Refused)) throw wrong;
    $("worth").textContent = "There is no plan yet, so nothing to measure against.";
    showFaults(wrong.faults, $("faults"));
  }
}

function row(place) {
  const n = $("rows").children.length + 1;
  const figure = (name, label, value) =>
    h("input", {
      type: "text",
      inputmode: "decimal",
      autocomplete: "off",
      "data-name": name,
      "aria-label": `${label}, reading ${n}`,
      value: value ?? "",
      oninput: keep,
      onchange: soon,
      onkeydown: next,
    });
  const line = h(
    "tr",
    { "data-z": place.z ?? "" },
    h("td", {}, figure("z", "z", place.z)),
    h("td", {}, figure("d", "Diameter", place.d)),
    h("td", { class: "about" }),
    h("td", { class: "off" }),
    h("td", { class: "for" }),
  );
  about(line, place);
  $("rows").append(line);
  return line;
}

function about(line, place) {
  if (place.about) line.querySelector(".about").textContent = `${place.about} by ${place.with}`;
  if (place.for) line.querySelector(".for").textContent = place.for;
}

/** Enter leads to the next diameter, as one reads them off. */
function next(event) {
  if (event.key !== "Enter") return;
  const all = [...$("rows").querySelectorAll("input[data-name=d]")];
  const at = all.indexOf(event.target);
  (all[at + 1] || $("go")).focus();
  event.preventDefault();
}

function values() {
  return [...$("rows").children].map((line) =>
    Object.fromEntries([...line.querySelectorAll("input")].map((input) => [input.dataset.name, input.value.trim()])),
  );
}

function keep() {
  plain();
  localStorage.setItem(key, JSON.stringify(values()));
}

/** What was pasted with columns of its own no longer holds once a figure is typed. */
function plain() {
  header = "z,d";
  extra = [];
}

const figure = (text) => text.replace("−", "-").replace(",", ".");

function text() {
  const state = $("blended").checked ? "# state = blended\n" : "";
  if (extra.length) return `${state}${header}\n${extra.join("\n")}\n`;
  const lines = values()
    .filter((one) => one.z && one.d)
    .map((one) => `${figure(one.z)},${figure(one.d)},${over}`);
  return `${state}z,d,over\n${lines.join("\n")}\n`;
}

function paste() {
  const lines = $("pasted")
    .value.split(/\r?\n/)
    .map((line) => line.trim())
    .filter((line) => line && !line.startsWith("#"));
  if (lines.length < 2) return;
  const between = ["\t", ";"].find((mark) => lines[0].includes(mark)) || ",";
  const names = lines[0]
    .toLowerCase()
    .split(between)
    .map((name) => name.trim());
  const [z, d] = [names.indexOf("z"), Math.max(names.indexOf("d"), names.indexOf("r"))];
  $("rows").replaceChildren();
  for (const line of lines.slice(1)) {
    const cells = line.split(between);
    row({ z: cells[z]?.trim(), d: cells[d]?.trim() });
  }
  localStorage.setItem(key, JSON.stringify(values()));
  [header, ...extra] = lines;
}

/** What to send: the readings, how the part was measured, and the moves of the correction once it was cut. */
function wanted(readings) {
  const made = $("was-cut").checked && localStorage.getItem(cut);
  return {
    ...(made ? { plan: JSON.parse(made) } : { job: kept.document }),
    readings,
    in_chuck: $("in-chuck").checked,
    tool_untouched: $("tool-untouched").checked,
    cool: $("cool").checked,
  };
}

/** Whether a correction was taken to the lathe, and what is measured is the part after it. */
function corrected() {
  const there = localStorage.getItem(cut) !== null;
  $("was-cut-part").hidden = !there;
  $("was-cut").checked = there;
}

let asking = false,
  again = false;

/** Each reading against the outline as soon as it is typed; what is wrong with it is said by Check the part. */
async function soon() {
  again = true;
  if (asking || extra.length) return;
  asking = true;
  try {
    while (again) {
      again = false;
      if (values().some((one) => one.z && one.d)) deviations((await ask("POST", "/api/check", wanted(text()))).rows);
    }
  } catch (wrong) {
    if (!(wrong instanceof Refused)) throw wrong;
  } finally {
    asking = false;
  }
}

async function check() {
  $("go").disabled = true;
  $("going").textContent = "Working it out…";
  try {
    await kept.save();
    const readings = text();
    found = await ask("POST", "/api/check", wanted(readings));
    showFaults([], $("faults"));
    show();
    const { items } = await ask("POST", `/api/jobs/${kept.id}/checks`, {
      readings,
      verdict: found.verdict,
      says: [found.says, ...found.todo].join(" "),
    });
    history(items);
  } catch (wrong) {
    $("found").hidden = true;
    if (wrong instanceof Refused) showFaults(wrong.faults, $("faults"));
    else throw wrong;
  } finally {
    $("go").disabled = false;
    $("going").textContent = "";
  }
}

function show() {
  $("found").hidden = false;
  $("verdict").textContent = found.verdict.charAt(0).toUpperCase() + found.verdict.slice(1);
  $("verdict").className = found.verdict.replace(" ", "-");
  $("verdict-says").textContent = typeset(found.says);
  $("chart").replaceChildren(...(found.chart ? [svgOf(found.chart)] : []));
  $("questions-part").hidden = !found.questions.length;
  items($("questions"), found.questions);
  const none =
    found.rows.some((one) => !one.unused) && !found.questions.length
      ? "None: scatter of the settings explains the readings."
      : "None is named by these readings.";
  items(
    $("causes"),
    [...found.causes.map((cause) => cause.says), ...found.undecided].length
      ? [...found.causes.map((cause) => cause.says), ...found.undecided]
      : [none],
  );
  items($("todo"), found.todo);
  const plan = found.document.correction.plan;
  $("mend").hidden = !plan;
  $("mending").textContent = "";
  $("document").href = URL.createObjectURL(
    new Blob([JSON.stringify(found.document, null, 1)], { type: "application/json" }),
  );
  deviations(found.rows);
  $("verdict").focus();
}

/** How far each reading is from the outline, square to it, in its own row. */
function deviations(rows) {
  const lines = [...$("rows").children].filter(
    (line) => line.querySelector("input[data-name=z]").value && line.querySelector("input[data-name=d]").value,
  );
  lines.forEach((line, n) => {
    const one = rows[n];
    if (one)
      line.querySelector(".off").textContent = one.unused ? `not used: ${one.unused}` : `${one.deviation} ±${one.u}`;
  });
}

function items(list, texts) {
  list.replaceChildren(...texts.map((words) => h("li", {}, typeset(words))));
}

async function mend() {
  $("mend").disabled = true;
  try {
    const made = await ask("POST", `/api/runs?of=${kept.id}`, { plan: found.document.correction.plan });
    localStorage.setItem(cut, JSON.stringify(found.document.correction.plan));
    corrected();
    $("mending").replaceChildren(h("a", { href: `/run/${made.run}` }, "Open it here"));
  } finally {
    $("mend").disabled = false;
  }
}

async function before() {
  const { items } = await ask("GET", `/api/jobs/${kept.id}/checks`);
  history(items);
}

function history(all) {
  if (!all.length) return;
  $("before").replaceChildren(
    ...all.map((one) =>
      h(
        "li",
        {},
        h("strong", {}, one.verdict.charAt(0).toUpperCase() + one.verdict.slice(1)),
        h("time", { datetime: one.made }, one.made.slice(0, 16).replace("T", " ")),
        h("p", {}, typeset(one.says)),
      ),
    ),
  );
}
