// The lines of a club's form: one a member, one a kind of bath. A line that is typed in keeps its focus and its text.

/** An element; `about` are its attributes, `words` its text. */
export function make(tag, about = {}, ...inside) {
  const made = document.createElement(tag);
  for (const [name, value] of Object.entries(about)) {
    if (name === "words") made.textContent = value;
    else made.setAttribute(name, value);
  }
  made.append(...inside);
  return made;
}

function field(words, about, change) {
  const input = make("input", { type: "text", autocomplete: "off", ...about });
  input.addEventListener("change", () => change(input.value.trim()));
  return make("label", {}, make("span", { words }), input);
}

const CROSS = '<svg viewBox="0 0 24 24" aria-hidden="true" focusable="false"><path d="M5 5l14 14M19 5L5 19"/></svg>';

/** A button that takes a line away: a cross, and words for who cannot see it. */
function taking(act) {
  const made = make("button", { type: "button" });
  made.innerHTML = CROSS;
  made.append(make("span", { class: "visually-hidden" }));
  made.addEventListener("click", act);
  return made;
}

function button(words, hidden, act) {
  const whose = make("span", { class: "visually-hidden", words: ` ${hidden}` });
  const made = make("button", { type: "button" }, words, whose);
  made.addEventListener("click", act);
  return made;
}

/** Rows in a place, by the id of what they show; `build` makes one, `fill` puts in what is so now. */
export class Lines {
  constructor(place, { build, fill }) {
    this.place = place;
    this.build = build;
    this.fill = fill;
    this.rows = new Map();
  }

  show(all) {
    const wanted = new Set(all.map((one) => one.id));
    for (const [id, row] of this.rows) {
      if (wanted.has(id)) continue;
      row.remove();
      this.rows.delete(id);
    }
    for (const stray of [...this.place.children]) if (![...this.rows.values()].includes(stray)) stray.remove();
    let before = null;
    all.forEach((one, at) => {
      let row = this.rows.get(one.id);
      if (!row) {
        row = this.build(one);
        this.rows.set(one.id, row);
      }
      const next = before ? before.nextElementSibling : this.place.firstElementChild;
      // Moving a row would take the focus out of it.
      if (next !== row) this.place.insertBefore(row, next);
      before = row;
      this.fill(row, one, at + 1);
    });
  }

  focus(id) {
    this.rows.get(id)?.querySelector("input")?.focus();
  }
}

/** What a field shows, unless somebody is typing in it: what stands in it then is not what was put there last. */
export function put(input, text) {
  if (!input || (input === document.activeElement && input.value !== (input.dataset.put ?? input.value))) return;
  if (input.value !== text) input.value = text;
  input.dataset.put = text;
}

/** The lines of members. */
export function memberLines(place, does) {
  return new Lines(place, {
    build: ({ id }) => make("li", { class: "member-row", "data-id": id },
      field("Name", { maxlength: 60, "data-name": "" }, (text) => does.member(id, { name: text })),
      field("Shares", { maxlength: 6, inputmode: "numeric", "data-shares": "" }, (text) => does.member(id, {
        shares: text })),
      taking(() => does.removeMember(id))),
    fill: (row, one, at) => {
      const name = row.querySelector("[data-name]");
      const shares = row.querySelector("[data-shares]");
      name.dataset.field = `members.${at}.name`;
      shares.dataset.field = `members.${at}.shares`;
      put(name, String(one.name ?? ""));
      put(shares, String(one.shares ?? "1"));
      row.querySelector("button span").textContent = `Take away ${one.name || "this member"}`;
    },
  });
}

/** The lines of baths. */
export function bathLines(place, does) {
  return new Lines(place, {
    build: ({ id }) => make("li", { class: "bath-row", "data-id": id },
      field("Called", { maxlength: 60, "data-name": "" }, (text) => does.bath(id, { name: text })),
      field("How many", { maxlength: 6, inputmode: "numeric", "data-count": "" }, (text) => does.bath(id, {
        count: text })),
      taking(() => does.removeBath(id)), make("p", { class: "newer", hidden: "" })),
    fill: (row, one, at) => {
      const { id } = one;
      const name = row.querySelector("[data-name]");
      const count = row.querySelector("[data-count]");
      name.dataset.field = `baths.${at}.name`;
      count.dataset.field = `baths.${at}.count`;
      row.dataset.field = `baths.${at}.plan`;
      put(name, String(one.name ?? ""));
      put(count, String(one.count ?? ""));
      row.querySelector("button span").textContent = `Take away ${one.name || "these baths"}`;
      const newer = row.querySelector(".newer");
      const now = does.newer(one);
      newer.hidden = !now;
      if (now && newer.childElementCount === 0) {
        newer.append("This plan has changed on your shelf since. ",
          button("Take it as it is now", one.name || "", () => does.renew(id)));
      }
    },
  });
}
