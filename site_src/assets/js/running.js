// The start of the pages of a running bath: Today, Log, Trouble and the rounds. What stands there is the invented bath;
// the reader's own readings take its place before Python is there, and their marks when it is.

import * as engine from "./engine.js";
import { askToKeep, bringIn, copyAge, copyIsOld, everything, exportAll, exportAside, exportCsv, offered, remind,
  showOffered } from "./log-copies.js";
import { bathLog } from "./log-bath.js";
import { Entry, ago, setUnits, untouched } from "./log-entry.js";
import { EventEntry } from "./log-event.js";
import { follow, nameOf, showBaths, wireBaths } from "./run-baths.js";
import * as list from "./log-list.js";
import { line } from "./log-mend.js";
import { log, setting } from "./log-store.js";
import { offline } from "./offline.js";
import { settle, state } from "./log-telling.js";
import { say, stands } from "./telling.js";
import { Routine, saveCalendar } from "./run-routine.js";
import { Today } from "./run-today.js";
import { Trouble } from "./run-trouble.js";

const which = document.body.className.replace("page-", "");
const WORDS = { fetching: "Fetching the calculator. Readings are kept all the same.",
  starting: "Starting the calculator. Readings are kept all the same." };
const MOMENT = 700;
let entry = null;

function region(name) {
  return document.querySelector(`[data-region="${name}"]`);
}

function fill(name, html) {
  const place = region(name);
  if (place && place.innerHTML !== html) place.innerHTML = html;
}

function text(name, words) {
  for (const one of document.querySelectorAll(`[data-says="${name}"]`)) one.textContent = words;
}

/**
 * Say what was just kept, then "pH 6.7, 0.2 high" where Python can say it, and what stands `beside` it on the page: all
 * in one line, each as it comes, as long as nothing newer is said.
 */
async function sayKept(words, beside) {
  const parts = [`Kept: ${words}.`, "", ""];
  let mine = say(parts[0]);
  const add = (at, more) => {
    if (!more || !stands(mine)) return;
    parts[at] = more;
    mine = say(parts.filter(Boolean).join(" "));
  };
  beside.then((lead) => add(2, lead));
  try {
    const { verdict } = await bathLog.ask("today");
    // An older reading leaves Today without a fresh one, and its call for one is no answer to what was kept.
    if (verdict.state !== "open") add(1, verdict.lead);
  } catch {
    // What was kept has been said.
  }
}

/** What is to be told of how the log is kept; resolves to its first words. */
async function howKept() {
  if (log.lasts) return bathLog.readings.length === 1 ? askToKeep() : "";
  const lead = "Kept only while this page is open:";
  const text = "this browser lets the page store nothing. Save everything in one file before you close it.";
  state("lasts", "fails", lead, text, [["Save everything in one file", exportAll, true]], true);
  return `${lead} ${text}`;
}

function kept(one, words) {
  settle("full");
  sayKept(words, howKept());
}

function copyReading(one) {
  const units = one.units || {};
  const words = Object.entries(one.typed).map(([name, value]) => `${name} ${value} ${units[name] || ""}`.trim());
  navigator.clipboard.writeText(words.join("\n")).then(() => say("The reading is copied."),
    () => say("The browser does not let the page copy."));
}

function full(one) {
  state("full", "fails", "Not kept:", "this browser has no room left. Your reading is still in the form. Save "
    + "everything in one file, then free some room.", [["Save everything in one file", exportAll, true],
    ...(one ? [["Copy this reading", () => copyReading(one)]] : [])]);
}

