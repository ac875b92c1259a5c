"""Cuts from one plant, and the room that each stage of growing takes: nursery, close board, full board."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from ..declare import Field, Over, Result
from ..relations import schedule as counting

if TYPE_CHECKING:
    from ..sheet import Sheet

JUDGMENT = "engineering judgment, no source"
AGAIN = (("schedule.cuts", Over(1)),)

FIELDS = (
    Field("schedule.cuts", "whole", "Cuts from one plant", ("1", "1"), 1, 20,
          help="of crops that are cut again, such as basil and chard; 1: once",
          why="1: the calendar follows each plant to its first cut"),
    Field("schedule.cut_days", "whole", "Days between two cuts", ("14", "14"), 1, 120,
          help="until it has grown again; your own notes are better", why=f"two weeks: {JUDGMENT}", when=AGAIN),
    Field("schedule.cut_share", "ratio", "A later cut, of the first", ("80 %", "80 %"), 0.0, 3.0, "%", "%",
          help="by weight; more where the plant has bushed out", why=f"80 %: {JUDGMENT}; weigh yours", when=AGAIN),
    Field("schedule.cell_spacing", "length", "Nursery cells, apart", ("1 1/2 in", "40 mm"), 0.005, 0.5, "in", "mm",
          help="center to center, in the tray where seedlings stand",
          why=f"a tray of some 60 cells to the square foot: {JUDGMENT}"),
)
RESULTS = (
    Result("schedule.harvest_factor", "number", "Harvest of a plant, in first cuts"),
    Result("schedule.nursery_area", "area", "Room of the nursery at its fullest, for all baths", "ft2", "m2"),
    Result("schedule.close_area", "area", "Room at close spacing at the fullest, for all baths", "ft2", "m2"),
    Result("schedule.wide_area", "area", "Room at full spacing at the fullest, for all baths", "ft2", "m2"),
)


def again_days(sheet: Sheet) -> int:
    """Days that a plant stays after its first cut, if it is cut again."""
    cuts = sheet.whole("schedule.cuts")
    return (cuts - 1) * sheet.whole("schedule.cut_days") if cuts > 1 else 0


def harvest_factor(sheet: Sheet, heads: Sequence[tuple[int, bool]]) -> None:
    """First cuts that a plant makes in all, over all crops; ``heads`` are plants and whether they are cut again."""
    cuts = sheet.whole("schedule.cuts")
    if cuts < 2 or not any(count and again for count, again in heads):
        return
    asked = {"cuts": float(cuts), "later_share": sheet["schedule.cut_share"]}
    factor = counting.cuts_yield(**asked)
    every = sum(count for count, _ in heads)
    sheet.put("schedule.harvest_factor", sum(count * (factor if again else 1.0) for count, again in heads) / every,
              counting.cuts_yield, asked, note="Crops that are cut once count 1; over all plants of a sowing.")


def room(sheet: Sheet, wide: int) -> None:
    """Area of each stage, from the plants that stand in it at one time; ``wide`` are those at full spacing."""
    for key, count, spacing in (
            ("nursery", sheet.result("schedule.nursery_cells", int), sheet["schedule.cell_spacing"]),
            ("close", sheet.result_if_any("schedule.close_places", int) or 0,
             sheet.input_if_any("schedule.close_spacing") or 0.0),
            ("wide", wide, sheet.result("board.spacing_used"))):
        if count:
            sheet.work(f"schedule.{key}_area", counting.stage_area, plants=float(count), spacing_m=spacing)


def say_again(sheet: Sheet, again: Sequence[tuple[str, int]]) -> None:
    """What the calendar makes of crops that are cut again: (name, days from planting to the first cut) of each."""
    if not again:
        return
    names = ", ".join(name for name, _ in again)
    if not again_days(sheet):
        sheet.caution("schedule-again", "note",
                      f"{names}: cut again and again, but the calendar follows each plant to its first cut and then "
                      "gives its site to the next. To keep it longer, say how many cuts you take.", lead="Cut again",
                      brief="The calendar follows each plant to its first cut only.")
        return
    cuts, first = sheet.whole("schedule.cuts"), min(days for _, days in again)
    sheet.caution("schedule-again", "note", f"{names}: cut {cuts} times, the first {first} days after planting and "
                  f"then every {sheet.whole('schedule.cut_days')} days. The calendar's harvest is the last of them.",
                  lead="Cut again", brief=f"Cut {cuts} times; the calendar's harvest is the last.")
