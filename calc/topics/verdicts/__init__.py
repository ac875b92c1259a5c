"""Whether each topic's matter works, said in one or two sentences: one file per topic, and the words they share."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ... import currencies
from ...figures import count

if TYPE_CHECKING:
    from ...sheet import Sheet


def counted(number: float, one: str, many: str = "") -> str:
    """A count with its noun: 1 lamp, 2,000 lamps."""
    return f"{count(number)} {one if number == 1 else many or one + 's'}"


def several(sheet: Sheet) -> bool:
    """Whether there is more than one bath, so that each and all are not the same."""
    return sheet.whole("bath.count") > 1


def in_each(sheet: Sheet) -> str:
    """Said behind what is true of every single bath; nothing where there is one."""
    return " in each bath" if several(sheet) else ""


def into_all(sheet: Sheet) -> str:
    """Said behind a sum over all baths; nothing where there is one."""
    return f" for all {sheet.whole('bath.count'):,} baths" if several(sheet) else ""


def money(sheet: Sheet, amount: float) -> str:
    """A cost with the currency of the plan."""
    return currencies.amount(amount, sheet.result("energy.money", str), 0 if amount >= 100 else 2)


def span(low: str, high: str) -> str:
    """From one shown value to another, the unit said once: 1.2 to 1.8 mS/cm; one value where they are alike."""
    if low == high:
        return low
    number, _, unit = low.rpartition(" ")
    return f"{number if number and high.endswith(' ' + unit) else low} to {high}"


def percent(share: float) -> str:
    """A share as one says it: whole percents."""
    return f"{share:,.0%}".replace("%", " %") if share >= 0.01 else "less than 1 %"


def small(words: str) -> str:
    """A name as it stands inside a sentence; what is written in capitals stays so."""
    return words[:1].lower() + words[1:] if words[1:2].islower() else words


def listed(words: list[str]) -> str:
    """Things in a row: a, b and c."""
    return " and ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words)
