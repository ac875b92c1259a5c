"""What the air topic shows beside its rows of answers."""

from __future__ import annotations

from functools import partial

from ...solve import Design
from ...topics.owned import is_named
from .. import stone_plan
from ..pieces import figure, money, rows_table


def extra(design: Design) -> str:
    """The pumps to buy, and where the stones lie."""
    rows = [{"name": row["name"] if is_named(row) else f"{row['name']} (invented)", "quantity": row["quantity"],
             "delivered": design.shown_as("air.delivered", row["delivered"]),
             "watts": design.shown_as("air.power", row["watts"]),
             "price": "" if row.get("price") is None else money(row["price"] * row["quantity"], design)}
            for row in design.value("air.pumps_chosen") or []]
    table = rows_table("Air pumps to buy", [("name", "Pump"), ("quantity", "How many"),
                                            ("delivered", "Delivers at depth, each"), ("watts", "Power, each"),
                                            ("price", "Price, all")], rows) if rows else ""
    stones = figure(partial(stone_plan.stone_plan, design), "Air stones on the floor of the bath.")
    return _readings(design) + stones + table


def _readings(design: Design) -> str:
    """What each rule and reading would take."""
    costs = {row["rule"]: row["cost"] for row in design.value("energy.air_readings") or []}
    rows = [{"rule": row["rule"], "flow": design.shown_as("air.target", row["flow"]),
             "pumps": "more than the list has" if row["pumps"] is None else f"{row['pumps']:,}",
             "watts": "" if row["watts"] is None else design.shown_as("air.power", row["watts"]),
             "cost": money(costs[row["rule"]], design) if row["rule"] in costs else ""}
            for row in design.value("air.readings") or []]
    return rows_table("What each rule would take, with the pumps on your list", [
        ("rule", "Rule"), ("flow", "Air, all"), ("pumps", "Pumps, all"), ("watts", "Power, all"),
        ("cost", "Electricity a year")], rows) if rows else ""
