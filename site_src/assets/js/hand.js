// The plan in hand: what the form says, as plan text. After every change it is kept on this machine, and the change can
// be undone.

import * as engine from "./engine.js";
import * as store from "./plan-store.js";
import { Rows, apply, collect, follow, hideUnasked, lasting, ready, systemOf, useSystem } from "./fields.js";
import { changedOf, withUnits } from "./linking.js";
import { defaults } from "./source.js";
import { hearTabs, tellTabs } from "./tabs.js";
import { markGuesses } from "./asks.js";
import { inSight } from "./steps.js";
import { newName, shelf } from "./plans.js";
import { notice, say, unsay, withdraw } from "./telling.js";
import { Undo, sameState } from "./undo.js";

// A key at a time goes to the small storage at once; the shelf waits for a pause, since it writes through to the disk.
const PAUSE = 400;
const SENT = 8;
const UNNAMED = "Your raft bath";

/** Sentences for the reader among whatever Python sent. */
export function sentences(notes) {
  return Array.isArray(notes) ? notes.map(String) : [];
}

function tablesIn(place) {
  return [...place.querySelectorAll("[data-table]")].map((element) => new Rows(element));
}

function same(left, right) {
  return sameState({ plan: left }, { plan: right });
}

/** The time of day as the reader's units go with it, the day where it is not today. */
function clock(system, when) {
  if (when.toDateString() !== new Date().toDateString()) {
    return when.toLocaleDateString("en-US", { month: "short", day: "numeric" });
  }
  return system === "metric" ? when.toLocaleTimeString("en-GB", { hour: "2-digit", minute: "2-digit" })
    : when.toLocaleTimeString("en-US", { hour: "numeric", minute: "2-digit" }).toLowerCase();
}

export class Hand {
  constructor(form) {
    this.form = form;
    // The version of a plan that this page writes.
    this.version = Number(form.dataset.plan);
    this.plan = {};
    this.system = "us";
    // Which of the kept plans it is; "" while it is none.
    this.id = "";
    this.name = "";
    // The state of each kept plan as this page knows it, by id; null for one that is not kept yet.
    this.stamps = new Map();
    // The last states given to the shelf: a page left in mid-write finds them there and knows them as its own.
    this.sent = [];
    // What another tab has made of this plan, until the reader has chosen.
    this.rival = null;
    this.undone = new Undo();
    // A plan that another version of the page kept, until Python has read it as one of this version.
    this.older = null;
    this.updating = null;
    this.switching = null;
    this.declared = null;
    // The reader's own plan while somebody else's is looked at, which is kept nowhere; `lock` makes it read-only.
    this.lent = null;
    this.pause = 0;
    // Whether the shelf has not been given what is in hand.
    this.unwritten = false;
    this.writes = Promise.resolve();
    // Called after every change of the plan, when a whole other plan is taken, and when what is kept has changed.
    this.onchange = () => {};
    this.ontake = () => {};
    this.onkept = () => {};
    this.onoriginal = () => {};
    ready(form);
    this.tables = tablesIn(form);
    for (const place of document.querySelectorAll("[data-saved]")) place.dataset.saved = place.textContent;
    hearTabs((id, stamp) => this.hear(id, stamp));
  }

  // --- what it is -----------------------------------------------------------------------------------------------

  /** The plan's name as the reader sees it. */
  get title() {
    return this.name || UNNAMED;
  }

  state() {
    return { plan: this.plan, id: this.id, name: this.name };
  }

  /** Whether the reader has answered anything: a choice of units alone is no plan. */
  get own() {
    return Object.keys(this.lasting()).some((key) => key !== "units");
  }

  lasting() {
    return lasting(this.form, this.plan);
  }

  /** Whether a plan says what this one says. */
  says(plan) {
    const here = this.lasting();
    if (same(here, plan)) return true;
    return this.declared !== null && same(changedOf(here, this.declared), changedOf(plan, this.declared));
  }

  /** Read the form into the plan, which stays the same object while it says the same: that tells who asked about it. */
  collect() {
    const found = collect(this.form, this.plan);
    if (!same(found, this.plan)) this.plan = found;
    return this.plan;
  }

  /** What calc declares of questions, for links and files; fetched once. */
  async known() {
    this.declared ??= await defaults();
    return this.declared;
  }

  /** The plan once everything that Python has to write into it is there: what an action is about. */
  async ready() {
    await this.upToDate();
    if (this.switching) await this.switchUnits();
    return this.collect();
  }

  /** The plan as it can be kept or handed on without waiting for anything, and the version that it is of. */
  now() {
    this.collect();
    const plan = this.lasting();
    if (this.older) return { plan: { ...this.older.plan, ...plan }, version: this.older.version };
    if (this.switching) return { plan: this.halfSwitched(plan), version: this.version };
    return { plan, version: this.version };
  }

