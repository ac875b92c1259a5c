"""Uncertain numbers put together: the 5th and 95th percentile of a product or a sum, not every worst case at once."""

from __future__ import annotations

from collections.abc import Iterable
from math import copysign, exp, hypot, log


def of_product(swings: Iterable[float]) -> float:
    """How many times the likely product its end is, where each factor's own end is so many times its likely value.

    The factors' ends are taken as their own 5th or 95th percentile, all on the same side of 1, and combined in
    quadrature on the logarithm; exact where each is spread evenly to both sides on that scale.
    """
    logs = [log(swing) for swing in swings]
    return exp(copysign(hypot(*logs), sum(logs)))


def of_sum(swings: Iterable[float]) -> float:
    """How far the end of a sum lies from its likely value, where each part's own end lies so far from its own."""
    found = list(swings)
    return copysign(hypot(*found), sum(found))
