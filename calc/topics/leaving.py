"""What leaves the water in a day: what all plants drink, and what evaporates beside them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..declare import Result

if TYPE_CHECKING:
    from ..sheet import Sheet

RESULTS = (
    Result("use.gone", "volume", "Water gone in a day, all, drunk and evaporated", "gal", "L"),
)


def gone(sheet: Sheet) -> None:
    """The water that a day takes; what a reader measured at the bath holds what evaporates already."""
    drunk = sheet.result("use.per_day")
    evaporated = sheet.result_if_any("heat.evaporated")
    if sheet.text("use.basis") == "own":
        sheet.put("use.gone", drunk, note="As you measured it: what evaporates is in it.")
    elif evaporated is None:
        sheet.put("use.gone", drunk, note="What all plants drink; no evaporation was worked out beside it.")
    else:
        sheet.put("use.gone", drunk + evaporated, note="What all plants drink, and what evaporates from open water "
                  "and with the bubbles on the day you plan for.")


def in_words(sheet: Sheet) -> str:
    """What is drunk in a day, and what evaporates where that is counted beside it."""
    drunk, gone_a_day = sheet.result("use.per_day"), sheet.result("use.gone")
    words = f"All plants together drink {sheet.shown('use.per_day')} a day"
    if gone_a_day > drunk:
        words += f", {sheet.shown_as('use.per_day', gone_a_day - drunk)} evaporates"
    return words


STEPS = (gone,)
