// The first screen: start a job from a form or a drawing, find one that is kept, copy it, delete it, bring it back.

import { $, Refused, ask, faultText, h, svgOf, typed, typeset } from "./common.js";
import { placeOf } from "./names.js";

const NO_ANSWER = "The server does not answer. Nothing was made; what you typed stays here. Try again when it runs.";

for (const time of document.querySelectorAll("time"))
  time.textContent = new Date(time.dateTime).toLocaleString([], {
    day: "numeric",
    month: "short",
    hour: "2-digit",
    minute: "2-digit",
  });

function say(text, wrong = false) {
  $("saved").textContent = text;
  $("saved").classList.toggle("wrong", wrong);
}

/** What went wrong, in words: faults of the job, or no server. */
function told(wrong) {
  return wrong instanceof Refused ? wrong.faults.map(withPlace) : [NO_ANSWER];
}

function withPlace(fault) {
  const place = placeOf(fault.where)?.name ?? fault.where;
  return place ? `${typeset(place)}: ${faultText(fault, true)}` : faultText(fault);
}

/** Do something once, however often its button is pressed meanwhile. */
function once(button, work) {
  return async (...given) => {
    if (button.disabled) return;
    button.disabled = true;
    try {
      await work(...given);
    } finally {
      button.disabled = false;
    }
  };
}

// Pictures of the jobs, as they come into view.

const seen = new IntersectionObserver(
  (entries) => {
    for (const { target } of entries.filter((entry) => entry.isIntersecting)) {
      seen.unobserve(target);
      draw(target);
    }
  },
  { rootMargin: "200px" },
);
for (const thumb of document.querySelectorAll(".thumb[data-src]")) seen.observe(thumb);

async function draw(thumb) {
  const text = await fetch(thumb.dataset.src).then(
    (answer) => (answer.ok ? answer.text() : ""),
    () => "",
  );
  if (text) thumb.replaceChildren(svgOf(text));
}

// New: two or three figures, then a plan.

$("units").addEventListener("change", () => showUnits(localStorageSet("ovolo-units", $("units").value)));
showUnits(localStorageGet("ovolo-units") || "mm");

function showUnits(unit) {
  $("units").value = unit;
  for (const form of document.querySelectorAll("form.figures-of[action]")) form.elements.units.value = unit;
  for (const field of document.querySelectorAll("[data-mm]"))
    if ([field.dataset.mm, field.dataset.in].includes(field.value)) field.value = field.dataset[unit];
}

function localStorageGet(key) {
  try {
    return localStorage.getItem(key);
  } catch {
    return null;
  }
}
function localStorageSet(key, value) {
  try {
    localStorage.setItem(key, value);
  } catch {
    /* it is not remembered, that is all */
  }
  return value;
}

for (const form of document.querySelectorAll("form.figures-of[action]")) {
  const button = form.querySelector("[type=submit]"),
    details = form.closest("details");
  // Opened and ready for figures within the one press, so that the first key typed after it is not lost.
  details.querySelector("summary").addEventListener("click", (event) => {
    if (details.open) return;
    event.preventDefault();
    details.open = true;
    form.querySelector("input:not([type=hidden])").select();
  });
  const start = once(button, async () => {
    const given = Object.fromEntries(new FormData(form));
    const sizes = Object.fromEntries(
      Object.entries(given)
        .filter(([name]) => name.startsWith("size."))
        .map(([name, value]) => [name.slice(5), value]),
    );
    try {
      const kept = await ask("POST", "/api/start", {
        form: given.form,
        units: given.units,
        once: given.once,
        ...(given.shop ? { shop: given.shop } : {}),
        sizes,
      });
      location.href = `/jobs/${kept.id}/plan`;
      await new Promise(() => {}); // the button stays as it is while the page goes
    } catch (wrong) {
      showFaults(form, wrong);
    }
  });
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    start();
  });
}

// A dome is whole until somebody says how high it is.
const across = $("dome-diameter"),
  high = $("dome-height");
high?.addEventListener("input", () => {
  high.dataset.own = "1";
});
across?.addEventListener("input", () => {
  const size = typed(across.value);
  if (!high.dataset.own && typeof size === "number" && size > 0) high.value = String(Number((size / 2).toFixed(5)));
});

