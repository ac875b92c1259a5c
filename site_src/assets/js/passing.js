// What a plan's menu says beside its buttons: the name of this plan, the others kept here, and what goes into a link;
// and how a link with its maker's name or a note is looked at, read-only, beside the reader's own plan. A script of its
// own, since few visits need it.

import { plainLine } from "./linking.js";

/* global STYLE */
const HERE = document.currentScript.src;
const BY = "link.by";
const NOTE = "link.note";
const LONGEST = { [BY]: 60, [NOTE]: 300 };
const LONGEST_NAME = 60;
const MOST_LISTED = 12;
const REMEMBERED = "raftwright.maker";

/** What stands in the link that is looked at. */
let lookedAt = null;

function element(tag, text = "", about = {}) {
  const made = document.createElement(tag);
  if (text) made.textContent = text;
  return Object.assign(made, about);
}

function style() {
  if (document.querySelector("link[data-passing]")) return;
  const link = element("link", "", { rel: "stylesheet", href: new URL(STYLE, HERE).href });
  link.dataset.passing = "";
  document.head.append(link);
}

// --- what the menu says of kept plans ----------------------------------------------------------------------------

function nameField(hand) {
  const label = element("label", "Name of this plan ");
  const field = element("input", "", { maxLength: LONGEST_NAME, autocomplete: "off" });
  field.dataset.planTitle = "";
  field.addEventListener("change", () => hand.rename(field.value));
  label.append(field);
  return label;
}

function keptButton(hand, record, shelf) {
  const made = element("button", record.name || "Your raft bath", { type: "button" });
  made.dataset.keptPlan = record.id;
  const day = new Date(record.changed).toLocaleDateString("en-US", { month: "short", day: "numeric" });
  made.append(element("small", ` ${day}`));
  made.addEventListener("click", async () => {
    const now = await shelf.read(record.id);
    if (now) hand.showKept(now);
  });
  return made;
}

/** Have the menu say what is so now: the name of this plan, and the others of the shelf, each a button. */
async function fill(menu, hand, shelf) {
  ask(menu);
  let field = menu.querySelector("[data-plan-title]");
  if (!field) {
    const name = nameField(hand);
    field = name.querySelector("input");
    const erase = menu.querySelector('[data-action="reset"]');
    if (erase) erase.before(name);
    else menu.append(name);
    const others = element("div");
    others.dataset.keptPlans = "";
    menu.append(others);
  }
  if (field !== document.activeElement) field.value = hand.title;
  const all = (await shelf.all()).filter((one) => one.id !== hand.id)
    .sort((left, right) => right.changed - left.changed).slice(0, MOST_LISTED);
  menu.querySelector("[data-kept-plans]").replaceChildren(
    ...(all.length > 0 ? [element("h2", "Other plans kept here")] : []),
    ...all.map((one) => keptButton(hand, one, shelf)));
}

// --- what the menu asks ------------------------------------------------------------------------------------------

function box(key) {
  return document.querySelector(`[data-said="${key}"]`);
}

/** What the reader put in to go into links, by key; what somebody else put in while a link of theirs is looked at. */
function said() {
  if (lookedAt) return lookedAt;
  const found = {};
  for (const key of [BY, NOTE]) {
    const text = plainLine(box(key)?.value || "", LONGEST[key]);
    if (text) found[key] = text;
  }
  return found;
}

function remembered() {
  try {
    return localStorage.getItem(REMEMBERED) || "";
  } catch {
    return "";
  }
}

function remember(name) {
  try {
    localStorage.setItem(REMEMBERED, name);
  } catch {
    // It has to be typed again next time; nothing else depends on it.
  }
}

/** Put the two questions, neither of which needs an answer, ahead of what a plan's menu passes on. */
function ask(menu) {
  if (menu.querySelector("[data-maker]") || lookedAt) return;
  style();
  const place = element("fieldset", "", { className: "maker" });
  place.dataset.maker = "";
  place.append(element("legend", "Put into the link (optional)"));
  for (const [key, words] of [[BY, "Your name, or your club’s"], [NOTE, "A note, in one or two sentences"]]) {
    const label = element("label", `${words} `);
    const field = element("input", "", { maxLength: LONGEST[key], autocomplete: "off" });
    field.dataset.said = key;
    if (key === BY) {
      field.value = remembered();
      field.addEventListener("change", () => remember(plainLine(field.value, LONGEST[BY])));
    }
    label.append(field);
    place.append(label);
  }
  place.append(element("p", "A name stays on this machine unless you put it into the link. With a name or a note the "
    + "link opens read-only, beside the other reader’s own plan."));
  menu.querySelector('[data-action="copy-link"]').before(place);
}

// --- a plan that is looked at --------------------------------------------------------------------------------------

