"""What the air topic shows beside its rows of answers."""

from __future__ import annotations

from ... import units
from ...solve import Design
from .. import plans, ruler
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
    return (figure(_ruler(design), "Air on a ruler whose long marks are ten times apart: below, what your pumps bring.")
            + _readings(design) + figure(plans.stone_plan(design), "Air stones on the floor of the bath.") + table)


def _ruler(design: Design) -> str:
    """Roots' need, need with safety, the rule of practice in both readings, and what the pumps deliver."""
    marks = []
    for key, words, kind in (("air.oxygen_likely", "roots", "need"), ("air.oxygen_need", "with safety", "need"),
                             ("air.floor_per_hour", "practice floor, per hour", "need"),
                             ("air.optimum_per_hour", "optimum, per hour", "need"),
                             ("air.floor_per_minute", "practice floor, per minute", "need"),
                             ("air.optimum_per_minute", "optimum, per minute", "need"),
                             ("air.delivered", "your pumps bring", "yours")):
        value = design.value(key)
        if value:
            marks.append((f"{words} {design.shown(key).split()[0]}", units.convert(value, "flow", "L/min"), kind))
    return ruler.logarithmic("air-ruler", "Air needed and air delivered", "L/min", marks)


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
