// Clubs on this machine: in a database of their own beside that of the plans; where that is forbidden in the browser's
// small storage; where that is forbidden too, only as long as the page is open.

const DATABASE = "raftwright-clubs";
const CLUBS = "clubs";
const SMALL = "raftwright.club.";

function opened(version) {
  return new Promise((resolve, reject) => {
    const request = version ? indexedDB.open(DATABASE, version) : indexedDB.open(DATABASE);
    request.onupgradeneeded = ({ oldVersion }) => {
      if (oldVersion < 1) request.result.createObjectStore(CLUBS, { keyPath: "id" });
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

async function within(mode, work) {
  const database = await opened(1).catch((error) => {
    // A newer version of the page has been here: its clubs are read and written as far as this one knows them.
    if (error && error.name === "VersionError") return opened(0);
    throw error;
  });
  try {
    return await new Promise((resolve, reject) => {
      let found;
      const transaction = database.transaction(CLUBS, mode, { durability: "strict" });
      work(transaction.objectStore(CLUBS), (value) => { found = value; });
      transaction.oncomplete = () => resolve(found);
      transaction.onerror = () => reject(transaction.error);
      transaction.onabort = () => reject(transaction.error || new Error("stopped"));
    });
  } finally {
    database.close();
  }
}

const large = {
  all: () => within("readonly", (clubs, answer) => {
    clubs.getAll().onsuccess = ({ target }) => answer(target.result);
  }),
  // Looked at and written in one transaction, so that no other tab comes between.
  change: (id, make) => within("readwrite", (clubs, answer) => {
    clubs.get(id).onsuccess = ({ target }) => {
      const made = make(target.result);
      if (made) clubs.put(made);
      answer(made);
    };
  }),
};

const slight = {
  all: async () => Object.keys(localStorage).filter((key) => key.startsWith(SMALL)).map((key) => {
    const text = localStorage.getItem(key);
    try {
      return { ...JSON.parse(text), id: key.slice(SMALL.length) };
    } catch {
      return { id: key.slice(SMALL.length), unread: text };
    }
  }),
  async change(id, make) {
    const text = localStorage.getItem(SMALL + id);
    const made = make(text ? JSON.parse(text) : undefined);
    if (made) localStorage.setItem(SMALL + id, JSON.stringify(made));
    return made;
  },
};

/** Whether something kept is a club that can be shown. */
export function isClub(one) {
  return Boolean(one) && typeof one.id === "string" && Array.isArray(one.members) && Array.isArray(one.baths)
    && [...one.members, ...one.baths].every((row) => row && typeof row === "object");
}

const memory = new Map();
let kind = null;

/** Do one thing with the best place that works. */
async function anywhere(work, inMemory) {
  for (const place of kind ? [kind] : [large, slight]) {
    try {
      const answer = await work(place);
      kind = place;
      return answer;
    } catch {
      // The next place may do; one that worked before may be full, or gone.
      kind = null;
    }
  }
  return inMemory();
}

/** Whether clubs outlive the page. */
export function lasts() {
  return kind !== null;
}

/** Everything that stands there: clubs, those taken away, and what can no longer be read. */
export function everything() {
  return anywhere((place) => place.all(), () => [...memory.values()]);
}

/** Put what `make` makes of a club (undefined: none stands there) in its place; resolves to what was put. */
export function change(id, make) {
  return anywhere((place) => place.change(id, make), () => {
    const made = make(memory.get(id));
    if (made) memory.set(id, made);
    return made;
  });
}
