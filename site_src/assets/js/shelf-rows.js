// One line a kept plan: its small drawing, name, note, where it stands, figures, and what can be done with it.

const SVG = "http://www.w3.org/2000/svg";
const UNNAMED = "Your raft bath";
const LETTERS = "ABCD";
const LONGEST_NAME = 60;
const LONGEST_NOTE = 300;
const FOOT = 0.3048;

function make(tag, { words, ...more } = {}, ...inside) {
  const made = document.createElement(tag);
  for (const [name, value] of Object.entries(more)) made.setAttribute(name, value);
  if (words !== undefined) made.textContent = words;
  made.append(...inside);
  return made;
}

/** A sign and its words, as calc/render/signs.py draws them. */
export function sign(state, words) {
  const drawn = document.createElementNS(SVG, "svg");
  drawn.setAttribute("class", `sign ${state}`);
  drawn.setAttribute("aria-hidden", "true");
  const use = document.createElementNS(SVG, "use");
  use.setAttribute("href", `#sign-${state}`);
  drawn.append(use);
  return make("span", { class: `word ${state}` }, drawn, make("span", { words }));
}

/** When a plan was changed, in the words that people use. */
export function changedWords(when) {
  const then = new Date(when);
  const now = new Date();
  if (then.toDateString() === now.toDateString()) {
    return `today, ${then.toLocaleTimeString("en-US", { hour: "numeric", minute: "2-digit" }).toLowerCase()}`;
  }
  const year = then.getFullYear() === now.getFullYear() ? undefined : "numeric";
  return then.toLocaleDateString("en-US", { month: "short", day: "numeric", year });
}

/** The name that a reader sees. */
export function nameOf(record) {
  return record.name || UNNAMED;
}

export class Rows {
  /** `list` is the list they stand in; `does` what their buttons do, by name. */
  constructor(list, does) {
    this.list = list;
    this.does = does;
    this.rows = new Map();
    this.records = new Map();
  }

  /** Whether what is told of a plan is of the state it is in, and of this release. */
  fresh(record, release) {
    const { glance } = record;
    return Boolean(glance) && glance.stamp === record.stamp && glance.release === release;
  }

  show(records, { chosen, full }) {
    this.records = new Map(records.map((one) => [one.id, one]));
    const open = this.list.querySelector("details.menu[open]")?.closest("[data-id]")?.dataset.id;
    const before = this.rows;
    this.rows = new Map();
    for (const record of records) {
      const key = JSON.stringify([record.stamp, Boolean(record.deleted), record.glance?.stamp]);
      const kept = before.get(record.id);
      const row = kept && kept.dataset.state === key ? kept : this.row(record);
      row.dataset.state = key;
      this.rows.set(record.id, row);
    }
    this.list.replaceChildren(...this.rows.values());
    if (open && this.rows.get(open)?.querySelector("details.menu")) {
      this.rows.get(open).querySelector("details.menu").open = true;
    }
    this.letter(chosen, full);
    this.scale();
  }

  row(record) {
    if (record.deleted) return this.gone(record);
    const row = make("li", { class: "plan-row", "data-id": record.id });
    const box = make("input", { type: "checkbox" });
    box.addEventListener("change", () => this.does.choose(record.id, box.checked));
    const letter = make("span", { class: "letter", "aria-hidden": "true" });
    row.append(
      make("label", { class: "choose" }, box, letter, make("span", { class: "choose-words", words: "compare" }),
        make("span", { class: "visually-hidden", words: ` “${nameOf(record)}” side by side` })),
      make("div", { class: "miniature" }),
      make("div", { class: "about" }, this.heading(record), make("p", { class: "plan-note", words: record.note || "" }),
        make("p", { class: "when", words: this.when(record) }), make("p", { class: "standings" })),
      make("dl", { class: "glance" }),
      this.menu(record));
    this.fill(row, record);
    return row;
  }

  heading(record) {
    return make("h2", {}, make("a", { href: `../plan/index.html#kept=${record.id}`, words: nameOf(record) }));
  }

  when(record) {
    const parts = [`Changed ${changedWords(record.changed)}`];
    const from = this.records.get(record.copyOf);
    if (record.copyOf) parts.push(from ? `copy of “${nameOf(from)}”` : "a copy");
    if (record.from) parts.push(`from ${record.from}`);
    return parts.join("; ");
  }

  gone(record) {
    const row = make("li", { class: "plan-row gone", "data-id": record.id });
    const undo = make("button", { type: "button", words: "Undo" });
    undo.addEventListener("click", () => this.does.restore(record.id));
    row.append(make("p", { words: `“${nameOf(record)}” is deleted. It is set aside here for 30 days.` }), undo);
    return row;
  }

  menu(record) {
    const menu = make("details", { class: "menu" });
    const inside = make("div");
    const whose = make("span", { class: "visually-hidden", words: ` for “${nameOf(record)}”` });
    menu.append(make("summary", {}, "More", whose), inside);
    // Two hundred plans are two hundred menus, and a reader opens one.
    menu.addEventListener("toggle", () => {
      if (menu.open && inside.childElementCount === 0) this.fillMenu(inside, this.records.get(record.id) || record);
    });
    return menu;
  }

