// The entry of a reading, for one hand and half a minute: Enter goes on to the next field, odd values are asked about
// and never refused, and what is typed stays until it is on the disk.

import { Draft } from "./log-draft.js";
import { bathLog, now, stamp } from "./log-bath.js";
import { log, setting } from "./log-store.js";
import { newName } from "./plans.js";
import { say } from "./telling.js";

const PAUSE = 250;
const WORDLESS = ["time", "remark"];

const form = () => document.querySelector("form[data-entry]");

function fields() {
  return [...form().querySelectorAll('[name^="reading."]')];
}

const bare = (field) => field.name.slice("reading.".length);

/** Which way the reader's own plan measures. */
export function system() {
  return bathLog.bath.plan.units === "metric" ? "metric" : "us";
}

/** Put the units of the meters in: as last chosen here, or as the plan measures. */
export function setUnits() {
  for (const choice of document.querySelectorAll("select[data-unit]")) {
    const kept = setting.read(`unit.${choice.dataset.unit}`);
    const wanted = kept || choice.dataset[system()];
    if ([...choice.options].some((one) => one.value === wanted)) choice.value = wanted;
  }
  for (const line of document.querySelectorAll("[data-fixed-unit]")) line.textContent = line.dataset[system()];
}

/** What is typed, by bare name, and the unit that each bare number takes. */
export function typed(among = fields()) {
  const texts = {};
  const units = {};
  for (const field of among) {
    const name = bare(field);
    if (field.value.trim()) texts[name] = field.value;
    const unit = form()?.querySelector(`[data-unit="${name}"], [data-fixed-unit="${name}"]`);
    if (unit && field.value.trim()) units[name] = unit.value || unit.textContent;
  }
  return { typed: texts, units };
}

function count(texts) {
  return Object.keys(texts).filter((name) => !WORDLESS.includes(name)).length;
}

/** Whether nothing is typed whose unit could be mistaken. */
export function untouched() {
  return !form() || count(typed().typed) === 0;
}

/** "3 values", "1 value", "the remark". */
function counted(texts) {
  const number = count(texts);
  if (number === 0) return texts.remark ? "the remark" : "";
  return number === 1 ? "1 value" : `${number} values`;
}

export class Entry {
  /** `kept(entry, words)` is called when a reading is on the disk, `full(entry, error)` when it could not be. */
  constructor({ kept, full }) {
    this.kept = kept;
    this.full = full;
    this.draft = new Draft();
    // The name that this reading will have, so that one which was kept and whose draft lived on is not kept twice.
    this.id = newName();
    this.editing = null;
    // A new reading, half typed, that waits until another one has been put right.
    this.waiting = null;
    this.timeTouched = false;
    this.pause = 0;
    this.waived = new Map();
    this.busy = false;
    this.wasChanged = () => {};
  }

  async wire() {
    const box = form();
    setUnits();
    box.addEventListener("input", ({ target }) => {
      if (target.name === "reading.time") this.timeTouched = true;
      else if (!this.timeTouched) this.setTime();
      this.changed();
    });
    box.addEventListener("change", ({ target }) => {
      if (!target.dataset.unit) return;
      setting.write(`unit.${target.dataset.unit}`, target.value);
      this.changed();
    });
    box.addEventListener("keydown", (event) => this.key(event));
    box.addEventListener("submit", (event) => event.preventDefault());
    box.querySelector('[data-action="add-reading"]').addEventListener("click", () => this.keep());
    box.querySelector('[data-action="next-field"]').addEventListener("click", () => this.next(document.activeElement));
    box.querySelector('[data-action="leave-entry"]').addEventListener("click", () => this.leave());
    box.querySelector('[data-action="delete-reading"]').addEventListener("click", () => this.erase());
    box.querySelector('[data-action="leave-reading"]').addEventListener("click", () => {
      this.clear();
      this.leave();
    });
    this.setTime();
    const found = await this.draft.begin();
    if (found && await this.isKept(found)) {
      this.draft.save(null);
      if (found.waiting) this.restore(found.waiting);
    } else if (found) {
      this.restore(found);
    }
    this.changed(counted(typed().typed) !== "");
  }

  /** Whether a draft is in the log already: the browser may have been ended between the two writings. */
  async isKept({ entry, editing, typed: texts }) {
    const { known } = await log.entries();
    return known.some((one) => one.id === entry
      || (one.id === editing && Object.keys(texts).every((name) => one.typed[name] === texts[name])));
  }

  setTime() {
    form().elements["reading.time"].value = now();
  }

