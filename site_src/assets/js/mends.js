// What would mend a verdict: asked for when the typing pauses, offered as buttons, each an ordinary edit.

const PAUSE = 350;
const MENDABLE = '[data-state="tight"], [data-state="fails"]';

let clock = 0;
// The mend just pressed, until the plan with it has been answered: its topic and what was done.
let pressed = null;

function places() {
  const verdict = `.verdict:is(${MENDABLE}) .mends`;
  return [...document.querySelectorAll(`section[data-here] ${verdict}, .calculator ${verdict}`)]
    .filter((place) => !place.querySelector(".undo"));
}

function button(mend, topic) {
  const made = document.createElement("button");
  made.type = "button";
  made.dataset.mend = mend.id;
  made.dataset.topic = topic;
  made.changes = mend.changes;
  made.act = mend.act;
  const act = document.createElement("b");
  act.textContent = mend.act;
  const what = document.createElement("span");
  what.textContent = mend.consequence;
  const word = document.createElement("u");
  word.textContent = "Do it";
  made.append(act, what, word);
  return made;
}

function fill(place, mends) {
  place.removeAttribute("data-stale");
  const topic = place.dataset.mends;
  const now = [...place.querySelectorAll("button")]
    .map((one) => `${one.dataset.mend} ${one.act} ${one.children[1].textContent}`);
  const next = mends.map((one) => `${one.id} ${one.act} ${one.consequence}`);
  if (now.join("\n") === next.join("\n")) return;
  place.replaceChildren();
  if (mends.length === 0) return;
  const words = document.createElement("p");
  words.textContent = mends.length === 1 ? "This would mend it:" : "Any of these would mend it:";
  place.append(words, ...mends.map((one) => button(one, topic)));
}

/** Remember what was pressed: once it is answered, one undo takes its place and the verdict has the focus. */
export function remember(mend) {
  pressed = { topic: mend.dataset.topic, act: mend.act };
}

function confirm() {
  if (!pressed) return;
  const { topic, act } = pressed;
  pressed = null;
  const wanted = `[data-verdict="${topic}"]`;
  const verdict = document.querySelector(`section[data-here] ${wanted}, .calculator ${wanted}`);
  if (!verdict) return;
  const place = verdict.querySelector(".mends");
  const words = document.createElement("p");
  words.textContent = `Done: ${act}.`;
  const undo = document.createElement("button");
  undo.type = "button";
  undo.dataset.action = "undo";
  undo.className = "undo";
  undo.textContent = "Undo";
  place.replaceChildren(words, undo);
  // A verdict that fits now may be among those that are folded.
  const fold = verdict.closest("details");
  if (fold) fold.open = true;
  verdict.tabIndex = -1;
  verdict.focus({ preventScroll: true });
}

/** What stands there belongs to an earlier plan until it is asked for again. */
export function outdate() {
  clearTimeout(clock);
  for (const place of document.querySelectorAll(".mends:not(:empty)")) {
    if (place.closest(MENDABLE) && place.querySelector("[data-mend]")) place.toggleAttribute("data-stale", true);
    else place.replaceChildren();
  }
}

/**
 * Ask what would mend the verdicts in sight, once the typing has paused; `plan` gives the plan as it is then, `run`
 * asks Python.
 */
export function askSoon(plan, run) {
  clearTimeout(clock);
  confirm();
  clock = setTimeout(async () => {
    const topics = places().map((place) => place.dataset.mends);
    if (topics.length === 0) return;
    const asked = plan();
    // Without an answer the verdicts stand; what would mend them comes with the next one.
    const answer = await run({ op: "mends", plan: asked, topics }).catch(() => ({ error: true }));
    if (asked !== plan() || answer.error) return;
    for (const place of places()) fill(place, (answer.mends || {})[place.dataset.mends] || []);
  }, PAUSE);
}
