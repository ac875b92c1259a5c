"""How a result is reckoned by hand, with a pocket calculator and in the reader's own units, before any formula."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from ...solve import Design
from . import air, board, calendar, energy, feed, light, outage, shopping, use, warmth, water, weight
from .pad import NoSum, Pad

SUMS: Mapping[str, Callable[[Pad], None]] = {
    **water.SUMS, **weight.SUMS, **air.SUMS, **board.SUMS, **calendar.SUMS, **energy.SUMS, **feed.SUMS, **light.SUMS,
    **outage.SUMS, **shopping.SUMS, **use.SUMS, **warmth.SUMS}
# Four digits are what people write down; more only where the answer would come out otherwise.
DIGITS = (4, 5, 6, 8, 10, 12)


def by_hand(key: str, design: Design) -> str:
    """The sum of a result in lines of plain text; empty where it is none that one does by hand.

    >>> from calc import Plan, solve
    >>> from calc.render.by_hand import by_hand
    >>> design = solve(Plan.from_mapping({"bath.length": "48 in", "bath.width": "2 ft", "bath.water_depth": "10 in"}))
    >>> print(by_hand("water.bath_volume", design))
    Space: 48 x 24 x 10 = 11,520 cu in
    Gallons: 11,520 / 231 = 49.9 gal
    """
    reckon = SUMS.get(key)
    if reckon is None or not design.value(key):
        return ""
    tried: dict[str, list[str]] = {}
    for digits in DIGITS:
        pad = Pad(design, key, digits)
        try:
            reckon(pad)
        except NoSum:
            return ""
        # Of sums that come to the same, the one with the fewest digits.
        lines = tried.setdefault(pad.said, pad.lines)
        if pad.said == design.shown(key):
            break
    return "\n".join(lines)
