"""Whether the plants live through a power cut of the hours wished for."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ...models.oxygen_fall import ALARM_MG_L

if TYPE_CHECKING:
    from ...sheet import Sheet

MINUTE_S, HOUR_S = 60.0, 3600.0


def judge(sheet: Sheet) -> None:
    """Hours until the oxygen is low with everything stopped, beside the hours to bridge."""
    wished, hours = sheet["outage.hours"], _hours(sheet["outage.hours"])
    level = sheet.shown_as("outage.end", ALARM_MG_L)
    kept = sheet.result_if_any("outage.bath_kept")
    if kept is not None and kept <= 0.0:
        sheet.verdict("fails", "When the pump stops nothing stays in the bath, and the roots hang dry. Fill over the "
                      "rim, or fit a check valve.", "no water left", "A cut dries the roots.")
        return
    sheet.result("outage.in_words", str)
    likely, low = (sheet.result_if_any(f"outage.hours_to_alarm{which}") for which in ("", "_low"))
    figure = _figure(likely)
    backup = sheet.optional("outage.pump_watts") is not None or sheet.text("outage.backup") == "inverter"
    if sheet.result("outage.start") < ALARM_MG_L:
        sheet.verdict("fails", f"In the hottest hour the bath is likely below {level} before anything stops: there is "
                      "no time in hand.", figure)
    elif likely is not None and likely < wished:
        words = (f"With everything stopped the oxygen is likely down to {level} in {_hours(likely)}, and you "
                 f"want to bridge {hours}.")
        if backup:
            sheet.verdict("tight", f"{words} Your backup bridges it if it starts by itself and its battery holds "
                          f"{sheet.shown('outage.battery')}.", figure, "Only the backup bridges it.")
        else:
            sheet.verdict("fails", f"{words} Have a backup that starts by itself: {sheet.shown('outage.power')} and a "
                          f"battery of {sheet.shown('outage.battery')}.", figure)
    elif low is not None and low < wished:
        when = f"down to {level} in {_hours(low)}" if low >= MINUTE_S else f"below {level} at once"
        may = f"The oxygen likely lasts the {hours} that you want to bridge, but one bath in twenty is {when}"
        if backup:
            sheet.verdict("fits", f"{may}: your backup is there for that, if it starts by itself.", figure)
            return
        sheet.verdict("tight", f"{may}.", figure)
    lasts = (f"the oxygen likely never falls to {level}, or not within a week" if likely is None else
             f"the oxygen is likely down to {level} in {_hours(likely)}")
    sheet.verdict("fits", f"You want to bridge {hours}, and with everything stopped {lasts}.", figure)


def _figure(likely: float | None) -> str:
    return "no limit in a week" if likely is None else _hours(likely)


def _hours(seconds: float) -> str:
    """A time as one says it: minutes, hours or days."""
    if seconds < HOUR_S:
        return f"{int(seconds / 60.0 + 1e-9)} min"
    if seconds < 72.0 * HOUR_S:
        return f"{seconds / HOUR_S:.1f}".removesuffix(".0") + " h"
    return f"{seconds / HOUR_S / 24.0:.1f}".removesuffix(".0") + " days"
