// Today: one list, worked from the log and from what is typed beside the rulers; a tick is written to the log.

import morphdom from "morphdom";
import { bathLog, INVENTED, now } from "./log-bath.js";
import { jugIsPast, jugOf, keepJug, putOff, tomorrow, wait } from "./run-later.js";
import { setting } from "./log-store.js";
import { newName } from "./plans.js";
import { point } from "./run-pointer.js";
import { typed } from "./log-entry.js";
import { Draft } from "./log-draft.js";
import { say } from "./telling.js";

const PAUSE = 200;

function boxes() {
  return [...document.querySelectorAll('.gauges [name^="reading."]')];
}

/** What a part of the list is known by; a pour and its line among those done bear one code. */
function key({ dataset = {} }) {
  const kind = ["gauge", "todo", "done", "later", "pour"].find((one) => dataset[one]);
  return kind && `${kind} ${dataset[kind]}`;
}

/** Change only what differs, so that focus and what is typed stay. */
function put(place, html) {
  const next = place.cloneNode(false);
  next.innerHTML = html;
  morphdom(place, next, { childrenOnly: true, onBeforeElUpdated: (old, fresh) => !old.dataset.input
    && !(old.dataset.wait && old.open) && !old.isEqualNode(fresh),
  getNodeKey: key });
}

export class Today {
  constructor({ kept, full, text, on }) {
    Object.assign(this, { kept, full, text });
    this.answer = null;
    this.pause = 0;
    const place = document.querySelector('[data-region="gauges"]');
    this.inputs();
    this.draft = new Draft("today");
    // The name that the reading will have, so that it is not kept twice where its draft outlived the keeping.
    this.id = newName();
    this.restored = this.restore();
    this.fillJug();
    place.addEventListener("input", ({ target }) => {
      point(target);
      this.count();
      this.save();
      this.soon();
    });
    const jug = document.querySelector("[data-jug]");
    jug.addEventListener("input", () => {
      keepJug(this.jug());
      this.soon();
    });
    jug.addEventListener("keydown", (event) => {
      if (event.key === "Enter" && event.target.matches("input")) event.preventDefault();
    });
    place.addEventListener("keydown", (event) => {
      if (event.key !== "Enter") return;
      event.preventDefault();
      const all = boxes();
      const next = all[all.indexOf(event.target) + 1];
      (next || document.querySelector('[data-action="add-reading"]')).focus();
    });
    on("add-reading", () => this.keep());
    document.querySelector('[data-region="todo"]').addEventListener("change", ({ target }) => {
      if (target.matches("[data-tick], [data-tick-pour]")) this.tick(target).catch((error) => this.full(null, error));
    });
    document.querySelector('[data-region="todo"]').addEventListener("click", ({ target }) => {
      const { undo, back, until, of } = target.dataset;
      if (undo) this.undo(undo);
      if (back) this.wait(back, "");
      if (until === "tomorrow") this.wait(of, tomorrow());
      if (until === "day") {
        const day = document.querySelector(`[data-until-day="${CSS.escape(of)}"]`).value;
        if (day >= tomorrow()) this.wait(of, day);
        else say("Choose a day after today, and the line comes back on it.");
      }
    });
  }

  soon() {
    clearTimeout(this.pause);
    this.pause = setTimeout(() => this.draw().catch((error) => say(error.message)), PAUSE);
  }

  /** The jug test, as texts with their units. */
  jug() {
    const found = {};
    for (const box of document.querySelectorAll("[data-jug] input")) {
      const text = box.value.trim();
      const unit = box.parentElement.querySelector("select, .unit");
      if (text) found[box.name] = /^[\d.,]+$/.test(text) ? `${text} ${unit.value || unit.textContent}` : text;
    }
    return found;
  }

  fillJug() {
    const { typed } = jugOf();
    for (const box of document.querySelectorAll("[data-jug] input")) {
      const unit = box.parentElement.querySelector("select");
      const [, figure, name] = /^(\S+) (.+)$/.exec(typed[box.name] || "") || [];
      const known = !unit || [...unit.options].some((one) => one.value === name);
      if (document.activeElement !== box) box.value = known && figure ? figure : typed[box.name] || "";
      if (unit && known && name) unit.value = name;
    }
    if (Object.keys(typed).length > 0) document.querySelector("[data-jug]").open = true;
  }

