"""Whether the bath needs anything today, by what was measured."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ...figures import number
from ..today.reading import NEAR_PH, band, target_ph, temperature

if TYPE_CHECKING:
    from ...sheet import Sheet

HOT_C = 35.0


def judge(sheet: Sheet) -> None:
    """Readings beside what is wanted; open until one is typed."""
    words = sheet.result("today.verdict", str)
    ec, ph, jug = (sheet.optional(f"today.{key}") for key in ("ec", "ph", "jug_acid"))
    if ec is None and ph is None and jug is None:
        sheet.verdict("open", words)
        return
    if ec is not None:
        # Beside what it should be; where that could not be worked out, the verdict is open.
        sheet.result("today.ec_aim")
    figure = _figure(sheet, ec, ph)
    if temperature(sheet) > HOT_C:
        sheet.verdict("fails", f"The water is at {sheet.shown_as('water.temperature', temperature(sheet))}, warmer "
                      "than roots bear. Cool it before anything else.", figure, "Cool it first.")
    doubt = sheet.result_if_any("today.ceiling_why", str)
    if doubt is not None:
        sheet.verdict("tight", doubt, figure, "Check a reading first.")
    off = sheet.result_if_any("today.water_instead") is not None or bool(sheet.rows_if_any("today.salts"))
    if off or jug is not None or (ph is not None and not _leave(sheet, ph)):
        sheet.verdict("tight", words, figure)
    sheet.verdict("fits", words, figure)


def _leave(sheet: Sheet, ph: float) -> bool:
    """Whether a pH is to be left alone: at the one typed for today, or within the crops' own."""
    low, high = band(sheet)
    if sheet.optional("today.ph_target") is None and low <= ph <= high:
        return True
    return abs(ph - target_ph(sheet)) <= NEAR_PH


def _figure(sheet: Sheet, ec: float | None, ph: float | None) -> str:
    said = sheet.result_if_any("today.ec_now")
    parts = [sheet.shown("today.ec_now") if said is not None else "", "" if ph is None else f"pH {number(ph, 4)}"]
    return ", ".join(part for part in parts if part)
