"""Whether the water stays as warm, and as cool, as the roots want it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from . import span

if TYPE_CHECKING:
    from ...sheet import Sheet

# A degree past the band does no harm; some degrees more is another climate. Engineering judgment, no source.
SLIGHT_K, FAR_K = 1.0, 5.0


def judge(sheet: Sheet) -> None:
    """The day's high and low beside the band of the crops."""
    high, low = sheet.result("heat.high"), sheet.result("heat.low")
    warm, cold = sheet.result("heat.band_high"), sheet.result("heat.band_low")
    figure = span(sheet.shown("heat.low"), sheet.shown("heat.high"))
    wanted = span(sheet.shown("heat.band_low"), sheet.shown("heat.band_high"))
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
    sheet.verdict("fits", f"On the day you plan for, the water stays at {figure}, and {wanted} is wanted.", figure)
