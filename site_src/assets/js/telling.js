// What the page tells the reader: a line that goes when it is no longer true, notices that stay until they are closed,
// and questions in a dialog.

function statusLine() {
  return document.getElementById("action-status");
}

let until = "";
// Counts what was said, so that whoever has more to say later knows whether its own words still stand.
let turn = 0;

/** Say a sentence; it goes when the plan changes, or with what it is about: "storage", "answers". Gives its turn. */
export function say(text, about = "plan") {
  const line = statusLine();
  if (line && line.textContent !== text) line.textContent = text;
  until = text ? about : "";
  turn += 1;
  return turn;
}

/** Whether nothing was said since a turn. */
export function stands(said) {
  return said === turn;
}

/** What was said about this is no longer true. */
export function unsay(about) {
  if (until === about) say("");
}

function button(words, act) {
  const made = document.createElement("button");
  made.type = "button";
  made.textContent = words;
  made.addEventListener("click", act);
  return made;
}

function paragraph(text) {
  const made = document.createElement("p");
  made.textContent = text;
  return made;
}

/** Take a notice away. */
export function withdraw(name) {
  const standing = document.querySelector(`[data-notice="${name}"]`);
  if (standing) standing.remove();
}

/** A notice that stays: a sentence, things listed, and buttons as [words, action]; each button also closes it. */
export function notice(name, text, { list = [], choices = [] } = {}) {
  withdraw(name);
  const place = document.createElement("div");
  place.className = "notice";
  place.dataset.notice = name;
  place.setAttribute("role", "status");
  place.append(paragraph(text));
  if (list.length > 0) {
    const items = document.createElement("ul");
    for (const one of list) {
      const item = document.createElement("li");
      item.textContent = one;
      items.append(item);
    }
    place.append(items);
  }
  const row = document.createElement("p");
  for (const [words, act] of [...choices, ["Close", () => {}]]) {
    row.append(button(words, () => {
      place.remove();
      act();
    }));
  }
  place.append(row);
  const line = statusLine();
  if (line) line.after(place);
  else document.body.prepend(place);
}

/** Ask in a dialog; `choices` are [name, words]. Resolves to a name, or "" when it was closed. */
export function question(title, text, choices) {
  return new Promise((resolve) => {
    const box = document.createElement("dialog");
    box.className = "question";
    const heading = document.createElement("h2");
    heading.id = "question-title";
    heading.textContent = title;
    box.setAttribute("aria-labelledby", heading.id);
    const row = document.createElement("div");
    for (const [name, words] of choices) {
      const made = button(words, () => box.close(name));
      made.dataset.choice = name;
      row.append(made);
    }
    box.append(heading, paragraph(text), row);
    box.addEventListener("close", () => {
      box.remove();
      resolve(box.returnValue);
    });
    document.body.append(box);
    box.showModal();
  });
}
