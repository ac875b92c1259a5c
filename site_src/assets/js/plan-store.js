// The plan as kept on this machine: a small wrapper, because a browser may forbid, fill or lose its storage at any
// time.

const KEY = "raftwright.plan";
const LARGEST = 200_000;

/** The saved plan and the version it was saved in; an empty one of version 0 when there is none that can be read. */
export function load() {
  const none = { plan: {}, version: 0 };
  try {
    const text = localStorage.getItem(KEY);
    if (!text || text.length > LARGEST) return none;
    const kept = JSON.parse(text);
    if (!kept || !kept.plan || typeof kept.plan !== "object") return none;
    const plan = {};
    for (const [key, value] of Object.entries(kept.plan)) if (typeof value === "string") plan[key] = value;
    // The first version did not always say so.
    return { plan, version: Number.isInteger(kept.version) && kept.version > 0 ? kept.version : 1 };
  } catch {
    return none;
  }
}

/** Keep the saved plan as it stands beside what will be saved from here on: a newer version may still need it. */
export function setAside(version) {
  try {
    localStorage.setItem(`${KEY}.${version}`, localStorage.getItem(KEY));
  } catch {
    // Where the browser forbids or has no room, the plan in hand is all there is.
  }
}

/** Save; returns "" or a sentence on why it could not be. */
export function save(plan, version) {
  try {
    if (Object.keys(plan).length === 0) localStorage.removeItem(KEY);
    else localStorage.setItem(KEY, JSON.stringify({ version, plan }));
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
