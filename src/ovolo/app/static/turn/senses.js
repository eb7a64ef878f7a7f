// What is heard and what keeps the screen on: each only where the browser can.

let sound = null;

/** A short tone; lower for the saddle than for the cross slide. @param {number} pitch */
export function beep(pitch) {
  try {
    sound ??= new AudioContext();
    const tone = sound.createOscillator();
    const loud = sound.createGain();
    const now = sound.currentTime;
    tone.frequency.value = pitch;
    loud.gain.setValueAtTime(0.25, now);
    loud.gain.exponentialRampToValueAtTime(0.001, now + 0.18);
    tone.connect(loud).connect(sound.destination);
    tone.start(now);
    tone.stop(now + 0.2);
  } catch {
    /* no sound here: the change of tone confirms */
  }
}

export const canSpeak = () => "speechSynthesis" in window;

/** Say it, and nothing that was still being said. @param {string} words */
export function speak(words) {
  if (!canSpeak()) return;
  speechSynthesis.cancel();
  const said = new SpeechSynthesisUtterance(words);
  said.lang = "en";
  said.rate = 0.95;
  speechSynthesis.speak(said);
}

export const canStayOn = () => "wakeLock" in navigator && isSecureContext;

let lock = null;

/** Keep the screen on where the browser can. */
export async function stayOn() {
  if (!canStayOn() || document.visibilityState !== "visible" || (lock && !lock.released)) return;
  try {
    lock = await navigator.wakeLock.request("screen");
  } catch {
    lock = null;
  }
}
