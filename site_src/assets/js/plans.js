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
      if (meets(target.result, base)) shelf.put(record);
      else answer(target.result);
    };
  }),
  remove: (id) => onShelf(PLANS, "readwrite", (shelf) => shelf.delete(id)),
  original: (one) => onShelf(ORIGINALS, "readwrite", (shelf) => shelf.put(one)),
};

function small(id) {
  const text = localStorage.getItem(SMALL + id);
  return text ? JSON.parse(text) : undefined;
}

const slight = {
  all: async () => Object.keys(localStorage).filter((key) => key.startsWith(SMALL))
    .map((key) => small(key.slice(SMALL.length))),
  read: async (id) => small(id),
  async write(record, base) {
    const kept = small(record.id);
    if (!meets(kept, base)) return kept;
    localStorage.setItem(SMALL + record.id, JSON.stringify(record));
    return undefined;
  },
  remove: async (id) => localStorage.removeItem(SMALL + id),
  original: async (one) => localStorage.setItem(`raftwright.original.${one.id}`, JSON.stringify(one)),
};

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

  all() {
    return this.with((kind) => kind.all(), () => [...this.memory.values()]);
  }

  read(id) {
    return this.with((kind) => kind.read(id), () => this.memory.get(id));
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
}

export const shelf = new Shelf();
