"""What the parts topic shows beside its rows of answers."""

from __future__ import annotations

from ...figures import count
from ...solve import Design
from ..pieces import money, rows_table


def extra(design: Design) -> str:
    """The shopping list and the cut list."""
    shopping = [{"item": row["item"], "quantity": count(row["quantity"]), "size": row["size"],
                 "each": "" if row["each"] is None else money(row["each"], design),
                 "total": "" if row["total"] is None else money(row["total"], design), "note": row["note"]}
                for row in design.value("parts.shopping") or []]
    cutting = [{**row, "quantity": count(row["quantity"])} for row in design.value("parts.cuts") or []]
    text = rows_table("Shopping list", [("item", "Part"), ("quantity", "How many"), ("size", "Size"), ("each", "Each"),
                                        ("total", "Together"), ("note", "Note")], shopping) if shopping else ""
    if cutting:
        text += rows_table("Cut list", [("item", "Cut"), ("quantity", "How many"), ("size", "Size"), ("note", "Note")],
                           cutting)
    return text
