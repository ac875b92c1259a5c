// A form with a plan in it, wired: what is typed goes to Python at once, and answers and faults come back in place.

import * as engine from "./engine.js";
import { grow, lightSizes, openable } from "./asks.js";
import { actions, askForHosted, dropCode } from "./actions.js";
import { Asking } from "./asking.js";
import { Hand } from "./hand.js";
import { tellSoon } from "./glance.js";
import { Opening, saveOriginal } from "./opening.js";
import { say } from "./telling.js";
import { shelfMenu } from "./shelf-menu.js";
import { turnable } from "./steps.js";

// Fields that undo by themselves what is typed in them.
const TYPED_IN = "textarea, input:not([type=button], [type=checkbox], [type=radio], [type=file]), [contenteditable]";

/** Ctrl+Z and Cmd+Z outside of text fields; with Shift, the other way. */
function undoByKey(event, hand) {
  if (!(event.ctrlKey || event.metaKey) || event.altKey || event.key.toLowerCase() !== "z") return;
  if (event.target.closest(TYPED_IN) || document.querySelector("dialog[open]")) return;
  event.preventDefault();
  if (event.shiftKey) hand.redo();
  else hand.undo();
}

function showUndo({ back, forth }) {
  for (const button of document.querySelectorAll('[data-action="undo"]')) button.disabled = back.length === 0;
  for (const button of document.querySelectorAll('[data-action="redo"]')) button.disabled = forth.length === 0;
}

function listen(form, hand, asking, does) {
  document.addEventListener("step", () => asking.soon());
  document.addEventListener("click", (event) => {
    const mend = event.target.closest("[data-mend]");
    if (!mend) return;
    asking.showing.remember(mend);
    hand.put(mend.changes);
  });
  document.addEventListener("toggle", ({ target }) => {
    if (target.open && target.matches("details.fold") && target.dataset.keep.startsWith("figures-")) asking.soon();
    if (target.open && target.querySelector(":scope > [data-working]:empty")) asking.fillWorkings();
  }, true);
  form.addEventListener("submit", (event) => event.preventDefault());
  form.addEventListener("input", () => hand.changed());
  form.addEventListener("change", () => {
    hand.changed();
    hand.undone.seal();
  });
  document.addEventListener("keydown", (event) => undoByKey(event, hand));
  form.addEventListener("focusout", () => setTimeout(() => asking.showFaults(), 0));
  document.addEventListener("click", (event) => {
    const button = event.target.closest("[data-action]");
    const action = button && does[button.dataset.action];
    if (!action) return;
    event.preventDefault();
    Promise.resolve().then(() => action(button)).catch((error) => say(error.message));
  });
}

/** Wire one form; returns nothing, the page is the result. */
export function wire(form) {
  const hand = new Hand(form);
  const asking = new Asking(hand);
  const opening = new Opening(hand, asking);
  hand.onchange = () => {
    asking.showing?.outdateMends();
    dropCode();
    asking.soon();
  };
  hand.ontake = () => {
    if (Object.keys(hand.plan).length > 0) asking.outdate();
  };
  const menu = shelfMenu(hand);
  hand.onkept = () => {
    if (menu) menu().catch(() => {});
    tellSoon(hand, asking);
  };
  hand.onoriginal = saveOriginal;
  hand.undone.onmove = () => showUndo(hand.undone);
  lightSizes(form);
  // After the first paint: rows that open look as the lines did that were printed.
  setTimeout(() => openable(form), 0);
  grow(form).then((grown) => {
    if (grown.length === 0) return;
    hand.grown(grown);
    asking.showFaults();
  });
  listen(form, hand, asking, actions({ hand, asking, opening }));
  askForHosted();
  addEventListener("hashchange", () => opening.link());
  // Coming back to a page the browser kept in memory: another page may have changed the shared plan.
  addEventListener("pageshow", (event) => {
    if (!event.persisted) return;
    asking.hold(hand.takeKept());
    asking.soon();
  });
  addEventListener("pagehide", () => hand.write());

  turnable();
  asking.hold(hand.takeKept());
  showUndo(hand.undone);
  // Without it a link says more than it must, and is right all the same.
  hand.known().catch(() => {});
  let before = "";
  engine.watch(({ state }) => {
    // After a failure and a new try, ask again for what the form says.
    if (state === "ready" && before !== "ready" && !asking.busy) asking.soon();
    before = state;
  });
  if (Opening.inAddress()) opening.link();
  else asking.soon();
}