  /** Put a line off, or bring it back; the focus stays with the line. */
  async wait(code, until) {
    try {
      await wait(code, until, this.isOwn());
    } catch (error) {
      this.full(null, error);
      return;
    }
    const open = document.querySelector(`[data-wait="${CSS.escape(code)}"]`);
    if (open) open.open = false;
    await this.draw();
    const where = until ? `[data-back="${CSS.escape(code)}"]` : `#todo-${CSS.escape(code)}`;
    const line = document.querySelector(where);
    if (line) line.focus();
    say(until ? `Put off until ${new Date(`${until}T12:00`).toLocaleDateString([], { weekday: "long", month: "short",
      day: "numeric" })}; it comes back by itself.` : "It is back on the list.");
  }

  /** A place to type beside every ruler. */
  inputs() {
    for (const slot of document.querySelectorAll("[data-input]")) {
      if (slot.querySelector("input")) continue;
      const input = document.createElement("input");
      input.name = slot.dataset.input;
      input.id = slot.dataset.input;
      input.inputMode = "decimal";
      input.autocomplete = "off";
      slot.append(input);
    }
    this.units();
  }

  /** Beside each input the unit that a bare number takes, where the meter is set to another than the rule. */
  units() {
    for (const input of boxes()) {
      const gauge = input.closest("[data-gauge]");
      const rule = gauge.querySelector("svg.aligned");
      const meter = setting.read(`unit.${input.name.slice("reading.".length)}`);
      const other = meter && rule && rule.dataset.unit !== meter && meter in JSON.parse(rule.dataset.units);
      let said = input.parentElement.querySelector(".unit");
      if (other && !said) {
        said = document.createElement("span");
        said.className = "unit";
        input.after(said);
      }
      if (said) said.textContent = other ? meter : "";
      input.dataset.meter = other ? meter : "";
      const name = gauge.querySelector("strong").textContent;
      input.setAttribute("aria-label", other ? `${name}, now, in ${meter}` : `${name}, now`);
    }
  }

  reading() {
    const found = typed(boxes());
    for (const name of Object.keys(found.typed)) {
      const unit = setting.read(`unit.${name}`);
      if (unit) found.units[name] = unit;
    }
    return found;
  }

  /** What was typed here before the page was closed stands in its boxes again. */
  async restore() {
    const found = await this.draft.unkept();
    if (!found) return;
    this.id = found.entry || this.id;
    for (const box of boxes()) box.value = box.value || found.typed[box.name.slice("reading.".length)] || "";
    this.count();
  }

  save() {
    const reading = this.reading();
    this.draft.save(Object.keys(reading.typed).length > 0 ? { ...reading, entry: this.id } : null);
  }

  clear() {
    for (const box of boxes()) box.value = "";
    this.id = newName();
    this.count();
    this.save();
  }

  count() {
    const number = Object.keys(this.reading().typed).length;
    const button = document.querySelector('[data-action="add-reading"]');
    button.hidden = number === 0;
    button.textContent = `Keep ${number} ${number === 1 ? "value" : "values"}`;
  }

  plain() {
    this.count();
    this.fillJug();
  }

  /** Whether the list is about the reader's own bath: with a reading or a jug test of theirs it is. */
  isOwn() {
    return !bathLog.invented || Object.keys(this.reading().typed).length > 0 || Object.keys(this.jug()).length > 0;
  }

  async draw(unchanged = bathLog.unchanged()) {
    await this.restored;
    const reading = this.reading();
    const jug = this.jug();
    const own = this.isOwn();
    const past = jugIsPast("ph" in reading.typed);
    const about = { ...reading, extra: past ? {} : jug, off: await putOff(own), root: "../" };
    // With a reading of the reader's own, the list is about the reader's own bath.
    const answer = await (own ? bathLog.askOwn("today", about) : bathLog.ask("today", about));
    // Typed or kept meanwhile: the next answer is the one to show.
    if (!unchanged() || JSON.stringify([this.reading(), this.jug()]) !== JSON.stringify([reading, jug])) return;
    this.answer = answer;
    document.getElementById("fault-jug").textContent = past ? "Acid was poured since this jug test, and the pH is "
      + "another now: make a new one." : "";
    const { html, todo, verdict } = this.answer;
    for (const [name, words] of Object.entries(html)) {
      const place = document.querySelector(`[data-region="${name}"]`);
      if (place) put(place, words);
    }
    this.inputs();
    for (const box of boxes()) {
      const name = box.name.slice("reading.".length);
      const gauge = this.answer.gauges.find((one) => one.name === name);
      const unit = box.dataset.meter && gauge && gauge.shown ? ` ${gauge.unit}` : "";
      box.placeholder = gauge && !(name in reading.typed) ? `${gauge.shown}${unit}` : "";
      if (this.answer.faults[name]) box.setAttribute("aria-invalid", "true");
      else box.removeAttribute("aria-invalid");
    }
    this.markPours();
    if (todo.some(({ code }) => code === "jug")) document.querySelector("[data-jug]").open = true;
    const faults = Object.values(this.answer.faults);
    const line = document.getElementById("today-faults");
    if (line.textContent !== faults.join(" ")) line.textContent = faults.join(" ");
    this.text("todo", `${todo.length} to do`);
    this.text("today-lead", verdict.lead.replace(/\.$/, ""));
    this.text("date", new Date().toLocaleDateString([], { weekday: "short", month: "short", day: "numeric" }));
    document.documentElement.dataset.today = own ? "own" : "invented";
  }

