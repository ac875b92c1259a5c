// The plan in hand: what the form says, as plan text; it is kept on this machine after every change.

import * as engine from "./engine.js";
import * as store from "./plan-store.js";
import { Rows, apply, collect, follow, hideUnasked, lasting, ready, systemOf, useSystem } from "./fields.js";
import { markGuesses } from "./asks.js";

/** Sentences for the reader among whatever Python sent. */
export function sentences(notes) {
  return Array.isArray(notes) ? notes.map(String) : [];
}

function tablesIn(place) {
  return [...place.querySelectorAll("[data-table]")].map((element) => new Rows(element));
}

export class Hand {
  /** `say` tells the reader a sentence. */
  constructor(form, say) {
    this.form = form;
    this.say = say;
    // The version of a plan that this page writes.
    this.version = Number(form.dataset.plan);
    this.plan = {};
    this.system = "us";
    // A plan that another version of the page kept, until Python has read it as one of this version.
    this.older = null;
    this.updating = null;
    this.switching = null;
    this.storageWarned = false;
    // Called after every change of the plan, and when a whole other plan is taken.
    this.onchange = () => {};
    this.ontake = () => {};
    ready(form);
    this.tables = tablesIn(form);
  }

  /** Take in questions that were put into the form after it was wired. */
  grown(places) {
    for (const place of places) ready(place);
    this.tables = [...this.tables, ...places.flatMap(tablesIn)];
    apply(this.form, this.plan, this.tables);
    this.refresh();
  }

  refresh() {
    hideUnasked(this.form, this.plan);
    markGuesses(this.form);
  }

  /** Read the form into the plan. */
  collect() {
    this.plan = collect(this.form, this.plan);
    return this.plan;
  }

  /** The plan once everything that Python has to write into it is there: what an action is about. */
  async ready() {
    await this.upToDate();
    if (this.switching) await this.switchUnits();
    return this.collect();
  }

  /** The reader changed something in the form. */
  changed() {
    const before = this.plan;
    follow(this.form, this.system);
    this.collect();
    const now = systemOf(this.form, this.plan);
    if (now !== this.system) {
      this.switching = this.switching ? { ...this.switching, to: now } : { before, to: now };
      this.system = now;
      useSystem(this.form, this.system);
      follow(this.form, this.system);
      this.collect();
    }
    this.refresh();
    this.keep();
    this.onchange();
  }

  /** Put some answers into the plan, as if they had been typed. */
  put(changes) {
    for (const [key, text] of Object.entries(changes)) {
      const control = this.form.elements.namedItem(key);
      if (control) control.value = text;
      this.plan = { ...this.plan, [key]: text };
    }
    this.changed();
  }

  /** Show another plan as a whole. */
  take(next) {
    this.plan = { ...next };
    this.older = null;
    this.switching = null;
    apply(this.form, this.plan, this.tables);
    this.system = systemOf(this.form, this.plan);
    this.refresh();
    this.ontake();
  }

  /** Show the plan that this browser keeps. */
  takeKept() {
    const kept = store.load();
    this.take(kept.plan);
    if (kept.version === 0 || kept.version === this.version) return;
    if (kept.version > this.version) store.setAside(kept.version);
    this.older = kept;
  }

  /** Save the plan in hand; one of another version keeps all it had until it is read. */
  save() {
    const kept = lasting(this.form, this.plan);
    return this.older ? store.save({ ...this.older.plan, ...kept }, this.older.version)
      : store.save(kept, this.version);
  }

  keep() {
    if (this.switching) return;
    const trouble = this.save();
    if (trouble && !this.storageWarned) this.say(trouble);
    this.storageWarned = Boolean(trouble);
  }

  /** Have Python read a plan of another version as one of this; what was typed since stays. */
  upToDate() {
    if (this.older && !this.updating) {
      this.updating = this.readOlder(this.older).finally(() => { this.updating = null; });
    }
    return this.updating;
  }

  async readOlder(kept) {
    const answer = await engine.run({ op: "plan_read", plan: kept.plan, version: kept.version });
    if (answer.error) throw new Error(answer.error);
    // Something else was opened meanwhile.
    if (this.older !== kept) return;
    const now = this.switching ? this.switching.before : collect(this.form, this.plan);
    const next = { ...answer.plan };
    for (const key of new Set([...Object.keys(kept.plan), ...Object.keys(now)])) {
      if (now[key] === kept.plan[key]) continue;
      if (key in now) next[key] = now[key];
      else delete next[key];
    }
    if (this.switching) {
      this.switching.before = next;
      this.older = null;
    } else {
      this.take(next);
      this.keep();
    }
    if (sentences(answer.notes).length > 0) this.say(sentences(answer.notes).join(" "));
  }

  /** Write the old units onto bare numbers, so that "48" stays 48 inches after a change to metric. */
  async switchUnits() {
    const { before, to } = this.switching;
    const answer = await engine.run({ op: "switch_system", plan: before, to });
    this.switching = null;
    if (answer.plan) {
      this.plan = { ...answer.plan };
      if (to === "us") delete this.plan.units;
      else this.plan.units = to;
      apply(this.form, this.plan, this.tables);
    }
    this.keep();
  }
}
