// The list of readings and events: plainly at once, with the marks of their bands when Python has looked at them.

import { bathLog } from "./log-bath.js";

const SHOWN = ["temperature", "ec", "ph", "oxygen"];
const REST = ["level", "added", "fertilizer", "acid", "count", "what", "mass", "remark"];
const LABELS = { level: "reservoir", added: "water added", fertilizer: "fertilizer added", acid: "acid added" };
const FIRST = 14;

let most = FIRST;
/** Deleted or changed in this window: each stands as a line with Undo, with the entry as it was. */
const taken = new Map();

function cell(row, text, tag = "td") {
  const made = document.createElement(tag);
  made.textContent = text;
  row.append(made);
  return made;
}

function withUnit(entry, name) {
  const text = entry.typed[name].trim();
  const unit = (entry.units || {})[name];
  return unit && /^[\d.,]+$/.test(text) ? `${text} ${unit}` : text;
}

function words(entry, names) {
  return names.filter((name) => (entry.typed[name] || "").trim())
    .map((name) => `${entry.kind === "reading" && LABELS[name] ? `${LABELS[name]} ` : ""}${withUnit(entry, name)}`)
    .join("; ");
}

function when(entry) {
  const [day, clock] = entry.at.split("T");
  return [new Date(`${day}T12:00`).toLocaleDateString([], { weekday: "short", month: "short", day: "numeric" }), clock];
}

function plainRow(entry) {
  const row = document.createElement("tr");
  row.setAttribute(entry.kind === "reading" ? "data-reading" : "data-event", entry.id);
  const head = cell(row, "", "th");
  head.scope = "row";
  const [day, clock] = when(entry);
  const edit = document.createElement("button");
  edit.type = "button";
  edit.className = "quiet";
  edit.dataset.edit = entry.id;
  edit.textContent = day;
  const small = document.createElement("small");
  small.textContent = clock;
  head.append(edit, " ", small);
  if (entry.kind === "reading") {
    for (const name of SHOWN) cell(row, entry.typed[name] ? withUnit(entry, name) : "–");
    cell(row, words(entry, REST)).className = "words";
  } else {
    const kind = document.querySelector(`[data-kind-label="${entry.kind}"]`);
    const said = words(entry, REST);
    cell(row, `${kind ? kind.textContent : entry.kind}${said ? `: ${said}` : ""}`).colSpan = 5;
  }
  return row;
}

function place() {
  return document.querySelector('[data-region="rows"]');
}

/** The rows as the page can make them by itself. */
export function plain() {
  const newest = [...bathLog.entries].reverse();
  place().replaceChildren();
  if (newest.length > 0) {
    const table = document.createElement("table");
    table.className = "log";
    const head = document.createElement("thead");
    const row = document.createElement("tr");
    for (const title of ["When", "Temperature", "EC", "pH", "Oxygen", "Added, remark"]) {
      cell(row, title, "th").scope = "col";
    }
    head.append(row);
    const body = document.createElement("tbody");
    body.append(...newest.slice(0, most).map(plainRow));
    table.append(head, body);
    place().append(table);
  }
  more(Math.max(newest.length - most, 0));
  undoLines();
}

/** The rows as Python made them; rows of the invented bath are nobody's readings. */
export function marked({ html, before }) {
  place().innerHTML = bathLog.invented ? html.replaceAll("data-reading=", "data-example=") : html;
  if (bathLog.invented) for (const one of place().querySelectorAll("[data-edit]")) one.disabled = true;
  more(before);
  undoLines();
}

export function wanted() {
  return most;
}

function more(before) {
  const button = document.querySelector('[data-action="more-readings"]');
  button.hidden = before === 0;
  button.textContent = `Show the ${before} before these`;
}

/** Show all; `after` asks for the list anew. */
export function showAll() {
  most = 1e6;
}

/** A line with Undo for what was deleted or changed here, at the head of the list. */
function undoLines() {
  const list = document.getElementById("deleted");
  const had = document.activeElement && document.activeElement.dataset.undelete;
  list.replaceChildren(...[...taken.values()].map(({ entry, what }) => {
    const line = document.createElement("li");
    const gone = document.createElement("s");
    const [day, clock] = when(entry);
    gone.textContent = `${day}, ${clock}: ${words(entry, [...SHOWN, ...REST])}`;
    const undo = document.createElement("button");
    undo.type = "button";
    undo.className = "quiet";
    undo.dataset.undelete = entry.id;
    undo.textContent = "Undo";
    line.append(`${what}: `, gone, " ", undo);
    return line;
  }));
  if (had) focusUndo(had);
}

function focusUndo(id) {
  const button = document.querySelector(`[data-undelete="${CSS.escape(id)}"]`);
  if (button) button.focus();
}

/** Delete an entry; it can be taken back as long as the page is open. */
export async function remove(id) {
  const entry = bathLog.all.find((one) => one.id === id);
  if (!entry) return;
  taken.set(id, { entry, what: "Deleted" });
  await bathLog.remove([id]);
  focusUndo(id);
}

/** An entry was changed: `before` is what it was, and can be again. */
export function wasChanged(before) {
  taken.set(before.id, { entry: before, what: "Changed; it was" });
  undoLines();
}

/** Take a deletion or a change back. */
export async function undelete(id) {
  await bathLog.restore([taken.get(id).entry]);
  taken.delete(id);
  undoLines();
  const back = document.querySelector(`[data-edit="${CSS.escape(id)}"]`);
  if (back) back.focus();
}
