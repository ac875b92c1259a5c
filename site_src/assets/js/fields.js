// The form as plan text and back: controls, their defaults in both systems of units, tables that grow, hidden
// questions.

// Grows with every change in which parts a form has.
let age = 0;
const lists = new WeakMap();

/** A list of parts of the form, looked up once and again only after parts came or went: a key needs many of them. */
export function parts(form, name, find) {
  let all = lists.get(form);
  if (!all || all.age !== age) {
    all = { age };
    lists.set(form, all);
  }
  all[name] ??= find();
  return all[name];
}

/** Every named control of the form. */
export function controls(form) {
  return parts(form, "controls", () => [...form.elements].filter((one) => one.name));
}

/** An empty line below a control, where a fault will be told. */
function placeForFault(control) {
  const id = `fault-${control.name.replaceAll(".", "-")}`;
  if (control.name.includes("__ROW__") || document.getElementById(id)) return;
  const place = document.createElement("p");
  place.className = "fault";
  place.id = id;
  control.after(place);
  control.setAttribute("aria-describedby", `${control.getAttribute("aria-describedby") || ""} ${id}`.trim());
}

/** What a control was printed with, whatever the browser has put back since. */
function printed(control) {
  if (control.tagName !== "SELECT") return control.defaultValue;
  const chosen = [...control.options].find((one) => one.defaultSelected) || control.options[0];
  return chosen ? chosen.value : "";
}

/** A control as it is printed says the metric default only where it is another one; US is shown first. */
export function ready(place) {
  age += 1;
  for (const control of place.querySelectorAll("[name]")) {
    control.dataset.default ??= printed(control);
    control.dataset.defaultUs ??= control.dataset.default;
    control.dataset.defaultMetric ??= control.dataset.default;
    placeForFault(control);
  }
}

function defaultOf(control) {
  return control.dataset.default ?? "";
}

/** Bring what the form says into the plan: only what differs from the defaults; what the form does not ask is kept. */
export function collect(form, plan) {
  const found = { ...plan };
  for (const control of controls(form)) {
    if (control.value === defaultOf(control)) delete found[control.name];
    else found[control.name] = control.value;
  }
  return found;
}

/** The plan without what is true of one day only, such as a meter's reading: all that may be kept. */
export function lasting(form, plan) {
  const found = { ...plan };
  const passing = parts(form, "passing", () => [...form.querySelectorAll("[data-transient]")]);
  for (const control of passing) delete found[control.name];
  return found;
}

/** The system of units the form shows now. */
export function systemOf(form, plan) {
  const control = form.elements.namedItem("units");
  return (control && control.value) || plan.units || "us";
}

/** Make every untouched control show the defaults of a system, and the unit notes follow. */
export function useSystem(form, system) {
  for (const control of controls(form)) {
    const wanted = control.dataset[system === "metric" ? "defaultMetric" : "defaultUs"];
    if (wanted === undefined || control.name === "units") continue;
    const untouched = control.value === defaultOf(control);
    control.dataset.default = wanted;
    if (untouched) control.value = wanted;
  }
  for (const note of form.querySelectorAll("[data-units]")) note.hidden = note.dataset.units !== system;
}

/** A default that belongs to other answers' defaults is gone once one of those is the reader's own. */
export function follow(form, system) {
  const following = parts(form, "following", () => [...form.querySelectorAll("[data-follows]")].map((control) => ({
    control, others: control.dataset.follows.split(" ").map((name) => form.elements.namedItem(name)).filter(Boolean),
  })));
  for (const { control, others } of following) {
    const moved = others.some((other) => other.value !== defaultOf(other));
    const own = moved ? "" : control.dataset[system === "metric" ? "defaultMetric" : "defaultUs"];
    if (own === defaultOf(control)) continue;
    if (control.value === defaultOf(control)) control.value = own;
    control.dataset.default = own;
  }
}

function choose(control, text) {
  if (control.value === text) return;
  control.value = text;
  if (control.value === text || !control.closest(".brief")) return;
  // In brief a choice has the one option it was printed with; what the reader chose must not be lost until the rest
  // is there.
  control.add(new Option(text, text));
  control.value = text;
}

/** Show a whole plan in the form. */
export function apply(form, plan, tables) {
  const units = form.elements.namedItem("units");
  if (units) choose(units, plan.units ?? defaultOf(units));
  for (const table of tables) table.match(plan);
  useSystem(form, systemOf(form, plan));
  for (const control of controls(form)) choose(control, plan[control.name] ?? defaultOf(control));
  follow(form, systemOf(form, plan));
}

