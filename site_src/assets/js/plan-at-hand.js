// The plan that a page beside the planner is about: that of its address, or the one that this browser keeps.

import * as engine from "./engine.js";
import * as store from "./plan-store.js";
import { fromDisk, root } from "./source.js";
import { shelf } from "./plans.js";

const PLAN_LINK = /^#(plan|start)=/;

/** What Python answers; an answer that is an error is thrown. */
export async function asked(question) {
  const answer = await engine.run(question);
  if (answer.error) throw new Error(answer.error);
  return answer;
}

/** The plan that this browser keeps: the one this tab showed last, or the one saved last; `null` for none. */
async function kept() {
  const here = store.shownHere();
  const which = store.shown();
  if (here && here !== which.id) {
    const record = await shelf.read(here).catch(() => undefined);
    if (record) return { plan: record.plan, version: record.version, name: record.name };
  }
  const found = store.load();
  if (found.version === 0) return null;
  return { plan: found.plan, version: found.version, name: which.name || "" };
}

/** The plan, as one of today's version, and what could not be read of it. */
export async function plan(declared) {
  if (PLAN_LINK.test(location.hash)) {
    const { plan: read, notes } = await asked({ op: "link_read", fragment: location.hash });
    return { plan: read, name: "", notes, linked: true };
  }
  const found = await kept();
  if (!found) return null;
  if (found.version === declared.version) return { ...found, notes: [] };
  const read = await asked({ op: "plan_read", plan: found.plan, version: found.version });
  return { plan: read.plan, name: found.name, notes: read.notes };
}

/** The address that opens this plan in the planner; "" on a page from a disk that knows no copy on the web. */
export function address(fragment) {
  const hosted = store.hosted().trim();
  if (fromDisk && !/^https?:\/\/[^\s/]/.test(hosted)) return "";
  const top = fromDisk ? hosted.replace(/#.*$/, "").replace(/(index\.html)?$/, "").replace(/\/?$/, "/") : root.href;
  return `${top}plan/index.html${fragment}`;
}

/** Say the plan's name where the page does, and let its ways lead on with the plan of a link. */
export function follow(shown, fragment, name) {
  for (const one of document.querySelectorAll("[data-paper-name]")) one.textContent = name;
  for (const one of document.querySelectorAll("[data-with-plan]")) {
    const [base] = one.getAttribute("href").split("#");
    const step = one.dataset.withPlan;
    if (shown.linked) one.setAttribute("href", `${base}${fragment}${step && fragment ? `&${step}` : ""}`);
  }
}
