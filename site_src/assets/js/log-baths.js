// Which baths there are on this machine, and which of them the pages of a running bath are about: a log belongs to a
// plan of the shelf, and a keeper may have more than one.

import * as store from "./plan-store.js";
import { isPlan, shelf } from "./plans.js";
import { setting } from "./log-store.js";

const TAB = "raftwright.run.bath";
const WITHOUT = "none";

/** No bath at all: readings may be kept before there is a plan. */
export const NONE = { id: "", name: "", plan: {}, version: 0, stamp: "", changed: 0, kept: false, deleted: false };

function bathOf(record) {
  const { id, plan, version, stamp, deleted } = record;
  return { id, plan, version, stamp, name: record.name || "", changed: record.changed || 0, kept: true,
    deleted: Boolean(deleted) };
}

/** The plans that a log may belong to; the one in hand as its last key left it. */
async function plansKept() {
  const found = (await shelf.everything()).filter(isPlan).map(bathOf);
  const hand = store.load();
  if (hand.version === 0) return found;
  const which = store.shown();
  const at = which.id ? found.findIndex((one) => one.id === which.id) : -1;
  if (at < 0) {
    found.push({ ...NONE, id: which.id || "", name: which.name || "", plan: hand.plan, version: hand.version,
      changed: which.changed || 0 });
  } else if (!hand.foreign && !found[at].deleted && (which.changed || 0) >= found[at].changed) {
    found[at] = { ...found[at], plan: hand.plan, version: hand.version };
  }
  return found;
}

/** All baths: plans, the last changed first, and those of the log whose plan is not on this machine. */
export async function bathsKept(entries) {
  const plans = await plansKept().catch(() => []);
  const used = new Set(entries.filter((one) => !one.invented && one.bath).map((one) => one.bath));
  const found = plans.filter((one) => !one.deleted || used.has(one.id))
    .sort((left, right) => right.changed - left.changed);
  const known = new Set(found.map((one) => one.id));
  return [...found, ...[...used].filter((id) => !known.has(id)).map((id) => ({ ...NONE, id }))];
}

/** The bath that an address asks for: #bath=ID; "" for none. */
export function askedFor(fragment) {
  const found = /^#bath=([a-z0-9-]{1,60})$/.exec(fragment);
  return found ? found[1] : "";
}

function ofTab() {
  try {
    return sessionStorage.getItem(TAB) || "";
  } catch {
    return "";
  }
}

/** Remember the choice: for this tab, and for the next one. */
export function remember(id) {
  setting.write("bath", id || WITHOUT);
  try {
    sessionStorage.setItem(TAB, id || WITHOUT);
  } catch {
    // A tab that forgets it takes what was chosen last.
  }
}

/** The bath to begin with: as asked or chosen, else that of the newest entry, else the plan in hand. */
export function firstBath(baths, entries, fragment) {
  const known = (id) => baths.find((one) => one.id === id);
  for (const wanted of [askedFor(fragment), ofTab(), setting.read("bath")]) {
    if (wanted && known(wanted)) return known(wanted);
    if (wanted === WITHOUT && baths.length > 1 && entries.some((one) => !one.invented && !one.bath)) return NONE;
  }
  const newest = entries.filter((one) => !one.invented).at(-1);
  const living = newest && newest.bath && known(newest.bath);
  if (living && living.version > 0 && !living.deleted) return living;
  const hand = [store.shownHere(), store.shown().id || ""].map(known).find((one) => one && one.version > 0);
  if (hand && !hand.deleted) return hand;
  return known("") || living || baths.find((one) => !one.deleted) || NONE;
}
