// What is half typed: written at every key, so that a closed tab loses nothing; each tab has a draft of its own, and
// one whose tab is gone is taken over by the next. It goes to the small storage, which is written before the key is
// painted, and into the database, since a browser that is killed may forget the last seconds of the small one.

import { drafts, log } from "./log-store.js";

const TAB = "raftwright.draft-tab";

function newTab() {
  return [...crypto.getRandomValues(new Uint8Array(6))].map((byte) => byte.toString(36)).join("");
}

/** Hold a name as long as this page lives; false where another tab has it (this one was made as its copy). */
function hold(name) {
  return new Promise((resolve) => {
    if (!navigator.locks) return resolve(true);
    return navigator.locks.request(name, { ifAvailable: true }, (lock) => {
      resolve(lock !== null);
      return lock === null ? undefined : new Promise(() => {});
    }).catch(() => resolve(true));
  });
}

function small(name) {
  try {
    return JSON.parse(localStorage.getItem(name) || "null");
  } catch {
    return null;
  }
}

export class Draft {
  /** `kind` says of what: "draft" of a reading in the log, "event" of an event, "today" of what is typed on Today. */
  constructor(kind = "draft") {
    this.before = `raftwright.${kind}.`;
    this.name = "";
    this.waiting = undefined;
    this.writing = false;
  }

  /** The unfinished one of this tab, or of one that is gone: {typed, units, ...}; null for none. */
  async begin() {
    try {
      let tab = sessionStorage.getItem(TAB) || newTab();
      // At once, so that the other drafts of this page take the same.
      sessionStorage.setItem(TAB, tab);
      if (!(await hold(this.before + tab))) {
        tab = newTab();
        await hold(this.before + tab);
      }
      sessionStorage.setItem(TAB, tab);
      this.name = this.before + tab;
      return await this.find();
    } catch {
      return null;
    }
  }

  /** The same, but for one whose entry is in the log: the browser may have been ended between the two writings. */
  async unkept() {
    const found = await this.begin();
    if (!found || !(await log.entries()).known.some(({ id }) => id === found.entry)) return found;
    this.save(null);
    return null;
  }

  /** What either storage has; of one name the later wording. */
  async all() {
    const found = new Map();
    const stored = Object.keys(localStorage).filter((key) => key.startsWith(this.before))
      .map((key) => ({ ...small(key), id: key }));
    for (const one of [...stored, ...await drafts.all(this.before).catch(() => [])]) {
      const other = found.get(one.id);
      if (one.typed && (!other || other.changed < one.changed)) found.set(one.id, one);
    }
    return [...found.values()];
  }

  async find() {
    const all = await this.all();
    const own = all.find(({ id }) => id === this.name);
    if (own) return own;
    let held = [];
    try {
      held = ((await navigator.locks.query()).held || []).map(({ name }) => name);
    } catch {
      // Who cannot know which tabs live takes the newest; an unfinished reading twice is better than none.
    }
    const gone = all.filter(({ id }) => !held.includes(id)).sort((a, b) => b.changed - a.changed);
    if (gone.length === 0) return null;
    this.save(gone[0]);
    localStorage.removeItem(gone[0].id);
    drafts.remove(gone[0].id).catch(() => {});
    return gone[0];
  }

  /** Write the draft; null ends it. */
  save(draft) {
    if (!this.name) return;
    const record = draft && { ...draft, id: this.name, changed: Date.now() };
    try {
      if (record) localStorage.setItem(this.name, JSON.stringify(record));
      else localStorage.removeItem(this.name);
    } catch {
      // The database may have room; and what is typed stands in the form all the same.
    }
    this.alsoInDatabase(record);
  }

  /** One writing at a time, and the last wording of those that came meanwhile. */
  async alsoInDatabase(record) {
    this.waiting = record;
    if (this.writing) return;
    this.writing = true;
    while (this.waiting !== undefined) {
      const next = this.waiting;
      this.waiting = undefined;
      await (next ? drafts.write(next) : drafts.remove(this.name)).catch(() => {});
    }
    this.writing = false;
  }
}
