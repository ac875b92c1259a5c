// Copies of the log: out as CSV or as one file of everything, in from either; what comes in is shown before it is kept.

import { bathLog, now, stamp } from "./log-bath.js";
import { log, setting } from "./log-store.js";
import { settle, state } from "./log-telling.js";
import { shelf } from "./plans.js";
import { say } from "./telling.js";

const LARGEST = 60_000_000;
const OLD_DAYS = 14;
const FORMAT = "raftwright-everything";

function download(text, name, type) {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([text], { type }));
  link.download = name;
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}

function saved() {
  setting.write("copy", stamp());
  settle("copy");
}

/** Days since a copy was saved, or since the first reading where none was; 0 without readings. */
export function copyAge() {
  const from = setting.read("copy") || (bathLog.readings[0] && bathLog.readings[0].changed) || "";
  return from ? Math.floor((Date.now() - new Date(from).getTime()) / 86_400_000) : 0;
}

export const copyIsOld = () => copyAge() >= OLD_DAYS;

/** Everything as one file: written here, so that it is at hand while Python starts, and when it cannot. */
export async function everything() {
  const found = await log.entries();
  const aside = await log.beside("aside");
  const mappings = await log.beside("mappings");
  const { madeWith } = document.querySelector("[data-made-with]").dataset;
  return `${JSON.stringify({ format: FORMAT, version: 1, made_with: madeWith, saved: now(),
    plans: await shelf.all().catch(() => []), baths: [], mappings: mappings ? mappings.held : {},
    entries: found.known.filter((one) => !one.invented),
    aside: [...found.newer, ...found.damaged, ...(aside ? aside.held : [])] }, null, 1)}\n`;
}

export async function exportAll() {
  download(await everything(), `raftwright-everything-${now().slice(0, 10)}.json`, "application/json");
  saved();
  say("Everything is in the file: plans, readings and events.");
}

export async function exportCsv() {
  const answer = await bathLog.askOwn("log_csv_write", { separator: "," });
  download(answer.text, `raftwright-log-${now().slice(0, 10)}.csv`, "text/csv");
  saved();
  say("The log is in the file.");
}

/** Only what a newer version wrote, and what cannot be read. */
export async function exportAside() {
  const found = await log.entries();
  download(`${JSON.stringify([...found.newer, ...found.damaged], null, 1)}\n`, "raftwright-set-aside.json",
    "application/json");
}

/** Text of a file: UTF-8 or UTF-16 as its first bytes say, else as older spreadsheets write. */
async function textOf(file) {
  const bytes = new Uint8Array(await file.arrayBuffer());
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return new TextDecoder("utf-16le").decode(bytes);
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return new TextDecoder("utf-16be").decode(bytes);
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    return new TextDecoder("windows-1252").decode(bytes);
  }
}

function element(tag, text, more = {}) {
  const made = document.createElement(tag);
  if (text) made.textContent = text;
  Object.assign(made, more);
  return made;
}

function panel() {
  return document.getElementById("coming");
}

function close() {
  panel().replaceChildren();
  panel().hidden = true;
}

const counted = (number, one, many) => `${number} ${number === 1 ? one : many}`;

/** A file under way into the log. */
class Coming {
  constructor(name, text) {
    this.name = name;
    this.text = text;
    this.answers = {};
    this.mapping = {};
    // How often it was looked at: only what was found last is shown, and kept.
    this.looks = 0;
    this.whole = text.replace(/^\uFEFF/, "").trimStart().startsWith("{");
  }

  async ask() {
    const mine = this.looks;
    const found = await bathLog.askOwn(this.whole ? "log_all_read" : "log_csv_read", { text: this.text,
      answers: this.answers, bath: bathLog.bath.id, entries: bathLog.own,
      ...(Object.keys(this.mapping).length > 0 ? { mapping: this.mapping } : {}) });
    if (mine === this.looks) this.found = found;
  }

  /** What the file would bring; its columns are taken as they were the last time a file had the same heads. */
  async look() {
    this.looks += 1;
    const mine = this.looks;
    await this.ask();
    const kept = this.whole ? undefined : await log.beside("mappings");
    if (kept && kept.held[this.heads()] && Object.keys(this.mapping).length === 0) {
      this.mapping = kept.held[this.heads()];
      await this.ask();
    }
    if (mine === this.looks) this.show();
  }

  /** Something was said of the file: what was found before cannot be kept any more. */
  again() {
    const add = panel().querySelector('[data-action="import-keep"]');
    if (add) add.disabled = true;
    this.look().catch((error) => say(error.message));
  }

  heads() {
    return (this.found.columns || []).map((one) => one.head).join("|");
  }

