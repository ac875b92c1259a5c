// The start of a page of paper: the example stands there; the reader's own plan takes its place once Python has it.

import * as engine from "./engine.js";
import { defaults } from "./source.js";
import { linkOf } from "./linking.js";
import { download } from "./download.js";
import { offline } from "./offline.js";
import { address, asked, follow, plan } from "./plan-at-hand.js";

const LONGEST_CODE = 420;
const place = document.querySelector("[data-paper]");
const line = document.getElementById("paper-status");

function say(text) {
  line.textContent = text;
}

async function codeOf(link) {
  // A longer one makes a code so fine that no printed sheet of that size can be scanned.
  if (!link || link.length > LONGEST_CODE) return "";
  try {
    await engine.extra("segno");
    const answer = await engine.run({ op: "square_code", text: link });
    return answer.svg || "";
  } catch {
    // The sheet is whole without its code.
    return "";
  }
}

function nameOf(box) {
  return box.getAttribute("aria-label") || box.closest("label")?.textContent;
}

/** What was typed into boxes of the sheets, by what the box is called, and what was ticked. */
function typed() {
  return [...place.querySelectorAll("input")].filter((box) => box.dataset.touched)
    .map((box) => [box.type, nameOf(box), box.value, box.checked]);
}

function putBack(all) {
  for (const [type, name, value, checked] of all) {
    for (const box of place.querySelectorAll(`input[type="${type}"]`)) {
      if (nameOf(box) !== name) continue;
      box.value = value;
      box.checked = checked;
      box.dataset.touched = "yes";
    }
  }
}

/** What is wider than a phone is moved with the keyboard too. */
function reachable() {
  for (const part of place.querySelectorAll(".leaf-body, .leaf.tile > figure")) {
    if (part.scrollWidth > part.clientWidth + 1) part.tabIndex = 0;
    else part.removeAttribute("tabindex");
  }
}

let shown = null;

/** The sum of the prices that stand in the boxes, as Python reads and writes money. */
async function addUp() {
  const table = place.querySelector(".totals");
  if (!table) return;
  const texts = [...place.querySelectorAll("[data-price]")].map((box) => box.value);
  const extra = place.querySelector("[data-extra]").value;
  const members = table.querySelector("[data-members]")?.value || "";
  const answer = await asked({ op: "sum", plan: shown ? shown.plan : {}, texts, extra, members,
    among: Number(table.dataset.baths) });
  for (const part of ["sum", "total", "each", "member"]) {
    const cell = table.querySelector(`[data-${part}]`);
    if (cell) cell.textContent = answer[part];
  }
  say(answer.unread === 0 ? ""
    : `Not in the sum, since not read: ${answer.unread} of the prices. Type them like 12.50.`);
}

/** The same dates as a file for a phone. */
async function saveCalendar() {
  const answer = await asked({ op: "calendar", plan: shown ? shown.plan : {}, name: shown ? shown.name : "" });
  if (answer.text) download("raft-bath-calendar.ics", answer.text, "text/calendar");
  else say("There are no dates in this plan yet.");
}

async function show() {
  const declared = await defaults();
  shown = await plan(declared);
  if (!shown) return;
  say("Drawing your plan.");
  const fragment = linkOf(shown.plan, declared);
  const link = place.dataset.paper === "sheet" ? address(fragment) : "";
  const code = await codeOf(link);
  const { paper: kind } = place.dataset;
  const answer = await asked({ op: "paper", kind, plan: shown.plan, name: shown.name, link, code });
  const before = typed();
  place.innerHTML = answer.html;
  putBack(before);
  reachable();
  follow(shown, fragment, answer.name);
  say(shown.notes.join(" "));
  await addUp();
}

if (place) {
  for (const button of document.querySelectorAll('[data-action="print"]')) {
    button.hidden = false;
    button.addEventListener("click", () => print());
  }
  for (const button of document.querySelectorAll('[data-action="ics"]')) {
    button.hidden = false;
    button.addEventListener("click", () => saveCalendar().catch((error) => say(error.message)));
  }
  place.addEventListener("input", ({ target }) => {
    target.dataset.touched = "yes";
    if (target.matches("[data-price], [data-extra], [data-members]")) addUp().catch((error) => say(error.message));
  });
  addEventListener("hashchange", () => location.reload());
  addEventListener("resize", reachable);
  reachable();
  engine.watch(({ state, reason }) => {
    if (state === "failed") say(`${reason} What stands here is the built-in example.`);
  });
  const begin = () => {
    engine.start();
    show().then(() => { document.documentElement.dataset.paperReady = "yes"; },
      (error) => say(`${error.message} What stands here is the built-in example.`));
  };
  requestAnimationFrame(() => setTimeout(begin, 0));
}
offline();
self.raftwright = { run: engine.run, times: engine.times };
