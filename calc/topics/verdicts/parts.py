"""Whether the shopping list is priced, and what it comes to."""

from __future__ import annotations

from typing import TYPE_CHECKING

from . import counted, money

if TYPE_CHECKING:
    from ...sheet import Sheet


def judge(sheet: Sheet) -> None:
    """Lines with and without a price; a list that a topic could not fill is not called whole."""
    sheet.result_rows("parts.cuts")
    rows = [row for row in sheet.result_rows("parts.shopping") if row["quantity"] > 0]
    unpriced = sheet.result("parts.unpriced", int)
    priced, copies = len(rows) - unpriced, sheet.whole("parts.copies")
    cost = money(sheet, sheet.result("parts.cost"))
    figure = f"{priced:,} of {len(rows):,} priced"
    what = f" for {copies:,} copies" if copies > 1 else ""
    if unpriced:
        invented = " Pump prices are invented until you type your own." if any(
            row["each"] is not None and "invented" in row["note"] for row in rows) else ""
        rest = f"; the others come to {cost}{what}.{invented}" if priced else "."
        sheet.verdict("open", f"{counted(unpriced, 'line')} of {len(rows):,} {'has' if unpriced == 1 else 'have'} no "
                      f"price yet{rest}", figure, "Needs prices.")
        return
    if not rows:
        sheet.verdict("fits", "You own all that is on the list.", "nothing to buy", "Nothing to buy.")
        return
    sheet.verdict("fits", f"{counted(len(rows), 'line')} to buy{what} come{'s' if len(rows) == 1 else ''} to {cost}, "
                  "tools, bath and seed plugs not counted.", figure)
