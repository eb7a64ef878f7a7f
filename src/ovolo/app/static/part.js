// The page Part: forms chained or points, dimensions edited where they stand, points dragged, a drawing brought in.

import { $, MM, Refused, ask, facts, h, shown, svgOf, withValue } from "./common.js";
import { bindFields, fillFields, goToField, showFaults } from "./fields.js";
import { Kept, bindSheet } from "./kept.js";
import { formField } from "./names.js";
import { Overlay } from "./overlay.js";
import { savePicture } from "./save.js";
import { Zoom, scaleOf } from "./zoom.js";

const given = facts();
const kept = new Kept(given.kept);
const forms = new Map(given.forms.map((form) => [form.form, form]));
const zoom = new Zoom($("drawing"));
const overlay = new Overlay($("overlay"), zoom, {
  set: (path, value, said) => kept.set(path, value, said),
  pull,
  settled: draw,
  unit: () => MM[kept.document.units] || 1,
});
const ENDS = ["dome", "centre hole R"]; // begin an outline, and follow nothing
const CORNERS = ["fillet", "end radius", "chamfer", "undercut"];
const lies = (form) => ENDS.includes(form?.form);
let drawing = null,
  view = null,
  again = false,
  brought = null,
  shownShape = "";

let tangent = null, // joints that were tangent, and those of them that a change has bent since
  bent = [],
  points = 0;

bindSheet(kept);
showPieces();
bindFields(document.body, kept);
goToField();
kept.addEventListener("change", () => {
  draw();
  refreshPieces();
});
kept.addEventListener("back", () => draw());
kept.addEventListener("replaced", () => {
  refreshPieces();
  fillFields(document.body, kept, true);
  draw();
});
zoom.addEventListener("view", () => {
  const { words, text } = scaleOf(zoom);
  $("scale").textContent = `scale ${words}`;
  $("scale").title = text;
});
$("add-form").addEventListener("change", () => showPlaces(kept.document.part?.form || []));
draw();

/** Draw the part as it stands here: one request at a time, the newest state last. */
async function draw() {
  if (drawing) {
    again = true;
    return;
  }
  const late = setTimeout(() => {
    $("busy").hidden = false;
  }, 400);
  try {
    drawing = ask("POST", "/api/part", kept.document);
    show(await drawing);
  } catch (wrong) {
    if (wrong instanceof Refused) $("sentence").textContent = wrong.message;
    else kept.retry(wrong);
  }
  clearTimeout(late);
  $("busy").hidden = true;
  drawing = null;
  if (again) {
    again = false;
    draw();
  }
}

function show(next) {
  showFaults(next.faults, $("faults"), kept);
  // While a figure is wrong the drawing stays as it was; where there is none yet, what can be drawn is drawn.
  const before = !next.scene || (next.begun && view);
  $("scene").classList.toggle("stale", Boolean(before));
  if (before) {
    say(next);
    return;
  }
  view = next;
  const svg = svgOf(next.scene);
  $("scene").replaceChildren(svg);
  zoom.take(svg, padded(next.box));
  overlay.take(next);
  say(next);
}

/** Room above for diameters, below for lengths. */
function padded([x, y, w, t]) {
  const { width, height } = zoom.size();
  const top = 70,
    below = 110,
    side = 26;
  const unit = Math.max(w / (width - 2 * side), t / Math.max(80, height - top - below));
  return [x - side * unit, y - top * unit, w + 2 * side * unit, t + (top + below) * unit];
}

function say(next) {
  const many = next.faults.length;
  if (next.tangent) {
    const before = [...(tangent || []), ...bent];
    bent = next.points.length === points ? before.filter((joint) => !next.tangent.includes(joint)) : [];
    points = next.points.length;
    tangent = next.tangent;
  }
  const kinks = bent.length ? ` No longer tangent: ${[...new Set(bent)].join(", ")}.` : "";
  $("sentence").textContent = many
    ? `${many === 1 ? "One thing is" : `${many} things are`} not right yet, shown beside its field.`
    : `Nothing is wrong with the part.${kinks} Whether these tools can make it, Plan says.`;
}

function pull(changes, name) {
  let next = kept.document;
  for (const [path, value] of changes) next = withValue(next, path, value);
  if (JSON.stringify(next) !== JSON.stringify(kept.document)) kept.replace(next, `moved ${name}`);
}

