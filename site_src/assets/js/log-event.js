// The entry of an event: what was planted, cut, cleaned or failed, and an event that was written wrongly put right.

import { bathLog, now } from "./log-bath.js";
import { Draft } from "./log-draft.js";
import { changedTo } from "./log-entry.js";
import { newName } from "./plans.js";

const ASKED = ["time", "count", "mass", "what", "remark"];
const PAUSE = 250;

export class EventEntry {
  /** `kept(entry, words)` is called when an event is on the disk, `full(entry, error)` when it could not be. */
  constructor({ kept, full, remove, wasChanged }) {
    Object.assign(this, { kept, full, remove, wasChanged });
    this.form = document.querySelector("form[data-event-entry]");
    this.fold = this.form.closest("details");
    this.draft = new Draft("event");
    this.editing = null;
    // The name that the event will have, so that it is not kept twice where its draft outlived the keeping.
    this.id = newName();
  }

  field(name) {
    return this.form.elements[`event.${name}`];
  }

  press(action, act) {
    this.form.querySelector(`[data-action="${action}"]`).addEventListener("click", act);
  }

  wire() {
    this.form.addEventListener("submit", (event) => event.preventDefault());
    this.form.addEventListener("keydown", (event) => {
      if (event.key === "Enter" && !event.isComposing && event.target.matches("input")) event.preventDefault();
      if (event.key === "Escape" && this.editing) this.clear();
    });
    this.form.addEventListener("input", () => this.save());
    this.restore();
    this.press("add-event", () => this.keep());
    this.press("delete-event", () => this.erase());
    this.press("leave-event", () => this.clear());
    this.fold.addEventListener("toggle", () => {
      if (this.fold.open && !this.field("time").value) this.field("time").value = now();
    });
  }

  /** An event half noted is written at every key, as a reading is. */
  save() {
    clearTimeout(this.pause);
    this.pause = setTimeout(() => this.ask(), PAUSE);
    const { time, ...texts } = this.typed();
    const some = this.editing || Object.keys(texts).length > 0;
    this.draft.save(some ? { typed: { ...texts, ...(time ? { time } : {}) }, kind: this.field("kind").value,
      unit: this.form.elements["unit.mass"].value, editing: this.editing, entry: this.id } : null);
  }

  units(texts) {
    return texts.mass ? { mass: this.form.elements["unit.mass"].value } : {};
  }

  /** Hear from Python what of it cannot be read; all can be kept all the same. */
  async ask() {
    const typed = this.typed();
    let faults;
    try {
      ({ faults } = await bathLog.askOwn("reading_ask", { typed, units: this.units(typed),
        kind: this.field("kind").value }));
    } catch {
      return;
    }
    if (JSON.stringify(this.typed()) === JSON.stringify(typed)) this.showFaults(faults);
  }

  showFaults(faults) {
    for (const name of ASKED) {
      const line = document.getElementById(`fault-event-${name}`);
      if (!line) continue;
      if (line.textContent !== (faults[name] || "")) line.textContent = faults[name] || "";
      if (faults[name]) this.field(name).setAttribute("aria-invalid", "true");
      else this.field(name).removeAttribute("aria-invalid");
    }
  }

  async restore() {
    const found = await this.draft.unkept();
    if (!found) return;
    this.id = found.entry || this.id;
    this.editing = found.editing || null;
    if (found.kind) this.field("kind").value = found.kind;
    if (found.unit) this.form.elements["unit.mass"].value = found.unit;
    for (const name of ASKED) this.field(name).value = this.field(name).value || found.typed[name] || "";
    this.show();
    this.fold.open = true;
  }

  typed() {
    const texts = {};
    for (const name of ASKED) if (this.field(name).value.trim()) texts[name] = this.field(name).value.trim();
    return texts;
  }

  /** Take a kept event back into the form. */
  edit(entry) {
    this.clear();
    this.editing = entry.id;
    this.field("kind").value = entry.kind;
    for (const name of ASKED) this.field(name).value = entry.typed[name] || "";
    this.field("time").value = entry.at;
    const unit = (entry.units || {}).mass;
    const choice = this.form.elements["unit.mass"];
    if (unit && ![...choice.options].some((one) => one.value === unit)) choice.append(new Option(unit, unit));
    if (unit) choice.value = unit;
    this.show();
    this.fold.open = true;
    this.field("kind").focus();
    this.ask();
  }

  show() {
    const { editing } = this;
    this.form.querySelector('[data-action="add-event"]').textContent = editing ? "Keep the change" : "Keep the event";
    for (const action of ["delete-event", "leave-event"]) {
      this.form.querySelector(`[data-action="${action}"]`).hidden = !editing;
    }
    this.fold.querySelector("summary").textContent = editing ? "Change an event" : "Note an event";
  }

  clear() {
    const unit = this.form.elements["unit.mass"].value;
    this.editing = null;
    this.id = newName();
    this.form.reset();
    this.form.elements["unit.mass"].value = unit;
    this.field("time").value = now();
    clearTimeout(this.pause);
    this.showFaults({});
    this.show();
    this.draft.save(null);
  }

  async keep() {
    const texts = this.typed();
    const kind = this.field("kind").value;
    const units = this.units(texts);
    const before = this.editing && bathLog.all.find((one) => one.id === this.editing);
    const fresh = bathLog.made(kind, texts, { units, id: this.id });
    delete texts.time;
    const entry = before ? { ...changedTo(before, texts, units, fresh.at, ASKED), kind } : fresh;
    try {
      await bathLog.put([entry]);
    } catch (error) {
      this.full(entry, error);
      return;
    }
    const words = this.field("kind").selectedOptions[0].textContent.toLowerCase();
    this.clear();
    if (before) this.wasChanged(before);
    this.kept(entry, words);
  }

  erase() {
    const id = this.editing;
    this.clear();
    this.remove(id);
  }
}
