// What the buttons of the plan's menu do: links, files, tables, rows, paper.

import * as engine from "./engine.js";
import * as store from "./plan-store.js";
import { useSystem } from "./fields.js";
import { fromDisk, root } from "./source.js";
import { sentences } from "./hand.js";

const LARGEST_FILE = 1_000_000;

function download(name, text, type) {
  const address = URL.createObjectURL(new Blob([text], { type }));
  const link = document.createElement("a");
  link.href = address;
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
}

function hostedBox() {
  return document.getElementById("hosted-address");
}

/** The whole link to a plan; from a disk it points at the copy on the web, if the reader named one. */
function address(link) {
  const here = location.href.split("#")[0];
  const box = hostedBox();
  const hosted = (box ? box.value : "").trim();
  if (!fromDisk || !hosted) return here + link;
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
function offer(text, say) {
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

/** The actions by name; each gets its button. */
export function actions({ hand, asking, say }) {
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
        hand.take(answer.plan);
        hand.keep();
        notes.unshift(`Opened ${file.name}.`);
      }
      say(notes.join(" "));
    } catch (error) {
      say(`The file could not be opened. ${error.message}`);
    }
    asking.soon();
  }

  async function made(op, name, type, empty) {
    const answer = await engine.run({ op, plan: await hand.ready() });
    if (answer.error) say(answer.error);
    else if (!answer.text) say(empty);
    else download(name, answer.text, type);
  }

  function tableOf(button) {
    return hand.tables.find((one) => one.element.contains(button));
  }

  return {
    async "copy-link"() {
      // The link at hand would be another plan's.
      if (!(await asking.flush())) return;
      const text = address(asking.link);
      try {
        await navigator.clipboard.writeText(text);
        say(asking.link ? "Link copied."
          : "Link copied. Nothing differs from the defaults, so it opens the example plan.");
      } catch {
        offer(text, say);
      }
    },
    async "square-code"() {
      // The link at hand would be another plan's.
      if (!(await asking.flush())) return;
      const text = address(asking.link);
      if (text.startsWith("file:")) {
        say("This page was opened from a disk, so no phone could open its link. "
          + "Put in the address of a copy on the web.");
        hostedBox().focus();
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
      hand.collect();
      say(hand.save() || "Saved in this browser. It is also saved after every change.");
    },
    reset() {
      hand.take({});
      hand.keep();
      say("Started again from the example plan. Your earlier answers are gone from this machine.");
      asking.soon();
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
    "save-file"() {
      return made("file_write", "raft-bath-plan.json", "application/json", "");
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
      table.remove(row, hand.collect());
      (near ? near.querySelector("button") : table.element.querySelector('[data-action="add-row"]')).focus();
      hand.changed();
    },
  };
}
