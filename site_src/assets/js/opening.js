// Opening a plan: a link, a file, a picture of the first page. Over a plan of the reader's own it asks first.

import * as engine from "./engine.js";
import { download } from "./download.js";
import { newName, shelf } from "./plans.js";
import { passing } from "./source.js";
import { notice, question, say, withdraw } from "./telling.js";
import { readLink } from "./linking.js";
import { sentences } from "./hand.js";

const LARGEST_FILE = 1_000_000;
// Without what calc declares, calc itself has to read a link.
const NOTHING_KNOWN = {};
const LONGEST_NAME = 60;
const PLAN_LINK = /^#(plan|start)=/;
// What somebody signed, or wrote a note with, is looked at beside the reader's own.
const SIGNED = /&link\.(by|note)=/;
// A starting point that says nothing is the example, begun as a new plan.
const EMPTY_START = /^#start=\d+(&step=[a-z]+)?$/;

/** Offer the text of something that could not be read whole. */
export function saveOriginal(text) {
  download("raft-bath-original.txt", text, "text/plain");
}

/** A plan of the shelf, or a new one, in the address: its name, "" for a new one; undefined where there is neither. */
function keptIn(fragment) {
  const found = /^#kept=([a-z0-9-]{1,60})/.exec(fragment);
  if (found) return found[1];
  return EMPTY_START.test(fragment) ? "" : undefined;
}

/** The step that an address names, as an address of its own; "" where it names none. */
function stepOf(fragment) {
  const found = /[#&](step=[a-z]+)$/.exec(fragment);
  return found ? `#${found[1]}` : "";
}

export class Opening {
  constructor(hand, asking) {
    this.hand = hand;
    this.asking = asking;
  }

  /** Whether the address holds a plan. */
  static inAddress() {
    return PLAN_LINK.test(location.hash) || keptIn(location.hash) !== undefined;
  }

  /**
   * Show what Python read from `original`; `name` is what it is called. Resolves to whether it is shown now.
   */
  async show({ plan, notes, newer, name, original }) {
    const { hand } = this;
    hand.giveBack();
    const way = hand.own && !hand.says(plan) ? await this.ask(name) : "only";
    if (way === "leave") {
      say(`“${name}” was not opened; your plan is as it was.`);
      return false;
    }
    withdraw("unread");
    const stays = way === "replace" || (way === "only" && hand.own);
    if (!hand.says(plan) || !hand.own) hand.show(plan, stays ? hand.state() : { name });
    if (way === "beside") say(`“${name}” is shown. Yours is kept; it stands in the plan menu.`);
    else if (way === "replace") say(`“${name}” stands in place of your plan. Undo brings yours back.`);
    else say(original.file ? `Opened ${original.file}.` : "");
    if (notes.length > 0 || newer) await this.keepOriginal(name, original.text, notes);
    return true;
  }

  async ask(name) {
    const answer = await question("You have a plan of your own",
      `“${name}” can stand beside your plan “${this.hand.title}”, or in its place.`,
      [["beside", "Look at it beside mine, and keep both"], ["replace", "Replace mine"], ["leave", "Leave it"]]);
    return answer || "leave";
  }

  async keepOriginal(name, text, notes) {
    await shelf.keepOriginal({ id: newName(), name, text, why: notes, at: Date.now() });
    notice("unread", `Not all of “${name}” could be read. ${shelf.lasts ? "The original is kept." : ""}`.trim(), {
      list: notes, choices: [["Save the original as a file", () => saveOriginal(text)]],
    });
  }

  /** Show the plan of the shelf that the address names, or a new one; the one shown before is kept. */
  async kept(fragment) {
    const id = keptIn(fragment);
    const { hand } = this;
    history.replaceState(null, "", location.pathname + location.search + stepOf(fragment));
    await hand.adopted;
    hand.giveBack();
    if (id === "") {
      hand.show({});
    } else if (hand.id !== id) {
      const record = await shelf.read(id);
      if (record) hand.showKept(record);
      else say("That plan is no longer on this machine.");
    }
    this.asking.soon();
  }

  async readLink(fragment) {
    await this.hand.adopted;
    // Until the link is read, what stands here may belong to another plan.
    if (!this.hand.own) this.asking.outdate();
    const plain = readLink(fragment, await this.hand.known().catch(() => NOTHING_KNOWN));
    return plain ? { plan: plain, notes: [] } : engine.run({ op: "link_read", fragment });
  }

  /** Look at somebody else's plan. */
  async look(fragment) {
    await this.hand.adopted;
    return (await passing()).look(this, fragment, { run: engine.run, say, shelf });
  }

  /** Open the plan of the address, if it holds one. */
  async link() {
    const fragment = location.hash;
    if (keptIn(fragment) !== undefined) {
      const shown = this.kept(fragment);
      this.asking.hold(shown);
      return shown;
    }
    if (!PLAN_LINK.test(fragment)) return undefined;
    const start = fragment.startsWith("#start=");
    try {
      if (SIGNED.test(fragment)) {
        const looking = this.look(fragment);
        this.asking.hold(looking);
        return await looking;
      }
      const reading = this.readLink(fragment);
      this.asking.hold(reading);
      const answer = await reading;
      const notes = sentences(answer.notes);
      if (answer.error) notes.push(answer.error);
      if (answer.plan && Object.keys(answer.plan).length > 0) {
        const name = start ? "The starting point" : "The plan of the link";
        await this.show({ plan: answer.plan, notes, newer: answer.newer, name,
          original: { text: location.href.split("#")[0] + fragment } });
        // From here on the plan is the reader's own: a reload must bring back what was typed since.
        history.replaceState(null, "", location.pathname + location.search + stepOf(fragment));
      } else if (notes.length > 0) {
        say(notes.join(" "));
      }
    } catch (error) {
      say(`The link could not be read. ${error.message}`);
    }
    return this.asking.soon();
  }

  /** Have the reader choose a file. */
  chooseFile() {
    const picker = document.createElement("input");
    picker.type = "file";
    picker.accept = ".json,application/json,text/plain";
    picker.hidden = true;
    picker.addEventListener("change", () => {
      this.file(picker.files[0]);
      picker.remove();
    });
    document.body.append(picker);
    picker.click();
  }

  async file(file) {
    if (!file) return;
    if (file.size > LARGEST_FILE) {
      say("This file is larger than any plan; it was not opened.");
      return;
    }
    try {
      const text = await file.text();
      const answer = await engine.run({ op: "file_read", text });
      const notes = sentences(answer.notes);
      if (answer.error) notes.push(answer.error);
      const found = answer.plan && Object.keys(answer.plan).length > 0;
      if (found || (answer.plan && notes.length === 0)) {
        const name = answer.name || file.name.replace(/\.(json|txt)$/i, "").slice(0, LONGEST_NAME) || "A file";
        await this.show({ plan: answer.plan, notes, newer: answer.newer, name, original: { text, file: file.name } });
      } else {
        say(notes.join(" "));
      }
    } catch (error) {
      say(`The file could not be opened. ${error.message}`);
    }
    this.asking.soon();
  }
}
