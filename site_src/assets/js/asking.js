// The loop that asks Python about the plan in hand and puts what it answers into the page.

import * as engine from "./engine.js";
import { current, openFolds, wide } from "./steps.js";
import { say, unsay } from "./telling.js";
import { showing } from "./source.js";

// Workings follow when the typing pauses, so that answers need not wait for them.
const PAUSE = 250;

function words(text) {
  return (text || "").split(" ").filter(Boolean);
}

/** The elements that carry a piece of data, by what it says; a page keeps them all its life. */
function places(name, attribute) {
  const found = new Map();
  for (const place of document.querySelectorAll(`[${attribute}]`)) {
    const said = place.dataset[name];
    if (found.has(said)) found.get(said).push(place);
    else found.set(said, [place]);
  }
  return found;
}

/** Mark a region as showing the last good answer, or as fresh. */
function markOld(region, old) {
  region.toggleAttribute("data-old", old);
  // A list of terms loses its terms under another role; a dash says there what waits.
  if (region.tagName === "DL") return;
  if (old) {
    // Only what has a role may have a name.
    region.setAttribute("role", "group");
    region.setAttribute("aria-label", "The last good answer; something typed since needs another look");
  } else {
    region.removeAttribute("role");
    region.removeAttribute("aria-label");
  }
}

export class Asking {
  /** `hand` is the plan in hand. */
  constructor(hand) {
    this.hand = hand;
    this.topics = words(hand.form.dataset.topics);
    this.answers = words(hand.form.dataset.answers);
    this.faults = {};
    this.offers = {};
    this.asked = false;
    this.busy = null;
    this.again = false;
    // Whether the form was answered as it stands, and how many plans are still being read that may replace what it
    // says.
    this.answered = false;
    this.held = 0;
    this.pause = 0;
    // What the page shows, by region: Python sends only what has another mark.
    this.have = {};
    this.regions = places("region", "data-region");
    // The regions that show the last good answer, and the mark of the texts that the page was told last.
    this.old = new Set();
    this.said = "";
    // The reader's own numbers inside the sentences of a guide.
    this.living = places("living", "data-living");
    // What puts answers into the page (showing.js), once it is there: it comes while Python does.
    this.showing = null;
    engine.watch(({ state }) => { if (state === "fetching") showing().catch(() => {}); });
  }

  /** Ask at the end of this turn; many changes of one turn are one question. */
  soon() {
    // What stands here belongs to an earlier plan until all is answered.
    this.answered = false;
    this.tellSettled();
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
        const about = { plan, topics: this.topics, step: current(), wide: wide(), open: openFolds(),
          answers: this.answers, living: [...this.living.keys()] };
        const first = await engine.run({ ...about, op: "solve", have: this.have, quick: true });
        this.showing ??= await showing();
        this.show(first);
        // Where the physics goes round, the sheet itself comes in two pieces.
        if (first.more && !this.again) this.show(await engine.run({ ...about, op: "solve", have: this.have }));
        await this.fillRest(about);
      } while (this.again);
      this.showing.askSoon(() => this.hand.plan, engine.run);
      this.showing.speakSoon();
      return true;
    } catch (error) {
      this.outdate();
      say(error.message, "answers");
      return false;
    } finally {
      // At once, not a moment later: what is typed from here on begins another round.
      this.busy = null;
      this.answered = !this.asked;
      this.tellSettled();
      this.fillWorkingsSoon();
    }
  }

  /** While `reading` goes on nothing is settled: the plan that it brings may take the place of the one answered. */
  async hold(reading) {
    this.held += 1;
    this.tellSettled();
    await reading.catch(() => {});
    this.held -= 1;
    this.tellSettled();
  }

  tellSettled() {
    this.hand.form.toggleAttribute("data-settled", this.answered && this.held === 0);
  }

  /** What is not in sight, a short time's work after another; left as it is when something else was typed. */
  async fillRest(about) {
    while (!this.again) {
      const rest = await engine.run({ ...about, op: "rest", have: this.have, said: this.said });
      if (rest.done === false) continue;
      if (rest.error) return;
      this.take(rest);
      const lost = new Set(rest.old);
      for (const name of this.old) if (!lost.has(name)) this.mark(name, false);
      this.showing.putTexts(rest.texts || {});
      this.said = rest.said || "";
      return;
    }
  }

  /** Take in the faults of an answer and put its pieces where they belong. */
  take(answer) {
    this.faults = answer.faults || {};
    this.offers = answer.offers || {};
    const faulty = Object.keys(this.faults).length > 0;
    const old = new Set(answer.old);
    const marks = { ...answer.marks };
    for (const name of Object.keys(marks)) {
      const html = answer.regions[name];
      // A region of rows keeps its lost rows one by one; a lost picture stays whole.
      const keepWhole = old.has(name) && html === "";
      if (keepWhole) delete marks[name];
      else if (html !== undefined) {
        for (const region of this.regions.get(name) || []) this.showing.put(region, html, faulty);
      }
      this.mark(name, keepWhole);
    }
    this.have = { ...this.have, ...marks };
    this.showFaults();
  }

  show(answer) {
    if (answer.regions) this.take(answer);
    else this.outdate();
    for (const [said, text] of Object.entries(answer.living || {})) {
      for (const place of this.living.get(said) || []) if (place.textContent !== text) place.textContent = text;
    }
    if (answer.error) say(answer.error, "answers");
    else unsay("answers");
  }

  /** Mark a region as showing the last good answer, or as fresh. */
  mark(name, old) {
    if (this.old.has(name) === old) return;
    if (old) this.old.add(name);
    else this.old.delete(name);
    for (const region of this.regions.get(name) || []) markOld(region, old);
  }

  /** Tell the faults that are known, where their fields stand now. */
  showFaults() {
    this.showing?.showFaults(this.hand, this.faults, this.offers);
  }

  /** Mark everything shown as belonging to another plan. */
  outdate() {
    for (const name of this.regions.keys()) this.mark(name, true);
  }

  fillWorkingsSoon() {
    clearTimeout(this.pause);
    this.pause = setTimeout(() => this.fillWorkings(), PAUSE);
  }

  /** Fill the workings that are open; while the plan is being asked about, they come once it is answered. */
  async fillWorkings() {
    clearTimeout(this.pause);
    if (this.busy) return;
    try {
      const { plan } = this.hand;
      const open = [...document.querySelectorAll("details.result[open]")].map((one) => one.dataset.keep.slice(2));
      if (open.length === 0) return;
      const answer = await engine.run({ op: "workings", plan, keys: open });
      if (plan === this.hand.plan && !this.busy) this.showing?.putWorkings(answer.workings || {});
    } catch {
      // The answers stand; their workings come with the next one.
    }
  }
}
