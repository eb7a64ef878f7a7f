// Paper or dark, as the person or the system wants it; in force before anything is drawn.
(() => {
  const root = document.documentElement;
  const kept = () => {
    try {
      return localStorage.getItem("ovolo-look");
    } catch {
      return null;
    }
  };
  const dark = () => (kept() ? kept() === "dark" : matchMedia("(prefers-color-scheme: dark)").matches);
  const show = () => {
    root.dataset.look = dark() ? "dark" : "paper";
    for (const button of document.querySelectorAll("button.look")) button.textContent = dark() ? "Paper" : "Dark";
  };
  show();
  document.addEventListener("DOMContentLoaded", show);
  document.addEventListener("click", (event) => {
    if (!event.target.closest?.("button.look")) return;
    const next = dark() ? "paper" : "dark";
    try {
      localStorage.setItem("ovolo-look", next);
    } catch {
      root.dataset.look = next;
      return;
    }
    show();
  });
})();
