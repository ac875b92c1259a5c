// The rounds: lists that are ticked; a tick stays on this machine, and where it is an event it goes into the log too.

import morphdom from "morphdom";
import { bathLog, INVENTED, now } from "./log-bath.js";
import { download } from "./download.js";
import { log } from "./log-store.js";
import { say } from "./telling.js";

const RECORD = "rounds";
const DAY = 86_400_000;

function bathName() {
  return bathLog.invented ? INVENTED : bathLog.bath.id || "none";
}

async function held() {
  const record = await log.beside(RECORD).catch(() => undefined);
  return record && record.held ? record.held : {};
}

/** Whether a tick still stands: that of a daily list only on its day. */
function stands(tick, lasts) {
  if (!lasts) return true;
  return (new Date(now().slice(0, 10)) - new Date(tick.at.slice(0, 10))) / DAY < lasts;
}

function when(at) {
  const then = new Date(at);
  return at.slice(0, 10) === now().slice(0, 10)
    ? `today, ${then.toLocaleTimeString([], { hour: "numeric", minute: "2-digit" })}`
    : then.toLocaleDateString([], { weekday: "short", month: "short", day: "numeric" });
}

export class Routine {
  constructor({ full, on }) {
    this.full = full;
    this.lists = null;
    this.ticks = {};
    // Ticks set or taken away that are not written yet, by list and line: they stand as the reader left them.
    this.wishes = new Map();
    // One writing at a time: each reads what the one before it wrote.
    this.writing = Promise.resolve();
    this.place = document.querySelector('[data-region="routine"]');
    this.place.addEventListener("change", ({ target }) => {
      if (target.matches("[data-item] input")) this.wish(target);
    });
    this.place.addEventListener("click", ({ target }) => {
      const button = target.closest("button");
      if (!button) return;
      if (button.dataset.printRound) this.print(button.dataset.printRound);
      if (button.dataset.beginAgain) this.next(() => this.beginAgain(button.dataset.beginAgain));
    });
    addEventListener("afterprint", () => { delete document.body.dataset.print; });
    on("print-rounds", () => this.print(""));
    this.unfold();
    addEventListener("hashchange", () => this.unfold());
  }

  /** A link to one list opens it. */
  unfold() {
    const wanted = document.getElementById(location.hash.slice(1));
    if (!wanted || !wanted.matches("details[data-round]")) return;
    wanted.open = true;
    wanted.scrollIntoView();
  }

  /** What a tick is to be is known when it is pressed; it is written when those before it are. */
  wish(box) {
    const line = box.closest("[data-item]");
    const wish = { code: box.closest("[data-round]").dataset.round, key: line.dataset.item, wanted: box.checked,
      noted: line.querySelector(".noted") !== null };
    const name = `${wish.code} ${wish.key}`;
    this.wishes.set(name, wish);
    this.next(() => this.tick(wish).finally(() => {
      if (this.wishes.get(name) === wish) this.wishes.delete(name);
    }));
  }

  box({ code, key }) {
    return document.querySelector(`[data-round="${CSS.escape(code)}"] [data-item="${CSS.escape(key)}"] input`);
  }

  next(work) {
    this.writing = this.writing.then(work).catch((error) => this.full(null, error));
  }

  print(code) {
    if (code) document.body.dataset.print = code;
    for (const one of document.querySelectorAll("[data-round]")) {
      one.toggleAttribute("data-left-out", Boolean(code) && one.dataset.round !== code);
    }
    print();
  }

  plain() {
    this.next(() => this.show());
  }

  /** Put the ticks in, as they are kept. */
  async show() {
    this.ticks = (await held())[bathName()] || {};
    for (const list of document.querySelectorAll("[data-round]")) {
      const ticks = this.ticks[list.dataset.round] || {};
      let some = false;
      for (const line of list.querySelectorAll("[data-item]")) {
        const tick = ticks[line.dataset.item];
        const there = Boolean(tick) && stands(tick, Number(list.dataset.lasts));
        some ||= there;
        const wish = this.wishes.get(`${list.dataset.round} ${line.dataset.item}`);
        line.querySelector("input").checked = wish ? wish.wanted : there;
        line.querySelector("[data-ticked]").textContent = there ? when(tick.at) : "";
      }
      list.querySelector("[data-begin-again]").hidden = !some;
    }
  }

  async draw(unchanged) {
    const answer = await bathLog.ask("routine");
    if (!unchanged()) return;
    this.lists = answer.lists;
    const next = this.place.cloneNode(false);
    next.innerHTML = answer.html;
    morphdom(this.place, next, { childrenOnly: true, onBeforeElUpdated: (old, fresh) => {
      // What the reader has opened or closed stays so.
      if (old.matches("details")) fresh.open = old.open;
      if (old.matches("input")) fresh.checked = old.checked;
      return !old.isEqualNode(fresh);
    } });
    this.next(() => this.show());
    await this.writing;
  }

  async keep(code, change) {
    const all = await held();
    const mine = all[bathName()] || {};
    await log.keepBeside({ id: RECORD, changed: new Date().toISOString(), held: { ...all,
      [bathName()]: { ...mine, [code]: change(mine[code] || {}) } } });
    await this.show();
  }

  /** The event that a line writes, and its words; null for one that is no event, or is not known yet. */
  event(code, key) {
    const found = this.lists && this.lists.find((one) => one.code === code)?.items.find((one) => one.key === key);
    return found && found.log.kind ? { ...found.log, text: found.text } : null;
  }

  async tick(wish) {
    const { code, key } = wish;
    if (!wish.wanted) return this.untick(code, key);
    if (!this.lists && wish.noted) {
      this.box(wish).checked = false;
      return say("The calculator is still starting; tick it again in a moment, so that it goes into the log.");
    }
    const event = this.event(code, key);
    const tick = { at: now() };
    if (event) {
      const entry = bathLog.made(event.kind, event.typed, { at: tick.at,
        ...(bathLog.invented ? { invented: true, bath: INVENTED } : {}) });
      try {
        await bathLog.put([entry]);
      } catch (error) {
        this.box(wish).checked = false;
        throw error;
      }
      tick.entry = entry.id;
    }
    await this.keep(code, (ticks) => ({ ...ticks, [key]: tick }));
    return say(event ? `Written to the log: ${event.text}.` : "Ticked.");
  }

  /** Take a tick back, and out of the log what it wrote there. */
  async untick(code, key) {
    const tick = (this.ticks[code] || {})[key];
    const wrote = tick && tick.entry && bathLog.all.some((one) => one.id === tick.entry);
    if (wrote) await bathLog.remove([tick.entry]);
    await this.keep(code, ({ [key]: gone, ...rest }) => rest);
    say(wrote ? "Taken back, and out of the log." : "Taken back.");
  }

  /** Begin a list again: its ticks go; what they wrote stays in the log. */
  async beginAgain(code) {
    await this.keep(code, () => ({}));
    const first = document.querySelector(`[data-round="${CSS.escape(code)}"] input`);
    if (first) first.focus();
    say("The list is empty again. What was ticked stays in the log.");
  }
}

/** The reminders as a file for a calendar. */
export async function saveCalendar() {
  const { calendar } = await bathLog.ask("routine", { codes: [], bath: bathLog.bath.id });
  download(`raftwright-reminders-${now().slice(0, 10)}.ics`, calendar, "text/calendar");
  say("The reminders are in the file: open it, and your calendar takes them in.");
}
