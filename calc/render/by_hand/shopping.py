"""The sum of the shopping list: how many of each, times its price."""

from __future__ import annotations

from .pad import Pad, Term


def cost(pad: Pad) -> None:
    """Lines without a price are not in the sum."""
    found = []
    for row in pad.rows("parts.shopping"):
        if row["total"]:
            each = Term(f"{row['quantity']:,}", float(row["quantity"])) * pad.num(row["each"])
            found.append(pad.gives(row["item"].replace(":", ","), each))
    pad.shows("All lines with a price", pad.total(found))


def mass_per_week(pad: Pad) -> None:
    """Heads of all copies, times the weight of one."""
    heads = pad.num(pad.value("schedule.heads_per_week")) * pad.num(pad.value("parts.copies"))
    factor = pad.design.value("schedule.harvest_factor")
    if factor:
        heads = pad.gives("As first cuts", heads * pad.num(factor))
    pad.shows("Heads a week, times the weight of one", heads * pad.read("crops.fresh_mass", "mass", "lb", "kg"), "lb",
              "kg")


SUMS = {"parts.cost": cost, "parts.mass_per_week": mass_per_week}
