// The log on this machine: readings and events in a database of their own; where that is forbidden, in the browser's
// small storage; where that is forbidden too, only as long as the page is open, and the page says so.

import { database, stored, storedUnder } from "./places.js";

const ENTRIES = "entries";
const KEPT = "kept";
const SMALL = "raftwright.log.";

/** The version of an entry, as calc/keeping/entries.py has it; newer ones are left as they are. */
export const VERSION = 1;

/** What turns an entry of a version into one of the next; an entry that says none is of the first. */
const MIGRATIONS = { 0: (entry) => ({ ...entry, version: 1 }) };

/** An entry of any earlier version as one of today's. */
export function migrated(entry) {
  let found = entry;
  for (let version = found.version || 0; version < VERSION; version = found.version) {
    found = MIGRATIONS[version](found);
  }
  return found;
}

function isNewer(entry) {
  return Number.isInteger(entry.version) && entry.version > VERSION;
}

/** Whether a record is an entry at all: a moment, and texts by name. */
function isEntry(entry) {
  const { at, typed } = entry;
  return typeof entry.id === "string" && typeof at === "string" && /^20\d\d-\d\d-\d\dT\d\d:\d\d$/.test(at)
    && !Number.isNaN(Date.parse(at)) && Boolean(typed) && typeof typed === "object" && !Array.isArray(typed)
    && Object.values(typed).every((text) => typeof text === "string");
}

const within = database("raftwright-log", [ENTRIES, KEPT]);

/** The later wording, which carries the earlier one: two windows may have changed the same entry. */
function over(kept, entry) {
  if (!kept || kept.changed === entry.changed || isNewer(kept)) return entry;
  const { before, ...wording } = kept;
  return { ...entry, before: [...(before || []), wording].slice(-20) };
}

const large = {
  all: (name) => within(name, "readonly", (shelf, answer) => {
    shelf.getAll().onsuccess = ({ target }) => answer(target.result);
  }),
  // Looked at and written in one transaction, so that no other tab comes between; all of it or nothing.
  put: (name, entries) => within(name, "readwrite", (shelf) => {
    for (const entry of entries) {
      shelf.get(entry.id).onsuccess = ({ target }) => {
        if (!target.result || !isNewer(target.result)) shelf.put(over(target.result, entry));
      };
    }
  }),
  remove: (name, ids) => within(name, "readwrite", (shelf) => {
    for (const id of ids) shelf.delete(id);
  }),
};

const slight = {
  all: async (name) => storedUnder(`${SMALL}${name}.`),
  async put(name, entries) {
    const done = [];
    try {
      for (const entry of entries) {
        const key = `${SMALL}${name}.${entry.id}`;
        const before = localStorage.getItem(key);
        const kept = stored(key, entry.id);
        if (kept && isNewer(kept)) continue;
        localStorage.setItem(key, JSON.stringify(over(kept, entry)));
        done.push([key, before]);
      }
    } catch (error) {
      for (const [key, before] of done) {
        if (before === null) localStorage.removeItem(key);
        else localStorage.setItem(key, before);
      }
      throw error;
    }
  },
  async remove(name, ids) {
    for (const id of ids) localStorage.removeItem(`${SMALL}${name}.${id}`);
  },
};

/** The kept log: what cannot be written is thrown back, so that it stays where it was typed. */
class Log {
  constructor() {
    this.memory = { [ENTRIES]: new Map(), [KEPT]: new Map() };
    this.lasts = true;
  }

  /** Everything kept under a name, wherever an earlier visit could put it. */
  async all(name) {
    const found = new Map();
    let places = 0;
    for (const kind of [slight, large]) {
      try {
        for (const one of await kind.all(name)) {
          const other = found.get(one.id);
          if (!other || String(other.changed || "") <= String(one.changed || "")) found.set(one.id, one);
        }
        places += 1;
      } catch {
        // The other place may have it.
      }
    }
    this.lasts = places > 0;
    for (const one of this.memory[name].values()) found.set(one.id, one);
    return [...found.values()];
  }

  /** The entries that this version knows, oldest first, those that a newer one wrote, and what is damaged. */
  async entries() {
    const all = await this.all(ENTRIES);
    const mine = all.filter((one) => !isNewer(one)).map(migrated);
    const known = mine.filter(isEntry);
    known.sort((a, b) => (a.at + a.id < b.at + b.id ? -1 : 1));
    return { known, newer: all.filter(isNewer), damaged: mine.filter((one) => !isEntry(one)) };
  }

  /** Keep entries; resolves when they are on the disk. Throws where the browser has no room. */
  async put(entries, name = ENTRIES) {
    let full = null;
    for (const kind of [large, slight]) {
      try {
        await kind.put(name, entries);
        this.lasts = true;
        return;
      } catch (error) {
        if (error && error.name === "QuotaExceededError") full = error;
      }
    }
    if (full) throw full;
    // Nothing may be stored here at all: for as long as the page is open.
    this.lasts = false;
    for (const one of entries) this.memory[name].set(one.id, over(this.memory[name].get(one.id), one));
  }

  async remove(ids, name = ENTRIES) {
    for (const id of ids) this.memory[name].delete(id);
    for (const kind of [large, slight]) await kind.remove(name, ids).catch(() => {});
  }

  /** What is kept beside the entries: the mappings of columns by name, and what was set aside. */
  async beside(id) {
    return (await this.all(KEPT)).find((one) => one.id === id && one.held && typeof one.held === "object");
  }

  keepBeside(record) {
    return this.put([record], KEPT);
  }
}

export const log = new Log();

/** Half-typed readings, in the database alone: each is written over at every key, without what it was before. */
export const drafts = {
  all: async (before) => (await large.all(KEPT)).filter(({ id }) => String(id).startsWith(before)),
  write: (draft) => within(KEPT, "readwrite", (shelf) => shelf.put(draft)),
  remove: (id) => within(KEPT, "readwrite", (shelf) => shelf.delete(id)),
};

/** Small settings of this machine, which may be forbidden or lost at any time. */
export const setting = {
  read(name) {
    try {
      return localStorage.getItem(`raftwright.run.${name}`) || "";
    } catch {
      return "";
    }
  },
  write(name, text) {
    try {
      if (text) localStorage.setItem(`raftwright.run.${name}`, text);
      else localStorage.removeItem(`raftwright.run.${name}`);
    } catch {
      // It is asked for again next time; nothing else hangs on it.
    }
  },
};
