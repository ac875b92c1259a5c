"""Whether the water lasts, from one top-up to the next and while you are away."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ...data import use as data
from .. import scheme
from ..leaving import in_words
from . import counted, several

if TYPE_CHECKING:
    from ...sheet import Sheet

DAY_S = 86400.0
USUAL_MG_L = {"sodium": data.SOURCE_SODIUM_MG_L, "chloride": data.SOURCE_CHLORIDE_MG_L}
SYMBOL = {"sodium": "na", "chloride": "cl"}


def judge(sheet: Sheet) -> None:
    """Days to the next top-up beside those away; salts of the source water that come to their limit."""
    if sheet.result("use.per_day") <= 0.0:
        sheet.verdict("open", "No plants are counted, so no water is used. Say how many plants hang in the water.")
        return
    left, away = sheet.result("use.days_to_top_up") / DAY_S, sheet["use.holiday"] / DAY_S
    still = sheet.text(scheme.KEY) == scheme.STILL
    every = f"water for {whole_days(left)}" if still else f"top up every {whole_days(left).removeprefix('1 ')}"
    vessel = ("reservoir gives" if scheme.circulates(sheet) else "baths together give" if several(sheet) else
              "bath gives")
    lasts = f"{in_words(sheet)}, and the {vessel} {sheet.shown('use.usable')}"
    if left < 1.0:
        sheet.verdict("fails", f"{lasts}: it is low within a day. Take a larger vessel"
                      f"{'' if still else ', or a barrel with a float valve'}.", "dry in a day")
    elif left < away:
        sheet.verdict("tight", f"{lasts}: that is {whole_days(left)}, and you plan to be away {whole_days(away)}. "
                      + ("Somebody must add a little, never up to the board." if still else
                         "Somebody must top up, or a barrel must fill it."), every)
    for salt in ("sodium", "chloride"):
        after = sheet.result_if_any(f"use.{salt}_after")
        if after is not None and after <= 0.0:
            sheet.verdict("fails", f"Your water brings as much {salt} as the limit of "
                          f"{sheet.shown(f'use.{salt}_limit')} before anything grows. "
                          "Use reverse-osmosis water, or mix it in.",
                          every, f"Too much {salt}.")
            continue
        brought, usual = _brought(sheet, salt), USUAL_MG_L[salt]
        if brought > usual:
            said, below = (sheet.shown_as(f"use.{salt}_limit", one) for one in (brought, usual))
            sheet.verdict("tight", f"Your water brings {said} of {salt}, and below {below} is asked for: it gathers as "
                          "you top up. Mix in reverse-osmosis water.", every, f"Much {salt}.")
    gap = " Never fill it up to the board again: the gap of air is the roots'." if still else ""
    sheet.verdict("fits", f"{lasts}: {every}.{gap} Make a full change after "
                  f"{whole_days(sheet.result('use.replace_after') / DAY_S)}.", every)


def _brought(sheet: Sheet, salt: str) -> float:
    """Sodium or chloride of the source water in mg/L: as put in here, or as under Feed."""
    typed = sheet.optional(f"use.{salt}")
    return sheet[f"feed.water_{SYMBOL[salt]}"] if typed is None else typed


def whole_days(days: float) -> str:
    """Whole days, rounded down: who tops up a day early loses nothing."""
    return counted(int(days + 1e-9), "day") if days < 1000.0 else "1,000 days or more"
