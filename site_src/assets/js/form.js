// A form with a plan in it: what is typed goes to Python at once, and answers and faults come back in place.

import * as engine from "./engine.js";
import * as store from "./plan-store.js";
import { Rows, apply, collect, controls, follow, hideUnasked, lasting, ready, systemOf, useSystem } from "./fields.js";
import { grow, lightSizes, markGuesses, openable } from "./asks.js";
import { askSoon, outdate } from "./mends.js";
import { fromDisk, root } from "./source.js";
import { current, openFolds, turnable, wide } from "./steps.js";
import { markOld, put, putTexts, putWorkings } from "./regions.js";

const PLAN_LINK = /^#(plan|start)=/;
const LARGEST_FILE = 1_000_000;
// Workings follow when the typing pauses, so that answers need not wait for them.
const PAUSE = 250;

function idOf(key) {
  return key.replaceAll(".", "-");
}

function download(name, text, type) {
  const address = URL.createObjectURL(new Blob([text], { type }));
  const link = document.createElement("a");
  link.href = address;
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
}

function sentences(notes) {
  return Array.isArray(notes) ? notes.map(String) : [];
}

/** Wire one form; returns nothing, the page is the result. */
export function wire(form) {
  ready(form);
  const topics = (form.dataset.topics || "").split(" ").filter(Boolean);
  const answers = (form.dataset.answers || "").split(" ").filter(Boolean);
  let tables = [...form.querySelectorAll("[data-table]")].map((element) => new Rows(element));
  const status = document.getElementById("action-status");
  // The version of a plan that this page writes.
  const version = Number(form.dataset.plan);
  let plan = {};
  // A plan that another version of the page kept, until Python has read it as one of this version.
  let older = null;
  let updating = null;
  let faults = {};
  let offers = {};
  let link = "";
  let system = "us";
  let switching = null;
  let asked = false;
  let busy = false;
  let again = false;
  let storageWarned = false;
  let pause = 0;
  const hostedBox = document.getElementById("hosted-address");
  // What the page shows, by region: Python sends only what has another mark.
  let have = {};

  function say(text) {
    if (status) status.textContent = text;
  }

  function regions() {
    return [...document.querySelectorAll("[data-region]")];
  }

  /** The reader's own numbers inside the sentences of a guide. */
  function livingNumbers() {
    return [...new Set([...document.querySelectorAll("[data-living]")].map((place) => place.dataset.living))];
  }

  function showFaults() {
    const active = document.activeElement;
    const strays = [];
    for (const control of controls(form)) {
      const place = document.getElementById(`fault-${idOf(control.name)}`);
      if (!place) continue;
      const fault = faults[control.name] || "";
      // While a field is being typed in, a half-typed answer is no mistake yet; one already told may change or go.
      const typing = control === active && fault && !place.dataset.fault;
      if (!typing && place.dataset.fault !== fault) tell(place, fault, control);
      if (fault && !typing) control.setAttribute("aria-invalid", "true");
      else control.removeAttribute("aria-invalid");
    }
    for (const table of tables) {
      const place = document.getElementById(`fault-${idOf(table.key)}`);
      if (place) place.textContent = faults[table.key] || "";
    }
    for (const [key, fault] of Object.entries(faults)) {
      if (!document.getElementById(`fault-${idOf(key)}`)) strays.push(fault);
    }
    const place = document.getElementById("other-faults") || strayPlace();
    const text = strays.join(" ");
    if (place.textContent !== text) place.textContent = text;
  }

  /** A fault beside its field, with a button for each ready answer that Python offers. */
  function tell(place, fault, control) {
    place.dataset.fault = fault;
    place.textContent = fault;
    for (const [words, text] of (fault && offers[control.name]) || []) {
      const button = document.createElement("button");
      button.type = "button";
      button.textContent = words;
      button.addEventListener("click", () => {
        control.value = text;
        control.focus();
        changed();
      });
      place.append(" ", button);
    }
  }

  function strayPlace() {
    const place = document.createElement("p");
    place.id = "other-faults";
    place.className = "fault";
    if (status) status.after(place);
    else form.prepend(place);
    return place;
  }

  function show(answer) {
    faults = answer.faults || {};
    offers = answer.offers || {};
    if (typeof answer.link === "string") link = answer.link;
    const faulty = Object.keys(faults).length > 0;
    const old = new Set(answer.old || []);
    const made = answer.regions || {};
    for (const region of regions()) {
      const name = region.dataset.region;
      // A region of rows keeps its lost rows one by one; a lost picture stays whole.
      const keepWhole = !answer.regions || (old.has(name) && made[name] === "");
      if (!keepWhole && typeof made[name] === "string") put(region, made[name], faulty);
      else if (keepWhole) delete (answer.marks || {})[name];
      markOld(region, keepWhole);
    }
    have = { ...have, ...answer.marks };
    for (const place of document.querySelectorAll("[data-living]")) {
      const text = (answer.living || {})[place.dataset.living];
      if (text !== undefined && place.textContent !== text) place.textContent = text;
    }
    showFaults();
    clearTimeout(pause);
    pause = setTimeout(fillWorkings, PAUSE);
    if (answer.error) say(answer.error);
  }

  async function fillWorkings() {
    clearTimeout(pause);
    if (busy) return;
    try {
      const asked = plan;
      const open = [...document.querySelectorAll("details.result[open]")].map((one) => one.dataset.keep.slice(2));
      if (open.length === 0) return;
      const answer = await engine.run({ op: "workings", plan, keys: open });
      if (asked === plan && !busy) putWorkings(answer.workings || {});
    } catch {
      // The answers stand; their workings come with the next one.
    }
  }

  /** Save the plan in hand; one of another version keeps all it had until it is read. */
  function save() {
    const kept = lasting(form, plan);
    return older ? store.save({ ...older.plan, ...kept }, older.version) : store.save(kept, version);
  }

  function keep() {
    if (switching) return;
    const trouble = save();
    if (trouble && !storageWarned) say(trouble);
    storageWarned = Boolean(trouble);
  }

  /** Have Python read a plan of another version as one of this; what was typed since stays. */
  function upToDate() {
    if (older && !updating) updating = readOlder(older).finally(() => { updating = null; });
    return updating;
  }

  async function readOlder(kept) {
    const answer = await engine.run({ op: "plan_read", plan: kept.plan, version: kept.version });
    if (answer.error) throw new Error(answer.error);
    // Something else was opened meanwhile.
    if (older !== kept) return;
    const now = switching ? switching.before : collect(form, plan);
    const next = { ...answer.plan };
    for (const key of new Set([...Object.keys(kept.plan), ...Object.keys(now)])) {
      if (now[key] === kept.plan[key]) continue;
      if (key in now) next[key] = now[key];
      else delete next[key];
    }
    if (switching) {
      switching.before = next;
      older = null;
    } else {
      take(next);
      keep();
    }
    if (sentences(answer.notes).length > 0) say(sentences(answer.notes).join(" "));
  }

  /** Ask Python until what it answered is what the form says. */
  async function flush() {
    if (busy) {
      again = true;
      return;
    }
    busy = true;
    try {
      do {
        again = false;
        await upToDate();
        if (switching) await switchUnits();
        plan = collect(form, plan);
        show(await engine.run({ op: "solve", plan, topics, have, step: current(), wide: wide(), open: openFolds(),
          answers, living: livingNumbers() }));
      } while (again);
      if (current()) {
        const rest = await engine.run({ op: "rest", plan, have });
        for (const region of regions()) {
          const html = (rest.regions || {})[region.dataset.region];
          if (html !== undefined) put(region, html);
        }
        have = { ...have, ...rest.marks };
        putTexts(rest.texts || {});
      }
      askSoon(() => plan);
    } catch (error) {
      for (const region of regions()) markOld(region, true);
      say(error.message);
    } finally {
      busy = false;
    }
  }

  function soon() {
    if (asked) return;
    asked = true;
    const go = () => {
      asked = false;
      flush();
    };
    // Not in the next frame: the worker can begin at once, and while it is busy further keys wait together.
    queueMicrotask(go);
  }

  /** Write the old units onto bare numbers, so that "48" stays 48 inches after a change to metric. */
  async function switchUnits() {
    const { before, to } = switching;
    const answer = await engine.run({ op: "switch_system", plan: before, to });
    switching = null;
    if (answer.plan) {
      plan = { ...answer.plan };
      if (to === "us") delete plan.units;
      else plan.units = to;
      apply(form, plan, tables);
    }
    keep();
  }

  function changed() {
    const before = plan;
    follow(form, system);
    plan = collect(form, plan);
    const now = systemOf(form, plan);
    if (now !== system) {
      switching = switching ? { ...switching, to: now } : { before, to: now };
      system = now;
      useSystem(form, system);
      follow(form, system);
      plan = collect(form, plan);
    }
    hideUnasked(form, plan);
    markGuesses(form);
    outdate();
    // A code of an earlier plan would open the wrong one.
    dropCode();
    keep();
    soon();
  }

  function take(next) {
    plan = { ...next };
    older = null;
    switching = null;
    apply(form, plan, tables);
    system = systemOf(form, plan);
    hideUnasked(form, plan);
    markGuesses(form);
    if (Object.keys(plan).length > 0) for (const region of regions()) markOld(region, true);
  }

  /** Show the plan that this browser keeps. */
  function takeKept() {
    const kept = store.load();
    take(kept.plan);
    if (kept.version === 0 || kept.version === version) return;
    if (kept.version > version) store.setAside(kept.version);
    older = kept;
  }

  async function takeLink() {
    const fragment = location.hash;
    if (!PLAN_LINK.test(fragment)) return;
    // Until the link is read, what stands here belongs to another plan.
    for (const region of regions()) markOld(region, true);
    try {
      const answer = await engine.run({ op: "link_read", fragment });
      const notes = sentences(answer.notes);
      if (answer.error) notes.push(answer.error);
      const usable = answer.plan && Object.keys(answer.plan).length > 0;
      if (usable || notes.length === 0) {
        take(answer.plan || {});
        // From here on the plan is the reader's own: a reload must bring back what was typed since.
        history.replaceState(null, "", location.pathname + location.search);
        keep();
      }
      if (notes.length > 0) say(notes.join(" "));
    } catch (error) {
      say(`The link could not be read. ${error.message}`);
    }
    soon();
  }

  /** The whole link to this plan; from a disk it points at the copy on the web, if the reader named one. */
  function address() {
    const here = location.href.split("#")[0];
    const hosted = (hostedBox ? hostedBox.value : "").trim();
    if (!fromDisk || !hosted) return here + link;
    if (!/^https?:\/\/[^\s/]/.test(hosted)) {
      throw new Error("The address of the copy on the web must begin with https:// or http://.");
    }
    const top = hosted.replace(/#.*$/, "").replace(/(index\.html)?$/, "").replace(/\/?$/, "/");
    return top + here.slice(root.href.length) + link;
  }

  function dropCode() {
    const figure = document.getElementById("link-code");
    if (figure) figure.remove();
  }

  const actions = {
    async "copy-link"() {
      await flush();
      const text = address();
      try {
        await navigator.clipboard.writeText(text);
        say(link ? "Link copied." : "Link copied. Nothing differs from the defaults, so it opens the example plan.");
      } catch {
        offer(text);
      }
    },
    async "square-code"() {
      await flush();
      const text = address();
      if (text.startsWith("file:")) {
        say("This page was opened from a disk, so no phone could open its link. "
          + "Put in the address of a copy on the web.");
        hostedBox.focus();
        return;
      }
      say("Making the code.");
      await engine.extra("segno");
      const answer = await engine.run({ op: "square_code", text });
      dropCode();
      if (answer.error || answer.note) return say(answer.error || answer.note);
      const figure = document.createElement("figure");
      figure.id = "link-code";
      figure.className = "link-code";
      figure.innerHTML = answer.svg;
      const caption = document.createElement("figcaption");
      caption.textContent = `Scan to open this plan. It is also in words: ${text}`;
      figure.append(caption);
      document.querySelector(".glance").after(figure);
      say("The code stands under the answer at a glance, and prints with the page.");
    },
    "save-local"() {
      plan = collect(form, plan);
      say(save() || "Saved in this browser. It is also saved after every change.");
    },
    async reset() {
      take({});
      keep();
      say("Started again from the example plan. Your earlier answers are gone from this machine.");
      soon();
    },
    "open-file"() {
      const picker = document.createElement("input");
      picker.type = "file";
      picker.accept = ".json,application/json,text/plain";
      picker.hidden = true;
      picker.addEventListener("change", () => {
        openFile(picker.files[0]);
        picker.remove();
      });
      document.body.append(picker);
      picker.click();
    },
    async "save-file"() {
      await upToDate();
      plan = collect(form, plan);
      const answer = await engine.run({ op: "file_write", plan });
      if (answer.error) say(answer.error);
      else download("raft-bath-plan.json", answer.text, "application/json");
    },
    async csv() {
      await upToDate();
      plan = collect(form, plan);
      const answer = await engine.run({ op: "csv", plan });
      if (answer.error) say(answer.error);
      else download("raft-bath-plan.csv", answer.text, "text/csv");
    },
    async calendar() {
      await upToDate();
      plan = collect(form, plan);
      const answer = await engine.run({ op: "calendar", plan });
      if (answer.error) say(answer.error);
      else if (!answer.text) say("There are no dates yet; see what the calendar waits for.");
      else download("raft-bath-calendar.ics", answer.text, "text/calendar");
    },
    print() {
      window.print();
    },
    async "print-workings"() {
      await fillWorkings();
      document.documentElement.dataset.print = "workings";
      // Some browsers go on at once and print later.
      addEventListener("afterprint", () => delete document.documentElement.dataset.print, { once: true });
      window.print();
    },
    "add-row"(button) {
      const table = tables.find((one) => one.element.contains(button));
      const row = table.add();
      if (!row) return say(`This table takes ${table.most} rows at most.`);
      useSystem(form, system);
      row.querySelector("input, select").focus();
      return changed();
    },
    "remove-row"(button) {
      const table = tables.find((one) => one.element.contains(button));
      const row = button.closest("[data-row]");
      const near = row.nextElementSibling || row.previousElementSibling;
      plan = collect(form, plan);
      table.remove(row, plan);
      (near ? near.querySelector("button") : table.element.querySelector('[data-action="add-row"]')).focus();
      changed();
    },
  };

  async function openFile(file) {
    if (!file) return;
    if (file.size > LARGEST_FILE) {
      say("This file is larger than any plan; it was not opened.");
      return;
    }
    try {
      const answer = await engine.run({ op: "file_read", text: await file.text() });
      const notes = sentences(answer.notes);
      if (answer.error) notes.push(answer.error);
      if (answer.plan && (Object.keys(answer.plan).length > 0 || notes.length === 0)) {
        take(answer.plan);
        keep();
        notes.unshift(`Opened ${file.name}.`);
      }
      say(notes.join(" "));
    } catch (error) {
      say(`The file could not be opened. ${error.message}`);
    }
    soon();
  }

  /** Where the clipboard is forbidden, the link stands ready to be copied by hand. */
  function offer(address) {
    let box = document.getElementById("link-text");
    if (!box) {
      box = document.createElement("input");
      box.id = "link-text";
      box.readOnly = true;
      box.setAttribute("aria-label", "Link to this plan");
      status.after(box);
    }
    box.value = address;
    box.focus();
    box.select();
    say("The browser does not let the page copy; the link is selected below.");
  }

  document.addEventListener("step", () => soon());
  lightSizes(form);
  document.addEventListener("click", (event) => {
    const mend = event.target.closest("[data-mend]");
    if (!mend) return;
    for (const [key, text] of Object.entries(mend.changes)) {
      const control = form.elements.namedItem(key);
      if (control) control.value = text;
      plan = { ...plan, [key]: text };
    }
    say(`Done: ${mend.act}.`);
    changed();
  });
  grow(form).then((grown) => {
    openable(form);
    if (grown.length === 0) return;
    for (const place of grown) ready(place);
    tables = [...tables, ...grown.flatMap((place) => [...place.querySelectorAll("[data-table]")]
      .map((element) => new Rows(element)))];
    apply(form, plan, tables);
    hideUnasked(form, plan);
    markGuesses(form);
    showFaults();
  });
  document.addEventListener("toggle", ({ target }) => {
    if (target.open && target.matches("details.fold") && target.dataset.keep.startsWith("figures-")) soon();
    if (target.open && target.querySelector(":scope > [data-working]:empty")) fillWorkings();
  }, true);
  form.addEventListener("submit", (event) => event.preventDefault());
  form.addEventListener("input", changed);
  form.addEventListener("change", changed);
  form.addEventListener("focusout", () => setTimeout(showFaults, 0));
  document.addEventListener("click", (event) => {
    const button = event.target.closest("[data-action]");
    const action = button && actions[button.dataset.action];
    if (!action) return;
    event.preventDefault();
    Promise.resolve(action(button)).catch((error) => say(error.message));
  });
  if (hostedBox && fromDisk) {
    hostedBox.parentElement.hidden = false;
    hostedBox.value = store.hosted();
    hostedBox.addEventListener("change", () => store.keepHosted(hostedBox.value));
  }
  addEventListener("hashchange", takeLink);
  // Coming back to a page the browser kept in memory: another page may have changed the shared plan.
  addEventListener("pageshow", (event) => {
    if (!event.persisted) return;
    takeKept();
    soon();
  });

  turnable();
  takeKept();
  engine.watch(({ state }) => {
    // After a failure and a new try, ask again for what the form says.
    if (state === "ready" && !busy) soon();
  });
  if (PLAN_LINK.test(location.hash)) takeLink();
  else soon();
}