  // --- changes --------------------------------------------------------------------------------------------------

  /** Take in questions that were put into the form after it was wired. */
  grown(places) {
    for (const place of places) ready(place);
    this.tables = [...this.tables, ...places.flatMap(tablesIn)];
    apply(this.form, this.plan, this.tables);
    this.refresh();
    if (this.lent) this.lent.lock();
  }

  refresh() {
    hideUnasked(this.form, this.plan);
    markGuesses(this.form);
    for (const place of document.querySelectorAll("[data-plan-name]")) place.textContent = this.title;
  }

  /** The reader changed something in the form; `before` is the state it was in, where that is not the one known. */
  changed(before = this.state()) {
    follow(this.form, this.system);
    this.collect();
    const now = systemOf(this.form, this.plan);
    if (now !== this.system) {
      this.switching = { before: before.plan, from: this.system, ...this.switching, to: now };
      this.system = now;
      useSystem(this.form, this.system);
      follow(this.form, this.system);
      this.switching.at = { ...this.collect() };
    }
    this.refresh();
    if (!this.lent && !sameState(before, this.state())) {
      if (!this.id) this.begin();
      // The example becomes a plan with its first answer; without that answer it is the same plan, and empty.
      this.undone.note({ ...before, id: this.id }, this.state());
      unsay("plan");
    }
    this.keep();
    this.onchange();
  }

  /** Put some answers into the plan, as if they had been typed, in one step. */
  put(changes) {
    if (this.lent) return;
    const before = this.state();
    this.undone.seal();
    for (const [key, text] of Object.entries(changes)) {
      const control = this.form.elements.namedItem(key);
      if (control) control.value = text;
      this.plan = { ...this.plan, [key]: text };
    }
    this.changed(before);
  }

  rename(name) {
    if (this.lent) return;
    this.name = name.trim();
    if (!this.id) this.begin();
    this.refresh();
    this.keep();
  }

