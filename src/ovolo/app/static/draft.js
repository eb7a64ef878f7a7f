// What was changed but not saved yet, and the text being typed: kept in this browser, so that a reload loses neither.

/** Storage that may be forbidden: then nothing is remembered, and nothing breaks. */
function storage(which, work) {
  try {
    return work(which === "here" ? sessionStorage : localStorage);
  } catch {
    return null;
  }
}

const read = (which, key) => storage(which, (kept) => JSON.parse(kept.getItem(key)));
const write = (which, key, value) =>
  storage(which, (kept) => (value === null ? kept.removeItem(key) : kept.setItem(key, JSON.stringify(value))));

/** A change that is on its way: the document it was made to, the document it makes, what was done, in words. */
export class Draft {
  constructor(id) {
    this.key = `ovolo-draft-${id}`;
  }
  get() {
    return read("here", this.key) || read("anywhere", this.key);
  }
  /** In this window for its own reload; anywhere too, in case the window itself is closed before it is saved. */
  put(draft) {
    for (const which of ["here", "anywhere"]) write(which, this.key, draft);
  }
  clear() {
    this.put(null);
  }
}

/**
 * Keep the text being typed in any field of the page through a reload, by the field's own name.
 * @param {string} id
 */
export function keepTyping(id) {
  const key = `ovolo-typing-${id}-${location.pathname}`;
  const nameOf = (field) => field.dataset?.path || field.closest?.("[data-key]")?.dataset.key || "";
  const find = (name) =>
    [...document.querySelectorAll("input[data-path]")].find((field) => field.dataset.path === name) ||
    document.querySelector(`[data-key="${CSS.escape(name)}"] input`);
  document.addEventListener("input", (event) => {
    const name = event.target.matches?.("input:not([type=range])") && nameOf(event.target);
    if (name) write("here", key, { name, text: event.target.value, from: event.target.selectionStart });
  });
  document.addEventListener("change", () => write("here", key, null));
  document.addEventListener("focusout", () => write("here", key, null));
  const typing = read("here", key);
  return () => {
    const field = typing && find(typing.name);
    if (!field) return;
    field.focus();
    field.value = typing.text;
    if (typing.from !== null) field.setSelectionRange(typing.from, typing.from);
    write("here", key, typing);
  };
}
