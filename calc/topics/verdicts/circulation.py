"""Whether the water goes round as wished, unhurried, and comes back."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ...data.fittings import HOSE_SPEED_M_S
from .. import scheme
from ..overflows import ABSURD_BORE_M
from ..owned import running
from . import in_each, percent, several

if TYPE_CHECKING:
    from ...sheet import Sheet

# A flow under half of the one wanted is another plan; engineering judgment, no source.
FAR_TOO_LITTLE = 0.5
# One inch (25 mm) more of lift that takes away more than this share of the flow.
MUCH_LESS = 0.75
# More than this from the nearest bath to the farthest is hard to set by valves; engineering judgment.
UNEVEN = 0.25
HAIR, HOUR_S = 1e-9, 3600.0


def judge(sheet: Sheet) -> None:
    """Flow, way back, hose: the worst of them is the verdict."""
    if not scheme.pumps_water(sheet):
        _unpumped(sheet)
        return
    figure = sheet.shown("circulation.flow")
    _way_back(sheet, figure)
    _flow(sheet, figure)
    _hose(sheet, figure)
    _limit(sheet, figure)
    _spread(sheet, figure)
    text = (f"A pump that gives {sheet.shown('circulation.flow')} at {sheet.shown('circulation.head')} turns "
            f"{'each' if several(sheet) else 'the'} bath over {_times(sheet)} an hour, "
            f"and {_overflows(sheet)} take{'s' if sheet.whole('circulation.drains') == 1 else ''} it back.")
    if sheet.whole("circulation.drains") == 1:
        text += " A second overflow, a little higher, keeps the floor dry when roots block the first."
    sheet.verdict("fits", text, figure)


def _times(sheet: Sheet) -> str:
    """Turnovers an hour, as one says them."""
    found = f"{sheet.result('circulation.turnover') * HOUR_S:,.1f}".removesuffix(".0")
    return "once" if found == "1" else f"{found} times"


def _overflows(sheet: Sheet) -> str:
    drains, pipe = sheet.whole("circulation.drains"), sheet.result("circulation.overflow_pipe", str)
    each = in_each(sheet)
    return f"an overflow of {pipe}{each}" if drains == 1 else f"{drains} overflows of {pipe}{each}"


def _unpumped(sheet: Sheet) -> None:
    if sheet.optional("circulation.turnover") == 0.0:
        sheet.verdict("fits", "No turnover is wanted, so no water is pumped: the reservoir neither feeds the bath nor "
                      "cools it.", "no pump", "No water goes round.")
        return
    sheet.verdict("open", f"No water pump is on the list; {sheet.shown('circulation.target_flow')} is wanted"
                  f"{' for all baths' if several(sheet) else ''}. Put in a pump that you can get.", "no pump",
                  "Which water pump?")


def _way_back(sheet: Sheet, figure: str) -> None:
    need, asked = sheet.result("circulation.drain_flow"), sheet.shown("circulation.drain_flow")
    if sheet.result_if_any("circulation.overflow_bore") is None:
        # The sizes were tried, or the step ended before it came to them.
        sheet.result("circulation.overflow_words", str)
        sheet.verdict("fails", f"Each overflow must take {asked}, and none on the list does at that rise. Fit more "
                      "overflows, or pump less.", figure, "The water cannot get back.")
        return
    if sheet.result("circulation.overflow_bore") > ABSURD_BORE_M:
        sheet.verdict("tight", f"Each overflow must take {asked}, which asks for "
                      f"{sheet.result('circulation.overflow_pipe', str)}. Several smaller ones, or a smaller pump, "
                      "take less of the raft.", figure, "A large overflow.")
    if sheet.result("circulation.drain_capacity") < need:
        sheet.verdict("fails", f"Each drain pipe takes {sheet.shown('circulation.drain_capacity')} running full, and "
                      f"must take {asked}. Give it more fall, wider pipe, or a second overflow.", figure,
                      "The drain is too small.")
    above = sheet.input_if_any("circulation.rise")
    spare = sheet.result_if_any("water.rim_to_water")
    if above is not None and spare is not None and above - sheet["bath.film"] >= spare:
        sheet.verdict("fails", f"The rise allowed lifts the water "
                      f"{sheet.shown_as('water.rim_to_water', above - sheet['bath.film'])} above its running level, "
                      f"and the rim is {sheet.shown('water.rim_to_water')} away. Allow less rise, or keep the water "
                      "lower.", figure, "The water goes over the rim.")
    if several(sheet) and sheet.result_if_any("circulation.main_pipe", str) is None:
        main = sheet.shown("circulation.main_flow")
        sheet.verdict("fails", f"The return main must take {main} from all baths, and the widest pipe on the list "
                      "takes less half full. Give it more fall, use two mains, or pump less.", figure,
                      "The return main is too small.")
    _valve_open(sheet, figure)


def _valve_open(sheet: Sheet, figure: str) -> None:
    """A throttled valve knocked open lets in more than the overflows may take."""
    if sheet.optional("circulation.throttled") is None:
        return
    full = sheet.result("circulation.flow_open") / sheet["bath.count"]
    takes = sheet.result("circulation.overflow_flow") * sheet.whole("circulation.drains")
    if takes < full * (1 - HAIR):
        sheet.verdict("tight", f"Knocked fully open, the valve lets "
                      f"{sheet.shown_as('circulation.flow', full)} into {'each' if several(sheet) else 'the'} bath, "
                      f"and the overflow takes {sheet.shown_as('circulation.flow', takes)} clean. Fix the valve's "
                      "handle, or take a smaller pump.", figure, "A knock at the valve floods.")


def _flow(sheet: Sheet, figure: str) -> None:
    flow, wanted = sheet.result("circulation.flow"), sheet.result("circulation.target_flow")
    if flow >= wanted * (1 - HAIR):
        return
    state = "fails" if flow < FAR_TOO_LITTLE * wanted else "tight"
    full = sheet.result("circulation.flow_open")
    mend = ("Open the valve, or accept fewer turnovers." if full >= wanted else
            "A wider hose, less lift or a stronger pump brings more.")
    sheet.verdict(state, f"{sheet.shown('circulation.flow')} goes round, and {sheet.shown('circulation.target_flow')} "
                  f"is wanted{' for all baths' if several(sheet) else ''}. {mend}",
                  f"{sheet.shown('circulation.flow')} of {sheet.shown('circulation.target_flow')}",
                  "Too little flow." if state == "fails" else "Flow is short.")


def _hose(sheet: Sheet, figure: str) -> None:
    if sheet.result("circulation.velocity") > HOSE_SPEED_M_S:
        usual = sheet.shown_as("circulation.velocity", HOSE_SPEED_M_S)
        sheet.verdict("tight", f"{sheet.shown('circulation.flow')} rushes through hose of "
                      f"{sheet.shown('circulation.hose_bore')} bore at {sheet.shown('circulation.velocity')}; up to "
                      f"{usual} is usual. It works, with noise and wasted watts.", figure, "Hose tight.")


def _limit(sheet: Sheet, figure: str) -> None:
    """A pump near the height at which it moves nothing."""
    row = running(sheet)
    inch = "25 mm" if sheet.system == "metric" else "one inch"
    higher = sheet.shown("circulation.flow_higher")
    if row["higher"] < MUCH_LESS * row["flow"]:
        sheet.verdict("tight", f"Just {inch} more lift takes the pump from {sheet.shown('circulation.flow_open')} to "
                      f"{higher}. Take one that pushes higher, or lower the bath.", figure, "Near its top lift.")
    elif row["strained"]:
        limit = sheet.shown_as("circulation.head", row["shutoff_head"])
        sheet.verdict("tight", f"The pump works against {sheet.shown('circulation.head')}, and at {limit} it moves "
                      "nothing: a little slime in the hose stops it. Take one that pushes higher, or lower the bath.",
                      figure, "Near its top lift.")


def _spread(sheet: Sheet, figure: str) -> None:
    """Several baths on one header, the nearest of which takes far more than its part."""
    spread = sheet.result_if_any("circulation.branch_spread")
    if spread is not None and spread > UNEVEN:
        sheet.verdict("tight", f"With all valves open the nearest bath gets {percent(spread)} more than the farthest. "
                      "Take a wider header, or close the near valves bit by bit.", figure, "The baths share unevenly.")