  begin() {
    this.id = newName();
    this.stamps.set(this.id, null);
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

  /** Show a plan in place of, or beside, the one in hand: it can be undone. `id` "" begins a new kept plan. */
  show(plan, { id = "", name = "", version = this.version } = {}) {
    this.giveBack();
    const before = this.state();
    this.write();
    this.forgetRival();
    this.undone.seal();
    this.id = id;
    this.name = name;
    if (!this.id) this.begin();
    this.take(plan);
    if (version !== this.version) this.older = { plan: { ...plan }, version };
    this.undone.note(before, this.state());
    this.keep();
    this.onchange();
  }

  /** Show one of the kept plans. */
  showKept(record) {
    this.stamps.set(record.id, record.stamp);
    // A plan of a newer version stays as it is; what is understood of it becomes another.
    const newer = record.version > this.version;
    this.show(record.plan, { id: newer ? "" : record.id, name: record.name, version: record.version });
  }

  /** Look at somebody else's plan, under a title; `lock` makes its questions read-only, `end` ends it. */
  lend(plan, name, { lock, end }) {
    this.giveBack();
    this.write();
    this.lent = { own: this.state(), older: this.older, lock, end };
    this.id = "";
    this.name = name;
    this.take(plan);
    lock();
    this.onchange();
  }

  /** Come back to the reader's own plan; does nothing where that is in hand. */
  giveBack() {
    if (!this.lent) return;
    const { own, older, end } = this.lent;
    this.lent = null;
    Object.assign(this, own);
    this.take(own.plan);
    this.older = older;
    end();
    this.onchange();
  }

  /** Begin again from the example; the plan goes from this machine, and undoing brings it back. */
  erase() {
    if (this.lent) return undefined;
    const before = this.state();
    clearTimeout(this.pause);
    this.unwritten = false;
    this.forgetRival();
    this.undone.seal();
    this.id = "";
    this.name = "";
    this.take({});
    this.undone.note(before, this.state());
    this.trouble = this.saveSmall();
    this.tellSaved();
    if (before.id) this.writes = this.writes.then(() => shelf.remove(before.id)).then(() => this.onkept());
    this.onchange();
    return this.writes;
  }

  undo() {
    const state = !this.lent && this.undone.undo(this.state());
    if (state) this.goTo(state);
  }

  redo() {
    const state = !this.lent && this.undone.redo(this.state());
    if (state) this.goTo(state);
  }

  goTo(state) {
    this.write();
    this.forgetRival();
    unsay("plan");
    if (state.id && !this.stamps.has(state.id)) this.stamps.set(state.id, undefined);
    this.id = state.id;
    this.name = state.name;
    this.take(state.plan);
    this.keep();
    this.onchange();
  }

  // --- keeping --------------------------------------------------------------------------------------------------

  /** Show the plan that this browser keeps: at once what the small storage has, then what the shelf says of it. */
  takeKept() {
    if (this.lent) return this.adopted;
    const kept = store.load();
    const which = store.shown();
    const here = store.shownHere();
    // This tab showed another plan than the one that was saved last.
    const elsewhere = here !== "" && which.id !== undefined && here !== which.id && !kept.foreign;
    this.take(elsewhere ? {} : kept.plan);
    if (!elsewhere && kept.version !== 0 && kept.version !== this.version) {
      if (kept.version > this.version) store.setAside(kept.version);
      this.older = kept;
    }
    if (!elsewhere && !kept.foreign && which.id && kept.version <= this.version) {
      this.identify(which.id, which.name, which.stamp);
    }
    this.adopted = this.adopt(kept, which, elsewhere || kept.version === 0 ? here : "").catch(() => {});
    return this.adopted;
  }

  async adopt(kept, which, here) {
    if (kept.unread) await this.tellUnread(kept);
    const untouched = this.plan;
    if (here || kept.version === 0) {
      const record = here ? await shelf.read(here) : store.forbidden() ? await this.newest() : undefined;
      if (record && same(this.plan, untouched)) this.takeRecord(record);
      return;
    }
    const newer = kept.version > this.version;
    const record = which.id && !newer ? await shelf.read(which.id) : undefined;
    if (record && same(record.plan, kept.plan)) {
      // The name may have been changed on the shelf since.
      if (!this.id || this.id === record.id) this.identify(record.id, record.name, record.stamp);
      this.tellSaved(new Date(record.changed));
      return;
    }
    if (record && this.id === record.id && record.stamp !== which.stamp && (which.sent || []).includes(record.stamp)) {
      this.stamps.set(record.id, record.stamp);
    } else if (record && this.id === record.id && record.stamp !== which.stamp) {
      // Kept in another state by a tab, or a visit, of which the small storage does not know: neither is lost.
      if (record.changed > which.changed && same(this.plan, untouched)) {
        await shelf.write(this.record(newName(), which.name, kept), null);
        this.takeRecord(record);
        return;
      }
      this.begin();
    } else if (!this.id) {
      this.begin();
    }
    if (this.own) this.keep();
  }

  identify(id, name, stamp) {
    this.id = id;
    this.name = name || "";
    this.stamps.set(id, stamp);
    this.refresh();
  }

  async newest() {
    const all = await shelf.all();
    return all.sort((left, right) => right.changed - left.changed)[0];
  }

  takeRecord(record) {
    this.id = record.version > this.version ? newName() : record.id;
    this.stamps.set(this.id, this.id === record.id ? record.stamp : null);
    this.name = record.name || "";
    this.take(record.plan);
    if (record.version !== this.version) this.older = { plan: record.plan, version: record.version };
    this.onchange();
  }

  /** Something kept cannot be read whole: its text is kept aside, and offered. */
  async tellUnread(kept) {
    await shelf.keepOriginal({ id: newName(), name: "kept in this browser", text: kept.unread, at: Date.now() });
    if (shelf.lasts) store.release();
    notice("unread", "Part of the plan that this browser kept cannot be read. The original is kept.", {
      list: kept.lost.length > 0 ? kept.lost.slice(0, 6).map((key) => `${key.slice(0, 40)} holds no answer.`)
        : ["Nothing of it could be read."],
      choices: [["Save the original as a file", () => this.onoriginal(kept.unread)]],
    });
  }

  record(id, name, { plan, version }) {
    const made = { id, name, plan, version, changed: Date.now(), stamp: newName() };
    const step = inSight();
    return step ? { ...made, step } : made;
  }

  /** Keep the plan in hand: in the small storage now, on the shelf in a moment. */
  keep() {
    if (this.lent) return;
    if (this.rival) this.part();
    this.trouble = this.saveSmall();
    this.unwritten = true;
    clearTimeout(this.pause);
    this.pause = setTimeout(() => this.write(), PAUSE);
  }

  saveSmall() {
    const { plan, version } = this.now();
    const { id, name, sent } = this;
    return store.save(plan, version, { id, name, stamp: this.stamps.get(id), sent });
  }

  /** Put the plan in hand on the shelf; resolves once it is there. */
  write() {
    clearTimeout(this.pause);
    if (!this.unwritten) return this.writes;
    this.unwritten = false;
    const { id, name } = this;
    const kept = this.now();
    if (id && !this.rival) {
      const record = this.record(id, name, kept);
      this.sent = [...this.sent, record.stamp].slice(-SENT);
      this.trouble = this.saveSmall();
      this.writes = this.writes.then(() => this.writeOne(record));
    }
    return this.writes;
  }

  async writeOne(record) {
    if (Object.keys(record.plan).length === 0) {
      await shelf.remove(record.id);
      this.stamps.set(record.id, null);
    } else {
      const rival = await shelf.write(record, this.stamps.get(record.id));
      if (rival && !same(rival.plan, record.plan)) {
        if (record.id === this.id) this.meet(rival);
        else await shelf.write({ ...record, id: newName() }, null);
        return;
      }
      this.stamps.set(record.id, rival ? rival.stamp : record.stamp);
      if (!rival) tellTabs(record.id, record.stamp);
    }
    if (record.id === this.id) {
      this.trouble = this.saveSmall();
      this.tellSaved();
    }
    this.onkept();
  }

  /** Say when the plan was saved, or why it was not. */
  tellSaved(when = new Date()) {
    const saved = shelf.lasts || !this.trouble;
    const words = saved ? `Saved on this machine, ${clock(this.system, when)}` : "Not saved on this machine";
    for (const place of document.querySelectorAll("[data-saved]")) {
      place.textContent = this.own ? words : place.dataset.saved;
    }
    if (saved) unsay("storage");
    else say(this.trouble, "storage");
  }

  // --- other tabs -----------------------------------------------------------------------------------------------

  async hear(id, stamp) {
    if (id !== this.id || this.stamps.get(id) === stamp) return;
    const record = await shelf.read(id);
    if (!record || id !== this.id || record.stamp === this.stamps.get(id)) return;
    if (same(record.plan, this.lasting())) this.identify(id, record.name, record.stamp);
    else this.meet(record);
  }

  /** Another tab has made something else of this plan: say so, and offer both. */
  meet(record) {
    const told = this.rival !== null;
    this.rival = record;
    if (told) return;
    notice("tabs", "This plan was changed in another tab.", { choices: [
      ["Show what it is there", () => { if (this.rival) this.showKept(this.rival); }],
      ["Keep both: this one beside it", () => { if (this.rival) this.keep(); }],
    ] });
  }

  forgetRival() {
    this.rival = null;
    withdraw("tabs");
  }

  /** What is here becomes a plan of its own, so that neither writes over the other. */
  part() {
    this.forgetRival();
    this.name = `${this.title}, this tab's`;
    this.begin();
    this.refresh();
    say(`What is here is kept as a plan of its own, “${this.title}”; the other tab's stays as it is there.`);
  }

  // --- what Python has to write into it -------------------------------------------------------------------------

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
    const notes = sentences(answer.notes);
    if (notes.length === 0) return;
    const text = JSON.stringify({ plan: kept.plan, version: kept.version }, null, 1);
    await shelf.keepOriginal({ id: newName(), name: this.title, text, why: notes, at: Date.now() });
    notice("unread", "Not all of the kept plan could be read. The original is kept.", {
      list: notes, choices: [["Save the original as a file", () => this.onoriginal(text)]],
    });
  }

