"""A slope that a few wrong points do not move: the median of the slopes of all pairs, with its interval."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt


@dataclass(frozen=True)
class Slope:
    """The slope of a line through points, and from where to where it lies in nine cases of ten."""

    slope: float
    low: float
    high: float

    @property
    def sure(self) -> bool:
        """Whether the interval says which way it goes."""
        return self.low > 0.0 or self.high < 0.0


# How many standard deviations hold 90 % of a normal spread.
NINE_IN_TEN = 1.6448536269514722


def slope(points: Sequence[tuple[float, float]], groups: Sequence[int] | None = None) -> Slope | None:
    """The Theil-Sen line through (x, y) points; ``None`` with fewer than two different x.

    ``groups`` numbers the stretch that each point belongs to, between two corrections say: only pairs of one stretch
    count. The interval holds nine cases of ten and is Sen's (1968), from the spread of Kendall's score over all
    points, ties in y counted.

    >>> from calc.numeric.theil_sen import slope
    >>> slope([(0, 1), (1, 2), (2, 3), (3, 4), (4, 100)]).slope
    1.0
    """
    pairs = []
    for place, (x1, y1) in enumerate(points):
        for other in range(place + 1, len(points)):
            x2, y2 = points[other]
            if x1 != x2 and (groups is None or groups[place] == groups[other]):
                pairs.append((y2 - y1) / (x2 - x1))
    if not pairs:
        return None
    pairs.sort()
    count = len(pairs)
    middle = 0.5 * (pairs[(count - 1) // 2] + pairs[count // 2])
    half = _spread(points, groups) * NINE_IN_TEN
    upper = min(round((count + half) / 2.0), count - 1)
    lower = max(round((count - half) / 2.0) - 1, 0)
    return Slope(middle, pairs[lower], pairs[upper])


def _spread(points: Sequence[tuple[float, float]], groups: Sequence[int] | None) -> float:
    """Standard deviation of Kendall's score, summed over the stretches."""
    stretches: dict[int, list[tuple[float, float]]] = {}
    for place, point in enumerate(points):
        stretches.setdefault(0 if groups is None else groups[place], []).append(point)
    whole = 0.0
    for stretch in stretches.values():
        whole += _score(len(stretch))
        for side in (0, 1):
            counts: dict[float, int] = {}
            for point in stretch:
                counts[point[side]] = counts.get(point[side], 0) + 1
            whole -= sum(_score(many) for many in counts.values())
    return sqrt(max(whole, 0.0))


def _score(many: int) -> float:
    return many * (many - 1) * (2 * many + 5) / 18.0
