"""Plans that many tests ask about, solved once a process; a solution cannot be changed."""

from __future__ import annotations

from functools import cache

from calc.plan import Plan
from calc.solve import Design, solve


def solved(typed: dict[str, str]) -> Design:
    """The solution of a plan by what was typed."""
    return _solved(tuple(sorted(typed.items())))


@cache
def _solved(typed: tuple[tuple[str, str], ...]) -> Design:
    return solve(Plan(dict(typed)))
