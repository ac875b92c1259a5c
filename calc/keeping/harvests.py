"""What the bath yields, from what was logged: heads and kilograms a week, grams a kWh, water and cost of a head."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from .. import units
from ..figures import number
from .bath import Bath
from .entries import READING, Entry, in_order, values_of

LONGEST_D = 365.0
WEEK_D = 7.0


@dataclass(frozen=True)
class Yield:
    """Sums of what was logged between the first entry and now, and what follows; ``None`` where it was not logged."""

    days: float
    heads: float
    mass: float
    weighed: float
    water: float | None
    energy: float | None
    cost: float | None

    @property
    def weeks(self) -> float:
        """The time in weeks."""
        return self.days / WEEK_D


def of_log(bath: Bath, entries: Iterable[Entry], now: datetime) -> Yield | None:
    """The yield of the last year at most; ``None`` where nothing was harvested or the log is shorter than a week.

    Water is what was logged as added; energy and money are the plan's, for the same time.
    """
    log = [one for one in in_order(entries) if now - timedelta(days=LONGEST_D) <= one.moment <= now]
    if not log:
        return None
    days = (now - log[0].moment).total_seconds() / 86400.0
    heads = mass = weighed = water = 0.0
    for entry in log:
        numbers = values_of(entry, bath.system).numbers
        if entry.kind == "harvested":
            heads += numbers.get("count", 0.0)
            mass += numbers.get("mass", 0.0)
            weighed += numbers.get("count", 0.0) if "mass" in numbers else 0.0
        elif entry.kind == READING:
            water += numbers.get("added", 0.0)
    if days < WEEK_D or not (heads or mass):
        return None
    energy, cost = bath.number("energy.all_per_year"), bath.number("energy.all_cost_per_year")
    return Yield(days, heads, mass, weighed, water or None, None if energy is None else energy * days / LONGEST_D,
                 None if cost is None else cost * days / LONGEST_D)


def as_json(bath: Bath, found: Yield | None) -> dict[str, Any]:
    """The yield as plain data, each figure with its words; empty where there is none."""
    if found is None:
        return {}
    system = bath.system
    rows: list[dict[str, Any]] = []

    def add(code: str, label: str, value: float | None, words: str) -> None:
        if value is not None:
            rows.append({"code": code, "label": label, "value": value, "words": words})
    add("heads", "Heads a week", found.heads / found.weeks, number(found.heads / found.weeks, 2))
    if found.mass:
        each = found.mass / found.weeks
        add("mass", "Weight a week", each, units.show(each, "mass", system, "lb", "kg"))
        if found.weighed:
            add("head", "Weight of a head", found.mass / found.weighed,
                units.show(found.mass / found.weighed, "mass", system, "oz", "g"))
        if found.energy:
            grams = found.mass * 1000.0 / found.energy
            add("energy", "Harvest for each kWh", grams, units.show(grams / 1000.0, "mass", system, "oz", "g"))
    if found.heads:
        if found.water is not None:
            add("water", "Water of a head", found.water / found.heads,
                units.show(found.water / found.heads, "volume", system, "gal", "L"))
        if found.cost is not None:
            add("cost", "Electricity cost of a head", found.cost / found.heads,
                bath.design.money(found.cost / found.heads))
    return {"days": found.days, "rows": rows,
            "note": "Heads, weight and water are what you logged; electricity is your plan's, for the same time."}
