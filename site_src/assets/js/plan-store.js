// The plan as kept on this machine: a small wrapper, because a browser may forbid, fill or lose its storage at any time.

const KEY = "raftwright.plan";
const LARGEST = 200_000;

/** The saved plan, {} when there is none or it cannot be read. */
export function load() {
  try {
    const text = localStorage.getItem(KEY);
    if (!text || text.length > LARGEST) return {};
    const kept = JSON.parse(text);
    const plan = {};
    if (kept && kept.version === 1 && kept.plan && typeof kept.plan === "object") {
      for (const [key, value] of Object.entries(kept.plan)) if (typeof value === "string") plan[key] = value;
    }
    return plan;
  } catch {
    return {};
  }
}

/** Save; returns "" or a sentence on why it could not be. */
export function save(plan) {
  try {
    if (Object.keys(plan).length === 0) localStorage.removeItem(KEY);
    else localStorage.setItem(KEY, JSON.stringify({ version: 1, plan }));
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
