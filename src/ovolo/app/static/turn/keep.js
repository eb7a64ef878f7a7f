// What a device keeps: ticks and small marks, in IndexedDB; in memory alone where a browser has none to give.

const NAME = "ovolo-turn";

/** @returns {Promise<IDBDatabase | null>} */
function opened() {
  return new Promise((resolve) => {
    let request;
    try {
      request = indexedDB.open(NAME, 1);
    } catch {
      resolve(null);
      return;
    }
    request.onupgradeneeded = () => {
      request.result.createObjectStore("ticks", { keyPath: ["run", "key"] });
      request.result.createObjectStore("marks");
    };
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => resolve(null);
    request.onblocked = () => resolve(null);
  });
}

/** A device's own store for one run. @param {string} run */
export async function keeping(run) {
  const base = await opened();
  const asked = (store, mode, work) =>
    new Promise((resolve, reject) => {
      let deal;
      try {
        deal = base.transaction(store, mode, { durability: "strict" });
      } catch (wrong) {
        reject(wrong);
        return;
      }
      const request = work(deal.objectStore(store));
      deal.oncomplete = () => resolve(request?.result);
      deal.onerror = deal.onabort = () => reject(deal.error);
    });
  return {
    lasting: base !== null,
    /** @returns {Promise<{tick: any, sent: boolean, n: number}[]>} */
    async ticks() {
      if (!base) return [];
      const range = IDBKeyRange.bound([run], [run, []]);
      const rows = await asked("ticks", "readonly", (store) => store.getAll(range));
      return rows.sort((a, b) => a.n - b.n);
    },
    put(rows) {
      if (!base || !rows.length) return Promise.resolve();
      return asked("ticks", "readwrite", (store) =>
        rows.map((row) => store.put({ run, key: row.tick.key, ...row })).at(-1),
      );
    },
    mark(name) {
      return base
        ? asked("marks", "readonly", (store) => store.get(name)).catch(() => undefined)
        : Promise.resolve(undefined);
    },
    setMark(name, value) {
      return base
        ? asked("marks", "readwrite", (store) => store.put(value, name)).catch(() => undefined)
        : Promise.resolve();
    },
  };
}
