// A job as it is kept: changed here, saved in the background, undone, and never lost when another tab has changed it too.

import { $, Refused, ask, faultText, h, withValue } from "./common.js";

const WAIT = 250; // ms of quiet before a change is saved

export class Kept extends EventTarget {
  constructor(kept) {
    super();
    this.take(kept);
    this.dirty = null; // what was changed since the last save, in words
    this.saving = null;
    this.timer = 0;
    addEventListener("pagehide", () => this.lastSave());
    addEventListener("pageshow", (event) => { if (event.persisted) location.reload(); });
    document.addEventListener("visibilitychange", () => { if (document.visibilityState === "hidden" && this.dirty) this.save(); });
  }

  take(kept) {
    this.id = kept.id;
    this.revision = kept.revision;
    this.document = kept.document;
    this.canUndo = kept.can_undo;
    this.canRedo = kept.can_redo;
    this.buttons();
  }

  get address() { return `/api/jobs/${this.id}`; }

  /** Change one value, by its path. */
  set(path, value, said) { this.replace(withValue(this.document, path, value), said || path.filter((step) => typeof step === "string").join(" ")); }

  /** Change the whole document. */
  replace(document, said) {
    this.document = document;
    this.dirty = said;
    this.say("Saving…");
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.save(), WAIT);
    this.dispatchEvent(new Event("change"));
  }

  /** Save what is not saved yet; one save at a time, the newest last. */
  async save() {
    clearTimeout(this.timer);
    if (this.saving) { await this.saving; if (!this.dirty || this.clashed) return; }
    if (!this.dirty || this.clashed) return;
    this.saving = this.send();
    try { await this.saving; } finally { this.saving = null; }
    if (this.dirty && !this.clashed && !this.failed) await this.save();
  }

  async send() {
    const said = this.dirty, sent = this.document;
    this.dirty = null;
    this.failed = false;
    try {
      const kept = await ask("PUT", this.address, { revision: this.revision, document: sent, said });
      this.revision = kept.revision;
      this.canUndo = kept.can_undo;
      this.canRedo = kept.can_redo;
      this.buttons();
      if (!this.dirty) this.say("Saved");
      this.dispatchEvent(new Event("saved"));
    } catch (wrong) {
      this.dirty = this.dirty || said;
      if (wrong instanceof Refused && wrong.status === 409) this.clash(wrong.current);
      else this.retry(wrong);
    }
  }

  retry(wrong) {
    this.failed = true;
    this.say(wrong instanceof Refused ? `Not saved: ${wrong.message}` : "Not saved: the server does not answer. Trying again.", true);
    this.timer = setTimeout(() => this.save(), 2000);
  }

  lastSave() {
    if (!this.dirty || this.clashed) return;
    const body = { revision: this.revision, document: this.document, said: this.dirty };
    ask("PUT", this.address, body, { keepalive: true }).catch(() => {});
  }

  /** Another tab was faster: both versions are shown and kept; the person says which stands. */
  clash(current) {
    this.clashed = true;
    this.say("Not saved", true);
    const bar = $("clash");
    const mine = h("button", { type: "button", onclick: () => this.settle(current, true) }, "Keep mine");
    const theirs = h("button", { type: "button", onclick: () => this.settle(current, false) }, "Show the other");
    bar.replaceChildren(h("p", {}, "This job was changed in another window while you changed it here. Both versions stay in its history. Which one shall stand?"), mine, theirs);
    bar.hidden = false;
  }

  async settle(current, mine) {
    $("clash").hidden = true;
    this.clashed = false;
    const own = this.document, said = this.dirty || "changed";
    this.take(current);
    this.document = own;
    this.dirty = said;
    await this.save(); // what was changed here is kept in the history either way
    if (!mine && !this.clashed) {
      this.document = current.document;
      this.dirty = "the version of the other window";
      await this.save();
      this.dispatchEvent(new Event("replaced"));
    }
  }

  /** Undo or redo. */
  async walk(way) {
    await this.save();
    if (this.clashed || this.failed) return;
    try {
      this.take(await ask("POST", `${this.address}/${way}`, { revision: this.revision }));
      this.say("Saved");
      this.dispatchEvent(new Event("replaced"));
    } catch (wrong) {
      if (wrong instanceof Refused && wrong.status === 409) { this.take(wrong.current); this.dispatchEvent(new Event("replaced")); this.say("Changed in another window: shown as it stands"); }
      else this.say(`Not done: ${wrong.message}`, true);
    }
  }

  async restore(version) {
    await this.save();
    this.take(await ask("POST", `${this.address}/restore`, { revision: this.revision, version }));
    this.dispatchEvent(new Event("replaced"));
  }

  buttons() {
    if ($("undo")) $("undo").disabled = !this.canUndo;
    if ($("redo")) $("redo").disabled = !this.canRedo;
  }

  say(text, wrong = false) {
    const line = $("saved");
    if (line.textContent !== text) line.textContent = text;
    line.classList.toggle("wrong", wrong);
  }
}

/** The buttons of the sheet's head, and what the keyboard does on every page. */
export function bindSheet(kept) {
  $("title").addEventListener("input", (event) => { event.target.size = Math.min(60, Math.max(12, event.target.value.length)); });
  $("undo").addEventListener("click", () => kept.walk("undo"));
  $("redo").addEventListener("click", () => kept.walk("redo"));
  document.addEventListener("keydown", (event) => {
    const inText = event.target.matches?.("input:not([type=range]), textarea, select");
    if (!(event.ctrlKey || event.metaKey) || inText) return;
    const key = event.key.toLowerCase();
    if (key === "z" || key === "y") { event.preventDefault(); kept.walk(key === "y" || event.shiftKey ? "redo" : "undo"); }
  });
  document.addEventListener("click", async (event) => {
    const link = event.target.closest?.("a[href^='/']");
    if (!link || link.hasAttribute("data-file") || event.ctrlKey || event.metaKey || event.shiftKey || !(kept.dirty || kept.saving)) return;
    event.preventDefault(); // the next page shall find what was typed on this one
    await kept.save();
    if (!kept.clashed) location.href = link.href;
  });
  $("history").addEventListener("click", () => showHistory(kept));
  for (const dialog of document.querySelectorAll("dialog")) dialog.querySelector(".close")?.addEventListener("click", () => dialog.close());
}

async function showHistory(kept) {
  await kept.save();
  const { items } = await ask("GET", `${kept.address}/history`);
  $("history-list").replaceChildren(...items.map((item) => h("li", {},
    h("span", {}, `${item.n}. ${item.said}`), h("time", { datetime: item.made }, new Date(item.made).toLocaleString()),
    item.shown ? h("strong", {}, "shown now") : h("button", { type: "button", onclick: async () => { await kept.restore(item.n); $("history-dialog").close(); } }, "Show this one"))));
  $("history-dialog").showModal();
}

export { faultText };
