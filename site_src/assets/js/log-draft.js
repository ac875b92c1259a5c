// A reading half typed: written at every key, so that a closed tab loses nothing; each tab has a draft of its own, and
// one whose tab is gone is taken over by the next.

const DRAFT = "raftwright.draft.";
const TAB = "raftwright.draft-tab";

let mine = "";

function newTab() {
  return [...crypto.getRandomValues(new Uint8Array(6))].map((byte) => byte.toString(36)).join("");
}

/** Hold the name of this tab as long as it lives; false where another tab has it (this one was made as its copy). */
function hold(name) {
  return new Promise((resolve) => {
    if (!navigator.locks) return resolve(true);
    return navigator.locks.request(DRAFT + name, { ifAvailable: true }, (lock) => {
      resolve(lock !== null);
      return lock === null ? undefined : new Promise(() => {});
    }).catch(() => resolve(true));
  });
}

function read(name) {
  try {
    return JSON.parse(localStorage.getItem(DRAFT + name) || "null");
  } catch {
    return null;
  }
}

/** The draft of a tab that is there no more, the newest; it becomes this tab's. */
async function orphan() {
  let held = [];
  try {
    held = ((await navigator.locks.query()).held || []).map(({ name }) => name);
  } catch {
    // Who cannot know which tabs live takes the newest; an unfinished reading twice is better than none.
  }
  const names = Object.keys(localStorage).filter((key) => key.startsWith(DRAFT) && !held.includes(key))
    .map((key) => key.slice(DRAFT.length)).filter((name) => name !== mine && read(name));
  names.sort((a, b) => read(b).changed - read(a).changed);
  const found = names.length > 0 ? read(names[0]) : null;
  if (found) {
    save(found);
    localStorage.removeItem(DRAFT + names[0]);
  }
  return found;
}

/** The unfinished reading of this tab, or of one that is gone: {typed, units, editing}; null for none. */
export async function begin() {
  try {
    mine = sessionStorage.getItem(TAB) || newTab();
    if (!(await hold(mine))) {
      mine = newTab();
      await hold(mine);
    }
    sessionStorage.setItem(TAB, mine);
    return read(mine) || await orphan();
  } catch {
    return null;
  }
}

/** Write the draft; null ends it. */
export function save(draft) {
  try {
    if (draft) localStorage.setItem(DRAFT + mine, JSON.stringify({ ...draft, changed: Date.now() }));
    else localStorage.removeItem(DRAFT + mine);
  } catch {
    // What is typed stands in the form all the same.
  }
}
