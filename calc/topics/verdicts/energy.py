"""Whether the circuit carries it all, and what it costs."""

from __future__ import annotations

from typing import TYPE_CHECKING

from . import money, percent

if TYPE_CHECKING:
    from ...sheet import Sheet

# Above this share of what a circuit should carry, a kettle on the same one trips it; engineering judgment.
NEARLY_FULL = 0.8


def judge(sheet: Sheet) -> None:
    """Load beside the circuit's limit, and the cost of a year."""
    share, load_w = sheet.result("energy.circuit_share"), sheet.result("energy.circuit_load")
    load, limit = sheet.shown("energy.circuit_load"), sheet.shown("energy.circuit_limit")
    cost = sheet.result_if_any("energy.all_cost_per_year")
    figure = load if cost is None else f"{money(sheet, cost)} a year"
    if share > 1.0:
        sheet.verdict("fails", f"{load} for hours on end is more than the {limit} that this circuit should carry. Have "
                      "a licensed electrician add one.", figure, "Circuit overloaded.")
    elif share > NEARLY_FULL:
        sheet.verdict("tight", f"{load} for hours on end is {percent(share)} of the {limit} that "
                      "this circuit should carry: nothing else may be plugged into it.", figure)
    cost = sheet.result("energy.all_cost_per_year")
    if not load_w and not cost:
        sheet.verdict("fits", "Nothing in this plan draws power, so nothing is paid for it.", figure, "No power drawn.")
        return
    sheet.verdict("fits", f"All of it uses {sheet.shown('energy.all_per_year')} a year, {money(sheet, cost)} at "
                  f"{sheet.result('energy.price_read', str)}. {load} at one time is "
                  f"{percent(share)} of what the circuit should carry.{_warmth(sheet)}", figure)


def _warmth(sheet: Sheet) -> str:
    """What heater or chiller make of it: the planned day's, for as many days as were said to be like it."""
    if not sheet.result_if_any("energy.warmth_per_year"):
        return ""
    days = sheet.whole("energy.season_days")
    return (f" {sheet.shown('energy.warmth_per_year')} of it is heating or cooling, as if {days:,} "
            f"{'day' if days == 1 else 'days'} a year were like the one you plan for.")
