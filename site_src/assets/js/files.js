// The menu of files: the example's stands there; the reader's own takes its place, and each button hands a file out.

import * as engine from "./engine.js";
import { defaults } from "./source.js";
import { linkOf } from "./linking.js";
import { download } from "./download.js";
import { offline } from "./offline.js";
import { asked, follow, plan } from "./plan-at-hand.js";

// What a file is written by, where Python does not have it from the start.
const WRITTEN_BY = { xlsx: "xlsxwriter" };
const place = document.querySelector("[data-files]");
const line = document.getElementById("files-status");
let shown = { plan: {}, name: "", notes: [] };

function say(text) {
  line.textContent = text;
}

/** Today's date on the reader's own clock. */
function today() {
  const now = new Date();
  return [now.getFullYear(), now.getMonth() + 1, now.getDate()].map((part) => String(part).padStart(2, "0")).join("-");
}

/** Every file is there to be had. */
function ready() {
  for (const button of place.querySelectorAll("[data-file]")) button.hidden = false;
}

async function save(file) {
  say(`Making ${file}.`);
  const needed = WRITTEN_BY[file.split(".").pop()];
  if (needed) await engine.extra(needed);
  const answer = await asked({ op: "file", plan: shown.plan, name: shown.name, file, day: today() });
  const content = answer.text ?? Uint8Array.from(atob(answer.base64), (letter) => letter.charCodeAt(0));
  download(answer.called, content, answer.type);
  say(`Saved as ${answer.called}.`);
}

async function show() {
  const declared = await defaults();
  const found = await plan(declared);
  if (!found) return;
  shown = found;
  const answer = await asked({ op: "files", plan: shown.plan, name: shown.name });
  place.innerHTML = answer.html;
  follow(shown, linkOf(shown.plan, declared), answer.name);
  say(shown.notes.join(" "));
}

place.addEventListener("click", ({ target }) => {
  const button = target.closest("[data-file]");
  if (button) save(button.dataset.file).catch((error) => say(error.message));
});
addEventListener("hashchange", () => location.reload());
engine.watch(({ state, reason }) => {
  if (state === "failed") say(`${reason} No file can be made here.`);
});
requestAnimationFrame(() => setTimeout(() => {
  engine.start();
  show().then(() => {
    ready();
    document.documentElement.dataset.filesReady = "yes";
  }, (error) => say(`${error.message} No file can be made here.`));
}, 0));
offline();
self.raftwright = { run: engine.run, times: engine.times };
