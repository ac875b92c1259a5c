// What the buttons of the plan's menu do: links, files, tables, rows, paper.

import * as engine from "./engine.js";
import * as store from "./plan-store.js";
import { useSystem } from "./fields.js";
import { fromDisk, root } from "./source.js";
import { current } from "./steps.js";
import { download } from "./download.js";
import { fileOf, linkOf } from "./linking.js";
import { say } from "./telling.js";

// Python is given a moment to write what only it can; who presses a button does not wait longer.
const MOMENT = 2_000;

function hostedBox() {
  return document.getElementById("hosted-address");
}

/** The plan that stands in the form now, complete as far as it can be without waiting for Python to start. */
async function planNow(hand) {
  const [declared] = await Promise.all([hand.known(), engine.isReady() && Promise.race([
    hand.ready().catch(() => {}), new Promise((resolve) => { setTimeout(resolve, MOMENT); })])]);
  return { declared, ...hand.now() };
}

/** The fragment of a link: the plan, and behind its seal the step in sight unless that is the first. */
function fragment({ plan, version, declared }) {
  const first = document.querySelector("section[data-step]");
  const step = first && first.dataset.step !== current() ? `step=${current()}` : "";
  const link = linkOf(plan, declared, version, self.raftwrightPassing?.said());
  return link && step ? `${link}&${step}` : link || (step && `#${step}`);
}

/** The whole link to a plan; from a disk it points at the copy on the web, "" if the reader named none. */
function address(link) {
  if (fromDisk && !(hostedBox() && hostedBox().value.trim())) return "";
  const here = location.href.split("#")[0];
  const box = hostedBox();
  const hosted = (box ? box.value : "").trim();
  if (!fromDisk) return here + link;
  if (!/^https?:\/\/[^\s/]/.test(hosted)) {
    throw new Error("The address of the copy on the web must begin with https:// or http://.");
  }
  const top = hosted.replace(/#.*$/, "").replace(/(index\.html)?$/, "").replace(/\/?$/, "/");
  return top + here.slice(root.href.length) + link;
}

/** A code of an earlier plan would open the wrong one. */
export function dropCode() {
  const figure = document.getElementById("link-code");
  if (figure) figure.remove();
}

/** Let the reader say where the copy on the web is, on a page from a disk. */
export function askForHosted() {
  const box = hostedBox();
  if (!box || !fromDisk) return;
  box.parentElement.hidden = false;
  box.value = store.hosted();
  box.addEventListener("change", () => store.keepHosted(box.value));
}

/** Where the clipboard is forbidden, the link stands ready to be copied by hand. */
function offer(text) {
  let box = document.getElementById("link-text");
  if (!box) {
    box = document.createElement("input");
    box.id = "link-text";
    box.readOnly = true;
    box.setAttribute("aria-label", "Link to this plan");
    document.getElementById("action-status").after(box);
  }
  box.value = text;
  box.focus();
  box.select();
  say("The browser does not let the page copy; the link is selected below.");
}

/** Say that a link to a disk is of no use to anybody, and ask for the address of a copy on the web. */
function askWhere() {
  say("This page was opened from a disk, so a link to it opens nowhere else and none was copied. Put in the address of "
    + "a copy on the web, or use Save as a file.");
  const box = hostedBox();
  if (!box) return;
  for (let at = box; at; at = at.parentElement) if (at.tagName === "DETAILS") at.open = true;
  box.focus();
}

function showCode(svg, text) {
  dropCode();
  const figure = document.createElement("figure");
  figure.id = "link-code";
  figure.className = "link-code";
  figure.innerHTML = svg;
  const caption = document.createElement("figcaption");
  caption.textContent = `Scan to open this plan. It is also in words: ${text}`;
  figure.append(caption);
  document.getElementById("action-status").after(figure);
}

/** The actions by name; each gets its button. */
export function actions({ hand, asking, opening }) {
  async function made(op, name, type, empty) {
    const answer = await engine.run({ op, plan: await hand.ready(), name: hand.name });
    if (answer.error) say(answer.error);
    else if (!answer.text) say(empty);
    else download(name, answer.text, type);
  }

  function tableOf(button) {
    return hand.tables.find((one) => one.element.contains(button));
  }

  return {
    undo() {
      hand.undo();
    },
    redo() {
      hand.redo();
    },
    async "copy-link"() {
      const here = await planNow(hand);
      const text = address(fragment(here));
      if (!text) return askWhere();
      const said = linkOf(here.plan, here.declared, here.version) ? "Link copied."
        : "Link copied. Nothing differs from the defaults, so it opens the example plan.";
      try {
        await navigator.clipboard.writeText(text);
        return say(said);
      } catch {
        return offer(text);
      }
    },
    async "square-code"() {
      const text = address(fragment(await planNow(hand)));
      if (!text) return askWhere();
      say("Making the code.");
      await engine.extra("segno");
      const answer = await engine.run({ op: "square_code", text });
      if (answer.error || answer.note) return say(answer.error || answer.note);
      showCode(answer.svg, text);
      return say("The code stands below, and prints with the page.");
    },
    async reset() {
      await hand.erase();
      say("Erased: this is the example plan. Undo brings yours back as long as this page is open.");
    },
    "open-file"() {
      opening.chooseFile();
    },
    async "save-file"() {
      const { plan, version, declared } = await planNow(hand);
      download("raft-bath-plan.json", fileOf(plan, declared, hand.name, version), "application/json");
    },
    csv() {
      return made("csv", "raft-bath-plan.csv", "text/csv", "");
    },
    calendar() {
      return made("calendar", "raft-bath-calendar.ics", "text/calendar",
        "There are no dates yet; see what the calendar waits for.");
    },
    print() {
      window.print();
    },
    async "print-workings"() {
      await asking.flush();
      await asking.fillWorkings();
      document.documentElement.dataset.print = "workings";
      // Some browsers go on at once and print later.
      addEventListener("afterprint", () => delete document.documentElement.dataset.print, { once: true });
      window.print();
    },
    "add-row"(button) {
      const table = tableOf(button);
      const row = table.add();
      if (!row) return say(`This table takes ${table.most} rows at most.`);
      useSystem(hand.form, hand.system);
      row.querySelector("input, select").focus();
      return hand.changed();
    },
    "remove-row"(button) {
      const table = tableOf(button);
      const row = button.closest("[data-row]");
      const near = row.nextElementSibling || row.previousElementSibling;
      const before = hand.state();
      hand.plan = { ...hand.collect() };
      table.remove(row, hand.plan);
      (near ? near.querySelector("button") : table.element.querySelector('[data-action="add-row"]')).focus();
      hand.changed(before);
    },
  };
}