  /** What was typed since the units were changed. */
  typedSince({ at }) {
    const now = collect(this.form, this.plan);
    return Object.fromEntries([...new Set([...Object.keys(at), ...Object.keys(now)])]
      .filter((key) => at[key] !== now[key]).map((key) => [key, now[key]]));
  }

  /** The plan with its units written out here, while Python has not done it yet. */
  halfSwitched(plan) {
    const { before, from, to } = this.switching;
    if (!this.declared) return { ...lasting(this.form, before) };
    const found = { ...withUnits(lasting(this.form, before), from, this.declared), units: to };
    if (to === "us") delete found.units;
    for (const [key, text] of Object.entries(this.typedSince(this.switching))) {
      if (text === undefined) delete found[key];
      else if (key in plan) found[key] = text;
    }
    return found;
  }

  /** Write the old units onto bare numbers, so that "48" stays 48 inches after a change to metric. */
  async switchUnits() {
    const asked = this.switching;
    const answer = await engine.run({ op: "switch_system", plan: asked.before, to: asked.to });
    if (answer.error) throw new Error(answer.error);
    // Changed once more, or something else was opened, meanwhile.
    if (this.switching !== asked) return;
    const since = this.typedSince(asked);
    this.switching = null;
    this.plan = { ...answer.plan };
    if (asked.to === "us") delete this.plan.units;
    else this.plan.units = asked.to;
    for (const [key, text] of Object.entries(since)) {
      if (text === undefined) delete this.plan[key];
      else this.plan[key] = text;
    }
    apply(this.form, this.plan, this.tables);
    this.refresh();
    this.keep();
  }
}
