"""Whether the roots keep the oxygen that they are meant to have, in the hottest hour too."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ...data import roots as data
from .. import scheme
from . import counted, percent

if TYPE_CHECKING:
    from ...sheet import Sheet

ACT_MG_L = data.LEVELS[3][1]
# Where one bath in twenty is below the level at which growers look for the cause, the doubt decides and is told.
ALARM_MG_L = data.LEVELS[2][1]
HOT_C = 30.0


def judge(sheet: Sheet) -> None:
    """Oxygen beside the aim; in still water, roots beside what the open surface feeds."""
    if not scheme.has_air(sheet):
        _still(sheet)
        return
    if _metered(sheet):
        return
    likely, low = sheet.result("oxygen.bath_hottest"), sheet.result("oxygen.bath_hottest_low")
    aim, figure = sheet["oxygen.target"], sheet.shown("oxygen.bath_hottest")
    least = sheet.shown("oxygen.target")
    hottest = sheet.result("oxygen.hottest_used")
    at = sheet.shown("oxygen.hottest_used")
    if hottest > HOT_C:
        sheet.verdict("fails", f"The water reaches {at}, and above {sheet.shown_as('oxygen.hottest_used', HOT_C)} "
                      "roots fail however much air is blown. Cool it.", figure, "Too hot for roots.")
    then = f"In the hottest hour, at {at}, the bath likely holds"
    short = sheet.result_if_any("oxygen.delivered_over_need")
    if likely < ACT_MG_L:
        sheet.verdict("fails", f"{then} only {figure}, and growers act at "
                      f"{sheet.shown_as('oxygen.bath', ACT_MG_L)}. Blow more air, cool the water, or grow fewer "
                      "plants.", figure)
    elif likely < aim:
        sheet.verdict("tight", f"{then} {figure}, and {least} is your aim. Blow more air, or cool the water.", figure)
    elif short is not None and short < 1.0 - 1e-9:
        sheet.verdict("tight", f"{then} {figure}, but the pumps blow {percent(short)} of the air that keeps "
                      f"{least} with its margin.", figure,
                      "The hottest hour is tight.")
    doubt = (f" One bath in twenty has less than {sheet.shown('oxygen.bath_hottest_low')}: a meter settles it."
             if low < ALARM_MG_L else "")
    most = sheet.result("oxygen.saturation_hottest")
    # Bubbles from deep stones can hold a hair more than the open surface does.
    of_most = (f"of the {sheet.shown('oxygen.saturation_hottest')} that it can" if likely < most else
               "as much as it can")
    sheet.verdict("fits", f"{then} {figure}{' ' if likely < most else ', '}{of_most}, and {least} is the aim.{doubt}",
                  figure)


def _metered(sheet: Sheet) -> bool:
    """Where a meter has been read, its word is taken for the guess's; whether it was."""
    hot = sheet.result_if_any("oxygen.metered_hottest")
    if hot is None:
        return False
    low, aim = sheet.result("oxygen.metered_low"), sheet["oxygen.target"]
    figure, least = sheet.shown("oxygen.metered"), sheet.shown("oxygen.target")
    reads = f"Your meter read {sheet.shown('oxygen.reading')}. By that the bath holds {figure}"
    then = f"and {sheet.shown('oxygen.metered_hottest')} in the hottest hour"
    if sheet.result("oxygen.hottest_used") > HOT_C:
        sheet.verdict("fails", f"The water reaches {sheet.shown('oxygen.hottest_used')}, and above "
                      f"{sheet.shown_as('oxygen.hottest_used', HOT_C)} roots fail however much air is blown. Cool it.",
                      figure, "Too hot for roots.")
    if hot < ACT_MG_L:
        sheet.verdict("fails", f"{reads}, {then}; growers act at {sheet.shown_as('oxygen.bath', ACT_MG_L)}. Blow more "
                      "air, cool the water, or grow fewer plants.", figure)
    elif hot < aim:
        sheet.verdict("tight", f"{reads}, {then}, and {least} is your aim. Blow more air, or cool the water.", figure)
    doubt = (f" One bath in twenty like it has less than {sheet.shown('oxygen.metered_low')}: measure again."
             if low < ALARM_MG_L else "")
    sheet.verdict("fits", f"{reads}, {then}, and {least} is the aim.{doubt}", figure)
    return True


def _still(sheet: Sheet) -> None:
    """No air is blown: what the open surface brings in, beside the roots that hang in the water."""
    feeds = sheet.result("oxygen.surface_plants", int)
    there = sheet.result("oxygen.plant_count")
    figure = f"{feeds:,} of {counted(there, 'plant')}"
    if there <= 0.0:
        sheet.verdict("fits", "No roots are counted in this water.", figure)
        return
    fed = counted(feeds, "full-grown plant") if feeds else "not even one full-grown plant"
    if there > feeds:
        sheet.verdict("tight", f"The open surface feeds the roots of {fed}, and roots "
                      f"like those of {there:,.0f} hang in the water. Let the water fall, so that half of each root "
                      "hangs in damp air, and never fill it up to the board again.", figure,
                      "The roots must breathe air.")
    sheet.verdict("fits", f"The open surface feeds the roots of {fed}, and roots like those of {there:,.0f} hang in "
                  "the water.", figure)
