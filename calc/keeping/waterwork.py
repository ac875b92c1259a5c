"""The work on the water that a plan foretells by itself, without a log: for the calendar, and for reminders."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

from ..solve import Design
from ..topics.scheme import CIRCULATING, KEY, STILL
from .rounds import METERS_D, STRAINER_D

DAY_S = 86_400.0
ROUND_D = 7
OUTLET = "Old solution goes on soil or to the sewer, never into a stream or pond."


@dataclass(frozen=True)
class Work:
    """Something that comes again: its code, after how many days (0: once), and the words."""

    code: str
    every: int
    summary: str
    description: str


@dataclass(frozen=True)
class Dated:
    """Work with its days, the first one first."""

    work: Work
    days: tuple[date, ...]


def _days(design: Design, key: str) -> int:
    value = design.value(key)
    return int(value // DAY_S) if isinstance(value, (int, float)) and value >= DAY_S else 0


def work_of(design: Design) -> dict[str, Work]:
    """All that comes again by this plan, by code: top-up, change, round, strainer, meters."""
    found = []
    water = design.shown("water.working_volume") or "the water"
    top_up, change = _days(design, "use.days_to_top_up"), _days(design, "use.replace_after")
    circulates, still = design.value(KEY) == CIRCULATING, design.value(KEY) == STILL
    # A still vessel is not filled up again: the roots above its falling water breathe air.
    if top_up and not still:
        found.append(Work("top-up", top_up, "Top up the water", f"About {design.shown('use.usable')}, up to "
                          "the mark, slowly; then measure EC and pH, and correct in halves."))
    if change:
        plugs = "" if still else "Unplug first. "
        found.append(Work("change", change, "Change the solution", f"{water} anew. {plugs}{OUTLET}"))
    found.append(Work("round", ROUND_D, "Weekly round", "Lift three net pots: roots white, no smell. Take out dead "
                      f"leaves, wipe rims{'' if still else ', look at the air stones'}. Save a copy of the log."))
    if circulates:
        found.append(Work("strainer", STRAINER_D, "Clean the overflow strainer",
                          "Unplug the pump before your hand goes in."))
    found.append(Work("meters", METERS_D, "Check both meters in their liquids",
                      "Every dose of acid hangs on the pH meter."))
    return {one.code: one for one in found}


def dated(design: Design) -> list[Dated]:
    """Every day of that work from a week before the first plants on the raft until the last harvest.

    Nothing where no day of sowing is known. A top-up that falls on the day of a change is left out.
    """
    batches, start = design.value("schedule.batches") or [], design.value("schedule.start")
    if not batches or not isinstance(start, date):
        return []
    first = min(date.fromisoformat(row["transplant"]) for row in batches)
    last = max(date.fromisoformat(row["harvest"]) for row in batches)
    runs = "let it stand a day" if design.value(KEY) == STILL else "let it run a day with everything on"
    fill = Work("fill", 0, "Fill, test day, mix", f"{design.shown('water.working_volume')} of drinking water; {runs} "
                "before a plant goes in. Look for wet places.")
    daily = Work("readings", 0, "From today on: EC and pH each day", "Five minutes: look, measure, do what Today says.")
    work = work_of(design)
    days = {code: [first + timedelta(one.every * at) for at in range(1, (last - first).days // one.every + 1)]
            for code, one in work.items()}
    if "top-up" in days:
        days["top-up"] = [day for day in days["top-up"] if day not in days.get("change", ())]
    return [Dated(fill, (max(first - timedelta(7), start),)), Dated(daily, (first,)),
            *(Dated(work[code], tuple(found)) for code, found in days.items() if found)]
