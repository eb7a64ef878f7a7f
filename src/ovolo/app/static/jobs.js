// The list of jobs: start, copy, delete, bring back, bring in.

import { $, Refused, ask, faultText, h } from "./common.js";

const DOME = {
  version: 1, title: "New job", units: "mm",
  part: { surface: "outside", material: "mild steel", form: [{ form: "dome", diameter: 18, height: 9 }, { form: "cylinder", length: 15 }] },
  stock: { diameter: 20, proud: 0.5, stick_out: 35 },
  tool: [{ name: "round nose 6", kind: "round", nose_radius: 3 }],
  finish: { ridge: 0.05, allowance: 0.2 }, limits: { bite: 1 },
  slide: { cross: { reads: "diameter", grows: "out", count: 0.01 }, saddle: { grows: "away", count: 0.005 } },
};

for (const time of document.querySelectorAll("time")) time.textContent = new Date(time.dateTime).toLocaleString([], { dateStyle: "medium", timeStyle: "short" });

$("new-job").addEventListener("click", async () => {
  const kept = await ask("POST", "/api/jobs", DOME);
  location.href = `/jobs/${kept.id}/part`;
});

document.addEventListener("click", async (event) => {
  const button = event.target.closest("[data-do]");
  if (!button) return;
  const id = button.closest("[data-id]").dataset.id, what = button.dataset.do;
  await (what === "delete" ? ask("DELETE", `/api/jobs/${id}`) : ask("POST", `/api/jobs/${id}/${what}`));
  location.reload();
});

$("bring").addEventListener("change", async (event) => {
  const [file] = event.target.files;
  if (!file) return;
  try {
    const kept = /\.toml$/i.test(file.name) ? await ask("POST", "/api/jobs", await file.text()) : await fromDrawing(file);
    location.href = `/jobs/${kept.id}/${/\.toml$/i.test(file.name) ? "plan" : "part"}`;
  } catch (wrong) {
    const faults = wrong instanceof Refused ? wrong.faults.map((fault) => h("span", {}, `${faultText(fault)} `)) : [wrong.message];
    $("bring-faults").replaceChildren(...faults);
    event.target.value = "";
  }
});

async function fromDrawing(file) {
  const form = new FormData();
  form.append("file", file);
  const found = await ask("POST", "/api/drawing", form);
  const widest = Math.max(...found.outline.map((point) => point.d));
  const part = { surface: "outside", material: "mild steel", outline: found.outline };
  return ask("POST", "/api/jobs", { ...DOME, title: file.name.replace(/\.[^.]*$/, ""), units: found.unit, part, stock: { diameter: Math.ceil(widest * 1.05 + (found.unit === "mm" ? 1 : 0.03)), proud: found.unit === "mm" ? 0.5 : 0.02 },
    ...(found.unit === "in" ? { tool: [{ name: "round nose 1/4", kind: "round", nose_radius: 0.125 }], finish: {}, limits: {}, slide: {} } : {}) });
}
