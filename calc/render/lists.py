"""What a sheet lists besides its figures: what to buy and what to cut, what to weigh, what the weeks bring."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from html import escape

from ..declare import Row
from ..figures import count
from ..solve import Design


def _item(row: Row) -> str:
    """One line: what to ask for in a shop, how many, and why."""
    size, note = escape(row["size"]), escape(row["note"])
    # What to ask for in a shop is always there; why, where there is room.
    why = f'<span class="why">{"; " if size else ""}{note}</span>' if note else ""
    small = f"<small>{size}{why}</small>" if size or why else ""
    return (f'<li><label><input type="checkbox"><span>{escape(row["item"])}{small}</span></label>'
            f'<b>{count(row["quantity"])}</b></li>')


def shopping(design: Design) -> str:
    """The shopping list, to be ticked off, and what to cut."""
    buy, cut = design.value("parts.shopping") or [], design.value("parts.cuts") or []
    html = ""
    if buy:
        html += f'<h2>Shopping list</h2><ul class="ticks">{"".join(_item(row) for row in buy)}</ul>'
    if cut:
        html += ('<details class="fold" data-keep="cuts"><summary><strong>Cut list '
                 f"({len(cut)})</strong> <small>boards, notches and holes</small></summary>"
                 f'<ul class="ticks">{"".join(_item(row) for row in cut)}</ul></details>')
    return html


OF_STEP: Mapping[str, Callable[[Design], str]] = {"shop": shopping}