  async keep() {
    const { typed: texts, units } = this.reading();
    const entry = bathLog.made("reading", { ...texts, time: now() }, { units, id: this.id });
    try {
      await bathLog.put([entry]);
    } catch (error) {
      this.full(entry, error);
      return;
    }
    this.clear();
    const number = Object.keys(texts).length;
    this.kept(entry, `${number} ${number === 1 ? "value" : "values"}`);
  }

  /** Pours that are in the log already stand ticked. */
  markPours() {
    const done = new Set(this.answer.done.map(({ code }) => code));
    for (const box of document.querySelectorAll("[data-tick-pour]")) {
      const there = done.has(box.dataset.tickPour);
      box.checked = there;
      box.disabled = there;
    }
  }

  /** The line of a tick, and the name that its entry takes: the last pour ticks the line. */
  lineOf(box) {
    const pour = box.dataset.tickPour;
    const line = this.answer && this.answer.todo.find((one) => (pour ? one.pours.some(({ code }) => code === pour)
      : one.code === box.dataset.tick));
    if (!line) return null;
    const poured = new Set(this.answer.done.map((one) => one.code));
    const parts = line.pours.filter((one) => (pour ? one.code === pour : !poured.has(one.code)));
    return { line, parts, code: pour && line.pours[line.pours.length - 1].code !== pour ? pour : line.code };
  }

  /** What a tick writes: the entry of its line, under the line's name. */
  async tick(box) {
    if (!box.checked) return;
    const found = this.lineOf(box);
    if (!found) {
      box.checked = false;
      say("The list is still being worked out; tick it again in a moment.");
      return;
    }
    const { line, parts, code } = found;
    const reading = this.reading();
    // The reading that the line was worked from is kept with it, or the list would fall back on an older one.
    const own = Object.keys(reading.typed).length > 0
      ? [bathLog.made("reading", { ...reading.typed, time: now() }, { units: reading.units, id: this.id })]
      : [];
    const { kind = "done", typed: whole = {}, units = {} } = line.log;
    const texts = { ...whole };
    // A pour is logged as what it was, and the line as what was still to be poured.
    const liters = parts.reduce((sum, one) => sum + one.liters, 0);
    for (const name of ["acid", "fertilizer"]) {
      if (texts[name] && liters > 0) texts[name] = `${Number((liters * 1000).toPrecision(4))} mL`;
    }
    const invented = own.length === 0 && bathLog.invented;
    const one = bathLog.made(kind, { remark: line.act, ...texts, code }, { units, at: now(),
      ...(invented ? { invented: true, bath: INVENTED } : {}) });
    try {
      await bathLog.put([...own, one]);
    } catch (error) {
      box.checked = false;
      throw error;
    }
    if (own.length > 0) this.clear();
    say(invented ? `Ticked: ${line.act}. It is in the invented log.` : `Written to the log: ${line.act}.`);
    await this.draw();
    const undo = document.querySelector(`[data-undo="${CSS.escape(code)}"]`);
    if (undo) undo.focus();
  }

  /** Take a tick back: its entry leaves the log. */
  async undo(code) {
    const day = now().slice(0, 10);
    const found = bathLog.all.filter((one) => one.typed.code === code && one.at.startsWith(day));
    if (found.length === 0) return;
    const last = found[found.length - 1];
    await bathLog.remove([last.id]);
    say(`Taken back: ${last.typed.remark || last.typed.what || "the tick"}.`);
    await this.draw();
    const back = document.getElementById(`todo-${code}`);
    if (back) back.focus();
  }
}