/** The questions show what they say and take nothing; the units alone are the reader's to choose. */
function lock(form) {
  for (const control of form.elements) {
    if (!control.name || control.name === "units") continue;
    const typed = control.tagName === "TEXTAREA" || /^(text|search|number|date|time|)$/.test(control.type);
    if (typed) control.readOnly = true;
    else control.disabled = true;
    control.dataset.locked = typed ? "text" : "choice";
  }
}

function unlock(form) {
  for (const control of form.querySelectorAll("[data-locked]")) {
    if (control.dataset.locked === "text") control.readOnly = false;
    else control.disabled = false;
    delete control.dataset.locked;
  }
}

/** Ways from the planner to its papers go on with the plan that is looked at. */
function lead(fragment) {
  for (const link of document.querySelectorAll(".paper-links a")) link.href = link.href.split("#")[0] + fragment;
}

function titleOf(maker) {
  return maker.name ? `A plan by ${maker.name}` : "A plan from a link";
}

/** What stands above a plan that is looked at; its two buttons are `mine` and `back`. */
function plate(maker, notes, { own, mine, back }) {
  const place = element("section", "", { className: "lent" });
  place.dataset.lent = "";
  place.setAttribute("aria-labelledby", "lent-title");
  const title = element("h2", maker.name ? "A plan by " : titleOf(maker), { id: "lent-title", tabIndex: -1 });
  if (maker.name) title.append(element("bdi", maker.name));
  place.append(title);
  if (maker.note) {
    const note = element("blockquote");
    note.append(element("bdi", maker.note));
    place.append(note);
  }
  place.append(element("p", own
    ? "You look at it beside your own plan, which is as you left it. Nothing here can be changed."
    : "You look at it; nothing here can be changed."));
  if (notes.length > 0) {
    const list = element("ul");
    list.append(...notes.map((one) => element("li", one)));
    place.append(list);
  }
  const ways = element("p", "", { className: "acts" });
  for (const [words, act, kind] of [["Make it mine", mine, "button main"],
    [own ? "Back to my plan" : "Back to the example", back, "button"]]) {
    const button = element("button", words, { type: "button", className: kind });
    button.addEventListener("click", act);
    ways.append(button);
  }
  place.append(ways);
  return place;
}

/**
 * Look at the plan of a signed link. `opening` is the page's; `run` asks Python, `say` tells, `shelf` keeps plans.
 */
async function look(opening, fragment, { run, say, shelf }) {
  const { hand } = opening;
  if (lookedAt?.fragment === fragment) return;
  style();
  if (hand.switching) await hand.ready();
  say("Reading the link.");
  const answer = await run({ op: "link_read", fragment });
  if (answer.error) throw new Error(answer.error);
  const maker = answer.maker || { name: "", note: "" };
  const { form } = hand;
  const own = hand.own || Boolean(hand.lent);
  const saved = [...document.querySelectorAll("[data-saved]")].map((one) => [one, one.textContent]);
  const step = () => (/[#&](step=[a-z]+)$/.exec(location.hash) || [])[1];
  const leave = () => history.replaceState(null, "", location.pathname + location.search
    + (step() ? `#${step()}` : ""));
  const back = () => {
    leave();
    hand.giveBack();
    say(own ? "This is your plan, as you left it." : "This is the example.");
    document.querySelector("h1:not([hidden] *)")?.focus();
  };
  const mine = async () => {
    const { plan } = hand.now();
    const name = titleOf(maker).slice(0, LONGEST_NAME);
    leave();
    hand.show(plan, { name });
    const { id } = hand;
    say(`“${name}” is yours now: a new plan on your shelf${own ? ", beside the one you had" : ""}.`);
    document.querySelector(".plan-bar details.menu > summary")?.focus();
    await hand.write();
    await shelf.change(id, (one) => one && { ...one, ...(maker.name && { from: maker.name }),
      ...(maker.note && { note: maker.note }) });
  };
  const place = plate(maker, answer.notes || [], { own, mine, back });
  const end = () => {
    lookedAt = null;
    unlock(form);
    lead("");
    delete form.dataset.lent;
    place.remove();
    for (const [one, text] of saved) one.textContent = text;
  };
  hand.lend(answer.plan || {}, titleOf(maker), { lock: () => lock(form), end });
  lookedAt = { ...(maker.name && { [BY]: maker.name }), ...(maker.note && { [NOTE]: maker.note }) };
  Object.defineProperty(lookedAt, "fragment", { value: fragment, enumerable: false });
  form.dataset.lent = "";
  for (const [one] of saved) one.textContent = "read-only, kept nowhere";
  lead(fragment.replace(/&step=[a-z]*$/, ""));
  const line = document.getElementById("action-status");
  if (line) line.after(place);
  else form.prepend(place);
  say("");
  document.querySelector("[data-maker]")?.remove();
  document.getElementById("lent-title").focus();
}

self.raftwrightPassing = { fill, look, said };
