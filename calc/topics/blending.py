"""Tap water thinned with pure water: how much of each for an alkalinity or a sodium that one can live with."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..declare import Field, Result
from ..relations import water as physics
from ..relations.base import PRACTICE

if TYPE_CHECKING:
    from ..sheet import Sheet

FIELDS = (
    Field("acidity.blend_alkalinity", "alkalinity", "Alkalinity you would like", ("", ""), 0.1, 600.0, "mg/L", "mg/L",
          help="by mixing pure water into the tap; 40 to 60 is easy to hold", optional=True,
          why="empty: the tap as it is"),
    Field("acidity.blend_sodium", "concentration", "Sodium you would like", ("", ""), 0.1, 1000.0, "mg/L", "mg/L",
          help="at most, by mixing pure water into the tap", optional=True, why="empty: the tap as it is"),
    Field("acidity.pure_left", "ratio", "Left in the pure water", ("3 %", "3 %"), 0.0, 0.5, "%", "%",
          help="of the tap's salts that pass the membrane; 0 for rain",
          why=f"a sound reverse-osmosis membrane holds 95 to 99 % back: {PRACTICE}"),
)
RESULTS = (
    Result("acidity.blend_share", "ratio", "Pure water in the blend", "%", "%"),
    Result("acidity.blend_pure", "volume", "Blend: pure water, for all the water", "gal", "L"),
    Result("acidity.blend_tap", "volume", "Blend: tap water, for all the water", "gal", "L"),
    Result("acidity.blend_holds", "text", "The blend then holds"),
)
# What a water company's report gives, in words, by the key of the question.
CONTENTS = (("calcium", "feed.water_ca"), ("magnesium", "feed.water_mg"), ("sodium", "feed.water_na"),
            ("chloride", "feed.water_cl"), ("sulfur", "feed.water_s"))


def blend(sheet: Sheet) -> None:
    """Pure water for the aims that were named: as much as the harder of the two asks for."""
    left = sheet["acidity.pure_left"]
    shares = [share for key, tap in (("acidity.blend_alkalinity", "acidity.alkalinity"),
                                     ("acidity.blend_sodium", "feed.water_na"))
              if (share := _share(sheet, key, tap, left)) is not None]
    if not shares:
        return
    share = max(shares)
    sheet.put("acidity.blend_share", share, note="What the tap holds too much, over what pure water holds less; for "
              "two aims the larger share.", source=physics.pure_share.relation.source)
    water = sheet.result("acidity.water")
    sheet.put("acidity.blend_pure", share * water, note="That share of the water to treat.")
    sheet.put("acidity.blend_tap", (1.0 - share) * water, note="The rest of it.")
    keeps = 1.0 - share * (1.0 - left)
    found = [f"alkalinity {sheet.shown_as('acidity.alkalinity', keeps * sheet['acidity.alkalinity'])}",
             *(f"{name} {sheet.shown_as(key, keeps * sheet[key])}" for name, key in CONTENTS)]
    sheet.put("acidity.blend_holds", ", ".join(found), note="Each times the share of tap water, and what is left in "
              "the pure water. Type these as your water, measure its pH again, and the acid and the nutrients follow.")
    if share > 0.0:
        sheet.caution("blend-type", "note", f"Blend: {share:.0%} pure water. The acid and the nutrients here are still "
                      f"those of the plain tap: type what the blend holds ({', '.join(found)}) as your water, with the "
                      "pH that you measure in it. Top up with the same blend.", lead="Type the blend",
                      brief="Acid and nutrients are still for the plain tap: type what the blend holds.")


def _share(sheet: Sheet, key: str, tap_key: str, left: float) -> float | None:
    """Share of pure water for one aim: none where nothing is aimed at, or the tap is there already."""
    aim = sheet.optional(key)
    if aim is None:
        return None
    tap = sheet[tap_key]
    if tap <= aim:
        return 0.0
    pure = left * tap
    if aim < pure * (1.0 - 1e-9):
        least = sheet.shown_as(key, pure)
        sheet.fault(key, f"{'Alkalinity' if 'alkalinity' in key else 'Sodium'} you would like is less than pure water "
                    f"still holds, {least}: enter that or more, or less that is left in it.",
                    {"acidity.pure_left": "Left in the pure water: with so much of it the aim cannot be reached; enter "
                     "less.", tap_key: ""})
    return physics.pure_share(tap=tap, pure=pure, aim=max(aim, pure))


STEPS = (blend,)
