"""Whether the harvest wished for comes from the sites there are, and how soon."""

from __future__ import annotations

from typing import TYPE_CHECKING

from . import counted, listed, small

if TYPE_CHECKING:
    from ...sheet import Sheet

# More empty sites than this in the fullest week are worth another look; engineering judgment, no source.
MANY_EMPTY = 0.25


def judge(sheet: Sheet) -> None:
    """The wish beside the sites, a crop that gets none, and sites that stay empty."""
    sites, needed = sheet.result("schedule.sites_available", int), sheet.result("schedule.sites_needed", int)
    rate = f"{sheet.result('schedule.heads_per_week'):,.1f}".removesuffix(".0")
    figure = f"{rate} a week"
    are = "is" if sites == 1 else "are"
    left_out = [small(row["name"]) for row in sheet.result_rows("schedule.per_crop") if row["plants"] == 0]
    if needed > sites:
        if sheet.text("schedule.aim") == "heads":
            sheet.verdict("fails", f"{sheet.whole('schedule.heads'):,} heads a week need {counted(needed, 'site')}, "
                          f"and there {are} {sites:,}. What fits is {rate} a week.", figure)
        sheet.verdict("fails", f"Your crops need {counted(needed, 'site')}, and there {are} {sites:,}.",
                      f"{sites:,} of {counted(needed, 'site')}")
    elif left_out:
        sheet.verdict("fails", f"{counted(sites, 'site')} {are} too few to set even one "
                      f"plant of {listed(left_out)} every {counted(sheet.whole('schedule.every'), 'day')}. Sow less "
                      "often, or give it more sites.", figure)
    used = sheet.result("schedule.sites_used", int)
    empty = sites - used
    if empty > MANY_EMPTY * sites and sheet.text("schedule.aim") == "sites":
        sheet.verdict("tight", f"{empty:,} of {counted(sites, 'site')} stay empty even in the fullest week. Sow more "
                      "plants at a time, or more often.", figure)
    heads = "head" if rate == "1" else "heads"
    sheet.verdict("fits", f"{rate} {heads} a week from {used:,} of {counted(sites, 'site')}, the first on "
                  f"{sheet.shown('schedule.first_harvest')}.", figure)
