// A number pad of the page's own: no keyboard comes unasked. It is filled in with the target; the first key writes
// anew.

const KEYS = ["7", "8", "9", "⌫", "4", "5", "6", "−", "1", "2", "3", ".", "0"];
const NAMES = { "⌫": "delete", "−": "minus", ".": "point" };

/**
 * @param {string} start
 * @param {(text: string) => void} changed
 */
export function padOf(start, changed) {
  let text = start;
  let fresh = true;
  const press = (key) => {
    if (key === "⌫") text = text.slice(0, -1);
    else if (key === "−") text = text.startsWith("-") ? text.slice(1) : `-${text}`;
    else if (key === ".") text = fresh ? "0." : text.includes(".") ? text : `${text || "0"}.`;
    else text = fresh ? key : `${text}${key}`.slice(0, 12);
    fresh = false;
    changed(text);
  };
  const box = document.createElement("div");
  box.className = "pad";
  for (const key of KEYS) {
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = key;
    button.setAttribute("aria-label", NAMES[key] ?? key);
    if (key === "0") button.className = "wide";
    button.addEventListener("click", () => {
      press(key);
      button.blur();
    });
    box.append(button);
  }
  return {
    box,
    value: () => (/^-?\d*\.?\d+$|^-?\d+\.$/.test(text) ? Number(text) : null),
    /** A key of a real keyboard; whether it was one of the pad's. @param {string} key */
    typed(key) {
      const meant = { Backspace: "⌫", "-": "−", ",": "." }[key] ?? key;
      if (!KEYS.includes(meant)) return false;
      press(meant);
      return true;
    },
  };
}
