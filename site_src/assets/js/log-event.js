// The entry of an event: what was planted, cut, cleaned or failed, and an event that was written wrongly put right.

import { bathLog, now } from "./log-bath.js";
import { changedTo } from "./log-entry.js";

const ASKED = ["time", "count", "mass", "what", "remark"];

export class EventEntry {
  /** `kept(entry, words)` is called when an event is on the disk, `full(entry, error)` when it could not be. */
  constructor({ kept, full, remove, wasChanged }) {
    Object.assign(this, { kept, full, remove, wasChanged });
    this.form = document.querySelector("form[data-event-entry]");
    this.fold = this.form.closest("details");
    this.editing = null;
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
    this.press("add-event", () => this.keep());
    this.press("delete-event", () => this.erase());
    this.press("leave-event", () => this.clear());
    this.fold.addEventListener("toggle", () => {
      if (this.fold.open && !this.field("time").value) this.field("time").value = now();
    });
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
    this.form.reset();
    this.form.elements["unit.mass"].value = unit;
    this.field("time").value = now();
    this.show();
  }

  async keep() {
    const texts = this.typed();
    const kind = this.field("kind").value;
    const units = texts.mass ? { mass: this.form.elements["unit.mass"].value } : {};
    const before = this.editing && bathLog.all.find((one) => one.id === this.editing);
    const fresh = bathLog.made(kind, texts, { units });
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
