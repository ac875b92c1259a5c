// Home and the page of guides: a returning reader's own plans, and their own numbers beside the guides.

import * as engine from "./engine.js";
import * as store from "./plan-store.js";
import { changedWords, nameOf, sign } from "./shelf-rows.js";
import { offline } from "./offline.js";
import { shelf } from "./plans.js";

const MOST = 3;

function line(record) {
  const item = document.createElement("li");
  const left = document.createElement("div");
  const link = document.createElement("a");
  const step = record.step?.name ? `&step=${record.step.name}` : "";
  link.href = `plan/index.html#kept=${record.id}${step}`;
  link.textContent = nameOf(record);
  const when = document.createElement("small");
  when.textContent = changedWords(record.changed) + (record.step?.title ? `; step ${record.step.title}` : "");
  left.append(link, when);
  const said = document.createElement("div");
  said.className = "standings";
  if (record.glance?.stamp === record.stamp) {
    said.append(...record.glance.standings.map(([state, words]) => sign(state, words)));
  }
  item.append(left, said);
  return item;
}

async function plans() {
  return (await shelf.all()).sort((left, right) => right.changed - left.changed);
}

/** The plans that were changed last, on Home. */
async function yourPlans(place) {
  const all = await plans();
  place.hidden = all.length === 0;
  place.querySelector("[data-how-many]").textContent = `${all.length} on this machine`;
  place.querySelector("ul").replaceChildren(...all.slice(0, MOST).map(line));
}

/** The reader's own numbers beside the guides; the example's stay where there is no plan. */
async function ownNumbers(place) {
  const which = store.shown();
  const all = await plans();
  const record = all.find((one) => one.id === which.id) || all[0];
  if (!record) return;
  const numbers = [...place.querySelectorAll("[data-living]")];
  engine.start();
  const read = await engine.run({ op: "plan_read", plan: record.plan, version: record.version });
  const answer = await engine.run({ op: "solve", plan: read.plan || {}, topics: ["water"],
    living: numbers.map((one) => one.dataset.living) });
  if (!answer.living) return;
  for (const one of numbers) one.textContent = answer.living[one.dataset.living] ?? one.textContent;
  const whose = place.querySelector("[data-whose]");
  const link = document.createElement("a");
  link.href = `../plan/index.html#kept=${record.id}`;
  link.textContent = nameOf(record);
  whose.replaceChildren("your own, from ", link);
  place.toggleAttribute("data-settled", true);
}

function show() {
  const home = document.querySelector("[data-your-plans]");
  const guides = document.querySelector("[data-guide-numbers]");
  if (home) yourPlans(home).catch(() => {});
  if (guides) ownNumbers(guides).catch(() => {});
}

function closeMenu(event) {
  const menu = document.querySelector("details.site-menu[open]");
  if (!menu || (event.type === "click" && menu.contains(event.target))) return;
  if (event.type === "keydown" && event.key !== "Escape") return;
  menu.open = false;
  if (event.type === "keydown") menu.querySelector("summary").focus();
}

document.addEventListener("click", closeMenu);
document.addEventListener("keydown", closeMenu);
addEventListener("pageshow", (event) => { if (event.persisted) show(); });
show();
offline();
self.raftwright = { run: engine.run, times: engine.times };
