"""What the circulation topic shows beside its rows of answers."""

from __future__ import annotations

from ... import units
from ...solve import Design
from .. import chart
from ..pieces import figure, rows_table


def extra(design: Design) -> str:
    """The pump curve and what the hose asks."""
    rows = design.value("circulation.curves") or []
    flow_unit, head_unit = ("L/h", "m") if design.system == "metric" else ("gph", "ft")

    def point(flow: float, head: float) -> tuple[float, float]:
        return units.convert(flow, "flow", flow_unit), units.convert(head, "length", head_unit)
    flow, head = design.value("circulation.flow"), design.value("circulation.head")
    meet = point(flow, head) if rows and flow is not None and head is not None else None
    drawn = figure(lambda wide: chart.pump_chart(
        [point(row["flow"], row["pump"]) for row in rows], [point(row["flow"], row["asked"]) for row in rows], meet,
        f"flow, {flow_unit}", f"head, {head_unit}", "The water pump and what the hose asks", wide),
        "The pump runs where its curve meets what lift and hose ask.")
    return drawn + _overflows(design)


def _overflows(design: Design) -> str:
    """How many overflows of which size take the flow of one bath."""
    rows = design.value("circulation.overflow_choices") or []
    if not rows:
        return ""
    return rows_table("Overflows that take the flow of one bath", [("pipe", "pipe"), ("count", "how many"),
                      ("takes", "each takes, clean")], [
        {**row, "takes": design.shown_as("circulation.overflow_flow", row["takes"])} for row in rows])
