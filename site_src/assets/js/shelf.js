// The page of kept plans: one line a plan, with its small drawing, where it stands, and what can be done with it.

import * as engine from "./engine.js";
import * as store from "./plan-store.js";
import { Rows, nameOf } from "./shelf-rows.js";
import { fromDisk, release } from "./source.js";
import { isPlan, newName, shelf } from "./plans.js";
import { mergeFile, wholeShelf } from "./shelf-file.js";
import { offline } from "./offline.js";
import { showPicture } from "./picture.js";
import { download } from "./download.js";
import { hearTabs, tellTabs } from "./tabs.js";
import { notice, say } from "./telling.js";

const COPIED = "raftwright.copied";
const KEPT_DAYS = 30;
const DAY = 86_400_000;
const LARGEST_FILE = 20_000_000;
const MOST_TOLD = 60;
const MOST_CHOSEN = 4;

const place = document.querySelector("[data-shelf]");
const version = Number(place.dataset.shelf);

/** A date that sorts, as a file's name wants it. */
function stamp(when = new Date()) {
  const two = (number) => String(number).padStart(2, "0");
  return `${when.getFullYear()}-${two(when.getMonth() + 1)}-${two(when.getDate())}`;
}

function day(when) {
  return new Date(when).toLocaleDateString("en-US", { month: "short", day: "numeric", year: "numeric" });
}

class Page {
  constructor() {
    this.records = [];
    this.broken = [];
    this.originals = [];
    this.deletedHere = new Set();
    this.chosen = [];
    this.asking = null;
    this.rows = new Rows(place.querySelector("[data-plans]"), {
      rename: (id, name) => this.amend(id, { name: name.trim() }),
      describe: (id, note) => this.amend(id, { note: note.trim() }),
      copy: (id) => this.copy(id),
      save: (id) => this.saveOne(id),
      picture: (id) => this.picture(id),
      remove: (id) => this.remove(id),
      restore: (id) => this.restore(id),
      choose: (id, yes) => this.choose(id, yes),
    });
  }

  async start() {
    await this.adopt();
    await this.read();
    this.show();
    this.listen();
    hearTabs(() => this.again());
    await this.glance();
  }

  /** What the small storage has and the shelf does not goes onto the shelf; what cannot be read is set aside. */
  async adopt() {
    const kept = store.load();
    if (kept.unread) {
      await shelf.keepOriginal({ id: newName(), name: "kept in this browser", text: kept.unread, at: Date.now() });
      if (shelf.lasts) store.release();
    }
    if (!Object.keys(kept.plan).some((key) => key !== "units")) return;
    const which = store.shown();
    const known = which.id && !kept.foreign ? (await shelf.everything()).find((one) => one.id === which.id) : undefined;
    // Another state of it is settled by the planner, which knows what it wrote last.
    if (known) return;
    const id = which.id && !kept.foreign ? which.id : newName();
    const record = { id, name: which.name || "", plan: kept.plan, version: kept.version,
      changed: which.changed || Date.now(), stamp: newName() };
    await shelf.write(record, null);
    if (shelf.lasts && kept.version === version) store.save(kept.plan, kept.version, record);
  }

  async read() {
    const all = await shelf.everything();
    this.broken = all.filter((one) => !isPlan(one));
    const old = Date.now() - KEPT_DAYS * DAY;
    const plans = all.filter(isPlan);
    for (const one of plans) if (one.deleted && one.deleted < old) await shelf.remove(one.id);
    this.records = plans.filter((one) => !one.deleted || one.deleted >= old)
      .sort((left, right) => (right.changed || 0) - (left.changed || 0));
    this.originals = await shelf.originals();
    this.chosen = this.chosen.filter((id) => this.plans.some((one) => one.id === id));
  }

  async again() {
    await this.read();
    this.show();
    await this.glance();
  }

  get plans() {
    return this.records.filter((one) => !one.deleted);
  }

  find(id) {
    return this.records.find((one) => one.id === id);
  }