// The pieces of the outline: forms, or points.

function shape() {
  const part = kept.document.part || {};
  if (part.form) return `forms:${part.form.map((form) => `${form.form}/${Object.keys(form).length}`).join()}`;
  const bendOf = (point) => ["convex", "concave", "through"].find((bend) => bend in point) || "-";
  return `points:${(part.outline || []).map(bendOf).join()}`;
}

function refreshPieces() {
  if (shape() !== shownShape) showPieces();
  fillFields($("pieces"), kept);
}

function showPieces() {
  shownShape = shape();
  const part = kept.document.part || {};
  const isForms = Array.isArray(part.form);
  $("pieces").replaceChildren(...(isForms ? part.form.map(formItem) : [h("li", {}, pointTable(part.outline || []))]));
  $("to-points").hidden = !isForms;
  $("add-form").closest(".line").hidden = !isForms;
  showKinds(part.surface);
  if (!isForms)
    $("pieces").append(
      h(
        "li",
        {},
        h("button", { type: "button", onclick: addPoint }, "Add a point"),
        " ",
        h("button", { type: "button", onclick: toForms }, "Start over with forms"),
      ),
    );
  fillFields($("pieces"), kept, true);
  if (isForms) showPlaces(part.form);
}

/** The forms that there can be: a ball in no hole, and no centre hole outside. */
function showKinds(surface) {
  const none = surface === "bore" ? ["dome", "ball", "ball knob"] : ["centre hole R"],
    before = $("add-form").value || "cylinder";
  const kinds = given.forms.map((form) => form.form).filter((form) => !none.includes(form));
  $("add-form").replaceChildren(...kinds.map((form) => new Option(form, form)));
  $("add-form").value = kinds.includes(before) ? before : "cylinder";
}


/** Where the next form is put in: before, between or behind those that are there, as far as it can be there. */
function showPlaces(list) {
  const before = $("add-at").value || String(list.length),
    end = ENDS.includes($("add-form").value);
  const first = lies(list[0])
    ? end
      ? [new Option(`in place of 1. ${list[0].form}`, "0")]
      : []
    : [new Option("at the free end", "0")];
  const others = list.map((form, i) => new Option(`after ${i + 1}. ${form.form}`, String(i + 1)));
  $("add-at").replaceChildren(...first, ...(end ? [] : others));
  const there = [...$("add-at").options].map((option) => option.value);
  $("add-at").value = there.includes(before) ? before : there[there.length - 1];
}

function formItem(form, i) {
  const known = forms.get(form.form),
    list = kept.document.part.form,
    last = list.length - 1,
    only = list.filter((one) => !CORNERS.includes(one.form)).length < 2 && !CORNERS.includes(form.form);
  const move = (by) => {
    const order = kept.document.part.form.map((_, k) => k);
    order.splice(i + by, 0, ...order.splice(i, 1));
    change(order, `moved ${form.form}`);
  };
  return h(
    "li",
    {},
    h(
      "div",
      { class: "name" },
      h("span", {}, `${i + 1}. ${form.form}`),
      i > (lies(list[0]) ? 1 : 0)
        ? h(
            "button",
            { type: "button", onclick: () => move(-1), "aria-label": `Move ${form.form} toward the free end` },
            "Up",
          )
        : null,
      i < last && !(i === 0 && lies(form))
        ? h(
            "button",
            { type: "button", onclick: () => move(1), "aria-label": `Move ${form.form} toward the chuck` },
            "Down",
          )
        : null,
      only
        ? null
        : h(
            "button",
            { type: "button", onclick: () => remove(form, i), "aria-label": `Remove ${form.form}` },
            "Remove",
          ),
    ),
    known ? h("p", { class: "says" }, known.says) : null,
    ...(known ? known.fields.flatMap((field) => fieldLines(field, form, i)) : []),
  );
}

async function remove(form, i) {
  const order = kept.document.part.form.map((_, k) => k);
  order.splice(i, 1);
  await change(order, `removed ${form.form}`);
  const near = $("pieces").children[Math.min(i, $("pieces").children.length - 1)];
  (near?.querySelector("input, button") || $("add")).focus();
}

