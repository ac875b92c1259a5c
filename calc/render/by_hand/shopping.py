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


SUMS = {"parts.cost": cost}
