// The loop that asks Python about the plan in hand and puts what it answers into the page.

import * as engine from "./engine.js";
import { askSoon } from "./mends.js";
import { speakSoon } from "./spoken.js";
import { current, openFolds, wide } from "./steps.js";
import { markOld, put, putTexts, putWorkings } from "./regions.js";
import { showFaults } from "./faults.js";

// Workings follow when the typing pauses, so that answers need not wait for them.
const PAUSE = 250;

function words(text) {
  return (text || "").split(" ").filter(Boolean);
}

function regions() {
  return [...document.querySelectorAll("[data-region]")];
}

/** The reader's own numbers inside the sentences of a guide. */
function livingNumbers() {
  return [...new Set([...document.querySelectorAll("[data-living]")].map((place) => place.dataset.living))];
}

export class Asking {
  /** `hand` is the plan in hand, `say` tells the reader a sentence. */
  constructor(hand, say) {
    this.hand = hand;
    this.say = say;
    this.topics = words(hand.form.dataset.topics);
    this.answers = words(hand.form.dataset.answers);
    this.faults = {};
    this.offers = {};
    this.link = "";
    this.asked = false;
    this.busy = null;
    this.again = false;
    this.pause = 0;
    // What the page shows, by region: Python sends only what has another mark.
    this.have = {};
  }

  /** Ask at the end of this turn; many changes of one turn are one question. */
  soon() {
    if (this.asked) return;
    this.asked = true;
    // Not in the next frame: the worker can begin at once, and while it is busy further keys wait together.
    queueMicrotask(() => {
      this.asked = false;
      this.flush();
    });
  }

  /** Ask Python until what it answered is what the form says: true then, false (and told) when it cannot answer. */
  flush() {
    if (this.busy) this.again = true;
    else this.busy = this.loop();
    return this.busy;
  }

  async loop() {
    try {
      do {
        this.again = false;
        const plan = await this.hand.ready();
        this.show(await engine.run({ op: "solve", plan, topics: this.topics, have: this.have, step: current(),
          wide: wide(), open: openFolds(), answers: this.answers, living: livingNumbers() }));
        if (!this.again && current()) await this.fillRest(plan);
      } while (this.again);
      askSoon(() => this.hand.plan);
      speakSoon();
      return true;
    } catch (error) {
      this.outdate();
      this.say(error.message);
      return false;
    } finally {
      // At once, not a moment later: what is typed from here on begins another round.
      this.busy = null;
    }
  }

  /** What follows the plan as a whole, after the sheet in sight. */
  async fillRest(plan) {
    const rest = await engine.run({ op: "rest", plan, have: this.have });
    for (const region of regions()) {
      const html = (rest.regions || {})[region.dataset.region];
      if (html !== undefined) put(region, html);
    }
    this.have = { ...this.have, ...rest.marks };
    putTexts(rest.texts || {});
  }

  show(answer) {
    this.faults = answer.faults || {};
    this.offers = answer.offers || {};
    if (typeof answer.link === "string") this.link = answer.link;
    const faulty = Object.keys(this.faults).length > 0;
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
    this.have = { ...this.have, ...answer.marks };
    for (const place of document.querySelectorAll("[data-living]")) {
      const text = (answer.living || {})[place.dataset.living];
      if (text !== undefined && place.textContent !== text) place.textContent = text;
    }
    this.showFaults();
    clearTimeout(this.pause);
    this.pause = setTimeout(() => this.fillWorkings(), PAUSE);
    if (answer.error) this.say(answer.error);
  }

  /** Tell the faults that are known, where their fields stand now. */
  showFaults() {
    showFaults(this.hand, this.faults, this.offers);
  }

  /** Mark everything shown as belonging to another plan. */
  outdate() {
    for (const region of regions()) markOld(region, true);
  }

  /** Fill the workings that are open. */
  async fillWorkings() {
    clearTimeout(this.pause);
    if (this.busy) return;
    try {
      const { plan } = this.hand;
      const open = [...document.querySelectorAll("details.result[open]")].map((one) => one.dataset.keep.slice(2));
      if (open.length === 0) return;
      const answer = await engine.run({ op: "workings", plan, keys: open });
      if (plan === this.hand.plan && !this.busy) putWorkings(answer.workings || {});
    } catch {
      // The answers stand; their workings come with the next one.
    }
  }
}