  show() {
    const { found } = this;
    const place = panel();
    place.hidden = false;
    place.replaceChildren(element("h2", "Bringing in a file"));
    const line = element("p");
    const rows = this.whole ? "" : ` ${counted(found.rows, "row", "rows")}.`;
    line.append(element("b", `${this.name}:`), found.trouble ? ` ${found.trouble}`
      : `${rows} ${found.added} new, ${found.changed} changed, ${found.known} here already`
        + `${found.aside.length > 0 ? `, ${found.aside.length} not understood` : ""}.`);
    place.append(line);
    for (const one of found.questions || []) place.append(this.question(one));
    if (!this.whole && !found.own && (found.columns || []).length > 0) place.append(this.columns());
    for (const told of (found.told || []).slice(0, 12)) {
      place.append(element("p", told, { className: "fault" }));
    }
    const number = found.put.length;
    const row = element("p", "", { className: "ways" });
    if (number > 0 || (found.plans || []).length > 0) {
      const add = element("button", number > 0 ? `Add ${counted(number, "entry", "entries")}` : "Add the plans",
        { type: "button", className: "main" });
      add.dataset.action = "import-keep";
      add.addEventListener("click", () => this.keep());
      row.append(add);
    }
    const leave = element("button", number > 0 ? "Leave it" : "Close", { type: "button" });
    leave.addEventListener("click", close);
    row.append(leave);
    place.append(row);
    place.focus();
  }

  question(one) {
    const label = element("label", "", { className: "entry-row" });
    const choice = document.createElement("select");
    choice.dataset.question = one.id;
    if (!one.taken) choice.append(element("option", "choose", { value: "" }));
    for (const offer of one.offers) {
      choice.append(element("option", offer.words, { value: offer.value, selected: offer.value === one.taken }));
    }
    choice.addEventListener("change", () => {
      this.answers[one.id] = choice.value;
      this.again();
    });
    label.append(element("span", one.words), choice);
    return label;
  }

  /** Which column is what, to be put right; kept for the next file with the same heads. */
  columns() {
    const fold = element("details");
    fold.append(element("summary", "Columns of the file"));
    for (const one of this.found.columns) {
      const label = element("label", "", { className: "entry-row" });
      const choice = document.getElementById("column-choices").content.firstElementChild.cloneNode(true);
      const taken = one.unit ? `${one.field}:${one.unit}` : one.field;
      if (![...choice.options].some((offer) => offer.value === taken)) {
        choice.append(element("option", taken, { value: taken }));
      }
      choice.value = taken;
      choice.addEventListener("change", () => {
        this.mapping = { ...this.mapping, [one.head]: choice.value };
        this.again();
      });
      label.append(element("span", one.head), choice);
      fold.append(label);
    }
    fold.open = Boolean(this.found.trouble) || Object.keys(this.mapping).length > 0;
    return fold;
  }

  async keep() {
    const { found } = this;
    const entries = found.put.map((one) => ({ ...one, changed: one.changed || stamp() }));
    try {
      // Before the entries: what is seen of them has brought all that belongs to it.
      if (Object.keys(this.mapping).length > 0) await this.keepMappings({ [this.heads()]: this.mapping });
      if (found.mappings && Object.keys(found.mappings).length > 0) await this.keepMappings(found.mappings);
      if (found.aside.length > 0) await this.aside(found.aside.map((one) => one.given || one));
      if (entries.length > 0) await bathLog.put(entries);
    } catch {
      say("This browser has no room for all of it; nothing was added. Free some room and try again.");
      return;
    }
    try {
      for (const plan of found.plans || []) await this.plan(plan);
      if ((found.plans || []).length > 0) await bathLog.reshelve();
    } catch {
      say("The entries of the file are here, but this browser has no room for all of its plans. Free some room and "
        + "try again.");
      return;
    }
    close();
    say(`Added ${counted(entries.length, "entry", "entries")}; `
      + `${counted(found.known, "was", "were")} here already.`);
  }

  /** A plan of the file comes to the shelf where the shelf has none of that name. */
  async plan(plan) {
    if (!plan.id || await shelf.read(plan.id)) return;
    await shelf.write(plan, null);
  }

  async aside(more) {
    const before = await log.beside("aside");
    const held = new Set([...(before ? before.held : []), ...more].map((one) => JSON.stringify(one)));
    await log.keepBeside({ id: "aside", held: [...held].map((one) => JSON.parse(one)) });
  }

  /** What columns are, by the heads of a file. */
  async keepMappings(more) {
    const before = await log.beside("mappings");
    await log.keepBeside({ id: "mappings", held: { ...(before ? before.held : {}), ...more } });
  }
}

