"""What somebody who types feels: how soon the sheet in sight answers, and how soon all of the plan does."""

from __future__ import annotations

import statistics
import time
from dataclasses import dataclass

# One question of each sheet that moves its answers, and the texts typed into it one after another.
TYPED = {
    "tank": ("bath.length", [f"{40 + at * 0.5} in" for at in range(60)]),
    "raft": ("board.spacing", [f"{7 + at * 0.07:.2f} in" for at in range(60)]),
    "air": ("circulation.lift", [f"{20 + at * 0.5} in" for at in range(60)]),
    "nutrients": ("acidity.alkalinity", [f"{50 + at * 2} mg/L" for at in range(60)]),
    "light": ("place.air_high", [f"{74 + at * 0.3:.1f} F" for at in range(60)]),
    "running": ("energy.tariff", [f"{0.10 + at * 0.01:.2f}" for at in range(60)]),
    "shop": ("parts.copies", [f"{1 + at % 40}" for at in range(60)]),
}

_TYPE = """async ([step, name, texts]) => {
  const form = document.querySelector("form[data-plan]");
  const turn = () => new Promise((resolve) => setTimeout(resolve, 5));
  const settled = async () => { while (!form.hasAttribute("data-settled")) await turn(); };
  location.hash = `#step=${step}`;
  await turn();
  await settled();
  const field = form.elements.namedItem(name);
  const first = field.value;
  const answered = [], whole = [];
  for (const text of [...texts, first]) {
    const sheet = document.querySelector(`section[data-step="${step}"]`);
    const changed = new Promise((resolve) => {
      const eye = new MutationObserver(() => { eye.disconnect(); resolve(performance.now()); });
      for (const part of sheet.querySelectorAll(".keys, .verdicts")) {
        eye.observe(part, {childList: true, characterData: true, subtree: true, attributes: true});
      }
      setTimeout(() => { eye.disconnect(); resolve(NaN); }, 1500);
    });
    const began = performance.now();
    field.value = text;
    field.dispatchEvent(new Event("input", {bubbles: true}));
    answered.push(await changed - began);
    while (!form.hasAttribute("data-settled")) await new Promise((resolve) => {
      const eye = new MutationObserver(() => { eye.disconnect(); resolve(); });
      eye.observe(form, {attributes: true});
    });
    whole.push(performance.now() - began);
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
  return [answered, whole];
}"""

# The largest plan that the questions allow: long baths, many small boards, many holes.
WORST = {"units": "metric", "bath.length": "60 m", "bath.width": "3 m", "board.spacing": "150 mm",
         "board.max_length": "1 m", "board.max_width": "0.6 m"}

_WORST = """async (plan) => {
  const began = performance.now();
  const first = await raftwright.run({op: "solve", plan, step: "tank"});
  const known = performance.now() - began;
  let longest = 0;
  for (;;) {
    const asked = performance.now();
    const rest = await raftwright.run({op: "rest", plan, step: "tank"});
    longest = Math.max(longest, performance.now() - asked);
    if (rest.done !== false) break;
  }
  return [known, performance.now() - began, longest];
}"""


@dataclass(frozen=True)
class Felt:
    """Milliseconds from key to answers in sight, to the whole plan, and of a full solve beside it in this Python."""

    step: str
    answered: float
    settled: float
    solve: float


def _percentile(took: list[float], share: float) -> float:
    return sorted(took)[min(len(took) - 1, int(len(took) * share))]


def full_solve() -> float:
    """Median milliseconds of the default plan solved afresh in this Python."""
    from calc.plan import Plan
    from calc.solve import solve
    took = []
    for _ in range(15):
        began = time.perf_counter()
        solve(Plan({}))
        took.append((time.perf_counter() - began) * 1000)
    return statistics.median(took)


def at_every_step(page) -> list[Felt]:
    """What a key costs on each sheet; ``page`` shows the planner, ready."""
    found = []
    for step, (name, texts) in TYPED.items():
        before = full_solve()
        answered, settled = page.evaluate(_TYPE, [step, name, texts])
        beside = (before + full_solve()) / 2
        found.append(Felt(step, _percentile(answered, 0.95), statistics.median(settled), beside))
    return found


def worst(page) -> tuple[float, float, float]:
    """Milliseconds until the first sheet of the worst plan is known, until all of it is, and of the longest slice."""
    known, whole, longest = page.evaluate(_WORST, WORST)
    return known, whole, longest


def shares() -> dict[str, float]:
    """The part that each topic has of a full solve in this Python, the largest first."""
    from calc.plan import Plan
    from calc.sheet import Sheet
    from calc.solve import SPECS, VERDICTS, topics_of
    spent: dict[str, float] = {}
    for _ in range(20):
        plan = Plan({})
        sheet = Sheet(plan, SPECS, judged=VERDICTS)
        for topic in topics_of(plan):
            began = time.perf_counter()
            for step in topic.STEPS:
                sheet.do(topic.NAME, step)
            spent[topic.NAME] = spent.get(topic.NAME, 0.0) + time.perf_counter() - began
    whole = sum(spent.values())
    return {name: took / whole for name, took in sorted(spent.items(), key=lambda one: -one[1])}
