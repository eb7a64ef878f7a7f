// Fields that stand for one value of the document each; faults stand where they arise.

import { at, dotted, faultText, h, shown, steps, typed, typeset } from "./common.js";
import { placeOf } from "./names.js";

/**
 * Bind every field with a data-path under `root` to the document.
 * @param {ParentNode} root
 * @param {object} kept
 */
export function bindFields(root, kept) {
  root.addEventListener("change", (event) => {
    const field = event.target.closest?.("[data-path]");
    if (!field) return;
    const value = valueOf(field),
      path = steps((value === undefined && field.dataset.whole) || field.dataset.path);
    if (at(kept.document, path) === value) return;
    const label = field.labels?.[0]?.textContent.trim() || field.getAttribute("aria-label") || field.dataset.path;
    if (path[0] === "part" && path[1] === "curve") setCurve(kept, path[2], value);
    else kept.set(path, value, label);
  });
  root.addEventListener("keydown", (event) => {
    if (event.key === "Enter" && event.target.matches("input[data-path]"))
      event.target.dispatchEvent(new Event("change", { bubbles: true }));
    if (event.key === "Escape" && event.target.matches("input[data-path]")) {
      fill(event.target, kept);
      event.target.select();
    }
  });
  fillFields(root, kept);
}

function setCurve(kept, end, value) {
  const curve = kept.document.part?.curve;
  if (value === undefined) {
    kept.set(["part", "curve"], undefined, "curve");
    return;
  }
  const next = Array.isArray(curve) ? [...curve] : [0, value];
  next[end] = value;
  kept.set(["part", "curve"], next, "curve");
}

function valueOf(field) {
  if (field.dataset.kind === "text") return field.value;
  if (field.dataset.kind === "choice") return field.value || undefined;
  if (field.dataset.kind === "flag") return field.value ? field.value === "true" : undefined;
  if (field.dataset.kind === "listed") return field.value ? wordsOf(field.value) : undefined;
  if (field.dataset.kind === "list")
    return field.value.trim()
      ? field.value
          .trim()
          .split(/[;,\s]+/)
          .filter(Boolean)
          .map(typed)
      : undefined;
  return typed(field.value);
}

function fill(field, kept) {
  const given = at(kept.document, steps(field.dataset.path));
  const value =
    field.dataset.kind === "listed" ? listed(field, given) : Array.isArray(given) ? given.join(", ") : shown(given);
  if (field.tagName === "SELECT" && value && ![...field.options].some((option) => option.value === value))
    field.append(new Option(value, value));
  if (document.activeElement !== field || field.value === "" || field.tagName === "SELECT") field.value = value;
}

/** The words of a choice; "none" has none. */
const wordsOf = (choice) => (choice === "none" ? [] : choice.split(", "));

/** The choice that names the same words as a list, in whatever order. */
function listed(field, given) {
  const sorted = (words) => [...words].sort().join();
  if (!Array.isArray(given)) return shown(given);
  return (
    [...field.options].find((option) => option.value && sorted(wordsOf(option.value)) === sorted(given))?.value ??
    given.join(", ")
  );
}

/**
 * Show the document's values in the fields, the one being typed in aside.
 * @param {ParentNode} root
 * @param {object} kept
 * @param {boolean} [force]
 */
export function fillFields(root, kept, force = false) {
  for (const field of root.querySelectorAll("[data-path]")) {
    if (force || document.activeElement !== field) fill(field, kept);
  }
}

let count = 0;

/**
 * Put each fault beside the field that it names; those without a field go into the list below the drawing.
 * @param {object[]} faults
 * @param {Element} list
 * @param {object} kept
 */
export function showFaults(faults, list, kept) {
  for (const old of document.querySelectorAll(".fault-here")) old.remove();
  for (const field of document.querySelectorAll("[aria-invalid]")) {
    field.removeAttribute("aria-invalid");
    describe(field);
  }
  const rest = [];
  for (const fault of faults) {
    const field = fieldFor(dotted(fault.where));
    if (!field) {
      rest.push(fault);
      continue;
    }
    const id = `fault-${++count}`;
    field.setAttribute("aria-invalid", "true");
    describe(field, id);
    field.closest("details")?.setAttribute("open", ""); // nobody looks for a fault in what is folded
    const line = field.closest(".line") || field.closest("tr") || field;
    const note = h("p", { class: "fault-here", id }, faultText(fault), ...answer(fault, kept));
    if (line.tagName === "TR")
      line.after(h("tr", { class: "fault-here" }, h("td", { colspan: String(line.cells.length) }, note)));
    else line.after(note);
  }
  list.replaceChildren(...rest.map((fault) => faultLine(fault, kept)));
}

/** A fault by itself: its place as the pages name it, a way to its field, and what is wrong. */
function faultLine(fault, kept) {
  const place = fault.where && placeOf(fault.where, kept?.document);
  const head = !fault.where
    ? []
    : place && kept
      ? [h("a", { href: `/jobs/${kept.id}/${place.page}#f-${place.path}` }, place.name), ": "]
      : [`${typeset(place?.name ?? fault.where)}: `];
  return h("p", { "data-says": fault.says }, ...head, faultText(fault, head.length > 0), ...answer(fault, kept));
}

/** Go to the field that the address names, such as one at fault on another page. */
export function goToField() {
  const name = decodeURIComponent(location.hash.slice(1));
  if (!name.startsWith("f-")) return;
  const path = name.slice(2),
    field = document.getElementById(name) || fieldFor(path) || fieldFor(path.replace(/\.[^.]*$/, ""));
  field?.closest("details")?.setAttribute("open", "");
  field?.focus();
  field?.scrollIntoView({ block: "center" });
}

/** What may be meant after all is one press away. */
function answer(fault, kept) {
  if (!fault.answer || !kept) return [];
  const sure = () =>
    kept.set(["sure"], [...new Set([...(kept.document.sure || []), fault.answer])], `sure of ${fault.answer}`);
  return [" ", h("button", { type: "button", onclick: sure }, "It is right")];
}

/** What is read out with a field: its fault, and what it means where that is said below it. */
function describe(field, fault) {
  const said = [fault, field.dataset.says].filter(Boolean).join(" ");
  if (said) field.setAttribute("aria-describedby", said);
  else field.removeAttribute("aria-describedby");
}

function fieldFor(path) {
  const asked = document.querySelector(`[data-fault~="${CSS.escape(path)}"]`);
  if (asked) return asked;
  const fields = [...document.querySelectorAll("[data-path]")].filter((field) => !field.closest(".overlay"));
  const find = (name) => fields.find((field) => field.dataset.path === name);
  return (
    find(path) || find(path.replace(/\.\d+$/, "")) || (path.startsWith("part.curve") ? find("part.curve.0") : null)
  );
}
