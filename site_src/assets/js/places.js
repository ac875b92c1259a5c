// Where this browser keeps things: its database, its small storage where that is forbidden, and the page's own memory
// where nothing may be stored. Whoever keeps plans, a log or clubs says here only what it is called.

/**
 * A database whose shelves hold records by their `id`. Gives a function that works on one of them: it resolves to what
 * `work(shelf, answer)` gave to `answer`, once all of it is on the disk.
 */
export function database(name, shelves) {
  function opened(version) {
    return new Promise((resolve, reject) => {
      const request = indexedDB.open(name, version);
      request.onupgradeneeded = ({ oldVersion }) => {
        if (oldVersion < 1) for (const one of shelves) request.result.createObjectStore(one, { keyPath: "id" });
      };
      request.onsuccess = () => {
        // Another tab with a newer page must not wait for this one.
        request.result.onversionchange = () => request.result.close();
        resolve(request.result);
      };
      request.onerror = () => reject(request.error);
      request.onblocked = () => reject(new Error("blocked"));
    });
  }

  return async (shelf, mode, work) => {
    const base = await opened(1).catch((error) => {
      // A newer version of the page has been here: its records are read and written as far as this one knows them.
      if (error && error.name === "VersionError") return opened();
      throw error;
    });
    try {
      return await new Promise((resolve, reject) => {
        let found;
        const transaction = base.transaction(shelf, mode, { durability: "strict" });
        work(transaction.objectStore(shelf), (value) => { found = value; });
        transaction.oncomplete = () => resolve(found);
        transaction.onerror = () => reject(transaction.error);
        transaction.onabort = () => reject(transaction.error || new Error("stopped"));
      });
    } finally {
      base.close();
    }
  };
}

/** A record of the small storage; undefined where there is none. One that cannot be read comes as its text. */
export function stored(name, id) {
  const text = localStorage.getItem(name);
  if (text === null) return undefined;
  try {
    const found = JSON.parse(text);
    if (found && typeof found === "object" && !Array.isArray(found)) return { ...found, id };
  } catch {
    // Its text is all there is.
  }
  return { id, unread: text };
}

/** Every record of the small storage whose name begins so, its `id` the rest of the name. */
export function storedUnder(beginning) {
  return Object.keys(localStorage).filter((name) => name.startsWith(beginning))
    .map((name) => stored(name, name.slice(beginning.length)));
}

// The three places offer the same: `all` records, `read` one, `change` one (put what `make` makes of it; nothing where
// it makes nothing; resolves to what was put) and `remove` one.

/** A shelf of a database as a place; `within` works on it. */
export function inDatabase(within, name) {
  return {
    all: () => within(name, "readonly", (shelf, answer) => {
      shelf.getAll().onsuccess = ({ target }) => answer(target.result);
    }),
    read: (id) => within(name, "readonly", (shelf, answer) => {
      shelf.get(id).onsuccess = ({ target }) => answer(target.result);
    }),
    // Looked at and written in one transaction, so that no other tab comes between.
    change: (id, make) => within(name, "readwrite", (shelf, answer) => {
      shelf.get(id).onsuccess = ({ target }) => {
        const made = make(target.result);
        if (made) shelf.put(made);
        answer(made);
      };
    }),
    remove: (id) => within(name, "readwrite", (shelf) => shelf.delete(id)),
  };
}

/** The small storage as a place, under names that begin so. What cannot be read is neither given nor written over. */
export function inSmall(beginning) {
  const read = (id) => {
    const text = localStorage.getItem(beginning + id);
    return text ? JSON.parse(text) : undefined;
  };
  return {
    all: async () => storedUnder(beginning),
    read: async (id) => read(id),
    async change(id, make) {
      const made = make(read(id));
      if (made) localStorage.setItem(beginning + id, JSON.stringify(made));
      return made;
    },
    remove: async (id) => localStorage.removeItem(beginning + id),
  };
}

/** The page's memory as a place: what is there is gone with the page. */
export function inMemory() {
  const kept = new Map();
  return {
    all: async () => [...kept.values()],
    read: async (id) => kept.get(id),
    async change(id, make) {
      const made = make(kept.get(id));
      if (made) kept.set(id, made);
      return made;
    },
    remove: async (id) => { kept.delete(id); },
  };
}

/** Places from the best to the worst, of which the last is the page's memory. */
export class Places {
  constructor(...places) {
    this.memory = places.pop();
    this.lasting = places;
    // The one that worked last.
    this.found = null;
  }

  /** Do one thing in the best place that works; a place that fails is not tried again for it. */
  async with(work) {
    for (const place of this.found ? [this.found] : this.lasting) {
      try {
        const answer = await work(place);
        this.found = place;
        return answer;
      } catch {
        // The next place may do; one that worked before may be full, or gone.
        if (this.found === place) this.found = null;
      }
    }
    this.found = null;
    return work(this.memory);
  }

  /** Whether what was done last outlives the page. */
  get lasts() {
    return this.found !== null;
  }
}
