// The start of every page: what the reader sees first is already there, so scripts begin after the first paint.

import * as engine from "./engine.js";
import { wire } from "./form.js";
import { offline } from "./offline.js";

const MOMENT = 700;
const WORDS = {
  fetching: "Fetching the calculator. You can already type; the answers follow.",
  starting: "Starting the calculator. You can already type; the answers follow.",
};

function showState() {
  const line = document.getElementById("engine-status");
  if (!line) return;
  let clock = 0;
  engine.watch(({ state, reason, slow }) => {
    clearTimeout(clock);
    if (state === "failed") {
      line.textContent = `${reason} The answers shown are those of the built-in example or the last good ones. `;
      const button = document.createElement("button");
      button.type = "button";
      button.textContent = "Try again";
      button.addEventListener("click", engine.retry);
      line.append(button);
    } else if (WORDS[state]) {
      // A quick start shows nothing at all.
      clock = setTimeout(() => { line.textContent = WORDS[state]; }, line.textContent ? 0 : MOMENT);
    } else {
      line.textContent = slow ? "Still counting; the answers shown are those of the plan before." : "";
    }
  });
}

function afterFirstPaint(action) {
  let done = false;
  const once = () => {
    if (!done) action();
    done = true;
  };
  requestAnimationFrame(() => setTimeout(once, 0));
  // A page in the background paints nothing.
  setTimeout(once, 300);
}

const form = document.querySelector("form[data-plan]");
if (form) {
  showState();
  wire(form);
  afterFirstPaint(() => engine.start());
} else {
  // A page with nothing to work out has no engine to wait for.
  delete document.documentElement.dataset.engine;
}
for (const button of document.querySelectorAll("[data-print-guide]")) {
  button.hidden = false;
  button.addEventListener("click", () => window.print());
}
offline();
self.raftwright = { run: engine.run, start: engine.start, times: engine.times };
