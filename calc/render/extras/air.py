"""What the air topic shows beside its rows of answers."""

from __future__ import annotations

from ...solve import Design
from .. import drawing
from ..pieces import figure, money, rows_table


def extra(design: Design) -> str:
    """The pumps to buy, and where the stones lie."""
    rows = [{"name": row["name"], "quantity": row["quantity"],
             "delivered": design.shown_as("air.delivered", row["delivered"]),
             "watts": design.shown_as("air.power", row["watts"]),
             "price": "" if row.get("price") is None else money(row["price"] * row["quantity"], design)}
            for row in design.value("air.pumps_chosen") or []]
    table = rows_table("Air pumps to buy", [("name", "Pump"), ("quantity", "How many"),
                                            ("delivered", "Delivers at depth, each"), ("watts", "Power, each"),
                                            ("price", "Price, all")], rows) if rows else ""
    return figure(drawing.stone_plan(design), "Air stones on the floor of the bath.") + table