function conditionsOf(form) {
  return [...form.querySelectorAll("[data-when]")].map((part) => ({
    part, conditions: part.dataset.when.split(";").map((condition) => {
      const [, key, sign, wanted] = /^([^=>]+)([=>])(.*)$/.exec(condition);
      return { key, control: form.elements.namedItem(key), over: sign === ">", wanted: wanted.split("|") };
    }),
  }));
}

/** Hide the questions that the choices made leave unasked; `data-when` is "key=a|b;key2>1". */
export function hideUnasked(form, plan) {
  for (const { part, conditions } of parts(form, "conditions", () => conditionsOf(form))) {
    const hidden = !conditions.every(({ key, control, over, wanted }) => {
      const value = control ? control.value : plan[key];
      if (value === undefined) return true;
      return over ? Number.parseFloat(value) > Number(wanted[0]) : wanted.includes(value);
    });
    if (part.hidden !== hidden) part.hidden = hidden;
  }
}

/** One table of rows that repeat. Rows keep their numbers, since a cell's plan key holds it. */
export class Rows {
  constructor(element) {
    this.element = element;
    this.key = element.dataset.table;
    this.identity = element.dataset.identity || "name";
    this.most = Number(element.dataset.most) || 20;
    this.body = element.querySelector("[data-rows]");
    this.template = element.querySelector("template");
    for (const row of [...this.body.children]) if (row.dataset.cells) row.replaceWith(this.fromWords(row));
    this.first = new Map([...this.body.children].map((row) => [Number(row.dataset.row), row.cloneNode(true)]));
  }

  row(number) {
    return this.body.querySelector(`[data-row="${number}"]`);
  }

  /** A row that stands in words, with its controls. */
  fromWords(words) {
    const number = Number(words.dataset.row);
    const row = this.fromTemplate(number);
    for (const [column, given] of Object.entries(JSON.parse(words.dataset.cells))) {
      const [us, metric] = Array.isArray(given) ? given : [given, given];
      const control = row.querySelector(`[name="${this.key}.${number}.${column}"]`);
      Object.assign(control.dataset, { default: us, defaultUs: us, defaultMetric: metric });
      control.value = us;
      // A clone takes along what is set as an attribute, not what was put in.
      if (control.tagName === "INPUT") control.setAttribute("value", us);
      else for (const option of control.options) option.toggleAttribute("selected", option.value === us);
    }
    return row;
  }

  /** A fresh row: a default one where the number has one, else from the template. */
  make(number) {
    return this.first.has(number) ? this.first.get(number).cloneNode(true) : this.fromTemplate(number);
  }

  fromTemplate(number) {
    const row = this.template.content.firstElementChild.cloneNode(true);
    for (const part of [row, ...row.querySelectorAll("*")]) {
      for (const attribute of part.attributes) attribute.value = attribute.value.replaceAll("__ROW__", String(number));
    }
    return row;
  }

  put(number) {
    const row = this.make(number);
    const next = [...this.body.children].find((other) => Number(other.dataset.row) > number);
    this.body.insertBefore(row, next || null);
    age += 1;
    return row;
  }

  /** Add an empty row after the others; null when the table is full. */
  add() {
    let number = 1;
    for (const row of this.body.children) number = Math.max(number, Number(row.dataset.row) + 1);
    while (number > 1 && number > this.most) number -= 1;
    while (number >= 1 && this.row(number)) number -= 1;
    if (number < 1) return null;
    const row = this.put(number);
    for (const control of row.querySelectorAll("input")) control.value = "";
    return row;
  }

  /** Take a row away, and say so in the plan when it was one of the defaults. */
  remove(row, plan) {
    const number = Number(row.dataset.row);
    const prefix = `${this.key}.${number}.`;
    for (const key of Object.keys(plan)) if (key.startsWith(prefix)) delete plan[key];
    if (this.first.has(number)) plan[prefix + this.identity] = "";
    row.remove();
    age += 1;
  }

  /** Have exactly the rows that a plan has. */
  match(plan) {
    const wanted = new Set(this.first.keys());
    for (const key of Object.keys(plan)) {
      if (!key.startsWith(`${this.key}.`)) continue;
      const [number, column] = key.slice(this.key.length + 1).split(".");
      if (!/^[1-9][0-9]{0,3}$/.test(number) || Number(number) > this.most || !column) continue;
      wanted.add(Number(number));
    }
    for (const number of this.first.keys()) {
      if (plan[`${this.key}.${number}.${this.identity}`] === "") wanted.delete(number);
    }
    for (const row of [...this.body.children]) {
      if (wanted.has(Number(row.dataset.row))) continue;
      row.remove();
      age += 1;
    }
    for (const number of wanted) if (!this.row(number)) this.put(number);
  }
}
