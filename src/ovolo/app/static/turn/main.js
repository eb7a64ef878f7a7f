// The page at the lathe: one figure, one large Done; everything else stands out of the way.
import { plain } from "./figures.js";
import { answerOf, typedAs, typedStart } from "./past.js";
import { endOf } from "./parts.js";
import { ruleOf } from "./rule.js";
import { runOf } from "./run.js";
import { choice, h, padScreen, readScreen, stepScreen, stopScreen } from "./screens.js";
import { lostScreen, movedScreen } from "./trouble.js";
import { beep, canSpeak, canStayOn, speak, stayOn } from "./senses.js";
import { aimOf, capital, factsOf, minutesLeft, nextOf, otherOf, shiftOf, speechOf, stageOf } from "./words.js";

const $ = (id) => document.getElementById(id);
const TWICE = 300;
const LEAST = 96;

/** Start the page. @param {string} skeleton its body as it came, to be kept as one file */
export async function start(skeleton) {
  const facts = JSON.parse($("facts").textContent);
  facts.steps.forEach((step, index) => {
    step.index = index;
  });
  const brought = JSON.parse($("brought").textContent);
  const app = {
    facts,
    run: null,
    overlay: null,
    typed: new Map(),
    read: null,
    note: "",
    noted: null,
    toBeRead: false,
    rehearsing: 0,
    sound: true,
    speech: false,
    said: "",
    ready: false,
  };
  let last = -Infinity;
  let lastBack = -Infinity;
  let spoken = "";

  app.show = (screen) => {
    app.overlay = screen;
    render();
  };
  app.close = () => {
    app.overlay = null;
    render();
  };
  app.type = (step, what) => app.typed.set(step.index, { ...app.typed.get(step.index), ...what });
  app.typedOf = (step) => app.typed.get(step.index) ?? {};

  const run = await runOf(facts, brought, () => {
    if (app.ready) render();
  });
  app.run = run;
  const [quiet, speech, looks] = await Promise.all(["quiet", "speech", "look"].map(run.mark));
  if (quiet) app.sound = false;
  if (speech) app.speech = true;
  look(looks ?? (matchMedia("(prefers-color-scheme: dark)").matches ? "lamp" : "bright"));

  function look(name) {
    document.documentElement.dataset.look = name;
  }

  /** The move that shows: the next one, or that of a rehearsal. */
  const shownMove = () => app.rehearsing || run.place();

  /** The screen that is due. */
  function due() {
    if (app.overlay) return app.overlay;
    if (app.rehearsing) return app.rehearsing > facts.moves.length ? rehearsed() : null;
    const place = run.place();
    if (place > facts.moves.length) return endScreen();
    if (run.parked()) app.toBeRead = true;
    if (app.toBeRead) return readScreen(app, run.parked());
    const [step] = run.ahead(place);
    return step ? stepScreen(app, step) : null;
  }

  function rehearsed() {
    return {
      title: "Rehearsed",
      stopped: true,
      body: [h("p", { class: "lead" }, "That was the last move. Done ends the rehearsal.")],
      done: () => {
        app.rehearsing = 0;
      },
    };
  }

  const endScreen = () => endOf(app, told);

  function render() {
    const screen = due();
    const place = shownMove();
    const shown = Math.min(place, facts.moves.length);
    $("move").textContent = String(place);
    $("stage").textContent = place > facts.moves.length ? "Done" : stageOf(facts, place);
    $("left").textContent = place > facts.moves.length ? "" : minutesLeft(facts, place, run.pace());
    $("rule").innerHTML = ruleOf(place, facts.moves.length);
    $("rule").setAttribute("aria-label", `Move ${shown} of ${facts.moves.length}`);
    $("page").dataset.tone = String(place % 2);
    $("winding").hidden = Boolean(screen);
    $("ahead").hidden = !screen;
    $("figure").hidden = Boolean(screen);
    $("back").toggleAttribute("disabled", !app.rehearsing && !app.overlay && !backTo());
    $("past").toggleAttribute("disabled", Boolean(screen || app.rehearsing));
    $("stop").toggleAttribute("disabled", Boolean(app.overlay) || place > facts.moves.length);
    if (screen) renderScreen(screen);
    else renderMove(place);
    waiting();
  }

  function renderScreen(screen) {
    $("stopped").hidden = !screen.stopped;
    $("title").textContent = screen.title;
    $("body").replaceChildren(...screen.body.filter(Boolean));
    $("body").scrollTop = 0;
    $("page").classList.toggle("typing", Boolean(screen.key));
    moreBelow();
    say(screen.title, screen.title);
  }

  /** A dashed line where a text goes on below. */
  function moreBelow() {
    const body = $("body");
    body.classList.toggle("more-below", body.scrollTop + body.clientHeight < body.scrollHeight - 6);
  }

  function renderMove(place) {
    $("page").classList.remove("typing");
    const aim = aimOf(facts, run.live(), place, app.rehearsing ? facts.rehearsal : 0);
    const { move } = aim;
    $("drawn").innerHTML = move.drawn;
    $("slide").textContent = capital(aim.slide.name);
    $("slide").dataset.slide = move.slide;
    $("way").textContent =
      `${move.withdraw ? "withdraw: " : ""}${move.toward}${move.handwheel ? `, ${move.handwheel}` : ""}, to`;
    $("sign").textContent = aim.before;
    $("figure").textContent = aim.text;
    $("beside").textContent = aim.beside;
    $("facts-said").textContent = factsOf(aim);
    $("other").textContent = otherOf(facts, run.live(), place, app.rehearsing ? facts.rehearsal : 0);
    $("feed").textContent = move.feed ?? "";
    $("shift").textContent = app.rehearsing ? rehearsal() : shiftOf(aim);
    $("next").textContent = app.rehearsing
      ? "Back ends the rehearsal at its beginning"
      : nextOf(facts, run.live(), place, run.ahead(place + 1)[0]);
    fit();
    say(`move ${place}`, speechOf(aim));
  }

  const rehearsal = () =>
    `Rehearsal: spindle stopped, every figure of the cross slide ` +
    `${plain(facts.slides.cross, Math.abs(facts.rehearsal))} farther out; the readout stays as it is`;

  /** As large as there is room for, narrowed if it must be, never lower than 96 px. */
  function fit() {
    const figure = $("figure");
    figure.style.fontSize = "";
    figure.style.transform = "";
    const room = $("figure-line").clientWidth - $("sign").offsetWidth - ($("sign").textContent ? 10 : 0);
    const size = parseFloat(getComputedStyle(figure).fontSize);
    const wide = figure.scrollWidth;
    if (wide <= room) return;
    const smaller = Math.max(LEAST, Math.floor((size * room) / wide));
    figure.style.fontSize = `${smaller}px`;
    const left = (wide * smaller) / size;
    if (left > room) figure.style.transform = `scaleX(${(room / left).toFixed(3)})`;
  }

  function say(what, words) {
    if (what === spoken) return;
    spoken = what;
    if (app.speech) speak(words);
  }

  function waiting() {
    const many = run.unsent().length;
    const parts = [];
    if (!run.lasting) parts.push("This browser keeps nothing: leave the page open.");
    if (run.says) parts.push(run.says);
    if (run.send && many > 1 && !run.reached) parts.push(`${many} ticks kept here, not yet at the computer.`);
    if (!run.send) parts.push("Kept on this device only.");
    $("kept").textContent = parts.join(" ");
  }

  function told(words) {
    $("say").textContent = words;
    clearTimeout(app.toldFor);
    app.toldFor = setTimeout(() => {
      $("say").textContent = "";
    }, 2500);
  }

  /** Done, from a finger or a pedal: two at once are one. */
  function done(now) {
    if (!app.ready) return;
    if (now - last < TWICE) {
      told("Two taps at once: counted as one.");
      return;
    }
    last = now;
    const screen = due();
    if (screen) {
      const wrong = screen.done();
      if (wrong) told(wrong);
    } else if (app.rehearsing) {
      app.rehearsing += 1;
    } else {
      const place = run.place();
      run.tick({ move: place, stopped_at: null });
      if (app.sound) setTimeout(beep, 0, facts.moves[place - 1].slide === "cross" ? 880 : 587);
    }
    flash();
    stayOn();
    render();
  }

  function flash() {
    $("done").classList.add("pressed");
    setTimeout(() => $("done").classList.remove("pressed"), 160);
  }

  /** What Back would take back: a step ahead of this move, or the move before. */
  function backTo() {
    const place = run.place();
    const ahead = place <= facts.moves.length && run.ahead(place).length ? run.behind(place).at(-1) : null;
    if (ahead) return () => run.undid(ahead);
    return place > 1 ? () => run.undo(run.of(place - 1)) : null;
  }

  /** Back, once for two taps at once. */
  function back(now) {
    if (now - lastBack < TWICE) {
      told("Two taps at once: counted as one.");
      return;
    }
    lastBack = now;
    if (app.overlay) {
      app.overlay = null;
      render();
      return;
    }
    if (app.rehearsing) {
      app.rehearsing = app.rehearsing > run.place() ? app.rehearsing - 1 : 0;
      render();
      return;
    }
    const go = backTo();
    if (!go) return;
    go();
    last = -Infinity;
    render();
  }

  function past() {
    const place = run.place();
    const aim = aimOf(facts, run.live(), place);
    const { slide } = aim;
    const entered = slide.dial
      ? { ...slide, diameter: false, decimals: Number.isInteger(Number(aim.text)) ? 0 : 1 }
      : slide;
    app.show(
      padScreen({
        title: "I went past",
        says: slide.dial ? `At which division did the ${slide.name} stop?` : `Where did the ${slide.name} stop?`,
        slide: entered,
        start: typedStart(slide, aim),
        done: (value) => app.show(answered(place, aim, typedAs(slide, aim, value))),
      }),
    );
  }

  /** What has become of it; Done ticks the move with where it stopped, and the slide is back at its figure then. */
  function answered(place, aim, stopped) {
    const found = answerOf(facts, aim, stopped);
    const same = Math.abs(stopped - aim.to) < aim.slide.count / 2;
    const ticked = (back) => {
      run.tick({ move: place, ...(same ? { stopped_at: null } : { stopped_at: stopped, ...(back ? { back } : {}) }) });
      app.overlay = null;
    };
    const further = () => {
      ticked(false);
      render();
    };
    return {
      title: "I went past",
      stopped: true,
      body: [
        h("p", { class: found.harm ? "lead caution" : "lead" }, found.what),
        h("p", { class: "lead" }, found.now),
        found.on
          ? choice(h("span", {}, "Take the next setting from here ", h("small", {}, found.on)), further)
          : null,
        found.not ? h("p", {}, found.not) : null,
      ],
      done: () => {
        ticked(true);
        if (found.lost && run.place() <= facts.moves.length) app.show(lostScreen(app));
      },
      cancel: true,
    };
  }

  function stop() {
    app.note = "";
    app.noted = null;
    app.show(stopScreen(app));
  }

  function more() {
    const lamp = document.documentElement.dataset.look === "lamp";
    const underWay = run.place() <= facts.moves.length;
    const set = (name, value) => {
      app[name] = value;
      run.setMark(name === "sound" ? "quiet" : name, name === "sound" ? !value : value);
      more();
    };
    app.show({
      title: "More",
      stopped: true,
      body: [
        h(
          "div",
          { class: "choices" },
          choice(lamp ? "Bright" : "Lamplight", () => {
            look(lamp ? "bright" : "lamp");
            run.setMark("look", lamp ? "bright" : "lamp");
            more();
          }),
          choice(app.sound ? "Sound off" : "Sound on", () => set("sound", !app.sound)),
          canSpeak()
            ? choice(app.speech ? "Stop reading out" : "Read figures out", () => {
                set("speech", !app.speech);
                spoken = "";
              })
            : null,
          choice("Keep as one file", save),
          underWay ? choice("Something moved", () => app.show(movedScreen(app))) : null,
          underWay ? choice("I am lost", () => app.show(lostScreen(app))) : null,
          facts.rehearsal && run.place() <= facts.moves.length ? choice("Rehearse", rehearse) : null,
        ),
        h(
          "p",
          {},
          canStayOn()
            ? "The screen stays on."
            : "This browser cannot keep the screen on: set the phone's screen to stay on while it is at the lathe.",
        ),
        h("p", {}, "A foot pedal that types Space, Enter or a page key is Done. Put it away from the lathe's own."),
        h("p", {}, `Plan ${facts.checksum}, run ${facts.run}.`),
      ],
      done: () => {
        app.overlay = null;
      },
    });
  }

  /** The same moves with the cross slide farther out, nothing ticked. */
  function rehearse() {
    app.overlay = null;
    app.rehearsing = run.place();
    render();
  }

  function save() {
    const ticks = JSON.stringify(run.all()).replaceAll("&", "\\u0026").replaceAll("<", "\\u003c");
    const parts = [
      document.head.outerHTML,
      "<body>",
      document.querySelector("svg.away").outerHTML,
      skeleton,
      $("facts").outerHTML,
      `<pre id="brought" hidden>${ticks}</pre>`,
      $("script").outerHTML,
      "</body></html>",
    ];
    const text = `<!doctype html><html lang="en" data-look="bright">${parts.join("")}`;
    const link = h("a", {
      href: URL.createObjectURL(new Blob([text], { type: "text/html" })),
      download: `turn-${facts.checksum}.html`,
    });
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 10000);
  }

  $("body").addEventListener("scroll", moreBelow);
  const tapped = (id, work) =>
    $(id).addEventListener("click", (event) => {
      event.currentTarget.blur();
      work(event.timeStamp);
    });
  tapped("done", done);
  tapped("back", back);
  tapped("past", past);
  tapped("stop", stop);
  tapped("more", () => (app.overlay ? app.close() : more()));
  let byTab = false;
  addEventListener(
    "pointerdown",
    () => {
      byTab = false;
    },
    true,
  );
  addEventListener(
    "keyup",
    (event) => {
      if (event.key === " " && !chosen(event)) event.preventDefault();
    },
    true,
  );
  addEventListener(
    "keydown",
    (event) => {
      if (event.ctrlKey || event.metaKey || event.altKey) return;
      if (event.key === "Tab") {
        byTab = true;
        return;
      }
      if (event.target instanceof HTMLTextAreaElement) return;
      if (["Enter", " ", "PageDown", "PageUp"].includes(event.key)) {
        if (chosen(event)) return;
        event.preventDefault();
        if (event.repeat) {
          told("Held down: counted as one.");
          return;
        }
        done(event.timeStamp);
        return;
      }
      if (app.overlay?.key?.(event.key)) event.preventDefault();
    },
    true,
  );

  /** Whether a person who goes by Tab has chosen another button: then Space and Enter are for that one. */
  function chosen(event) {
    const on = document.activeElement;
    return byTab && on instanceof HTMLButtonElement && on.id !== "done" && !event.key.startsWith("Page");
  }

  addEventListener("resize", () => {
    if (!$("figure").hidden) fit();
  });
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState !== "visible") return;
    stayOn();
    run.send?.();
    if (app.ready && !app.overlay && run.toBeRead()) {
      app.toBeRead = true;
      render();
    }
  });

  /**
   * Shown at once where this device knows the run; else when the computer has said what was done, or soon in any
   * case.
   */
  const begin = () => {
    if (app.ready) return;
    app.ready = true;
    app.toBeRead = run.toBeRead();
    stayOn();
    render();
    performance.mark("ready");
  };
  run.look = begin;
  if (run.live().length || !run.send) begin();
  else setTimeout(begin, 500);
}
