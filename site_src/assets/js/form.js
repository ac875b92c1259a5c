// A form with a plan in it, wired: what is typed goes to Python at once, and answers and faults come back in place.

import * as engine from "./engine.js";
import { grow, lightSizes } from "./asks.js";
import { actions, askForHosted, dropCode } from "./actions.js";
import { Asking } from "./asking.js";
import { Hand, sentences } from "./hand.js";
import { outdate as outdateMends, remember } from "./mends.js";
import { turnable } from "./steps.js";

const PLAN_LINK = /^#(plan|start)=/;

function say(text) {
  const status = document.getElementById("action-status");
  if (status) status.textContent = text;
}

/** Open the plan of the address, if it holds one. */
async function takeLink(hand, asking) {
  const fragment = location.hash;
  if (!PLAN_LINK.test(fragment)) return;
  // Until the link is read, what stands here belongs to another plan.
  asking.outdate();
  try {
    const answer = await engine.run({ op: "link_read", fragment });
    const notes = sentences(answer.notes);
    if (answer.error) notes.push(answer.error);
    const usable = answer.plan && Object.keys(answer.plan).length > 0;
    if (usable || notes.length === 0) {
      hand.take(answer.plan || {});
      // From here on the plan is the reader's own: a reload must bring back what was typed since.
      history.replaceState(null, "", location.pathname + location.search);
      hand.keep();
    }
    if (notes.length > 0) say(notes.join(" "));
  } catch (error) {
    say(`The link could not be read. ${error.message}`);
  }
  asking.soon();
}

function listen(form, hand, asking, does) {
  document.addEventListener("step", () => asking.soon());
  document.addEventListener("click", (event) => {
    const mend = event.target.closest("[data-mend]");
    if (!mend) return;
    remember(mend);
    hand.put(mend.changes);
  });
  document.addEventListener("toggle", ({ target }) => {
    if (target.open && target.matches("details.fold") && target.dataset.keep.startsWith("figures-")) asking.soon();
    if (target.open && target.querySelector(":scope > [data-working]:empty")) asking.fillWorkings();
  }, true);
  form.addEventListener("submit", (event) => event.preventDefault());
  form.addEventListener("input", () => hand.changed());
  form.addEventListener("change", () => hand.changed());
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
  const hand = new Hand(form, say);
  const asking = new Asking(hand, say);
  hand.onchange = () => {
    outdateMends();
    dropCode();
    asking.soon();
  };
  hand.ontake = () => {
    if (Object.keys(hand.plan).length > 0) asking.outdate();
  };
  lightSizes(form);
  grow(form).then((grown) => {
    if (grown.length === 0) return;
    hand.grown(grown);
    asking.showFaults();
  });
  listen(form, hand, asking, actions({ hand, asking, say }));
  askForHosted();
  addEventListener("hashchange", () => takeLink(hand, asking));
  // Coming back to a page the browser kept in memory: another page may have changed the shared plan.
  addEventListener("pageshow", (event) => {
    if (!event.persisted) return;
    hand.takeKept();
    asking.soon();
  });

  turnable();
  hand.takeKept();
  engine.watch(({ state }) => {
    // After a failure and a new try, ask again for what the form says.
    if (state === "ready" && !asking.busy) asking.soon();
  });
  if (PLAN_LINK.test(location.hash)) takeLink(hand, asking);
  else asking.soon();
}