  // --- showing --------------------------------------------------------------------------------------------------

  show() {
    const { plans } = this;
    const shown = this.records.filter((one) => !one.deleted || this.deletedHere.has(one.id));
    this.rows.show(shown, { chosen: this.chosen, release, full: this.chosen.length >= MOST_CHOSEN });
    place.toggleAttribute("data-empty", shown.length === 0);
    place.dataset.count = String(plans.length);
    const many = `${plans.length} ${plans.length === 1 ? "plan" : "plans"} on this machine`;
    for (const one of document.querySelectorAll("[data-how-many]")) one.textContent = many;
    for (const one of document.querySelectorAll("[data-count-plans]")) one.textContent = plans.length;
    const size = JSON.stringify(this.records).length / 1e6;
    place.querySelector("[data-room]").textContent = size < 0.1 ? "under 0.1 MB" : `${size.toFixed(1)} MB`;
    this.showCopied();
    this.showChosen();
    this.showAside();
    this.showWhere();
    this.search();
  }

  showCopied() {
    let when = "";
    try {
      when = localStorage.getItem(COPIED) || "";
    } catch {
      // Nothing is kept, so no copy is known.
    }
    place.querySelector("[data-copied]").textContent = when && Number(when) ? day(Number(when)) : "none yet";
  }

  showChosen() {
    const letters = this.chosen.map((_, at) => "ABCD"[at]);
    const ready = this.chosen.length > 1;
    for (const link of place.querySelectorAll("[data-side-by-side]")) {
      const words = link.querySelector("[data-letters]") || link;
      words.textContent = ready ? `Side by side: ${letters.join(", ")}` : "Side by side";
      link.toggleAttribute("aria-disabled", !ready);
      if (ready) link.href = `${link.dataset.sideBySide}#plans=${this.chosen.join(",")}`;
      else link.removeAttribute("href");
    }
    const hint = place.querySelector("[data-choose-hint]");
    hint.textContent = ready ? "Better and worse are said against A" : "Choose two to four plans, then";
  }

  /** What was set aside, and never erased: deleted plans, and texts that could not be read. */
  showAside() {
    const deleted = this.records.filter((one) => one.deleted && !this.deletedHere.has(one.id));
    const fold = place.querySelector("[data-aside]");
    const list = fold.querySelector("ul");
    list.replaceChildren(
      ...deleted.map((one) => this.aside(`“${one.name || "Your raft bath"}”, deleted ${day(one.deleted)}; `
        + `kept until ${day(one.deleted + KEPT_DAYS * DAY)}.`, "Bring back", () => this.restore(one.id))),
      ...this.broken.map((one) => this.aside("A kept plan that can no longer be read; it is left as it is.",
        "Save it as a file", () => download("raftwright-unreadable.txt", one.unread || JSON.stringify(one, null, 1),
          "text/plain"))),
      ...this.originals.map((one) => this.aside(`The text of “${one.name || "a plan"}”`
        + `${one.at ? `, ${day(one.at)}` : ""}: not all of it could be read.`, "Save it as a file",
        () => download("raftwright-original.txt", one.text || one.unread || JSON.stringify(one, null, 1),
          "text/plain"))));
    fold.querySelector("[data-aside-count]").textContent = list.children.length;
    fold.hidden = list.children.length === 0;
  }

  aside(words, act, work) {
    const line = document.createElement("li");
    const text = document.createElement("span");
    text.textContent = words;
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = act;
    button.addEventListener("click", work);
    line.append(text, button);
    return line;
  }

  showWhere() {
    place.querySelector("[data-from-disk]").hidden = !fromDisk;
    place.querySelector("[data-not-kept]").hidden = shelf.lasts;
  }

  search() {
    const wanted = place.querySelector("[data-find]").value.trim().toLowerCase();
    const found = this.rows.filter((one) => `${one.name || "Your raft bath"} ${one.note || ""}`.toLowerCase()
      .includes(wanted));
    place.querySelector("[data-found]").textContent = wanted ? `${found} of ${this.plans.length} found` : "";
  }

