"""Whether the water stays as warm, and as cool, as the roots want it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..pulling import CHILLER, HEATER, UNSAID
from . import span

if TYPE_CHECKING:
    from ...sheet import Sheet

# A degree past the band does little harm; some degrees more is another climate. Engineering judgment, no source.
SLIGHT_K, FAR_K = 1.0, 5.0
# What a thermometer's tenth may show past the band, and so is said.
SAID_K = 0.05


def unit_that_holds(sheet: Sheet) -> str:
    """CHILLER or HEATER where the reader's own holds the band at every hour of the day; "" where none does."""
    name = _strong_enough(sheet)
    return name if name and sheet.text("heat.unit_kind") == name else ""


def _strong_enough(sheet: Sheet) -> str:
    """What the reader's own unit would have to be to hold the band; "" where it is too weak for that, or none is."""
    power = sheet.optional("heat.unit_power")
    warm = sheet.result("heat.high") > sheet.result("heat.band_high") + SLIGHT_K
    cold = sheet.result("heat.low") < sheet.result("heat.band_low") - SLIGHT_K
    # One unit does not do both.
    if power is None or warm == cold:
        return ""
    name, most = (CHILLER, "heat.cool_peak") if warm else (HEATER, "heat.warm_peak")
    needed = sheet.result_if_any(most)
    return name if needed is not None and power >= needed else ""


def _held(sheet: Sheet, unit: str) -> None:
    """The reader's own unit is strong enough: what it is up against, and whom to tell of it."""
    warm = unit == CHILLER
    would = (f"reach {sheet.shown('heat.high')}" if warm else f"fall to {sheet.shown('heat.low')}")
    keeps = (f"under {sheet.shown('heat.band_high')}" if warm else f"over {sheet.shown('heat.band_low')}")
    most = sheet.shown("heat.cool_peak" if warm else "heat.warm_peak")
    figure = sheet.shown("heat.unit_power")
    text = (f"Without your {unit} the water would {would} on the day you plan for. With {figure} it "
            f"keeps {keeps}, for which {most} is the most that any hour takes.")
    used = sheet.result_if_any("oxygen.hottest_used")
    if warm and used is not None and used > sheet.result("heat.band_high") + SLIGHT_K:
        text += (f" Air and oxygen are worked out without it: type {sheet.shown('heat.band_high')} as the water in the "
                 "hottest hour.")
    sheet.verdict("fits", text, figure, f"Your {unit} holds it.")


def judge(sheet: Sheet) -> None:
    """The day's high and low beside the band of the crops."""
    high, low = sheet.result("heat.high"), sheet.result("heat.low")
    warm, cold = sheet.result("heat.band_high"), sheet.result("heat.band_low")
    figure = span(sheet.shown("heat.low"), sheet.shown("heat.high"))
    wanted = span(sheet.shown("heat.band_low"), sheet.shown("heat.band_high"))
    unit = unit_that_holds(sheet)
    if unit:
        _held(sheet, unit)
        return
    would = _strong_enough(sheet)
    if would and sheet.text("heat.unit_kind") == UNSAID:
        sheet.verdict("open", f"On the day you plan for, the water goes from {figure}, and {wanted} is wanted. Your "
                      f"unit of {sheet.shown('heat.unit_power')} holds it if it is a {would}: say which of the two "
                      "it is.", figure, "Chiller or heater?")
        return
    if high > warm + SLIGHT_K:
        sheet.verdict("fails" if high > warm + FAR_K else "tight", f"The water reaches {sheet.shown('heat.high')}, and "
                      f"{wanted} is wanted. Shade and insulation come first; {sheet.shown('heat.cool_peak')} of cooling"
                      " would hold it every hour.", figure, "Too warm.")
    if low < cold - SLIGHT_K:
        sheet.verdict("fails" if low < cold - FAR_K else "tight", f"The water falls to {sheet.shown('heat.low')}, and "
                      f"{wanted} is wanted. {sheet.shown('heat.warm_peak')} of heating would hold it every hour.",
                      figure, "Too cold.")
    used = sheet.result_if_any("oxygen.hottest_used")
    if used is not None and high > used + 0.05:
        sheet.verdict("tight", f"Oxygen is worked out for {sheet.shown('oxygen.hottest_used')} in the hottest hour, "
                      f"and this day brings the water to {sheet.shown('heat.high')}. Leave that hour's temperature "
                      "empty, and the oxygen follows the day.", figure, "Warmer than you typed.")
    past = high > warm + SAID_K or low < cold - SAID_K
    sheet.verdict("fits", f"On the day you plan for, the water stays at {figure}, and {wanted} is wanted"
                  f"{': so little past it does little harm' if past else ''}.", figure)
