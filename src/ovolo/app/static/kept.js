// A job as it is kept: changed here, saved in the background, undone, put together with what another window changed.

import { $, Refused, ask, at, h, shown, withValue } from "./common.js";
import { Draft, keepTyping } from "./draft.js";
import { merged, same, taking } from "./merge.js";

const WAIT = 250; // ms of quiet before a change is saved
const AGAIN = 2000; // ms until a server that does not answer is asked again

export class Kept extends EventTarget {
  constructor(kept) {
    super();
    this.draft = new Draft(kept.id);
    this.take(kept);
    this.dirty = null; // what was changed since the last save, in words
    this.saving = null;
    this.timer = 0;
    this.resume();
    addEventListener("pagehide", () => this.lastSave());
    addEventListener("pageshow", (event) => {
      if (event.persisted) location.reload();
    });
    addEventListener("online", () => {
      if (this.dirty) this.save();
    });
    document.addEventListener("visibilitychange", () => {
      if (document.visibilityState === "hidden" && this.dirty) this.save();
    });
  }

  take(kept) {
    this.id = kept.id;
    this.revision = kept.revision;
    this.document = this.base = kept.document; // `base` is how it stands on the server at this revision
    this.canUndo = kept.can_undo;
    this.canRedo = kept.can_redo;
    this.buttons();
  }

  /** What was typed before a reload, on top of what the server has: it may have been saved meanwhile, or not. */
  resume() {
    const draft = this.draft.get();
    if (!draft) return;
    this.dirty = draft.said;
    this.document = draft.document;
    this.join({ document: this.base, revision: this.revision }, draft.base);
    if (this.dirty && !this.clashed) {
      this.say("Saving…");
      setTimeout(() => this.goOn());
    }
  }

  /** The page before may have sent it while it was left: look first, then save what is still missing. */
  async goOn() {
    try {
      this.join(await ask("GET", this.address), this.base);
    } catch (wrong) {
      this.retry(wrong);
      return;
    }
    if (this.dirty && !this.clashed) await this.save();
  }

  get address() {
    return `/api/jobs/${this.id}`;
  }

  /** Change one value, by its path. */
  set(path, value, said) {
    this.replace(
      withValue(this.document, path, value),
      said || path.filter((step) => typeof step === "string").join(" "),
    );
  }

