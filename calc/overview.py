"""A plan at a glance, for a reader with many of them: four figures, and in two or three words where it stands."""

from __future__ import annotations

from dataclasses import dataclass

from .declare import STATES
from .solve import VERDICTS, Design

# What is of one day says nothing of a plan, and prices that are missing do not keep a bath from working.
OF_ONE_DAY, PRICES = "today", "parts"
# Under each label the result it tells; of equal baths what one holds, so many times.
FIGURES = (("Water", "water.working_volume", "water.bath_volume"), ("Holes", "board.sites", "board.sites"),
           ("Power", "energy.power", ""), ("A year", "energy.all_cost_per_year", ""))
SAID = {"fits": "fits", "tight": "tight", "fails": "does not work", "open": "needs an answer"}


@dataclass(frozen=True)
class Standing:
    """One sign and its words: ``state`` is "fits", "tight", "fails", "open" or "danger"."""

    state: str
    words: str


def figures(design: Design) -> list[tuple[str, str]]:
    """Four figures, each with its label, as the reader sees them; a dash for one that waits for an answer.

    >>> from calc import Plan, solve
    >>> figures(solve(Plan({"units": "metric"})))[1]
    ('Holes', '18')
    """
    baths = design.value("bath.count")
    several = isinstance(baths, (int, float)) and baths > 1
    found = []
    for label, key, of_each in FIGURES:
        shown = design.shown(of_each if several and of_each else key)
        found.append((label, f"{baths:g} × {shown}" if several and of_each and shown else shown or "–"))
    return found


def standings(design: Design) -> list[Standing]:
    """Where a plan stands, the worst of its verdicts first, then its dangers, counted.

    >>> from calc import Plan, solve
    >>> [one.words for one in standings(solve(Plan({"bath.length": "5 gal"})))][0]
    '13 answers needed'
    """
    said = {name: one.state for name, one in design.verdicts.items() if name not in (OF_ONE_DAY, PRICES)}
    worst = next((state for state in STATES if state in said.values()), "open")
    topics = [name for name, state in said.items() if state == worst]
    found = [Standing(worst, _words(worst, topics))]
    prices = design.verdicts.get(PRICES)
    if worst == "fits" and prices is not None and prices.state == "open":
        found.append(Standing("open", "needs prices"))
    if dangers := sum(one.level == "danger" and not one.standing for one in design.cautions):
        found.append(Standing("danger", "1 danger" if dangers == 1 else f"{dangers} dangers"))
    return found


def _words(state: str, topics: list[str]) -> str:
    if state == "fits":
        return "all fits"
    if len(topics) == 1 and (verdict := VERDICTS.get(topics[0])):
        return f"{verdict.subject}: {SAID[state]}"
    many = {"tight": "tight", "fails": "do not work", "open": "answers needed"}
    return f"{len(topics)} {many[state]}"