/** The forms in another order, one left out, or a new one (not a number) among them: sizes follow their neighbours. */
async function change(order, said) {
  const { part } = kept.document,
    forms = order.map((k) => (typeof k === "number" ? part.form[k] : k)),
    from = order.map((k) => (typeof k === "number" ? k : null));
  let next = { ...part, form: forms };
  try {
    next = (await ask("POST", "/api/part/forms", { job: kept.document, forms, from })).part;
  } catch {
    /* as it stands then; what does not fit is said beside it */
  }
  kept.set(["part"], next, said);
  fillFields(document.body, kept, true);
  const gone = forms.length - next.form.length;
  if (gone > 0) $("fitted").textContent = `${gone === 1 ? "A corner" : `${gone} corners`} without a form went with it.`;
  else $("fitted").textContent = "";
}

function fieldLines(field, form, i) {
  const path = `part.form.${i}.${field.name}`,
    id = `f-${path}`;
  if (field.name === "through")
    return (form.through || []).flatMap((_, k) =>
      [
        ["z", 0],
        ["Ø", 1],
      ].map(([words, part]) => line(`${path}.${k}.${part}`, `${id}.${k}.${part}`, `${words} of point ${k + 1}`)),
    );
  if (field.choices)
    return [
      h(
        "div",
        { class: "line" },
        h("label", { for: id }, formField(field.name)),
        h(
          "select",
          { id, "data-path": path, "data-kind": "choice" },
          ...(field.needed ? [] : [new Option("usual", "")]),
          ...field.choices.map((choice) => new Option(choice, choice)),
        ),
      ),
    ];
  return [line(path, id, formField(field.name))];
}

function line(path, id, label) {
  return h(
    "div",
    { class: "line" },
    h("label", { for: id }, label),
    h("input", {
      id,
      "data-path": path,
      "data-kind": "figure",
      inputmode: "decimal",
      autocomplete: "off",
      placeholder: "–",
    }),
  );
}

function pointTable(points) {
  const rows = points.map((point, i) => {
    const bend = ["convex", "concave", "through"].find((name) => name in point) || "";
    const cell = (name, label) =>
      h(
        "td",
        {},
        h("input", {
          "data-path": `part.outline.${i}.${name}`,
          "data-kind": "figure",
          "aria-label": `${label} of point ${i + 1}`,
          inputmode: "decimal",
          autocomplete: "off",
        }),
      );
    const choose = h(
      "select",
      { "aria-label": `How point ${i + 1} is reached`, onchange: (event) => setBend(i, event.target.value) },
      new Option("line", ""),
      new Option("convex", "convex"),
      new Option("concave", "concave"),
      ...(bend === "through" ? [new Option("arc through", "through")] : []),
    );
    choose.value = bend;
    return h(
      "tr",
      {},
      h("td", {}, String(i + 1)),
      cell("z", "z"),
      cell("d", "diameter"),
      h("td", {}, i ? choose : ""),
      bend && bend !== "through" ? cell(bend, "radius") : h("td", {}),
      h(
        "td",
        {},
        h("button", { type: "button", "aria-label": `Remove point ${i + 1}`, onclick: () => removePoint(i) }, "×"),
      ),
    );
  });
  return h(
    "table",
    { class: "points" },
    h(
      "thead",
      {},
      h("tr", {}, ...["", "z", "Ø", "by", "R", ""].map((text) => (text ? h("th", { scope: "col" }, text) : h("td")))),
    ),
    h("tbody", {}, ...rows),
  );
}

function setBend(i, bend) {
  const { convex, concave, through, ...point } = kept.document.part.outline[i];
  const before = kept.document.part.outline[i - 1];
  const chord = Math.hypot(point.z - before.z, (point.d - before.d) / 2) || 1;
  const next =
    bend && bend !== "through" ? { ...point, [bend]: convex ?? concave ?? Number((chord * 0.75).toFixed(2)) } : point;
  kept.set(["part", "outline", i], next, `point ${i + 1} ${bend || "straight"}`);
}

function removePoint(i) {
  kept.set(
    ["part", "outline"],
    kept.document.part.outline.filter((_, k) => k !== i),
    `removed point ${i + 1}`,
  );
}

