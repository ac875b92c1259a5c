// The lesson's numbers: those of a class, of the reader's own plan, or of the example that the page was printed with.
// Python is only started when other numbers are asked for.

import { load } from "./plan-store.js";

const form = document.querySelector("form.lesson-choice");
const input = document.getElementById("class-number");
const fault = document.getElementById("class-fault");
const status = document.getElementById("engine-status");
const places = [...document.querySelectorAll("[data-lesson]")];
const example = Object.fromEntries(places.map((place) => [place.dataset.lesson, place.innerHTML]));
const LARGEST = 9999;
let asked = 0;

/** The class number in a text, or 0 for none that is allowed. */
function classOf(text) {
  const plain = text.trim().replace(/,/g, "");
  return /^\d{1,4}$/.test(plain) && Number(plain) >= 1 && Number(plain) <= LARGEST ? Number(plain) : 0;
}

function put(parts) {
  for (const place of places) place.innerHTML = parts[place.dataset.lesson];
}

function told(text) {
  fault.textContent = text;
  if (text) input.setAttribute("aria-invalid", "true");
  else input.removeAttribute("aria-invalid");
}

/** Ask Python for other numbers; what was asked last is what counts. */
async function ask(question, done) {
  asked += 1;
  const mine = asked;
  status.textContent = "Working out the numbers.";
  try {
    raftwright.start();
    const answer = await raftwright.run({ op: "lesson", ...question });
    if (mine !== asked) return;
    if (answer.error) throw new Error(answer.error);
    put(answer.parts);
    status.textContent = done;
  } catch (error) {
    if (mine === asked) status.textContent = `${error.message} The numbers on the sheet are those from before.`;
  }
}

function remember(fragment) {
  // Not a new entry in the history for each press: "back" leads out of the page.
  history.replaceState(null, "", fragment || location.pathname.split("/").pop() || "index.html");
}

function showClass(number) {
  told("");
  input.value = String(number);
  remember(`#class=${number}`);
  ask({ class: number, units: form.dataset.units }, `The numbers are those of class ${number}.`);
}

function showMine() {
  const kept = load();
  told("");
  input.value = "";
  remember("#mine");
  ask({ plan: kept.plan, version: kept.version }, Object.keys(kept.plan).length > 0
    ? "The numbers are those of your own plan." : "No plan is kept in this browser yet: these are the example's.");
}

function showExample() {
  asked += 1;
  told("");
  input.value = "";
  remember("");
  put(example);
  status.textContent = "The numbers are those of the example.";
}

const ACTS = {
  new: () => showClass(1 + crypto.getRandomValues(new Uint32Array(1))[0] % LARGEST),
  mine: showMine,
  example: showExample,
  print: () => print(),
};

/** What the address asks for: "#class=4821", "#mine", or nothing. */
function fromAddress() {
  const found = /^#class=(.*)$/.exec(location.hash);
  if (found && classOf(found[1])) showClass(classOf(found[1]));
  else if (location.hash === "#mine") showMine();
}

form.hidden = false;
form.addEventListener("submit", (event) => {
  event.preventDefault();
  const number = classOf(input.value);
  if (number) showClass(number);
  else told(`Class number: type a whole number from 1 to 9,999, not “${input.value.slice(0, 20)}”.`);
});
for (const button of form.querySelectorAll("[data-choose]")) {
  button.addEventListener("click", ACTS[button.dataset.choose]);
}
addEventListener("hashchange", fromAddress);
fromAddress();
