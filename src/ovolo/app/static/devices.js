// The page Devices: a code to pair another one, those that are paired, and guesses that were refused.

import { $, Refused, ask, facts, h, svgOf } from "./common.js";
import { showFaults } from "./fields.js";

const LOOK = 4000;
let until = 0;
let shown = facts();

if ($("new-code")) {
  $("new-code").addEventListener("click", newCode);
  newCode();
  setInterval(left, 1000);
}
show(shown);
setInterval(async () => {
  if (document.visibilityState === "visible") show(await ask("GET", "/api/devices").catch(() => shown));
}, LOOK);

/** Have a code made, and show it. */
async function newCode() {
  try {
    const made = await ask("POST", "/api/pairing", {});
    showFaults([], $("faults"));
    $("code").replaceChildren(svgOf(made.svg));
    $("address").textContent = made.address;
    until = Date.parse(made.until);
    left();
  } catch (wrong) {
    if (!(wrong instanceof Refused)) throw wrong;
    showFaults(wrong.faults, $("faults"));
  }
}

/** How long the code still counts. */
function left() {
  if (!until) return;
  const seconds = Math.round((until - Date.now()) / 1000);
  $("code").classList.toggle("over", seconds <= 0);
  $("until").textContent =
    seconds > 0
      ? `Counts for ${Math.ceil(seconds / 60)} more ${seconds > 60 ? "minutes" : "minute"}.`
      : "This code no longer counts.";
}

/** @param {any} found */
function show(found) {
  shown = found;
  const lines = found.items.map(line);
  keepFocus($("paired"), lines.length ? lines : [h("li", { class: "none" }, "None yet.")]);
  const refused = found.refused.map((one) =>
    h("li", {}, h("time", { datetime: one.at }, when(one.at)), h("span", {}, `${one.address}: ${one.says}`)),
  );
  $("refused")?.replaceChildren(...(refused.length ? refused : [h("li", { class: "none" }, "Nobody.")]));
}

/** The new lines in place of the old ones: the same control has the focus, or the list where it is gone. */
function keepFocus(list, lines) {
  const before = list.contains(document.activeElement) ? document.activeElement.getAttribute("aria-label") : null;
  list.replaceChildren(...lines);
  if (before) ([...list.querySelectorAll("[aria-label]")].find((one) => one.ariaLabel === before) ?? list).focus();
}

/** A time as it is read here. @param {string} iso */
function when(iso) {
  return new Date(iso).toLocaleString([], { dateStyle: "short", timeStyle: "short" });
}

function line(device) {
  const who = `${device.name}, paired ${when(device.made)}`;
  const sees = h(
    "select",
    {
      "aria-label": `What ${who} sees`,
      onchange: (event) => change("PUT", device, { everything: event.target.value === "all" }),
    },
    h("option", { value: "runs", selected: !device.everything }, "runs only"),
    h("option", { value: "all", selected: device.everything }, "jobs and plans too"),
  );
  const strike = () => change("DELETE", device);
  const off = h("button", { type: "button", "aria-label": `Strike off ${who}`, onclick: strike });
  off.append("Strike off");
  return h(
    "li",
    {},
    h("span", { class: "who" }, who),
    h("span", { class: "seen" }, `last seen ${when(device.seen)} at ${device.place}`),
    sees,
    off,
  );
}

async function change(method, device, body) {
  show(await ask(method, `/api/devices/${device.id}`, body).catch(() => shown));
}