/** The bath's name, the tabs' lines, the states that hold. */
function frame() {
  const { bath, invented, readings } = bathLog;
  if (!invented) {
    text("bath", bath.id === "" && !bath.version ? "Your bath, without a plan" : nameOf(bath));
    text("bath-more", bath.version ? "" : "Amounts are those of the built-in plan until you make one.");
    text("count", `${readings.length} ${readings.length === 1 ? "reading" : "readings"}`);
    text("last", readings.length > 0 ? ago(readings[readings.length - 1].at) : "");
    text("copy", readings.length > 0 && copyIsOld() ? `Copy ${copyAge()} days old: save one` : "");
  }
  for (const one of document.querySelectorAll("[data-when]")) {
    one.hidden = !{ invented, empty: !invented && bathLog.entries.length === 0,
      own: !invented && bathLog.entries.length > 0 }[one.dataset.when];
  }
  if (bathLog.newer.length > 0) {
    state("newer", "open", "Set aside, not erased.", `${bathLog.newer.length} `
      + `${bathLog.newer.length === 1 ? "entry was" : "entries were"} written by a newer version. This one shows the `
      + `${bathLog.entries.length} it knows.`, [["Save what was set aside", exportAside, true],
      ["Load the newer version", () => location.reload()]], true);
  } else {
    settle("newer");
  }
  if (bathLog.damaged.length > 0) {
    const many = bathLog.damaged.length;
    state("damaged", "open", "Set aside, not erased.", `${many} ${many === 1 ? "entry" : "entries"} kept here cannot `
      + "be read. The rest of the log is whole.", [["Save what was set aside", exportAside, true]], true);
  } else {
    settle("damaged");
  }
  text("others", bathLog.others > 0 ? `${bathLog.others} more ${
    bathLog.others === 1 ? "belongs" : "belong"} to other baths: choose one at the head.` : "");
  showBaths();
}

/** The rail's line on Today, on the pages that do not show it. */
async function railToday(unchanged) {
  const { verdict, todo } = await bathLog.ask("today");
  if (!unchanged()) return;
  text("todo", `${todo.length} to do`);
  text("today-lead", verdict.lead.replace(/\.$/, ""));
}

async function logPage(unchanged) {
  const wide = document.querySelector(".strips-place").clientWidth > 480;
  const parts = ["rows", "strips", "year", "yield"];
  const [found, says] = await Promise.all([bathLog.ask("log_pictures", { wide, parts, most: list.wanted() }),
    bathLog.ask("log_says")]);
  if (!unchanged()) return;
  list.marked(found.rows);
  for (const name of ["strips", "year"]) {
    fill(name, found[name].svg);
    fill(`${name}-table`, found[name].table);
    text(`${name}-words`, found[name].words);
  }
  for (const one of document.querySelectorAll("[data-needs]")) one.hidden = !found[one.dataset.needs].svg;
  fill("yield", found.yield.html || "");
  document.querySelector("[data-yield-section]").hidden = !found.yield.html;
  document.querySelector("[data-says-section]").hidden = says.findings.length === 0;
  region("says").replaceChildren(...says.findings.map(line));
}

const page = {
  log: { draw: logPage, plain: () => { if (!bathLog.invented) list.plain(); } },
  today: null,
  trouble: null,
  routine: null,
};

let drawing = false;
let again = false;

/** Draw with Python; asked for while under way, or answered after the log became another, once more afterwards. */
async function draw() {
  if (drawing) {
    again = true;
    return;
  }
  drawing = true;
  const unchanged = bathLog.unchanged();
  try {
    await page[which].draw(unchanged);
    if (which !== "today") await railToday(unchanged);
    if (unchanged()) document.documentElement.dataset.drawn = String(bathLog.entries.length);
  } catch (error) {
    if (engine.isReady() && unchanged()) say(error.message);
  } finally {
    drawing = false;
  }
  if (again || !unchanged()) {
    again = false;
    draw();
  }
}

function changed({ elsewhere, bath, plan } = {}) {
  // A bath measured in other units must not turn what is being typed into something else.
  if ((bath || plan) && untouched()) setUnits();
  frame();
  page[which].plain();
  if (elsewhere) {
    state("elsewhere", "open", "Changed in another window.", `${elsewhere} `
      + `${elsewhere === 1 ? "entry" : "entries"} came in and ${elsewhere === 1 ? "is" : "are"} shown here too. What `
      + "you are typing is untouched.", [["Close", () => {}]]);
  }
  draw();
}

