"""What a sheet lists besides its figures: what to buy and what to cut, what to weigh, what the weeks bring."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from html import escape

from ..declare import Row
from ..solve import Design


def _item(row: Row) -> str:
    """One line: what to ask for in a shop, how many, and why."""
    words = "; ".join(filter(None, (row["size"], row["note"])))
    small = f"<small>{escape(words)}</small>" if words else ""
    return (f'<li><label><input type="checkbox"><span>{escape(row["item"])}{small}</span></label>'
            f'<b>{row["quantity"]:,}</b></li>')


def shopping(design: Design) -> str:
    """The shopping list, to be ticked off, and what to cut."""
    buy, cut = design.value("parts.shopping") or [], design.value("parts.cuts") or []
    html = ""
    if buy:
        html += f'<h2>Shopping list</h2><ul class="ticks">{"".join(_item(row) for row in buy)}</ul>'
    if cut:
        html += f'<h2>Cut list</h2><ul class="ticks">{"".join(_item(row) for row in cut)}</ul>'
    return html


OF_STEP: Mapping[str, Callable[[Design], str]] = {"shop": shopping}
