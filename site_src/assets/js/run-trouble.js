// Trouble: what is seen is ticked; then what it may be, why, the question that tells most, what to check.

import { bathLog } from "./log-bath.js";
import { say } from "./telling.js";

const PARTS = ["verdict", "chosen", "question", "causes", "checks", "stop", "weights"];

export class Trouble {
  constructor({ full, text, fill, on }) {
    Object.assign(this, { full, text, fill });
    this.touched = false;
    this.log = { present: [], absent: [], note: {} };
    this.present = new Set();
    this.absent = new Set();
    this.unsure = new Set();
    this.answer = null;
    const signs = document.querySelector('[data-region="signs"]');
    signs.addEventListener("change", ({ target }) => {
      if (target.name !== "sign") return;
      this.touched = true;
      if (target.checked) this.present.add(target.value);
      else this.present.delete(target.value);
      this.absent.delete(target.value);
      this.count();
    });
    on("see-causes", () => this.see());
    on("other-signs", () => this.back());
    on("keep-trouble", () => this.keep());
    document.getElementById("reasons").addEventListener("click", ({ target }) => {
      const answer = target.closest("[data-answer]");
      const remove = target.closest("[data-remove]");
      if (answer) this.tell(answer.closest("[data-question]").dataset.question, answer.dataset.answer);
      if (remove) this.tell(remove.dataset.remove, "");
    });
  }

  plain() {
    if (!bathLog.invented && !this.touched && !this.cleared) {
      this.cleared = true;
      for (const box of document.querySelectorAll('[name="sign"]')) box.checked = false;
      this.count();
    }
  }

  count() {
    const number = this.present.size;
    const own = [...this.present].filter((one) => this.log.present.includes(one)).length;
    this.text("signs", `${number} ${number === 1 ? "sign" : "signs"}${own ? `, ${own} from ${
      bathLog.invented ? "the invented log" : "your log"}` : ""}`);
    document.querySelector('[data-action="see-causes"]').disabled = number === 0;
  }

  /** The signs, those that the log tells ticked already, unless the reader has begun. */
  async draw(unchanged) {
    if (this.touched || this.answer) return;
    const found = await bathLog.ask("trouble_signs");
    if (this.touched || !unchanged()) return;
    this.log = found;
    this.fill("signs", this.log.html);
    this.present = new Set(this.log.present);
    this.absent = new Set(this.log.absent);
    this.count();
  }

  async see(focus = true) {
    const { note } = this.log;
    this.answer = await bathLog.ask("trouble", { present: [...this.present], absent: [...this.absent],
      unsure: [...this.unsure], note });
    for (const name of PARTS) this.fill(name, this.answer.html[name] || "");
    document.body.classList.add("reasoning");
    this.touched = true;
    const { lead, text: words } = this.answer.verdict;
    say(`${lead} ${words}`);
    this.text("trouble", lead.replace(/\.$/, ""));
    if (focus) {
      const place = document.getElementById("reasons-title");
      place.scrollIntoView({ block: "start" });
      place.focus({ preventScroll: true });
    }
  }

  /** An answer to the question, or a sign taken away. */
  async tell(sign, answer) {
    for (const set of [this.present, this.absent, this.unsure]) set.delete(sign);
    if (answer === "yes") this.present.add(sign);
    if (answer === "no") this.absent.add(sign);
    if (answer === "unsure") this.unsure.add(sign);
    const box = document.querySelector(`[name="sign"][value="${CSS.escape(sign)}"]`);
    if (box) box.checked = answer === "yes";
    this.count();
    if (this.present.size === 0) this.back();
    else await this.see().catch((error) => say(error.message));
  }

  back() {
    document.body.classList.remove("reasoning");
    this.answer = null;
    document.getElementById("trouble-title").focus();
  }

  /** What was found goes into the log, so that it is known what was seen and when. */
  async keep() {
    if (!this.answer) return;
    const seen = this.answer.signs.map((one) => one.title).join(", ");
    const entry = bathLog.made("failed", { what: seen.slice(0, 300), remark: this.answer.verdict.lead });
    try {
      await bathLog.put([entry]);
      say("Written to the log.");
    } catch (error) {
      this.full(entry, error);
    }
  }
}
