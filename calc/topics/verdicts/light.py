"""Whether the plants get the light of a day that they want."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ...data import light as data
from . import counted, into_all

if TYPE_CHECKING:
    from ...sheet import Sheet

# Shares of the aim: under the first a plant grows slower, under the second it only stretches (engineering judgment).
ENOUGH, HALF, MUCH = 0.9, 0.5, 1.1
LONG_DAY_H, HOUR_S = 18.0, 3600.0
IN_THE_OPEN = "open yard"


def judge(sheet: Sheet) -> None:
    """Daily light beside the aim; an open question while neither lamp nor sun is told of."""
    lamps = sheet.text("light.by") != "none"
    aim = sheet.shown("light.dli_target")
    if not lamps and sheet.text("light.sun") == "unknown":
        sheet.verdict("open", f"Your plants need {aim}, and no lamp is planned. Say what sunlight reaches them, or "
                      "plan a lamp.", f"{aim} wanted")
        return
    total, wanted = sheet.result("light.dli"), sheet.result("light.dli_target")
    gets = sheet.shown("light.dli")
    figure = _figure(sheet, lamps)
    if total < ENOUGH * wanted:
        state = "fails" if total < HALF * wanted else "tight"
        sheet.verdict(state, f"The plants get {gets} where {aim} is wanted: they grow slower and thinner, and no "
                      f"fertilizer makes up for it.{_longer(sheet, lamps)}{_in_the_open(sheet)}", figure)
    most = sheet.result_if_any("crops.dli_high") or data.TIPBURN_MOL
    if total > MUCH * most:
        cloth = sheet.result_if_any("light.cloth")
        shade = (f" Hang shade cloth of {sheet.shown('light.cloth')}."
                 if cloth is not None and cloth > sheet["light.shade"] else "")
        sheet.verdict("tight", f"The plants get {gets}, and {sheet.shown_as('light.dli', most)} is the most that the "
                      f"crop is said to need: leaf tips may burn, and light is wasted.{shade}", figure,
                      "More light than wanted.")
    if lamps and sheet["light.hours"] > LONG_DAY_H * HOUR_S:
        sheet.verdict("tight", f"{sheet.shown('light.hours')} of light leave little night, and some plants flower early"
                      " under it. Brighter is better than longer.", figure, "A short night.")
    sheet.verdict("fits", f"The plants get {gets}, and {aim} is wanted.{_from(sheet, lamps)}", figure)


def _figure(sheet: Sheet, lamps: bool) -> str:
    found = sheet.result_if_any("light.lamps", int)
    return counted(found, "lamp") if lamps and found else sheet.shown("light.dli")


def _from(sheet: Sheet, lamps: bool) -> str:
    if not lamps:
        return " It is daylight alone."
    count = sheet.result_if_any("light.lamps", int)
    of = counted(count, "lamp") if count else "The lamps"
    if sheet.result_if_any("light.power") is None:
        # A meter tells the light, and not what the lamps draw.
        return ""
    return (f" {of}{into_all(sheet)} draw{'s' if count == 1 else ''} {sheet.shown('light.power')} for "
            f"{sheet.shown('light.hours')} a day.")


def _in_the_open(sheet: Sheet) -> str:
    """Sun that is counted as if it came through a cover, where the bath stands in the open and nobody said so."""
    if (sheet.text("place.setting") != IN_THE_OPEN or sheet.text("light.sun") not in ("dli", "radiation")
            or not sheet.guessed("light.cover")):
        return ""
    return (f" Of the sun {sheet.shown('light.cover')} is counted, as under glass or film: where nothing stands over "
            "the plants, let in 100 %.")


def _longer(sheet: Sheet, lamps: bool) -> str:
    if lamps and sheet.result_if_any("light.hours_needed") is not None:
        return f" {sheet.shown('light.hours_needed')} a day would do."
    return ""
