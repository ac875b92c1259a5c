// The bath in hand and its log: what the three pages of a running bath share; asks Python, and does without where it is
// still starting or has failed.

import * as engine from "./engine.js";
import { NONE, bathsKept, firstBath, remember } from "./log-baths.js";
import { log, setting, VERSION } from "./log-store.js";
import { defaults } from "./source.js";
import { hearTabs } from "./tabs.js";
import { newName } from "./plans.js";

const CHANNEL = "raftwright.log";
const NAME = "page";
export const INVENTED = "invented";

/** The page's clock as entries have it: 2026-11-25T07:12. */
export function now(date = new Date()) {
  const two = (number) => String(number).padStart(2, "0");
  return `${date.getFullYear()}-${two(date.getMonth() + 1)}-${two(date.getDate())}T${two(date.getHours())}:${
    two(date.getMinutes())}`;
}

/** The moment of a writing, to the millisecond, so that the later wording is known. */
export function stamp() {
  return new Date().toISOString();
}

class BathLog {
  constructor() {
    this.bath = NONE;
    this.baths = [];
    this.all = [];
    this.newer = [];
    this.damaged = [];
    this.example = null;
    this.listeners = new Set();
    this.opening = null;
    this.turn = 0;
    engine.watch(({ state }) => {
      // A worker started anew has no log in hand.
      if (state !== "ready") this.close();
    });
  }

  /** Hear of every change: `listener({elsewhere})`. */
  watch(listener) {
    this.listeners.add(listener);
  }

  tell(how = {}) {
    for (const listener of this.listeners) listener(how);
  }

  /** Read the bath and all that is kept. */
  async begin() {
    await this.read();
    this.baths = await bathsKept(this.all);
    this.bath = firstBath(this.baths, this.all, location.hash);
    this.hear();
  }

  // Which bath

  /** What can be chosen: every bath, and the entries of none where they do not stand with the only bath. */
  get choices() {
    return this.baths.length > 1 && this.unassigned.length > 0 && !this.baths.some((one) => one.id === "")
      ? [...this.baths, NONE] : this.baths;
  }

  /** Be about another bath from here on; false where there is none of that name. */
  choose(id) {
    const found = this.choices.find((one) => one.id === id);
    if (!found) return false;
    remember(id);
    const was = this.invented;
    setting.write("invented", "erased");
    if (found.id !== this.bath.id || was) {
      this.bath = found;
      this.close();
      this.tell({ bath: true });
    }
    return true;
  }

  /** Look at the shelf again: a plan may have been changed, renamed, deleted or begun in another tab. */
  async reshelve() {
    const seen = (list) => JSON.stringify(list.map(({ id, name, plan, version, deleted }) => [id, name, plan, version,
      deleted]));
    const found = await bathsKept(this.all);
    if (seen(found) === seen(this.baths)) return;
    this.baths = found;
    const now = found.find((one) => one.id === this.bath.id);
    if (now) this.bath = now;
    else if (this.bath.id !== "" || this.unassigned.length === 0) this.bath = firstBath(found, this.all, "");
    this.close();
    this.tell({ plan: true });
  }

  /** Put a plan of the shelf in the place of what is known of it. */
  replan(bath) {
    this.baths = [bath, ...this.baths.filter((one) => one.id !== this.bath.id && one.id !== bath.id)];
    this.bath = bath;
    this.close();
    this.tell({ plan: true });
  }

  async read() {
    const { known, newer, damaged } = await log.entries();
    this.all = known;
    this.newer = newer;
    this.damaged = damaged;
    this.close();
  }

  /** What the reader kept, of whichever bath. */
  get own() {
    return this.all.filter((one) => !one.invented);
  }

  /** Entries of no bath: kept before there was a plan. */
  get unassigned() {
    return this.own.filter((one) => !one.bath);
  }

  /** Entries of this bath; where it is the only one, also those of none. */
  get entries() {
    return this.own.filter((one) => this.belongs(one));
  }

  belongs(one) {
    return (one.bath || "") === this.bath.id || (!one.bath && this.baths.length <= 1);
  }

  /** How many entries belong to other baths. */
  get others() {
    return this.own.length - this.entries.length;
  }

  get readings() {
    return this.entries.filter((one) => one.kind === "reading");
  }

  /** Whether the invented bath is shown: before the first entry, until it is erased. */
  get invented() {
    return this.entries.length + this.newer.length + this.damaged.length === 0 && setting.read("invented") !== "erased";
  }

  eraseInvented() {
    setting.write("invented", "erased");
    this.example = null;
    const ids = this.all.filter((one) => one.invented).map((one) => one.id);
    this.all = this.all.filter((one) => !one.invented);
    this.close();
    log.remove(ids);
    this.post();
    this.tell();
  }

  showInvented() {
    setting.write("invented", "");
    this.close();
    this.post();
    this.tell();
  }

  /** An entry as it is kept. */
  made(kind, typed, more = {}) {
    const at = (typed.time || "").match(/^20\d\d-\d\d-\d\dT\d\d:\d\d/) ? typed.time.slice(0, 16) : now();
    const entry = { id: newName(), kind, at, version: VERSION, typed, changed: stamp(), ...more };
    if (entry.units && Object.keys(entry.units).length === 0) delete entry.units;
    if (this.bath.id && !entry.invented) entry.bath = this.bath.id;
    return entry;
  }

