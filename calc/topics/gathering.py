"""Calcium, magnesium and sulfur that come with every top-up: whether they gather in a bath that is never drained."""

from __future__ import annotations

from math import isfinite
from typing import TYPE_CHECKING

from ..data import use as data
from ..declare import Field, Result
from ..relations import use as physics

if TYPE_CHECKING:
    from ..sheet import Sheet

DAY, LITRES = 86400.0, 1000.0

FIELDS = (
    Field("use.gather_to", "ratio", "Calcium and such may rise to", ("200 %", "200 %"), 1.01, 10.0, "%", "%",
          help="of the first fill; also magnesium and sulfur", why=f"twice the first fill: {data.JUDGMENT}"),
)
NAMES = {"Ca": "calcium", "Mg": "magnesium", "S": "sulfur"}
RESULTS = tuple(Result(f"use.{name}_after", "time", f"{name.capitalize()} has gathered to that after", "d", "d")
                for name in NAMES.values())


def gathering(sheet: Sheet) -> None:
    """Days until each has risen that far, where more comes with a liter than plants take."""
    reached = {row["element"]: row["reached"] for row in sheet.result_rows("feed.reached")}
    use_l, volume_l = sheet.result("use.per_day") * LITRES, sheet.result("water.working_volume") * LITRES
    strength, most = sheet["use.topup_strength"], sheet["use.gather_to"]
    found = []
    for element, name in NAMES.items():
        first, tap = reached.get(element, 0.0), sheet[f"feed.water_{element.lower()}"]
        if first <= 0.0:
            continue
        brought = tap + strength * max(first - tap, 0.0)
        asked = {"volume_l": volume_l, "use_l_d": use_l, "start_mg_l": first, "limit_mg_l": most * first,
                 "incoming_mg_l": brought, "uptake_mg_l": data.UPTAKE_MG_L[element]}
        days = physics.days_to_salt(**asked)
        if isfinite(days):
            sheet.put(f"use.{name}_after", days * DAY, physics.days_to_salt, asked, source=data.GATHER_SOURCE,
                      note="Each liter topped up brings more of it than plants take with a liter.")
            found.append((days, name))
    if not found:
        return
    days, name = min(found)
    first_to = sheet.shown(f"use.{name}_after")
    if days * DAY < sheet.result("use.replace_after"):
        sheet.caution("use-gathers", "note", f"{name.capitalize()} gathers: each liter topped up brings more than "
                      f"plants take, so it is at {sheet.shown('use.gather_to')} of the first fill after {first_to}, "
                      "before the full change. The meter then shows it as strength while nitrogen is short. Top up "
                      "weaker, blend the tap with pure water, or change earlier.", lead=f"{name.capitalize()} gathers",
                      brief=f"At {sheet.shown('use.gather_to')} of the first fill after {first_to}: top up weaker.")


STEPS = (gathering,)
