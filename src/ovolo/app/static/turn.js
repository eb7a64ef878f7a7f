// The tab Turn: a plan is taken to the lathe as a run; the runs that were taken there before.

import { $, Refused, ask, facts, h, svgOf } from "./common.js";
import { Kept, bindSheet } from "./kept.js";
import { bindFields, showFaults } from "./fields.js";

const kept = new Kept(facts().kept);
/** Whether paired devices on the network are let in. */
const onNetwork = facts().network;
bindSheet(kept);
bindFields(document.body, kept);
$("take").addEventListener("click", take);
list();
if (location.hash === "#take") {
  history.replaceState(null, "", location.pathname);
  take();
}

/** Make a run of the job's plan as it is now. */
async function take() {
  $("take").disabled = true;
  $("taking").textContent = "Planning…";
  try {
    await kept.save();
    const made = await ask("POST", `/api/runs?of=${kept.id}`, { job: kept.document });
    $("taking").textContent = "";
    showFaults([], $("faults"));
    show(made.run);
    await list();
  } catch (wrong) {
    $("taking").textContent = "It cannot be taken to the lathe.";
    if (wrong instanceof Refused) showFaults(wrong.faults, $("faults"));
    else throw wrong;
  } finally {
    $("take").disabled = false;
  }
}

/** The address of a run, as a link, as text, as a code to be read by a phone, as a file. */
async function show(run) {
  const address = `${location.origin}/run/${run}`;
  $("taken").hidden = false;
  $("open-run").href = $("save-run").href = `/run/${run}`;
  $("on-network").hidden = $("again").hidden = !onNetwork;
  $("alone").hidden = onNetwork;
  $("new-code").onclick = () => show(run);
  showFaults([], $("code-faults"));
  try {
    const made = onNetwork ? await ask("POST", "/api/pairing", { run }) : null;
    $("run-address").textContent = made?.address ?? address;
    $("code").replaceChildren(made ? svgOf(made.svg) : codeOf(run));
  } catch (wrong) {
    if (!(wrong instanceof Refused)) throw wrong;
    $("run-address").textContent = address;
    $("code").replaceChildren();
    showFaults(wrong.faults, $("code-faults"));
  }
}

const codeOf = (run) => h("img", { src: `/api/runs/${run}/code.svg`, alt: "", width: 220, height: 220 });

async function list() {
  const { items } = await ask("GET", `/api/runs?of=${kept.id}`);
  if (!items.length) return;
  $("runs").replaceChildren(...items.map(line));
}

function line(run) {
  const place = run.place > run.moves ? "all done" : `at move ${run.place} of ${run.moves}`;
  const made = h("time", { datetime: run.made }, run.made.slice(0, 16).replace("T", " "));
  return h(
    "li",
    {},
    h("a", { href: run.page }, `Plan ${run.checksum}, ${place}`),
    made,
    h(
      "button",
      {
        type: "button",
        "aria-label": `Show the address of the run of ${run.made.slice(0, 16)}`,
        onclick: () => show(run.id),
      },
      "Address",
    ),
    h(
      "a",
      {
        class: "button",
        href: `/api/runs/${run.id}/times.csv`,
        "aria-label": `Times of the run of ${run.made.slice(0, 16)}`,
      },
      "Times",
    ),
  );
}