  fillMenu(inside, record) {
    const { id } = record;
    const name = make("input", { maxlength: LONGEST_NAME, autocomplete: "off", value: record.name || "" });
    name.addEventListener("change", () => this.does.rename(id, name.value));
    const note = make("textarea", { maxlength: LONGEST_NOTE, rows: 2 });
    note.value = record.note || "";
    note.addEventListener("change", () => this.does.describe(id, note.value));
    const act = (words, work) => {
      const button = make("button", { type: "button", "data-act": "", words });
      button.addEventListener("click", () => {
        inside.parentElement.open = false;
        work(id);
      });
      return button;
    };
    inside.append(make("label", { words: "Name " }, name), make("label", { words: "Note " }, note),
      make("a", { href: `../today/index.html#bath=${id}`, words: "Its Today and log" }),
      act("Copy this plan", this.does.copy), act("Save as a file", this.does.save),
      act("Picture to show around", this.does.picture), act("Delete", this.does.remove));
    if (record.copyOf && this.records.has(record.copyOf)) {
      inside.querySelector("[data-act]").before(make("a", {
        href: `../side-by-side/index.html#plans=${record.copyOf},${id}`, words: "What changed since it was copied" }));
    }
  }

  /** Take in a name or a note while the row stays as it is. */
  rename(record) {
    this.records.set(record.id, record);
    const row = this.rows.get(record.id);
    row.querySelector("h2 a").textContent = nameOf(record);
    row.querySelector(".plan-note").textContent = record.note || "";
    row.dataset.state = JSON.stringify([record.stamp, false, record.glance?.stamp]);
  }

  /** Show what Python has just told of a plan. */
  tell(record) {
    const row = this.rows.get(record.id);
    if (!row) return;
    this.records.set(record.id, record);
    this.fill(row, record);
    row.dataset.state = JSON.stringify([record.stamp, false, record.glance?.stamp]);
    this.scale();
  }

  fill(row, record) {
    const { glance } = record;
    const now = glance && glance.stamp === record.stamp;
    row.toggleAttribute("data-waiting", !now);
    const said = row.querySelector(".standings");
    if (record.untold) {
      said.textContent = "This plan could not be worked out.";
    } else if (!now) {
      said.textContent = "Being worked out.";
    }
    if (!now) return;
    said.replaceChildren(...glance.standings.map(([state, words]) => sign(state, words)));
    row.querySelector(".glance").replaceChildren(...glance.figures.map(([label, shown]) => make("div", {},
      make("dt", { words: label }), make("dd", { words: shown }))));
    // Drawn by calc from the plan's own numbers; no text of the reader's is in it.
    row.querySelector(".miniature").innerHTML = glance.drawing ? glance.drawing.svg : "";
  }

  /** Set all drawings, and the bar, to the scale at which the widest has room. */
  scale() {
    const drawn = [...this.records.values()].filter((one) => one.glance?.drawing && !one.deleted);
    const first = [...this.rows.values()].find((row) => !row.hidden && row.querySelector(".miniature svg"));
    if (!first || drawn.length === 0) return;
    const room = first.querySelector(".miniature").clientWidth || 200;
    const widest = Math.max(...drawn.map((one) => one.glance.drawing.wide));
    const tallest = Math.max(...drawn.map((one) => one.glance.drawing.tall));
    const scale = Math.min(room / Math.max(widest, 1.5), 132 / Math.max(tallest, 0.8));
    for (const one of drawn) {
      const svg = this.rows.get(one.id)?.querySelector(".miniature svg");
      if (!svg) continue;
      svg.setAttribute("width", (one.glance.drawing.wide * scale).toFixed(1));
      svg.setAttribute("height", (one.glance.drawing.tall * scale).toFixed(1));
    }
    this.bar(scale, drawn[0].glance.system);
  }

  bar(scale, system) {
    const long = system === "metric" ? [1, 2, 0.5] : [4 * FOOT, 8 * FOOT, 2 * FOOT];
    const length = long.find((one) => one * scale >= 40 && one * scale <= 130) || long[0];
    const words = system === "metric" ? `${length} m` : `${Math.round(length / FOOT)} ft`;
    for (const place of document.querySelectorAll("[data-scale]")) {
      place.hidden = false;
      place.querySelector("svg").setAttribute("width", (length * scale).toFixed(1));
      place.querySelector("b").textContent = words;
    }
  }

  /** Say which plans are chosen, in the order they were. */
  letter(chosen, full) {
    for (const [id, row] of this.rows) {
      const box = row.querySelector(".choose input");
      if (!box) continue;
      const at = chosen.indexOf(id);
      box.checked = at >= 0;
      box.disabled = full && at < 0;
      row.querySelector(".letter").textContent = at >= 0 ? LETTERS[at] : "";
      row.querySelector(".choose-words").textContent = at >= 0 ? "chosen" : "compare";
    }
  }

  /** Show only the rows of plans that `wanted` wants; how many those are. */
  filter(wanted) {
    let found = 0;
    for (const [id, row] of this.rows) {
      const record = this.records.get(id);
      row.hidden = !wanted(record);
      if (!row.hidden && !record.deleted) found += 1;
    }
    return found;
  }

  focus(id) {
    this.rows.get(id)?.querySelector("h2 a")?.focus();
  }

  focusUndo(id) {
    this.rows.get(id)?.querySelector("button")?.focus();
  }
}
