// The plan in hand in the browser's small storage: written at every key, read before anything is painted, and the only
// place that earlier versions know. A small wrapper, because a browser may forbid, fill or lose its storage at any
// time.

import { checkSum } from "./linking.js";

const KEY = "raftwright.plan";
const SHOWN = "raftwright.shown";
const TAB = "raftwright.tab";
const LARGEST = 200_000;

/** Whether the kept text must not be written over since it could be set aside nowhere. */
let guarded = false;

/**
 * The saved plan and the version it was saved in; an empty one of version 0 when there is none that can be read. Where
 * something stands there that cannot be read, `unread` is its text. `foreign` is true when it was not written here, or
 * by an earlier version of the page.
 */
export function load() {
  const none = { plan: {}, version: 0, unread: "", lost: [], foreign: false };
  let text;
  try {
    text = localStorage.getItem(KEY);
  } catch {
    return none;
  }
  if (!text) return none;
  const foreign = shown().mark !== checkSum(text);
  try {
    if (text.length > LARGEST) throw new Error("larger than any plan");
    const kept = JSON.parse(text);
    if (!kept || !kept.plan || typeof kept.plan !== "object") throw new Error("no plan");
    const plan = {};
    const lost = [];
    for (const [key, value] of Object.entries(kept.plan)) {
      if (typeof value === "string") plan[key] = value;
      else lost.push(key);
    }
    // The first version did not always say so.
    const version = Number.isInteger(kept.version) && kept.version > 0 ? kept.version : 1;
    return { plan, version, lost, unread: lost.length > 0 ? text : "", foreign };
  } catch {
    setAside("unread");
    return { ...none, unread: text, foreign };
  }
}

/** Whether the browser lets the page see none of it. */
export function forbidden() {
  try {
    localStorage.getItem(KEY);
    return false;
  } catch {
    return true;
  }
}

/** Keep the saved plan as it stands beside what will be saved from here on: it may still be needed. */
export function setAside(name) {
  try {
    localStorage.setItem(`${KEY}.${name}`, localStorage.getItem(KEY));
  } catch {
    guarded = true;
  }
}

/** What was set aside is kept elsewhere now. */
export function release() {
  guarded = false;
}

/** Which kept plan the saved one is: {id, name, stamp, sent, changed, mark}. */
export function shown() {
  try {
    const found = JSON.parse(localStorage.getItem(SHOWN) || "{}");
    return found && typeof found === "object" ? found : {};
  } catch {
    return {};
  }
}

/** The kept plan that this tab showed last; "" where it showed none. */
export function shownHere() {
  try {
    return sessionStorage.getItem(TAB) || "";
  } catch {
    return "";
  }
}

/** Save, as the kept plan `which` ({id, name, stamp, sent}); returns "" or a sentence on why it could not be. */
export function save(plan, version, which) {
  try {
    if (which.id) sessionStorage.setItem(TAB, which.id);
    else sessionStorage.removeItem(TAB);
  } catch {
    // A tab that forgets what it showed shows what was saved last.
  }
  if (guarded) {
    return "What this browser kept before cannot be read and has no room elsewhere, so it is left as it is; "
      + "use Save as a file.";
  }
  try {
    if (Object.keys(plan).length === 0) {
      localStorage.removeItem(KEY);
      localStorage.removeItem(SHOWN);
    } else {
      const text = JSON.stringify({ version, plan });
      localStorage.setItem(KEY, text);
      localStorage.setItem(SHOWN, JSON.stringify({ ...which, changed: Date.now(), mark: checkSum(text) }));
    }
    return "";
  } catch (error) {
    const full = error && error.name === "QuotaExceededError";
    return full
      ? "This browser's storage is full, so the plan is not saved on this machine; use Copy link or Save as a file."
      : "This browser does not let the page save on this machine; use Copy link or Save as a file.";
  }
}

const HOSTED = "raftwright.hosted";

/** The address of a copy on the web that links made from a disk should open on; "" when none was named. */
export function hosted() {
  try {
    return localStorage.getItem(HOSTED) || "";
  } catch {
    return "";
  }
}

/** Keep that address for the next time, where the browser allows. */
export function keepHosted(address) {
  try {
    localStorage.setItem(HOSTED, address.trim().slice(0, 500));
  } catch {
    // It has to be typed again next time; nothing else depends on it.
  }
}
