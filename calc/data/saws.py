"""Hole saws as a shop stocks them, so that a hole is planned that somebody can cut."""

from __future__ import annotations

from dataclasses import dataclass

from ..relations.base import PRACTICE

INCH_M = 0.0254
SOURCE = f"hole saw sizes usually stocked, 3/4 to 6 in; the millimeter names are these rounded: {PRACTICE}"
UNDER_NOMINAL_M = INCH_M / 8
LEAST_LIP_M = INCH_M / 16
RULE_SOURCE = f"hole saw 1/8 in under the pot's nominal size, and never less than 1/16 in under it: {PRACTICE}"


@dataclass(frozen=True)
class Saw:
    """One size in stock: its trade name and its cutting diameter in m."""

    name: str
    diameter_m: float
    source: str = SOURCE
    status: str = PRACTICE


def _name(eighths: int) -> str:
    whole, rest = divmod(eighths, 8)
    top, bottom = rest, 8
    while top and top % 2 == 0:
        top, bottom = top // 2, bottom // 2
    inches = " ".join(part for part in (str(whole) if whole else "", f"{top}/{bottom}" if rest else "") if part)
    return f"{inches} in ({round(eighths * INCH_M / 8 * 1000)} mm)"


SAWS: tuple[Saw, ...] = tuple(Saw(_name(eighths), eighths * INCH_M / 8)
                              for eighths in (*range(6, 37), 38, 40, 42, 44, 46, 48))


def nearest_saw(pot_m: float) -> Saw | None:
    """The stock saw nearest to 1/8 in under a pot's nominal size (m), never above 1/16 in under it, or ``None``."""
    target = pot_m - UNDER_NOMINAL_M
    fitting = [saw for saw in SAWS if saw.diameter_m <= pot_m - LEAST_LIP_M + 1e-9]
    # Of two equally near, the smaller: a tight pot can be eased in, a loose one falls through.
    return min(fitting, key=lambda saw: (round(abs(saw.diameter_m - target), 9), saw.diameter_m), default=None)
