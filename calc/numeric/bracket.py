"""Where a falling function crosses zero: one search for operating points and for the air that just holds a target."""

from __future__ import annotations

from collections.abc import Callable

STEPS = 200


def narrow(spare: Callable[[float], float], low: float, high: float, spare_low: float, spare_high: float,
           close: float, enough: float = 0.0) -> tuple[float, float]:
    """The ends of a bracket around the zero, no farther apart than ``close`` times the upper one.

    ``spare`` falls from ``spare_low`` > 0 at ``low`` to ``spare_high`` <= 0 at ``high``. Where it comes within
    ``enough`` of zero, that place is both ends. Secant steps hurry on; every third step halves, for a secant alone
    can creep up on one side.
    """
    for step in range(STEPS):
        if high - low <= close * high:
            break
        middle = 0.5 * (low + high)
        if step % 3 != 2 and spare_low > spare_high:
            guess = low + (high - low) * spare_low / (spare_low - spare_high)
            middle = guess if low < guess < high else middle
        if middle in (low, high):
            break
        found = spare(middle)
        if abs(found) <= enough:
            return middle, middle
        if found > 0.0:
            low, spare_low = middle, found
        else:
            high, spare_high = middle, found
    return low, high