function showFaults(form, wrong) {
  for (const old of form.querySelectorAll(".fault-here")) old.remove();
  for (const field of form.querySelectorAll("[aria-invalid]")) field.removeAttribute("aria-invalid");
  const rest = [];
  for (const fault of wrong instanceof Refused ? wrong.faults : []) {
    const field = form.querySelector(`[data-fault="${CSS.escape(fault.where)}"]`);
    if (!field) {
      rest.push(withPlace(fault));
      continue;
    }
    field.setAttribute("aria-invalid", "true");
    field.closest(".line").after(h("p", { class: "fault-here", role: "alert" }, faultText(fault)));
  }
  if (!(wrong instanceof Refused)) rest.push(NO_ANSWER);
  $("start-faults").replaceChildren(...rest.map((line) => h("p", {}, line)));
}

// A page kept by the browser is another visit: what is made from it now is another job.
addEventListener("pageshow", (event) => {
  if (!event.persisted) return;
  for (const field of document.querySelectorAll("[name=once]")) field.value = crypto.randomUUID();
  location.reload();
});

// The first shop: tools from the usual drawer, slides and motor as they are.

$("shop-by")?.addEventListener("change", () => {
  for (const line of document.querySelectorAll(".dials")) line.hidden = $("shop-by").value !== "dial";
});
$("shop-form")?.addEventListener("submit", async (event) => {
  event.preventDefault();
  const unit = $("units").value,
    dial = $("shop-by").value === "dial";
  const slide = (name, more) => ({
    ...more,
    ...(dial
      ? { divisions: typed($(`shop-${name}-divisions`).value), per_turn: typed($(`shop-${name}-turn`).value) }
      : {}),
  });
  try {
    const usual = (await ask("GET", "/api/usual"))[unit].map((tool) => ({ ...tool, material: $("shop-edge").value }));
    const motor = typed($("shop-motor").value),
      post = $("shop-post").value;
    const lathe = { ...(motor === undefined ? {} : { motor_w: motor }), ...(post ? { post } : {}) };
    await ask("POST", "/api/shops", {
      title: $("shop-title").value.trim() || "My lathe",
      units: unit,
      tool: usual,
      slide: { cross: slide("cross", { reads: $("shop-reads").value }), saddle: slide("saddle", {}) },
      ...(Object.keys(lathe).length ? { lathe } : {}),
    });
    location.reload();
  } catch (wrong) {
    $("start-faults").replaceChildren(...told(wrong).map((line) => h("p", {}, line)));
  }
});

// The list: searched, copied, deleted with the focus staying near.

$("search").addEventListener("input", () => {
  const words = $("search").value.toLowerCase().split(/\s+/).filter(Boolean);
  for (const item of document.querySelectorAll(".jobs-list li[data-title]"))
    item.hidden = !words.every((word) => item.dataset.title.includes(word));
});

const NEAR = "ovolo-near";
const near = sessionStorage.getItem(NEAR);
if (near) {
  sessionStorage.removeItem(NEAR);
  const { id, at } = JSON.parse(near),
    items = [...document.querySelectorAll(".jobs-list li[data-id]")];
  (items.find((item) => item.dataset.id === id) || items[Math.min(at, items.length - 1)])
    ?.querySelector("a, button")
    ?.focus();
}

document.addEventListener("click", async (event) => {
  const button = event.target.closest("[data-do]");
  if (!button || button.disabled) return;
  button.disabled = true;
  const item = button.closest("[data-id]"),
    { id } = item.dataset,
    what = button.dataset.do,
    at = [...document.querySelectorAll(".jobs-list li[data-id]")].indexOf(item);
  try {
    const kept = await (what === "delete" ? ask("DELETE", `/api/jobs/${id}`) : ask("POST", `/api/jobs/${id}/${what}`));
    sessionStorage.setItem(NEAR, JSON.stringify({ id: kept?.id === id && what === "delete" ? "" : kept.id, at }));
    location.reload();
  } catch (wrong) {
    say(told(wrong).join(" "), true);
    button.disabled = false;
  }
});

$("bring").addEventListener("change", async (event) => {
  const [file] = event.target.files;
  if (!file) return;
  say(`Reading ${file.name}…`);
  try {
    const toml = /\.toml$/i.test(file.name);
    const kept = toml ? await ask("POST", "/api/jobs", await file.text()) : await fromDrawing(file);
    location.href = `/jobs/${kept.id}/${toml ? "plan" : "part"}`;
  } catch (wrong) {
    say("");
    $("start-faults").replaceChildren(...told(wrong).map((line) => h("p", {}, line)));
    event.target.value = "";
  }
});

async function fromDrawing(file) {
  const form = new FormData();
  form.append("file", file);
  const found = await ask("POST", "/api/drawing", form);
  const shop = document.querySelector("[name=shop]")?.value;
  return ask("POST", "/api/start", {
    outline: found.outline,
    units: found.unit,
    title: file.name.replace(/\.[^.]*$/, ""),
    ...(shop ? { shop } : {}),
  });
}
