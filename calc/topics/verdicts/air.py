"""Whether the air that arrives at the stones is the air that is needed there."""

from __future__ import annotations

from typing import TYPE_CHECKING

from . import counted, into_all

if TYPE_CHECKING:
    from ...sheet import Sheet

HAIR = 1e-9
# The rules of practice; the reader's own rate is no rule of thumb of others.
RULES = ("optimum", "floor")
# Air beyond this many times the need is worth a word.
PLENTY = 1.5


def judge(sheet: Sheet) -> None:
    """What the pumps deliver at depth, beside what is aimed for."""
    if sheet.result_if_any("air.oxygen_need") is None and sheet.text("air.rule") == "oxygen":
        _out_of_reach(sheet)
        return
    target, delivered = sheet.result("air.target"), sheet.result("air.delivered")
    needed, arrives = sheet.shown("air.target"), sheet.shown("air.delivered")
    depth = sheet.shown("air.stone_depth")
    if not sheet.result_rows("air.pump_flows") and target > 0.0:
        sheet.verdict("open", f"No air pump on the list blows at a depth of {depth}, and {needed} is needed"
                      f"{into_all(sheet)}. Put in a pump that you can get.", "no air pump", "Which air pump?")
        return
    # What a rule of thumb asks for is told in the sentence; the figure of the list of steps is the air there is.
    figure = arrives if sheet.text("air.rule") in RULES else f"{arrives.split()[0]} of {needed}"
    if delivered < target * (1 - HAIR):
        likely = sheet.result_if_any("air.oxygen_likely")
        state = "tight" if likely is not None and delivered >= likely else "fails"
        spare = ", which leaves nothing to spare" if state == "tight" else ""
        sheet.verdict(state, f"{arrives} arrives at a depth of {depth}, and {needed} {_asked(sheet)}{spare}."
                      " Take a larger pump, hang the stones higher, or cool the water.", figure)
    _strained(sheet, figure, depth)
    if target <= 0.0:
        sheet.verdict("fits", "No air is asked for, and none is blown.", figure, "No air.")
    sheet.verdict("fits", f"{_pumps(sheet)} {arrives} to a depth of {depth}"
                  f"{_compared(sheet, delivered, target, needed)}", figure)


def _out_of_reach(sheet: Sheet) -> None:
    """No air holds the oxygen wanted; where that was never asked, the step that did not come so far says why."""
    sheet.result("air.stirring")
    if sheet.result_if_any("oxygen.saturation_hottest") is None:
        sheet.result("oxygen.hottest_used")
    sheet.verdict("fails", f"No amount of air holds {sheet.shown('oxygen.target')} of oxygen in the hottest hour, when "
                  f"the water is at {sheet.shown('oxygen.hottest_used')}. Ask for less oxygen, or keep the water "
                  "cooler.", "out of reach", "No air is enough.")


def _pumps(sheet: Sheet) -> str:
    count = sheet.result("air.pump_count", int)
    return f"{counted(count, 'air pump')} bring{'s' if count == 1 else ''}" if count else "The pumps bring"


def _compared(sheet: Sheet, delivered: float, target: float, needed: str) -> str:
    times = delivered / target if target > 0.0 else 1.0
    over = f": that is {_times(times)} times over" if times >= PLENTY else ""
    return f", and {needed} {_asked(sheet)}{over}."


def _times(times: float) -> str:
    """How many times over, as one says it: 4.9, 10, 120."""
    return f"{times:,.1f}".removesuffix(".0") if times < 10.0 else f"{times:,.0f}"


def _asked(sheet: Sheet) -> str:
    """Who asks for the air aimed at: the roots, or the rule that the reader chose, with what the roots need beside."""
    if sheet.text("air.rule") == "oxygen":
        return f"is needed{into_all(sheet)}"
    roots = ""
    if sheet.result_if_any("air.oxygen_need") is not None:
        roots = f"; the roots need {sheet.shown('air.oxygen_need')}"
    return f"is asked for{into_all(sheet)} by the rule you chose{roots}"


def _strained(sheet: Sheet, figure: str, depth: str) -> None:
    """A pump near the pressure at which it blows nothing."""
    strained = {row["name"] for row in sheet.result_rows("air.pump_flows") if row["strained"]}
    if any(row["name"] in strained for row in sheet.result_rows("air.pumps_running")):
        sheet.verdict("tight", f"At {depth} a pump works within 15 % of the pressure where it blows nothing: a little "
                      "more depth or a clogged stone stops it. Hang the stones higher, or take a stronger pump.",
                      figure, "Near its shut-off.")
    if sheet.result_if_any("air.stone_spacing") is None and sheet.result_if_any("air.stones_per_bath") is not None \
            and not sheet.rows_if_any("air.stone_rows"):
        count = sheet.result("air.stones_per_bath", int)
        sheet.verdict("tight", f"{counted(count, 'stone')} in one bath are more than can be laid out. Take stones that "
                      "pass more air.", figure, "Stones crowded.")