  /** Put an unfinished reading back; what somebody has begun to type already stays. */
  restore({ typed: texts, units, editing, entry, waiting }) {
    this.id = entry || this.id;
    const { time, ...begun } = typed().typed;
    this.fill({ ...texts, ...begun }, units);
    this.editing = editing || null;
    this.waiting = waiting || null;
    this.timeTouched = true;
    say("Your unfinished reading is back.");
  }

  fill(texts, units = {}) {
    for (const field of fields()) field.value = texts[bare(field)] || "";
    for (const [name, unit] of Object.entries(units)) {
      const choice = form().querySelector(`select[data-unit="${name}"]`);
      if (!choice) continue;
      // A file may have brought a unit that no meter here shows; the figure must not change its meaning.
      if (![...choice.options].some((one) => one.value === unit)) choice.append(new Option(unit, unit));
      choice.value = unit;
    }
  }

  /** Take a kept reading back into the form; what is half typed there comes back afterwards. */
  edit(entry) {
    if (!this.editing && counted(typed().typed)) this.waiting = { ...typed(), entry: this.id };
    this.editing = entry.id;
    this.timeTouched = true;
    this.fill({ ...entry.typed, time: entry.at }, entry.units);
    this.changed();
    this.open();
  }

  /** Show the entry; on a phone it is a screen of its own. */
  open() {
    if (location.hash !== "#reading") location.hash = "reading";
    document.body.classList.add("entering");
    (fields().find((one) => one.name === "reading.temperature") || fields()[0]).focus();
  }

  leave() {
    document.body.classList.remove("entering");
    if (location.hash === "#reading") history.replaceState(null, "", location.pathname + location.search);
    if (this.editing && this.unchanged()) this.clear();
    document.getElementById("main").focus({ preventScroll: true });
  }

  /** Whether the reading in the form is as it is kept. */
  unchanged() {
    const kept = bathLog.all.find((one) => one.id === this.editing);
    if (!kept) return false;
    const now = typed();
    const before = { ...kept.typed, time: kept.at };
    const was = kept.units || {};
    return fields().map(bare).every((name) => (now.typed[name] || "") === (before[name] || "")
      && (!now.units[name] || (was[name] || now.units[name]) === now.units[name]));
  }

  clear() {
    this.id = newName();
    this.editing = null;
    this.timeTouched = false;
    this.waived.clear();
    for (const field of fields()) field.value = "";
    setUnits();
    this.setTime();
    if (this.waiting) {
      this.fill(this.waiting.typed, this.waiting.units);
      this.id = this.waiting.entry || this.id;
      this.timeTouched = true;
      this.waiting = null;
      say("Your unfinished reading is back.");
    }
    this.changed();
  }

  changed(write = true) {
    const now = typed();
    const words = counted(now.typed);
    const some = words !== "";
    if (write) {
      this.draft.save(some || this.editing
        ? { ...now, editing: this.editing, entry: this.id, waiting: this.waiting } : null);
    }
    const button = form().querySelector('[data-action="add-reading"]');
    button.textContent = this.editing ? "Keep the change" : some ? `Keep ${words}` : "Keep the reading";
    for (const one of document.querySelectorAll("[data-entry-title]")) {
      one.textContent = this.editing ? "Change a reading" : "New reading";
    }
    for (const action of ["delete-reading", "leave-reading"]) {
      form().querySelector(`[data-action="${action}"]`).hidden = !this.editing;
    }
    const waiting = document.querySelector("[data-unfinished]");
    if (waiting) waiting.textContent = some ? "1 unfinished" : "";
    clearTimeout(this.pause);
    this.pause = setTimeout(() => this.ask(), PAUSE);
  }

  /** Hear from Python what is odd; without it nothing is asked, and all can be kept. */
  async ask() {
    const now = typed();
    let answer;
    try {
      answer = await bathLog.askOwn("reading_ask", { ...now, without: this.editing });
    } catch {
      return;
    }
    if (JSON.stringify(typed()) !== JSON.stringify(now)) return;
    for (const field of fields()) {
      const name = bare(field);
      this.showLast(name, answer.last[name]);
      this.showFault(field, answer.faults[name]);
      const asked = answer.asked[name];
      this.showAsked(field, asked && this.waived.get(name) !== field.value ? asked : null);
    }
  }

  showLast(name, last) {
    const line = form().querySelector(`[data-last="${name}"]`);
    if (line) line.textContent = last ? `last ${last.shown}, ${ago(last.at)}` : line.dataset.help;
  }