  // --- changing -------------------------------------------------------------------------------------------------

  /** Change what is kept beside the answers of a plan. */
  async amend(id, changes) {
    const state = newName();
    // The answers are as they were, and so is what is told of them.
    const made = await shelf.change(id, (record) => record && { ...record, ...changes, stamp: state,
      glance: record.glance?.stamp === record.stamp ? { ...record.glance, stamp: state } : undefined });
    if (!made) return;
    const at = this.records.findIndex((one) => one.id === id);
    if (at >= 0) this.records[at] = made;
    tellTabs(id, made.stamp);
    this.rows.rename(made);
    this.search();
    say("Kept.");
  }

  async copy(id) {
    const from = this.find(id);
    const made = { ...from, id: newName(), stamp: newName(), copyOf: id, changed: Date.now(),
      name: `Copy of ${from.name || "Your raft bath"}`.slice(0, 60) };
    if (made.glance) made.glance = { ...made.glance, stamp: made.stamp };
    await shelf.write(made, null);
    await this.again();
    this.rows.focus(made.id);
    say(`“${made.name}” stands beside the plan it was copied from.`);
  }

  async remove(id) {
    const record = this.find(id);
    this.deletedHere.add(id);
    this.chosen = this.chosen.filter((one) => one !== id);
    const made = await shelf.change(id, (one) => one && { ...one, deleted: Date.now() });
    Object.assign(record, made || { deleted: Date.now() });
    // The planner would keep anew what still stands in the small storage.
    if (store.shown().id === id) store.save({}, version, {});
    this.show();
    this.rows.focusUndo(id);
    say(`“${record.name || "Your raft bath"}” is deleted. It is set aside here for ${KEPT_DAYS} days.`);
  }

  async restore(id) {
    this.deletedHere.delete(id);
    const made = await shelf.change(id, (one) => {
      if (!one) return undefined;
      const { deleted, ...left } = one;
      return deleted ? left : undefined;
    });
    await this.again();
    this.rows.focus(id);
    if (made) say(`“${made.name || "Your raft bath"}” is back.`);
  }

  choose(id, yes) {
    this.chosen = yes ? [...this.chosen.filter((one) => one !== id), id].slice(0, MOST_CHOSEN)
      : this.chosen.filter((one) => one !== id);
    this.rows.letter(this.chosen, this.chosen.length >= MOST_CHOSEN);
    this.showChosen();
  }

  // --- files ----------------------------------------------------------------------------------------------------

  saveOne(id) {
    const { name, note, plan, version: of } = this.find(id);
    const kept = { plan, version: of, made_with: place.dataset.madeWith };
    if (name) kept.name = name;
    if (note) kept.note = note;
    const words = (name || "raft-bath").toLowerCase().replace(/[^\p{L}\p{N}]+/gu, "-").replace(/^-|-$/g, "");
    download(`${words || "raft-bath"}-${stamp()}-plan.json`, `${JSON.stringify(kept, null, 1)}\n`, "application/json");
    say("Saved as a file.");
  }

  async picture(id) {
    const record = this.find(id);
    say("The picture is being drawn.");
    const answer = await this.ask({ op: "picture", plan: record.plan, version: record.version, name: nameOf(record) });
    say(answer.error || "");
    if (answer.svg) showPicture(answer.svg, nameOf(record));
  }

  saveAll() {
    if (this.plans.length === 0) return say("There is no plan to save yet.");
    const text = wholeShelf(this.plans, place.dataset.madeWith);
    download(`raftwright-shelf-${stamp()}.json`, text, "application/json");
    try {
      localStorage.setItem(COPIED, String(Date.now()));
    } catch {
      // The file is written all the same.
    }
    this.showCopied();
    return say(`${this.plans.length === 1 ? "The plan is" : `All ${this.plans.length} plans are`} in one file. Keep it `
      + "somewhere else than on this machine.");
  }

