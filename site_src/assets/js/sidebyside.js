// Two to four plans of the shelf beside one another: the plans named in the address, worked out and compared by Python.

import * as engine from "./engine.js";
import { nameOf } from "./shelf-rows.js";
import { offline } from "./offline.js";
import { say } from "./telling.js";
import { shelf } from "./plans.js";

const MOST = 4;
const place = document.querySelector("[data-sides]");

function wanted() {
  const found = /^#plans=([a-z0-9,-]+)$/.exec(location.hash);
  return found ? [...new Set(found[1].split(","))].slice(0, MOST) : [];
}

function noteOf(record, all) {
  const at = all.findIndex((one) => one.id === record.copyOf);
  if (at >= 0) return `copy of ${"ABCD"[at]}`;
  if (record.note) return record.note.length > 60 ? `${record.note.slice(0, 58)}…` : record.note;
  return record.from ? `from ${record.from}` : "";
}

async function show() {
  const ids = wanted();
  if (ids.length === 0) return;
  const records = (await Promise.all(ids.map((id) => shelf.read(id)))).filter(Boolean);
  if (records.length < 2) {
    say("Fewer than two of these plans are on this machine. Choose two to four on your shelf; here is an invented "
      + "example.");
    return;
  }
  place.querySelector("[data-comparison]").toggleAttribute("data-old", true);
  say("The plans are being worked out.");
  engine.start();
  const answer = await engine.run({ op: "side_by_side", plans: records.map((record) => ({
    name: nameOf(record), note: noteOf(record, records), plan: record.plan, version: record.version,
    href: `../plan/index.html#kept=${record.id}` })) });
  if (answer.error) throw new Error(answer.error);
  // Every name in it was written by calc, which escapes what readers type.
  place.querySelector("[data-comparison]").innerHTML = answer.html;
  place.querySelector("[data-comparison]").removeAttribute("data-old");
  place.querySelector("[data-invented]").hidden = true;
  place.querySelector("[data-count-plans]").textContent = records.length;
  place.querySelector("[data-units-of]").textContent = answer.system === "metric" ? "metric" : "US";
  const open = place.querySelector("[data-open-first]");
  open.textContent = `A, ${nameOf(records[0])}`;
  open.href = `../plan/index.html#kept=${records[0].id}`;
  const all = await shelf.all();
  place.querySelector("[data-how-many]").textContent = `${records.length} of ${all.length} plans`;
  document.title = `${records.map(nameOf).join(", ")}: side by side | Raftwright`;
  say(records.length < ids.length ? "Some of the plans of this address are no longer on this machine." : "");
  place.toggleAttribute("data-settled", true);
}

function start() {
  show().catch((error) => say(`The plans could not be compared. ${error.message}`));
}

document.addEventListener("click", (event) => {
  if (event.target.closest('[data-action="print"]')) window.print();
  const menu = document.querySelector("details.site-menu[open]");
  if (menu && !menu.contains(event.target)) menu.open = false;
});
addEventListener("hashchange", start);
start();
offline();
self.raftwright = { run: engine.run, times: engine.times };
