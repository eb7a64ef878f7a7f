// Ticks go to the computer as soon as it can be reached, each as often as it takes; what came from other devices
// comes back.

const GIVE_UP = 1500;
const AGAIN = 1000;
const LOOK = 2000;
const LOST = 15000;

async function asked(method, address, body) {
  const stop = new AbortController();
  const late = setTimeout(() => stop.abort(), GIVE_UP);
  try {
    const headers = body ? { "content-type": "application/json" } : {};
    const answer = await fetch(address, {
      method,
      body: body && JSON.stringify(body),
      headers,
      signal: stop.signal,
      cache: "no-store",
    });
    return { status: answer.status, data: await answer.json() };
  } finally {
    clearTimeout(late);
  }
}

/**
 * @typedef {object} Held what is kept here, and what hears of it
 * @property {() => any[]} unsent
 * @property {(keys: string[]) => void} sent
 * @property {(ticks: any[], all: boolean) => void} came
 * @property {(reached: boolean, says: string) => void} state
 */

/**
 * Keeps a run's ticks and the computer's in step.
 * @param {string} run
 * @param {Held} held the ticks that are kept here
 */
export function sending(run, { unsent, sent, came, state }) {
  let known = 0;
  let first = true;
  let waiting = null;
  let busy = false;
  let again = false;

  async function once() {
    const all = first;
    const list = unsent().slice(0, 500);
    const address = `/api/runs/${run}`;
    const { status, data } =
      list.length && !first
        ? await asked("PUT", `${address}/ticks?since=${known}`, list)
        : await asked("GET", `${address}?since=${first ? 0 : known}`);
    if (status === 200) {
      if (list.length && !first) sent(list.map((tick) => tick.key));
      known = (first ? 0 : known) + data.ticks.length;
      first = false;
      came(data.ticks, all);
      state(true, "");
      return unsent().length ? 0 : LOOK;
    }
    first = true; // whatever is kept there is looked at anew
    if (status === 404) {
      state(false, "The computer does not know this run; it goes on here.");
      return LOST;
    }
    if (status === 401) {
      state(false, "The computer does not let this device in any more: scan the code there again. All is kept here.");
      return LOST;
    }
    if (status >= 400 && status < 500) {
      state(false, data.faults?.[0]?.says ?? "The computer refuses the ticks.");
      return LOST;
    }
    return AGAIN;
  }

  async function work() {
    if (busy) {
      again = true;
      return;
    }
    busy = true;
    clearTimeout(waiting);
    let wait = AGAIN;
    try {
      wait = await once();
    } catch {
      state(false, "");
    }
    busy = false;
    if (again) {
      again = false;
      wait = Math.min(wait, 50);
    }
    waiting = setTimeout(work, wait);
  }
  work();
  return work;
}