function fragment() {
  follow();
  const found = offered(location.hash);
  if (!found || which !== "log") {
    document.body.classList.toggle("entering", location.hash === "#reading");
    return;
  }
  const units = {};
  for (const choice of document.querySelectorAll("select[data-unit]")) units[choice.dataset.unit] = choice.value;
  for (const one of document.querySelectorAll("[data-fixed-unit]")) units[one.dataset.fixedUnit] = one.textContent;
  showOffered(found, units, kept, full);
}

/** An action of a button; what goes wrong is said. */
function on(action, act) {
  for (const button of document.querySelectorAll(`[data-action="${action}"]`)) {
    button.addEventListener("click", () => Promise.resolve(act()).catch((error) => say(error.message)));
  }
}

async function needPython(act) {
  const stands = document.documentElement.dataset.engineState;
  if (stands === "failed") {
    say("The calculator could not start, and this needs it. “Save everything in one file” works without.");
    return;
  }
  await act();
}

function wireLog() {
  entry = new Entry({ kept, full });
  Object.assign(entry, { remove: list.remove, wasChanged: list.wasChanged });
  entry.wire();
  const events = new EventEntry({ kept, full, remove: list.remove, wasChanged: list.wasChanged });
  events.wire();
  on("more-readings", () => {
    list.showAll();
    list.plain();
    draw();
  });
  on("open-entry", () => entry.open());
  document.querySelector("[data-log-list]").addEventListener("click", ({ target }) => {
    const { edit, undelete } = target.dataset;
    if (edit) {
      const one = bathLog.entries.find(({ id }) => id === edit);
      if (one && one.kind === "reading") entry.edit(one);
      else if (one) events.edit(one);
    }
    if (undelete) list.undelete(undelete).catch((error) => full(null, error));
  });
}

function wire() {
  on("export-csv", () => needPython(exportCsv));
  on("save-calendar", () => needPython(saveCalendar));
  on("export-all", exportAll);
  on("erase-invented", () => {
    bathLog.eraseInvented();
    say("The invented bath is erased.");
  });
  on("show-invented", () => bathLog.showInvented());
  on("print", () => print());
  for (const box of document.querySelectorAll('[data-action="import"]')) {
    box.addEventListener("change", () => {
      const [file] = box.files;
      if (file) needPython(() => bringIn(file)).catch((error) => say(error.message)).finally(() => { box.value = ""; });
    });
  }
  if (which === "log") wireLog();
  wireBaths();
  addEventListener("hashchange", fragment);
}

function engineLine() {
  const line = document.getElementById("engine-status");
  let clock = 0;
  engine.watch(({ state: stands, reason }) => {
    clearTimeout(clock);
    if (stands === "failed") {
      line.textContent = `${reason} Readings are kept all the same. `;
      const button = document.createElement("button");
      button.type = "button";
      button.textContent = "Try again";
      button.addEventListener("click", engine.retry);
      line.append(button);
    } else if (WORDS[stands]) {
      clock = setTimeout(() => { line.textContent = WORDS[stands]; }, line.textContent ? 0 : MOMENT);
    } else {
      line.textContent = "";
    }
    if (stands === "ready" && document.documentElement.dataset.log) draw();
  });
}

async function begin() {
  if (which === "today") page.today = new Today({ kept, full, text, fill, on });
  if (which === "routine") page.routine = new Routine({ full, on });
  if (which === "trouble") page.trouble = new Trouble({ full, text, fill, on });
  wire();
  engineLine();
  engine.start();
  await bathLog.begin();
  bathLog.watch(changed);
  setUnits();
  frame();
  page[which].plain();
  fragment();
  remind();
  if (setting.read("asked") === "" && bathLog.readings.length > 0 && which === "log") {
    askToKeep().then((lead) => lead && say(lead));
  }
  document.documentElement.dataset.log = "ready";
  if (engine.isReady()) draw();
}

requestAnimationFrame(() => setTimeout(begin, 0));
offline();
self.raftwright = { run: engine.run, times: engine.times, everything };