  /** Change the whole document. */
  replace(document, said) {
    this.document = document;
    this.dirty = said;
    this.draft.put({ base: this.base, document, said });
    if (!this.failed) this.say("Saving…");
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.save(), WAIT);
    this.dispatchEvent(new Event("change"));
  }

  /** Save what is not saved yet; one save at a time, the newest last. */
  async save() {
    clearTimeout(this.timer);
    if (this.saving) {
      await this.saving;
      if (!this.dirty || this.clashed) return;
    }
    if (!this.dirty || this.clashed) return;
    this.saving = this.send();
    try {
      await this.saving;
    } finally {
      this.saving = null;
    }
    if (this.dirty && !this.clashed && !this.failed) await this.save();
  }

  async send() {
    const said = this.dirty,
      sent = this.document;
    this.dirty = null;
    try {
      const kept = await ask("PUT", this.address, { revision: this.revision, document: sent, said });
      this.revision = kept.revision;
      this.base = kept.document;
      this.canUndo = kept.can_undo;
      this.canRedo = kept.can_redo;
      this.buttons();
      if (this.dirty) this.draft.put({ base: this.base, document: this.document, said: this.dirty });
      else this.draft.clear();
      this.answered(this.dirty ? "Saving…" : "Saved");
      this.dispatchEvent(new Event("saved"));
    } catch (wrong) {
      this.dirty = this.dirty || said;
      if (wrong instanceof Refused && wrong.status === 409) this.join(wrong.current, this.base);
      else this.retry(wrong);
    }
  }

  /** The server has answered: where it had not before, that is said, and what waited for it goes on. */
  answered(words) {
    const back = this.failed;
    this.failed = false;
    this.say(back ? "The server answers again: saved" : words);
    if (back) this.dispatchEvent(new Event("back"));
  }

  /** The server does not answer: said in this one place; the draft keeps what is typed, and it is sent later. */
  retry(wrong) {
    this.failed = !(wrong instanceof Refused);
    this.say(
      wrong instanceof Refused
        ? `Not saved: ${wrong.message}`
        : "The server does not answer. What you type is kept here and sent when it does.",
      true,
    );
    clearTimeout(this.timer);
    this.timer = setTimeout(() => (this.dirty ? this.save() : this.look()), AGAIN);
  }

  /** Look whether the server answers, where there is nothing to save. */
  async look() {
    try {
      await ask("GET", this.address);
      this.answered("Saved");
    } catch (wrong) {
      this.retry(wrong);
    }
  }

  lastSave() {
    if (!this.dirty || this.clashed) return;
    const body = { revision: this.revision, document: this.document, said: this.dirty };
    ask("PUT", this.address, body, { keepalive: true }).catch(() => {});
  }

  /** Another window was faster: both changes are put together; where both changed one field, the person is asked. */
  join(current, base) {
    const mine = this.document,
      said = this.dirty,
      { document, both } = merged(base, mine, current.document);
    this.revision = current.revision;
    this.base = current.document;
    if (both.length) {
      this.clash(current.document, document, both);
      return;
    }
    this.document = document;
    this.dirty = same(document, current.document) ? null : said || "changed";
    if (this.dirty) this.draft.put({ base: this.base, document, said: this.dirty });
    else {
      this.draft.clear();
      this.say("Saved");
    }
    if (!same(document, mine)) this.dispatchEvent(new Event("replaced"));
  }

  clash(theirs, mine, both) {
    this.clashed = true;
    this.document = mine;
    this.say("Not saved", true);
    const bar = $("clash"),
      names = both.map(
        (path) =>
          `${nameOf(path)}: ${shown(at(mine, path)) || "empty"} here, ${shown(at(theirs, path)) || "empty"} there`,
      );
    const settle = (document) => h("button", { type: "button", onclick: () => this.settle(document) });
    const [keep, show] = [settle(mine), settle(taking(mine, both, theirs))];
    keep.textContent = "Keep mine";
    show.textContent = "Show the other";
    bar.replaceChildren(
      h(
        "p",
        {},
        `Changed in another window too. ${names.join("; ")}. Which one shall stand? Both stay in the history.`,
      ),
      keep,
      show,
    );
    bar.hidden = false;
  }

  /** Mine is saved in any case, so that it is in the history; then what was chosen. */
  async settle(document) {
    $("clash").hidden = true;
    this.clashed = false;
    const chosen = !same(document, this.document),
      said = this.dirty || "changed";
    this.replace(this.document, said);
    await this.save();
    if (!chosen || this.clashed) return;
    this.replace(document, "the figures of the other window");
    await this.save();
    this.dispatchEvent(new Event("replaced"));
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
      if (wrong instanceof Refused && wrong.status === 409) {
        this.take(wrong.current);
        this.dispatchEvent(new Event("replaced"));
        this.say("Changed in another window: shown as it stands");
      } else this.say(`Not done: ${wrong.message}`, true);
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

/** What a field is called on the page, or its path. */
function nameOf(path) {
  const field = document.querySelector(`[data-path="${path.join(".")}"]`);
  return field?.labels?.[0]?.textContent.trim() || field?.getAttribute("aria-label") || path.join(" ");
}

/**
 * The buttons of the sheet's head, and what the keyboard does on every page.
 * @param {object} kept
 */
export function bindSheet(kept) {
  const typing = keepTyping(kept.id);
  setTimeout(typing, 400); // once the fields are there
  $("title").addEventListener("input", (event) => {
    event.target.size = Math.min(60, Math.max(12, event.target.value.length));
  });
  $("undo").addEventListener("click", () => kept.walk("undo"));
  $("redo").addEventListener("click", () => kept.walk("redo"));
  document.addEventListener("keydown", (event) => {
    const inText = event.target.matches?.("input:not([type=range]), textarea, select");
    if (!(event.ctrlKey || event.metaKey) || inText) return;
    const key = event.key.toLowerCase();
    if (key === "z" || key === "y") {
      event.preventDefault();
      kept.walk(key === "y" || event.shiftKey ? "redo" : "undo");
    }
  });
  document.addEventListener("click", async (event) => {
    const link = event.target.closest?.("a[href^='/']");
    if (
      !link ||
      link.hasAttribute("data-file") ||
      event.ctrlKey ||
      event.metaKey ||
      event.shiftKey ||
      !(kept.dirty || kept.saving)
    )
      return;
    event.preventDefault(); // the next page shall find what was typed on this one
    await kept.save();
    if (!kept.clashed && !kept.failed) location.href = link.href;
  });
  $("history").addEventListener("click", () => showHistory(kept));
  for (const dialog of document.querySelectorAll("dialog"))
    dialog.querySelector(".close")?.addEventListener("click", () => dialog.close());
}

async function showHistory(kept) {
  await kept.save();
  const { items } = await ask("GET", `${kept.address}/history`);
  $("history-list").replaceChildren(
    ...items.map((item) =>
      h(
        "li",
        {},
        h("span", {}, `${item.n}. ${item.said}`),
        h("time", { datetime: item.made }, new Date(item.made).toLocaleString()),
        item.shown
          ? h("strong", {}, "shown now")
          : h(
              "button",
              {
                type: "button",
                onclick: async () => {
                  await kept.restore(item.n);
                  $("history-dialog").close();
                },
              },
              "Show this one",
            ),
      ),
    ),
  );
  $("history-dialog").showModal();
}