export async function bringIn(file) {
  if (file.size > LARGEST) {
    say("This file is larger than any log; nothing was read from it.");
    return;
  }
  say("Reading the file.");
  const coming = new Coming(file.name, await textOf(file));
  await coming.look();
  say("");
}

// A reading from a link

const KNOWN = ["time", "temperature", "ec", "ph", "oxygen", "level", "added", "fertilizer", "acid", "remark"];

/** The reading that a phone's shortcut or a script offers in the address; null for none. */
export function offered(fragment) {
  const given = new URLSearchParams(fragment.replace(/^#/, "").slice(0, 2000));
  if (given.get("reading") !== "1") return null;
  const typed = {};
  for (const name of KNOWN) if ((given.get(name) || "").trim()) typed[name] = given.get(name).trim();
  const unknown = [...given.keys()].filter((name) => name !== "reading" && !KNOWN.includes(name));
  return { typed, unknown };
}

/** Show a reading from a link; it is kept only when the reader says so. */
export function showOffered({ typed, unknown }, units, kept, full) {
  const place = panel();
  const leave = () => {
    close();
    history.replaceState(null, "", location.pathname + location.search);
  };
  place.hidden = false;
  place.replaceChildren(element("h2", "A reading from a link"));
  const names = Object.keys(typed).filter((name) => name !== "time");
  place.append(element("p", names.length > 0 ? "Somebody, or a shortcut of yours, offers this reading. Keep it?"
    : "The link offers a reading, but no value in it is known here."));
  const list = element("dl", "", { className: "offered" });
  for (const name of Object.keys(typed)) {
    const label = document.querySelector(`label[for="reading.${name}"]`);
    const unit = units[name] && /^[\d.,]+$/.test(typed[name]) ? ` ${units[name]}` : "";
    const one = element("div");
    one.append(element("dt", label ? label.firstChild.textContent : name), element("dd", `${typed[name]}${unit}`));
    list.append(one);
  }
  place.append(list);
  if (unknown.length > 0) {
    place.append(element("p", `Not known here, and left out: ${unknown.join(", ").slice(0, 200)}.`));
  }
  const row = element("p", "", { className: "ways" });
  if (names.length > 0) {
    const keep = element("button", "Keep it", { type: "button", className: "main" });
    keep.dataset.action = "link-keep";
    keep.addEventListener("click", async () => {
      const own = Object.fromEntries(names.filter((name) => units[name]).map((name) => [name, units[name]]));
      const entry = bathLog.made("reading", { ...typed, time: typed.time || now() }, { units: own });
      try {
        await bathLog.put([entry]);
      } catch (error) {
        full(entry, error);
        return;
      }
      leave();
      kept(entry, `${names.length} ${names.length === 1 ? "value" : "values"}`);
    });
    row.append(keep);
  }
  const no = element("button", names.length > 0 ? "Leave it" : "Close", { type: "button" });
  no.dataset.action = "link-leave";
  no.addEventListener("click", leave);
  row.append(no);
  place.append(row);
  place.focus();
}

// May the browser keep it?

/**
 * At the first entry: ask the browser to keep the log, with the reason; where it cannot be asked, say so once. Resolves
 * to the first words of what stands on the page then, or "".
 */
export async function askToKeep() {
  if (setting.read("asked")) return "";
  const can = navigator.storage && navigator.storage.persist && window.isSecureContext
    && location.protocol !== "file:";
  if (can && await navigator.storage.persisted().catch(() => false)) return "";
  const done = (how) => setting.write("asked", how);
  if (!can) {
    done("cannot");
    const told = "Save a copy now and then.";
    state("persist", "open", told, "This page cannot ask the browser to keep the log for good, and a browser may erase "
      + "it when space runs short.", [["Save everything in one file", exportAll, true], ["Not now", () => {}]], true);
    return told;
  }
  const question = "May this browser keep your log?";
  state("persist", "open", question, "Otherwise it may erase it when space runs short. "
    + "Nothing leaves this machine.", [["Ask the browser", async () => {
    const yes = await navigator.storage.persist().catch(() => false);
    done(yes ? "yes" : "no");
    say(yes ? "The browser keeps your log."
      : "The browser did not agree; save everything in one file now and then.");
  }, true], ["Not now", () => done("later")]], true);
  return question;
}

/** A reminder, where no copy was saved for long. */
export function remind() {
  if (!copyIsOld()) return;
  const lead = setting.read("copy") ? `Your last copy is ${copyAge()} days old.`
    : `${copyAge()} days of readings, and no copy of them.`;
  state("copy", "open", lead, "A file on another machine or a stick outlives "
    + "this browser.", [["Save everything in one file", exportAll, true], ["Later", () => {}]], true);
}
