"""What the oxygen topic shows beside its rows of answers."""

from __future__ import annotations

from ...solve import Design
from ..pieces import rows_table


def extra(design: Design) -> str:
    """What matters most, levels spoken of, and what water can hold."""
    def mg(value: float) -> str:
        return design.shown_as("oxygen.bath", value)
    matters = [{"input": row["input"], "low": mg(row["bath_low"]), "high": mg(row["bath_high"]),
                "swing": mg(row["swing"])} for row in design.value("oxygen.what_matters") or []]
    levels = [{**row, "oxygen": mg(row["oxygen"])} for row in design.value("oxygen.levels") or []]
    held = [{"t": design.shown_as("water.temperature", row["temperature"]), "s": mg(row["saturation"])}
            for row in design.value("oxygen.saturation_table") or []]
    tables = (("What matters most: each input moved by its own uncertainty",
               [("input", "Input"), ("low", "Bath, lowest"), ("high", "Bath, highest"), ("swing", "Difference")],
               matters),
              ("Levels that are spoken of, and by whom",
               [("level", "Level"), ("oxygen", "Oxygen"), ("meaning", "What it means"), ("source", "Source")], levels),
              ("Oxygen that the water can hold, at your place", [("t", "Water"), ("s", "Oxygen")], held))
    text = "".join(rows_table(caption, columns, rows) for caption, columns, rows in tables if rows)
    return (f'<details class="more" data-keep="oxygen-tables"><summary>Levels, limits and what matters most</summary>'
            f"{text}</details>") if text else ""
