// The page Shop: tools drawn to scale with their numbers, and slides whose convention is found by winding them.

import { $, Refused, ask, faultText, facts, h, svgOf, typed } from "./common.js";
import { edgeEditor, edgeShape } from "./edge.js";
import { bindFields, fillFields, goToField, showFaults } from "./fields.js";
import { Kept, bindSheet } from "./kept.js";
import { TOOL } from "./names.js";

const kept = new Kept(facts().kept);
let drawing = null,
  again = false,
  shownTools = "";

bindSheet(kept);
showTools();
bindFields(document.body, kept);
showParts();
$("pace").open = kept.document.pace !== undefined;
goToField();
kept.addEventListener("change", () => {
  refresh();
});
kept.addEventListener("back", () => draw());
kept.addEventListener("replaced", () => {
  refresh(true);
});
draw();

function refresh(force = false) {
  if (kinds() !== shownTools) showTools();
  fillFields(document.body, kept, force);
  showParts();
  draw();
}

/** What is only asked where there is such a thing: the centre, the top slide. */
function showParts() {
  const { lathe = {}, slide, limits } = kept.document;
  $("centre").hidden =
    (lathe.holding || "chuck") === "chuck" && lathe.centre_hole === undefined && lathe.centre_body === undefined;
  const top = slide?.top !== undefined || Boolean(limits?.slides?.includes?.("top"));
  $("slide-top").hidden = !top;
  $("add-top").hidden = top;
}

async function draw() {
  if (drawing) {
    again = true;
    return;
  }
  try {
    drawing = ask("POST", "/api/shop", kept.document);
    const view = await drawing;
    view.pictures.forEach(showPicture);
    for (const name of ["cross", "saddle", "top"]) $(`says-${name}`).textContent = view.slides[name] || "";
    const here = view.faults.filter((fault) => !fault.where.startsWith("part") && !fault.where.startsWith("stock"));
    showFaults(here, $("faults"), kept);
  } catch (wrong) {
    if (wrong instanceof Refused) $("faults").replaceChildren(h("p", {}, wrong.message));
    else kept.retry(wrong);
  }
  drawing = null;
  if (again) {
    again = false;
    draw();
  }
}

/** A tool as it is; while something is wrong with it, as it was when it could last be drawn. */
function showPicture(picture, i) {
  $(`picture-${i}`)?.classList.toggle("stale", !picture);
  if (picture) $(`picture-${i}`)?.replaceChildren(svgOf(picture));
}

function kinds() {
  return (kept.document.tool || []).map((tool) => edgeShape(tool) || tool.kind || "pointed").join();
}

function showTools() {
  const { id } = document.activeElement,
    before = [...document.querySelectorAll("#tools .picture")].map((picture) => [...picture.children]);
  // The same tools: nothing flickers while they are drawn anew.
  const many = before.length === (kept.document.tool || []).length;
  shownTools = kinds();
  $("tools").replaceChildren(...(kept.document.tool || []).map(toolItem));
  if (many) before.forEach((shown, i) => $(`picture-${i}`).replaceChildren(...shown));
  fillFields($("tools"), kept, true);
  if (id && document.activeElement === document.body) $(id)?.focus();
}

function toolItem(tool, i) {
  const line = (name, kind = "figure", placeholder = "") => {
    const id = `f-tool.${i}.${name}`;
    return h(
      "div",
      { class: "line" },
      h("label", { for: id }, TOOL[name]),
      h("input", {
        id,
        "data-path": `tool.${i}.${name}`,
        "data-kind": kind,
        placeholder,
        autocomplete: "off",
        spellcheck: "false",
      }),
    );
  };
  const select = (name, options) => {
    const id = `f-tool.${i}.${name}`;
    return h(
      "div",
      { class: "line" },
      h("label", { for: id }, TOOL[name]),
      h(
        "select",
        { id, "data-path": `tool.${i}.${name}`, "data-kind": "choice" },
        ...options.map(([value, words]) => new Option(words, value)),
      ),
    );
  };
  const pointed = (tool.kind || "pointed") === "pointed";
  const form = tool.kind === "form";
  const remove = () =>
    kept.set(
      ["tool"],
      kept.document.tool.filter((_, k) => k !== i),
      `removed ${tool.name}`,
    );
  return h(
    "li",
    {},
    h("div", { class: "picture", id: `picture-${i}` }),
    line("name", "text"),
    ...(form
      ? [
          edgeEditor(tool, i, (how, said) =>
            kept.set(["tool", i, "outline"], how(kept.document.tool[i]), `${tool.name}: ${said}`),
          ),
        ]
      : []),
    ...(form
      ? []
      : [
          select("kind", [
            ["", "two edges, usual"],
            ["pointed", "two edges"],
            ["round", "full radius"],
            ["grooving", "a blade with two corners"],
          ]),
          line("nose_radius"),
          line("nose_radius_u", "figure", "not known"),
        ]),
    ...(tool.kind === "grooving" ? [line("width")] : []),
    ...(pointed
      ? [
          select("hand", [
            ["", "right, usual"],
            ["right", "right: cuts toward the chuck"],
            ["left", "left"],
          ]),
          line("edge_angle", "figure", "93"),
          line("point_angle", "figure", "55"),
        ]
      : []),
    select("material", [
      ["", "high-speed steel, usual"],
      ["high-speed steel", "high-speed steel"],
      ["carbide", "carbide"],
    ]),
    h(
      "details",
      {},
      h("summary", {}, "Shank and boring bar"),
      line("stem", "figure", "not known"),
      line("shank", "figure", "not known"),
      line("stands_out", "figure", "no bar"),
      line("bar_diameter", "figure", "no bar"),
      line("overhang", "figure", "no bar"),
    ),
    h(
      "div",
      { class: "buttons" },
      h(
        "button",
        { type: "button", onclick: remove, "aria-label": `Take ${tool.name} out of the drawer` },
        "Remove this tool",
      ),
    ),
  );
}