  async bringIn(file) {
    if (file.size > LARGEST_FILE) return say("This file is larger than any shelf of plans; nothing was read from it.");
    const text = await file.text();
    const standing = await shelf.everything();
    const found = await mergeFile(text, { name: file.name, standing, version, ask: (question) => this.ask(question) });
    for (const record of found.records) {
      if (record.back) await shelf.change(record.id, (one) => one && { ...one, deleted: undefined });
      else await shelf.write({ ...record, stamp: newName() }, null);
    }
    if (found.original) {
      await shelf.keepOriginal({ id: newName(), name: file.name, text, why: found.said, at: Date.now() });
    }
    await this.again();
    const lines = found.said.slice(0, MOST_TOLD);
    if (found.said.length > lines.length) lines.push(`And ${found.said.length - lines.length} more.`);
    notice("brought", found.sum + (found.original && shelf.lasts ? " The file's own text is set aside below." : ""),
      { list: lines });
    return say(found.sum);
  }

  chooseFile() {
    const picker = document.createElement("input");
    picker.type = "file";
    picker.accept = ".json,application/json,text/plain";
    picker.hidden = true;
    picker.addEventListener("change", () => {
      const [file] = picker.files;
      picker.remove();
      if (file) this.bringIn(file).catch((error) => say(`The file could not be read. ${error.message}`));
    });
    document.body.append(picker);
    picker.click();
  }

  // --- what Python tells of each plan ---------------------------------------------------------------------------

  ask(question) {
    engine.start();
    return engine.run(question);
  }

  /** Have the plans told whose glance is missing or of another state, one after another, the uppermost first. */
  async glance() {
    if (this.asking) {
      this.asking = "again";
      return;
    }
    this.asking = "once";
    try {
      for (;;) {
        const next = this.plans.find((one) => !this.rows.fresh(one, release) && !one.untold);
        if (!next) break;
        const answer = await this.ask({ op: "overview", plan: next.plan, version: next.version });
        next.untold = Boolean(answer.error);
        const glance = { ...answer, stamp: next.stamp, release };
        if (!answer.error) {
          next.glance = glance;
          await shelf.change(next.id, (one) => one && one.stamp === next.stamp ? { ...one, glance } : undefined);
        }
        this.rows.tell(next);
      }
    } catch (error) {
      say(`${error.message} The plans are all here; their figures come when the calculator does.`);
    }
    place.toggleAttribute("data-settled", true);
    const again = this.asking === "again";
    this.asking = null;
    if (again) await this.glance();
  }

  listen() {
    place.querySelector("[data-find]").addEventListener("input", () => this.search());
    const does = { "save-all": () => this.saveAll(), "bring-in": () => this.chooseFile(), print: () => window.print() };
    document.addEventListener("click", (event) => {
      const button = event.target.closest("[data-action]");
      if (button && does[button.dataset.action]) does[button.dataset.action]();
      for (const menu of document.querySelectorAll("details.menu[open], details.site-menu[open]")) {
        if (!menu.contains(event.target) || (button && menu.contains(button))) menu.open = false;
      }
    });
    document.addEventListener("keydown", (event) => {
      const menu = event.key === "Escape" && document.querySelector("details.menu[open], details.site-menu[open]");
      if (!menu) return;
      menu.open = false;
      menu.querySelector("summary").focus();
    });
    const openMenu = () => {
      if (location.hash === "#bring-in") document.querySelector(".plan-bar details.menu").open = true;
      // The planner's menu leads here, for the plan in hand.
      const shown = location.hash === "#picture" && this.find(store.shown().id);
      if (shown) this.picture(shown.id).catch((error) => say(error.message));
    };
    addEventListener("hashchange", openMenu);
    openMenu();
    addEventListener("resize", () => this.rows.scale());
    // Coming back from the planner: a plan may have changed there.
    addEventListener("pageshow", (event) => { if (event.persisted) this.again(); });
  }
}

const page = new Page();
page.start();
offline();
self.raftwright = { run: (question) => page.ask(question), times: engine.times };