  showFault(field, words) {
    const line = document.getElementById(`fault-${bare(field)}`);
    if (line && line.textContent !== (words || "")) line.textContent = words || "";
    if (words) field.setAttribute("aria-invalid", "true");
    else field.removeAttribute("aria-invalid");
  }

  showAsked(field, asked) {
    const name = bare(field);
    const place = form().querySelector(`[data-asked="${name}"]`);
    if (!place) return;
    const mark = asked ? JSON.stringify(asked) : "";
    if (place.dataset.mark === mark) return;
    place.dataset.mark = mark;
    place.replaceChildren();
    if (!asked) return;
    const words = document.createElement("p");
    words.innerHTML = '<svg class="sign open" aria-hidden="true"><use href="#sign-open"/></svg> ';
    words.append(asked.words);
    const row = document.createElement("div");
    for (const offer of asked.offers) {
      row.append(this.choice(offer.words, "main", () => this.take(field, offer, asked)));
    }
    row.append(this.choice(asked.keep, "", () => {
      this.waived.set(name, field.value);
      this.showAsked(field, null);
      this.next(field);
    }));
    place.append(words, row);
    say(asked.words);
  }

  choice(words, kind, act) {
    const made = document.createElement("button");
    made.type = "button";
    made.className = kind;
    made.textContent = words;
    made.addEventListener("click", act);
    return made;
  }

  take(field, offer, asked) {
    const choice = asked.unit && offer.text.endsWith(` ${asked.unit}`)
      && form().querySelector(`select[data-unit="${bare(field)}"]`);
    const known = choice && [...choice.options].some((one) => one.value === asked.unit);
    if (known) {
      // The figure is right, and the meter was set to another unit.
      choice.value = asked.unit;
      setting.write(`unit.${bare(field)}`, asked.unit);
    } else {
      field.value = offer.text;
    }
    this.showAsked(field, null);
    this.changed();
    this.next(field);
  }

  key(event) {
    if (event.key === "Escape") {
      this.leave();
      return;
    }
    if (event.key !== "Enter" || event.isComposing || event.target.matches("button, summary")) return;
    event.preventDefault();
    if (event.target.name === "reading.remark") this.keep();
    else this.next(event.target);
  }

  next(from) {
    const shown = fields().filter((one) => !one.closest("details:not([open])") && one.name !== "reading.time");
    const at = shown.indexOf(from);
    const next = shown[at + 1];
    if (next) next.focus();
    else if (from && from.name === "reading.remark") form().querySelector('[data-action="add-reading"]').focus();
    else shown[0].focus();
  }

  /** Keep what is typed; it leaves the form only when it is on the disk. */
  async keep() {
    if (this.busy) return;
    const { typed: texts, units } = typed();
    const words = counted(texts);
    if (!words) {
      say("Type at least one value, or a remark.");
      fields().find((one) => one.name === "reading.temperature").focus();
      return;
    }
    const before = this.editing && bathLog.all.find((one) => one.id === this.editing);
    texts.time = texts.time || now();
    const fresh = bathLog.made("reading", texts, { units, id: this.id });
    const entry = before ? changedTo(before, texts, units, fresh.at) : fresh;
    this.busy = true;
    try {
      await bathLog.put([entry]);
    } catch (error) {
      this.full(entry, error);
      return;
    } finally {
      this.busy = false;
    }
    this.clear();
    document.body.classList.remove("entering");
    if (location.hash === "#reading") history.replaceState(null, "", location.pathname + location.search);
    if (before) this.wasChanged(before);
    this.kept(entry, words);
  }

  erase() {
    const id = this.editing;
    this.clear();
    this.leave();
    if (this.remove) this.remove(id);
  }
}

/** A kept entry with other texts: what the form does not ask stays as it is. */
export function changedTo(before, texts, units, at, asked = fields().map(bare)) {
  const rest = (held) => Object.fromEntries(Object.entries(held || {}).filter(([name]) => !asked.includes(name)));
  const made = { ...before, typed: { ...rest(before.typed), ...texts }, units: { ...rest(before.units), ...units }, at,
    changed: stamp() };
  if (Object.keys(made.units).length === 0) delete made.units;
  return made;
}

/** How long ago a moment was, in words. */
export function ago(at) {
  const then = new Date(at);
  const days = Math.round((new Date(now().slice(0, 10)) - new Date(at.slice(0, 10))) / 86_400_000);
  if (days <= 0) return `today, ${then.toLocaleTimeString([], { hour: "numeric", minute: "2-digit" })}`;
  return days === 1 ? "yesterday" : `${days} days ago`;
}