  /** Keep entries; throws where the browser has no room, and then nothing has changed. */
  async put(entries) {
    await log.put(entries);
    const ids = new Set(entries.map((one) => one.id));
    const wasInvented = this.invented;
    if (entries.some((one) => !one.invented && (one.bath || "") === this.bath.id)) remember(this.bath.id);
    // Who has begun a log of their own is not shown another's again, unless they ask for it.
    if (entries.some((one) => !one.invented)) setting.write("invented", "erased");
    this.all = [...this.all.filter((one) => !ids.has(one.id)), ...entries]
      .sort((a, b) => (a.at + a.id < b.at + b.id ? -1 : 1));
    const here = entries.every((one) => one.invented || this.belongs(one));
    if (wasInvented !== this.invented || !here) this.close();
    else this.pass({ put: entries });
    this.post();
    this.tell();
    if (entries.some((one) => one.bath && !one.invented && !this.baths.some(({ id }) => id === one.bath))) {
      await this.reshelve();
    }
  }

  /** Give entries to a bath; resolves to their wordings before, with which it can be undone. */
  async give(entries, bath) {
    const before = entries.map((one) => ({ ...one }));
    await this.put(entries.map((one) => ({ ...one, bath, changed: stamp() })));
    return before;
  }

  /** Put earlier wordings of entries back, as the newest. */
  async restore(entries) {
    await this.put(entries.map((one) => ({ ...one, changed: stamp() })));
  }

  async remove(ids) {
    await log.remove(ids);
    const wasInvented = this.invented;
    this.all = this.all.filter((one) => !ids.includes(one.id));
    if (wasInvented !== this.invented) this.close();
    else this.pass({ gone: ids });
    this.post();
    this.tell();
  }

  /** Gives what tells whether log and bath are still those of this moment: an answer about others comes too late. */
  unchanged() {
    const { all, bath, invented } = this;
    return () => all === this.all && bath === this.bath && invented === this.invented;
  }

  // Other tabs

  hear() {
    try {
      this.channel = new BroadcastChannel(CHANNEL);
      this.channel.onmessage = () => this.look();
    } catch {
      // Forbidden here; a tab that comes to the front looks again all the same.
    }
    document.addEventListener("visibilitychange", () => {
      if (document.visibilityState === "visible") this.look();
    });
    addEventListener("focus", () => this.look());
    hearTabs(() => this.reshelve());
    addEventListener("storage", ({ key }) => {
      if (key && key.startsWith("raftwright.log.")) this.look();
    });
  }

  /** Look again at all that another tab may have written. */
  async look() {
    await this.reread();
    await this.reshelve();
  }

  post() {
    if (this.channel) this.channel.postMessage("changed");
  }

  /** Look at what is kept; what another window has written is shown here too. */
  async reread() {
    const seen = (list) => list.map((one) => `${one.id} ${one.changed}`).join();
    const before = seen(this.all);
    const known = new Set(this.all.map((one) => one.id));
    const found = await log.entries();
    const aside = ({ newer, damaged }) => newer.length + damaged.length;
    if (seen(found.known) === before && aside(found) === aside(this)) return;
    this.all = found.known;
    this.newer = found.newer;
    this.damaged = found.damaged;
    this.close();
    this.tell({ elsewhere: found.known.filter((one) => !known.has(one.id)).length });
  }

  // Python

  async raw(question) {
    const answer = await engine.run(question);
    if (answer.error) throw new Error(answer.error);
    return answer;
  }

  /** The plan as one of today's version. */
  async plan() {
    if (this.bath.version === 0) return {};
    if (this.dated && this.dated.of === this.bath) return this.dated.plan;
    const declared = await defaults();
    const plan = this.bath.version === declared.version ? this.bath.plan
      : (await this.raw({ op: "plan_read", plan: this.bath.plan, version: this.bath.version })).plan;
    this.dated = { of: this.bath, plan };
    return plan;
  }

  /** What Python has in hand is not the log any more. */
  close() {
    this.opening = null;
    this.turn += 1;
  }

  /** Have Python take the log in hand. */
  open() {
    if (!this.opening) this.under(this.bring(this.turn));
    return this.opening;
  }

  /** Pass a change on to the log that Python has, or is about to have. */
  pass(change) {
    if (this.opening) this.under(this.opening.then(() => this.raw({ op: "log_put", log: NAME, ...change })));
  }

  /** The log is on its way; where that goes wrong, it is brought anew when it is asked for. */
  under(way) {
    const { turn } = this;
    this.opening = way;
    way.catch(() => { if (turn === this.turn) this.close(); });
  }

  /** Bring the log of a turn to Python; one that is closed meanwhile must not come after the one opened since. */
  async bring(turn) {
    this.example = null;
    const example = this.invented && await this.raw({ op: "invented_days", now: now(), bath: INVENTED });
    const plan = example ? example.plan : await this.plan();
    if (turn !== this.turn) return;
    const entries = example ? [...example.entries, ...this.all.filter((one) => one.invented)] : this.entries;
    await this.raw({ op: "log_open", log: NAME, entries, plan });
    if (example && turn === this.turn) this.example = example;
  }

  /** The plan that the log in Python's hand belongs to, once it is there and nothing else is on its way. */
  async opened() {
    for (;;) {
      const opening = this.open();
      await opening;
      const plan = this.example ? this.example.plan : await this.plan();
      if (opening === this.opening) return plan;
    }
  }

  /** Ask one operation about this bath and its log. */
  async ask(op, more = {}) {
    const plan = await this.opened();
    return this.raw({ op, log: NAME, plan, now: now(), ...more });
  }

  /** The same about the reader's own plan and log in any case, also while the invented bath is shown. */
  async askOwn(op, more = {}) {
    if (!this.invented) return this.ask(op, more);
    return this.raw({ op, plan: await this.plan(), entries: this.entries, now: now(), ...more });
  }
}

export const bathLog = new BathLog();
