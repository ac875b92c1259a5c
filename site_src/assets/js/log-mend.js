// What the log says of the plan: a change of the plan of this bath, made only when the reader says so, and taken back
// when they say so. It is an ordinary edit of a plan of the shelf, which an open planner hears of.

import * as store from "./plan-store.js";
import { bathLog } from "./log-bath.js";
import { defaults } from "./source.js";
import { newName, shelf } from "./plans.js";
import { state } from "./log-telling.js";
import { say } from "./telling.js";
import { tellTabs } from "./tabs.js";

/** Whether there is a plan that a change could be put into. */
export function canMend() {
  const { bath, invented } = bathLog;
  return !invented && bath.version > 0 && !bath.deleted;
}

/** The answers to change: as the last key of an open planner left them, where that is newer than the shelf. */
async function standing(version) {
  const { bath } = bathLog;
  const record = bath.id ? await shelf.read(bath.id) : undefined;
  const which = store.shown();
  const hand = store.load();
  const inHand = hand.version > 0 && !hand.foreign && (which.id || "") === bath.id
    && (!record || (which.changed || 0) >= record.changed);
  const found = inHand ? hand : record;
  if (!found) throw new Error("The plan of this bath is not on the shelf any more.");
  const plan = found.version === version ? found.plan
    : (await bathLog.raw({ op: "plan_read", plan: found.plan, version: found.version })).plan;
  return { plan, record };
}

/** Put answers into the plan of this bath, undefined for one that goes; resolves to what they were before. */
async function put(changes) {
  const { bath } = bathLog;
  const { version } = await defaults();
  const { plan, record } = await standing(version);
  const before = Object.fromEntries(Object.keys(changes).map((key) => [key, plan[key]]));
  const next = Object.fromEntries(Object.entries({ ...plan, ...changes }).filter(([, text]) => text !== undefined));
  const made = { id: bath.id || newName(), name: bath.name, plan: next, version, changed: Date.now(),
    stamp: newName() };
  const rival = await shelf.write(made, record ? record.stamp : null);
  if (rival) throw new Error("The plan was changed in another window at the same moment; try again.");
  if ((store.shown().id || "") === bath.id) store.save(next, version, { ...made, sent: [made.stamp] });
  tellTabs(made.id, made.stamp);
  bathLog.replan({ ...bath, ...made, kept: true });
  return before;
}

async function undo(changes, before) {
  const { plan } = await standing((await defaults()).version);
  // What was changed otherwise since then stays.
  const back = Object.fromEntries(Object.entries(before).filter(([key]) => plan[key] === changes[key]));
  await put(back);
  say("The plan is as it was.");
}

/** Change the plan as a finding offers, and offer to undo it. */
export async function mend({ act, consequence, changes }) {
  const before = await put(changes);
  state("mended", "fits", "The plan is changed:", `${consequence}. Everything that hangs on it is worked out anew.`, [
    ["Undo", () => undo(changes, before).catch((error) => say(error.message)), true], ["Close", () => {}]]);
  document.querySelector("[data-state-of=mended] button").focus();
  return act;
}

/** A finding as a line, with a button where the plan could say it too. */
export function line(finding) {
  const made = document.createElement("li");
  made.dataset.finding = finding.code;
  made.textContent = finding.text;
  if (!canMend() || Object.keys(finding.changes).length === 0) return made;
  const row = document.createElement("p");
  row.className = "mend";
  const button = document.createElement("button");
  button.type = "button";
  button.dataset.mend = finding.code;
  button.textContent = finding.act;
  button.addEventListener("click", () => {
    button.disabled = true;
    mend(finding).catch((error) => {
      button.disabled = false;
      say(error.message);
    });
  });
  row.append(button, ` ${finding.consequence}`);
  made.append(row);
  return made;
}
