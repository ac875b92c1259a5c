"""What today's answers look like beside their rows: the order of work, nutrients by weight, what to measure."""

from __future__ import annotations

from html import escape

from ...declare import Row
from ...solve import Design
from ..pieces import rows_table


def _amount(row: Row, design: Design) -> str:
    if row["mass"] is not None:
        return design.show(row["mass"], "mass", "g", "g")
    return design.show(row["volume"], "volume", "mL", "mL")


def extra(design: Design) -> str:
    """Order of work, nutrients, and what to measure when."""
    steps = "".join(f"<li>{escape(row['words'])}</li>" for row in design.value("today.order") or [])
    html = f'<p><strong>{escape(design.shown("today.verdict"))}</strong></p>' + (f"<ol>{steps}</ol>" if steps else "")
    salts = [{"what": row["what"], "amount": _amount(row, design)} for row in design.value("today.salts") or []]
    if salts:
        html += rows_table("Nutrients to bring the EC up, in all", [("what", "What"), ("amount", "How much")], salts)
    watched = design.value("today.measure") or []
    if watched:
        html += rows_table("What to measure, and when", [("what", "Measure"), ("when", "When")], watched)
    return html