function addPoint() {
  const points = kept.document.part?.outline || [],
    last = points[points.length - 1] || { z: 5, d: 20 };
  const back = MM[kept.document.units] === 25.4 ? 0.25 : 5;
  kept.set(["part", "outline"], [...points, { z: Number(last.z) - back, d: last.d }], "added a point");
}

function toForms() {
  const { outline, file, curve, ...part } = kept.document.part || {};
  const inch = kept.document.units === "in";
  kept.replace(
    {
      ...kept.document,
      part: {
        ...part,
        form: [
          { form: "dome", diameter: inch ? 0.75 : 18 },
          { form: "cylinder", length: inch ? 0.5 : 15 },
        ],
      },
    },
    "started over with forms",
  );
}

$("next-handle").addEventListener("click", () => overlay.step(1));
$("last-handle").addEventListener("click", () => overlay.step(-1));

for (const kind of ["svg", "png"])
  $(`save-${kind}`).addEventListener(
    "click",
    () => view && savePicture(kind, { title: kept.document.title || "part" }, zoom),
  );

$("add").addEventListener("click", async () => {
  const start = forms.get($("add-form").value).start;
  const inch = kept.document.units === "in";
  const scaled = inch
    ? JSON.parse(JSON.stringify(start), (key, value) =>
        typeof value === "number" && key !== "number" ? Number((value / 25.4).toFixed(3)) : value,
      )
    : start;
  const order = (kept.document.part?.form || []).map((_, k) => k),
    where = Math.min(Number($("add-at").value), order.length);
  order.splice(where, where === 0 && lies(scaled) && lies(kept.document.part.form[0]) ? 1 : 0, scaled);
  await change(order, `added ${start.form}`);
  $("add-at").value = String(where + 1);
  document.querySelector(`#pieces > li:nth-child(${where + 1}) input`)?.focus();
});

$("to-points").addEventListener("click", () => {
  if (!view?.points) return;
  const { form, ...part } = kept.document.part;
  kept.replace({ ...kept.document, part: { ...part, outline: view.points } }, "turned the forms into points");
});

// A drawing brought in, by choosing or by dropping it.

async function bring(file) {
  const body = new FormData();
  body.append("file", file);
  body.append("surface", kept.document.part?.surface || "outside");
  for (const name of ["unit", "axis", "free_end"])
    if ($(`bring-${name}`).value) body.append(name, $(`bring-${name}`).value);
  try {
    brought = await ask("POST", "/api/drawing", body);
    // As an image it keeps its own style, which a page would not take from it.
    $("understood-picture").replaceChildren(
      h("img", {
        alt: `${file.name}: in the file, and as understood`,
        src: `data:image/svg+xml;charset=utf-8,${encodeURIComponent(brought.picture)}`,
      }),
    );
    $("understood-notes").replaceChildren(...brought.notes.map((note) => h("li", {}, `${note}.`)));
    $("understood").showModal();
  } catch (wrong) {
    const faults = wrong instanceof Refused ? wrong.faults : [];
    if (faults.length) showFaults(faults, $("faults"));
    else $("faults").replaceChildren(h("p", {}, wrong.message));
  }
}

$("bring").addEventListener("change", (event) => {
  if (event.target.files[0]) bring(event.target.files[0]);
  event.target.value = "";
});
$("take").addEventListener("click", () => {
  const { form, outline, file, curve, ...part } = kept.document.part || {};
  const scale = MM[brought.unit] / MM[kept.document.units || "mm"];
  const scaled = (value) => (Array.isArray(value) ? value.map(scaled) : Number((value * scale).toFixed(6)));
  const points = brought.outline.map((point) =>
    Object.fromEntries(Object.entries(point).map(([key, value]) => [key, scaled(value)])),
  );
  kept.replace({ ...kept.document, part: { ...part, outline: points } }, "outline from a drawing");
  $("understood").close();
});
for (const name of ["dragenter", "dragover"])
  $("drawing").addEventListener(name, (event) => {
    event.preventDefault();
    $("drawing").classList.add("drop");
  });
for (const name of ["dragleave", "drop"])
  $("drawing").addEventListener(name, (event) => {
    event.preventDefault();
    $("drawing").classList.remove("drop");
  });
$("drawing").addEventListener("drop", (event) => {
  const [file] = event.dataTransfer.files;
  if (file) bring(file);
});