function add(tool) {
  const names = new Set((kept.document.tool || []).map((one) => one.name));
  let name = tool.name;
  for (let n = 2; names.has(name); n++) name = `${tool.name}, ${n}`;
  kept.set(["tool"], [...(kept.document.tool || []), { ...tool, name }], `added ${name}`);
}

// The top slide: added for finishing, its travel still to be told; taken out with what it was to do.

$("add-top").addEventListener("click", () => {
  const { slide, limits } = kept.document;
  kept.replace(
    { ...kept.document, slide: { ...slide, top: {} }, limits: { ...limits, slides: ["saddle", "cross", "top"] } },
    "added the top slide",
  );
  $("f-slide.top.travel").focus();
});

$("remove-top").addEventListener("click", () => {
  const { slide: { top, ...slide } = {}, limits: { slides, ...limits } = {}, ...rest } = kept.document;
  const tables = { ...(Object.keys(slide).length ? { slide } : {}), ...(Object.keys(limits).length ? { limits } : {}) };
  kept.replace({ ...rest, ...tables }, "took the top slide out");
  $("add-top").focus();
});

// Shops that are kept: tools, slides, lathe, limits and the pace of who works there, to be taken into any job.

const SHOP = ["units", "tool", "slide", "lathe", "limits", "pace"];
let shops = [];

async function listShops() {
  shops = (await ask("GET", "/api/shops")).items;
  const chosen = $("kept-shops").value;
  $("kept-shops").replaceChildren(
    ...(shops.length ? shops.map((shop) => new Option(shop.title, shop.id)) : [new Option("none yet", "")]),
  );
  if (shops.some((shop) => shop.id === chosen)) $("kept-shops").value = chosen;
  $("take-shop").disabled = !shops.length;
}

$("keep-shop").addEventListener("click", async () => {
  const name = $("shop-name").value.trim();
  if (!name) {
    $("shop-says").textContent = "Give it a name first.";
    $("shop-name").focus();
    return;
  }
  const document = Object.fromEntries(
    SHOP.filter((key) => kept.document[key] !== undefined).map((key) => [key, kept.document[key]]),
  );
  const same = shops.find((shop) => shop.title === name);
  if (same) {
    const { revision } = await ask("GET", `/api/shops/${same.id}`);
    await ask("PUT", `/api/shops/${same.id}`, { revision, document: { title: name, ...document }, said: "kept again" });
  } else await ask("POST", "/api/shops", { title: name, ...document });
  await listShops();
  $("shop-says").textContent = `“${name}” is kept.`;
});

$("take-shop").addEventListener("click", async () => {
  const shop = (await ask("GET", `/api/shops/${$("kept-shops").value}`)).document;
  const { title, units, ...rest } = shop;
  const own = Object.fromEntries(
    Object.entries(kept.document).filter(([key]) => key === "units" || !SHOP.includes(key)),
  );
  if ((units || "mm") !== (kept.document.units || "mm")) {
    $("shop-says").textContent =
      `“${title}” counts in ${units || "mm"}, this job in ${kept.document.units || "mm"}: ` +
      "its figures would mean something else.";
    return;
  }
  kept.replace({ ...own, ...rest }, `took the shop ${title}`);
  refresh(true);
  $("shop-says").textContent = `“${title}” was taken into this job.`;
});

listShops();

const inch = () => kept.document.units === "in";
$("add-round").addEventListener("click", () =>
  add({ name: inch() ? "round nose 1/4" : "round nose 6", kind: "round", nose_radius: inch() ? 0.125 : 3 }),
);
$("add-pointed").addEventListener("click", () =>
  add({
    name: "right-hand knife",
    kind: "pointed",
    hand: "right",
    nose_radius: inch() ? 0.0156 : 0.4,
    edge_angle: 93,
    point_angle: 55,
  }),
);
$("add-blade").addEventListener("click", () =>
  add({ name: "grooving blade", kind: "grooving", nose_radius: inch() ? 0.008 : 0.2, width: inch() ? 0.125 : 3 }),
);
$("add-form").addEventListener("click", () =>
  add({
    name: "form tool",
    kind: "form",
    outline: [{ z: 0, r: 0 }, inch() ? { z: 0.25, r: 0, convex: 0.125 } : { z: 6, r: 0, convex: 3 }],
  }),
);

// What happened when a slide was wound says how it reads.

for (const check of document.querySelectorAll(".check")) {
  check.querySelector(".work-out").addEventListener("click", async () => {
    const slide = check.dataset.slide,
      found = check.querySelector(".found");
    const answers = Object.fromEntries(
      [...check.querySelectorAll("[data-answer]")].map((field) => [
        field.dataset.answer,
        field.tagName === "SELECT" ? field.value : (typed(field.value) ?? null),
      ]),
    );
    try {
      const { reads, grows, says } = await ask("POST", "/api/convention", { slide, ...answers });
      found.classList.remove("wrong");
      found.textContent = `${says} It is set so.`;
      const old = kept.document.slide?.[slide] || {};
      kept.set(["slide", slide], { ...old, ...(reads ? { reads } : {}), grows }, `how the ${slide} reads`);
      fillFields(document.body, kept, true);
    } catch (wrong) {
      found.classList.add("wrong");
      found.textContent =
        wrong instanceof Refused ? wrong.faults.map((fault) => faultText(fault)).join(" ") : wrong.message;
    }
  });
}
