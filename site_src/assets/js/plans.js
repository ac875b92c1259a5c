// The plans kept on this machine: many, in the browser's database; where that is forbidden, in its small storage; where
// that is forbidden too, only as long as the page is open.

const DATABASE = "raftwright-plans";
const PLANS = "plans";
const ORIGINALS = "originals";
const SMALL = "raftwright.kept.";

/** A name for a plan, or for a state of one, that no other has. */
export function newName() {
  const bytes = crypto.getRandomValues(new Uint8Array(9));
  return [...bytes].map((byte) => byte.toString(36).padStart(2, "0")).join("");
}

function open() {
  return new Promise((resolve, reject) => {
    const request = indexedDB.open(DATABASE, 1);
    request.onupgradeneeded = () => {
      request.result.createObjectStore(PLANS, { keyPath: "id" });
      request.result.createObjectStore(ORIGINALS, { keyPath: "id" });
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

/** Work on one shelf; resolves to what `work` gave to `answer` once all of it is on the disk. */
async function onShelf(name, mode, work) {
  const database = await open();
  try {
    return await new Promise((resolve, reject) => {
      let found;
      const transaction = database.transaction(name, mode, { durability: "strict" });
      work(transaction.objectStore(name), (value) => { found = value; });
      transaction.oncomplete = () => resolve(found);
      transaction.onerror = () => reject(transaction.error);
      transaction.onabort = () => reject(transaction.error || new Error("stopped"));
    });
  } finally {
    database.close();
  }
}

// What is kept of a plan beside its answers: a page that writes the answers anew knows nothing of it.
const BESIDE = ["note", "from", "copyOf", "glance", "step"];

/** A record as it is put in the place of what stood there. */
function over(kept, record) {
  const beside = Object.fromEntries(BESIDE.filter((name) => kept && kept[name] !== undefined)
    .map((name) => [name, kept[name]]));
  return { ...beside, ...record };
}

/** Whether a kept plan is what a page that began from `base` may write over; null is no kept plan at all. */
function meets(kept, base) {
  return !kept || base === undefined || kept.stamp === base;
}

const large = {
  all: () => onShelf(PLANS, "readonly", (shelf, answer) => {
    shelf.getAll().onsuccess = ({ target }) => answer(target.result);
  }),
  read: (id) => onShelf(PLANS, "readonly", (shelf, answer) => {
    shelf.get(id).onsuccess = ({ target }) => answer(target.result);
  }),
  // Looked at and written in one transaction, so that no other tab comes between.
  write: (record, base) => onShelf(PLANS, "readwrite", (shelf, answer) => {
    shelf.get(record.id).onsuccess = ({ target }) => {
      if (meets(target.result, base)) shelf.put(over(target.result, record));
      else answer(target.result);
    };
  }),
  change: (id, make) => onShelf(PLANS, "readwrite", (shelf, answer) => {
    shelf.get(id).onsuccess = ({ target }) => {
      const made = make(target.result);
      if (made) shelf.put(made);
      answer(made);
    };
  }),
  remove: (id) => onShelf(PLANS, "readwrite", (shelf) => shelf.delete(id)),
  original: (one) => onShelf(ORIGINALS, "readwrite", (shelf) => shelf.put(one)),
  originals: () => onShelf(ORIGINALS, "readonly", (shelf, answer) => {
    shelf.getAll().onsuccess = ({ target }) => answer(target.result);
  }),
};

const ORIGINAL = "raftwright.original.";

/** Everything of the small storage under names that begin so; what cannot be read comes as its text. */
function storedUnder(beginning) {
  return Object.keys(localStorage).filter((key) => key.startsWith(beginning)).map((key) => {
    const id = key.slice(beginning.length);
    const text = localStorage.getItem(key);
    try {
      return { ...JSON.parse(text), id };
    } catch {
      return { id, unread: text };
    }
  });
}

function small(id) {
  const text = localStorage.getItem(SMALL + id);
  return text ? JSON.parse(text) : undefined;
}

const slight = {
  all: async () => storedUnder(SMALL),
  read: async (id) => small(id),
  async write(record, base) {
    const kept = small(record.id);
    if (!meets(kept, base)) return kept;
    localStorage.setItem(SMALL + record.id, JSON.stringify(over(kept, record)));
    return undefined;
  },
  async change(id, make) {
    const made = make(small(id));
    if (made) localStorage.setItem(SMALL + id, JSON.stringify(made));
    return made;
  },
  remove: async (id) => localStorage.removeItem(SMALL + id),
  original: async (one) => localStorage.setItem(ORIGINAL + one.id, JSON.stringify(one)),
  originals: async () => storedUnder(ORIGINAL),
};

/** Whether something kept is a plan that can be shown. */
export function isPlan(one) {
  return Boolean(one) && typeof one.id === "string" && Boolean(one.plan) && typeof one.plan === "object"
    && !Array.isArray(one.plan);
}

/** The kept plans as this browser allows them; `why` is "" or a sentence on what is worse than usual. */
class Shelf {
  constructor() {
    this.kind = null;
    this.memory = new Map();
  }

  /** Do one thing with the best place that works; a place that fails is not tried again. */
  async with(work, inMemory) {
    for (const kind of this.kind ? [this.kind] : [large, slight]) {
      try {
        const answer = await work(kind);
        this.kind = kind;
        return answer;
      } catch {
        // The next place may do; one that worked before may be full, or gone.
        if (this.kind === kind) this.kind = null;
      }
    }
    this.kind = null;
    return inMemory();
  }

  /** Whether plans outlive the page. */
  get lasts() {
    return this.kind !== null;
  }

  /** Every record as it stands there: plans, those deleted and set aside, and what can no longer be read. */
  everything() {
    return this.with((kind) => kind.all(), () => [...this.memory.values()]);
  }

  /** The plans. */
  async all() {
    return (await this.everything()).filter((one) => isPlan(one) && !one.deleted);
  }

  async read(id) {
    const found = await this.with((kind) => kind.read(id), () => this.memory.get(id));
    return isPlan(found) && !found.deleted ? found : undefined;
  }

  /**
   * Put what `make` makes of a record (undefined: none stands there) in its place; nothing where it makes nothing.
   * Resolves to what was put.
   */
  change(id, make) {
    return this.with((kind) => kind.change(id, make), () => {
      const made = make(this.memory.get(id));
      if (made) this.memory.set(id, made);
      return made;
    });
  }

  /**
   * Keep a plan. `base` is the stamp of the state it was made from (null: it is a new one; undefined: whatever is
   * there). Resolves to undefined, or to the plan that stands there in another state and was left alone.
   */
  write(record, base) {
    return this.with((kind) => kind.write(record, base), () => {
      this.memory.set(record.id, record);
    });
  }

  remove(id) {
    return this.with((kind) => kind.remove(id), () => this.memory.delete(id));
  }

  /** Keep the text of something that could not be read whole. */
  keepOriginal(one) {
    return this.with((kind) => kind.original(one), () => {});
  }

  /** The texts that could not be read whole. */
  originals() {
    return this.with((kind) => kind.originals(), () => []);
  }
}

export const shelf = new Shelf();
