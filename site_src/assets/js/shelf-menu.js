// What the plan's menu says of the kept plans: the name of this one, and the others, each a button.

import { shelf } from "./plans.js";

const LONGEST_NAME = 60;
const MOST = 12;

function nameField(hand) {
  const label = document.createElement("label");
  label.textContent = "Name of this plan ";
  const field = document.createElement("input");
  field.maxLength = LONGEST_NAME;
  field.autocomplete = "off";
  field.dataset.planTitle = "";
  field.addEventListener("change", () => hand.rename(field.value));
  label.append(field);
  return label;
}

function keptButton(hand, record) {
  const made = document.createElement("button");
  made.type = "button";
  made.dataset.keptPlan = record.id;
  made.textContent = record.name || "Your raft bath";
  const when = document.createElement("small");
  when.textContent = ` ${new Date(record.changed).toLocaleDateString("en-US", { month: "short", day: "numeric" })}`;
  made.append(when);
  made.addEventListener("click", async () => {
    const now = await shelf.read(record.id);
    if (now) hand.showKept(now);
  });
  return made;
}

/** Put the kept plans into the menu, if the page has one, and follow what is kept. */
export function shelfMenu(hand) {
  const menu = document.querySelector("details.menu");
  if (!menu) return;
  const name = nameField(hand);
  const others = document.createElement("div");
  others.dataset.keptPlans = "";
  const heading = document.createElement("h2");
  heading.textContent = "Other plans kept here";
  const inside = menu.querySelector(":scope > div");
  const erase = inside.querySelector('[data-action="reset"]');
  if (erase) erase.before(name);
  else inside.append(name);
  inside.append(others);
  const fill = async () => {
    const field = name.querySelector("input");
    if (field !== document.activeElement) field.value = hand.title;
    const all = (await shelf.all()).filter((one) => one.id !== hand.id)
      .sort((left, right) => right.changed - left.changed).slice(0, MOST);
    others.replaceChildren(...(all.length > 0 ? [heading] : []), ...all.map((one) => keptButton(hand, one)));
  };
  menu.addEventListener("toggle", () => { if (menu.open) fill(); });
  return () => { if (menu.open) fill(); };
}
