// Says a verdict that has become another one, once, when the typing has paused: never at every key.

const PAUSE = 900;

let clock = 0;
let known = null;

function verdicts() {
  const found = new Map();
  for (const one of document.querySelectorAll("section[data-here] [data-verdict], .calculator [data-verdict]")) {
    found.set(one.dataset.verdict, { state: one.dataset.state, words: one.querySelector("p").textContent });
  }
  return found;
}

const WORST_FIRST = ["fails", "tight", "open", "fits"];

function inSight() {
  return document.querySelector("section[data-step][data-here]")?.dataset.step;
}

let sheet = inSight();

// Another sheet is in sight: what it says is read there, and is no news. A sheet that became narrow is told in this way
// too, and is still the same.
document.addEventListener("step", () => {
  if (inSight() === sheet) return;
  sheet = inSight();
  clearTimeout(clock);
  known = null;
});

/** The page has been answered: what has changed since it was last said is said soon, the worst first. */
export function speakSoon() {
  clearTimeout(clock);
  clock = setTimeout(() => {
    const now = verdicts();
    const place = document.getElementById("spoken");
    if (known && place) {
      const news = [...now].filter(([topic, { state }]) => known.has(topic) && known.get(topic).state !== state)
        .map(([, one]) => one).sort((a, b) => WORST_FIRST.indexOf(a.state) - WORST_FIRST.indexOf(b.state));
      if (news.length > 0) place.textContent = news[0].words;
    }
    known = now;
  }, PAUSE);
}
