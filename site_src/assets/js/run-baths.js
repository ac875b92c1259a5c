// Which bath the page is about, where there is more than one; and readings that are given to a bath.

import { bathLog, INVENTED } from "./log-bath.js";
import { askedFor } from "./log-baths.js";
import { setting } from "./log-store.js";
import { settle, state } from "./log-telling.js";
import { say } from "./telling.js";

const MANY = (number, one, many) => `${number} ${number === 1 ? one : many}`;

/** The name that a reader sees of a bath. */
export function nameOf(bath) {
  if (bath.id === "" && bath.version === 0) return "Without a plan";
  if (bath.version === 0) return "A bath whose plan is not here";
  return `${bath.name || "Your bath"}${bath.deleted ? " (its plan is deleted)" : ""}`;
}

function entriesOf(bath) {
  return bathLog.own.filter((one) => (one.bath || "") === bath.id).length;
}

function option(bath) {
  const made = document.createElement("option");
  made.value = bath.id;
  const many = entriesOf(bath);
  made.textContent = many > 0 ? `${nameOf(bath)}, ${MANY(many, "entry", "entries")}` : nameOf(bath);
  made.selected = bath.id === bathLog.bath.id;
  return made;
}

function fill(choice, baths, first = null) {
  const mark = JSON.stringify([baths.map((one) => [one.id, nameOf(one), entriesOf(one)]), bathLog.bath.id,
    Boolean(first)]);
  if (choice.dataset.mark === mark) return;
  choice.dataset.mark = mark;
  choice.replaceChildren(...baths.map(option));
  if (first) choice.prepend(first);
}

function inventedOne() {
  const made = document.createElement("option");
  made.value = INVENTED;
  made.textContent = "The invented bath";
  made.selected = true;
  return made;
}

/** Show which baths there are, and what can be done about entries that belong to none. */
export function showBaths() {
  const { bath, choices, entries, invented, unassigned } = bathLog;
  const which = document.querySelector("[data-which-bath]");
  which.hidden = choices.length < (invented ? 1 : 2);
  fill(which.querySelector("select"), choices, invented ? inventedOne() : null);
  const others = choices.filter((one) => one.id !== bath.id && one.version > 0 && !one.deleted);
  const move = document.querySelector("[data-move]");
  move.hidden = invented || others.length === 0 || entries.length === 0;
  fill(move.querySelector("select"), others);
  const plan = document.querySelector("[data-plan-of-bath]");
  plan.href = `${plan.dataset.planOfBath}${bath.kept && !bath.deleted ? `#kept=${bath.id}` : ""}`;
  const ask = bath.id !== "" && bath.version > 0 && !bath.deleted && unassigned.length > 0
    && setting.read("unassigned") !== "left";
  if (!ask) settle("unassigned");
  else if (!document.querySelector("[data-state-of=unassigned]")) offer(bath);
}

function offer(bath) {
  const many = MANY(bathLog.unassigned.length, "entry belongs", "entries belong");
  state("unassigned", "open", `${many} to no plan yet.`, `They were kept before there was one. Give them to “${
    nameOf(bath)}”, and they stay with it, also when you plan a second bath.`, [
    [`Give them to ${nameOf(bath)}`, () => give(bathLog.unassigned, bathLog.bath), true],
    ["Leave them", () => setting.write("unassigned", "left")]], true);
}

/** Give entries to a bath, and offer to take it back. */
async function give(entries, bath) {
  try {
    const before = await bathLog.give(entries, bath.id);
    state("given", "fits", "Given.", `${MANY(before.length, "entry belongs", "entries belong")} to “${nameOf(bath)}” `
      + "now.", [["Undo", () => bathLog.restore(before).catch(() => say("This browser has no room left."))],
      ["Close", () => {}]]);
  } catch {
    say("This browser has no room left; the entries stay where they were.");
  }
}

/** Follow an address that asks for a bath. */
export function follow() {
  const wanted = askedFor(location.hash);
  if (!wanted) return;
  if (!bathLog.choose(wanted)) say("That bath is not on this machine.");
  history.replaceState(null, "", location.pathname + location.search);
}

export function wireBaths() {
  const which = document.querySelector("[data-which-bath] select");
  which.addEventListener("change", () => {
    if (which.value !== INVENTED) bathLog.choose(which.value);
    say(`Now about ${bathLog.invented ? "the invented bath" : nameOf(bathLog.bath)}.`);
  });
  const move = document.querySelector("[data-move]");
  move.querySelector("button").addEventListener("click", () => {
    const to = bathLog.choices.find((one) => one.id === move.querySelector("select").value);
    if (to) give(bathLog.entries, to);
  });
}
