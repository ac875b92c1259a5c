"""Numbers for a class: a plan drawn from a class number, the same on every machine and in every version of Python."""

from __future__ import annotations

from collections.abc import Sequence

SMALLEST, LARGEST = 1, 9999
_MASK = (1 << 64) - 1


class Draw:
    """A row of draws that hangs on its first number alone (SplitMix64: Steele, Lea and Flood 2014, from memory).

    The library's dice promise no such thing from version to version.
    """

    def __init__(self, first: int):
        self.state = first & _MASK

    def _next(self) -> int:
        self.state = (self.state + 0x9E3779B97F4A7C15) & _MASK
        mixed = self.state
        mixed = ((mixed ^ (mixed >> 30)) * 0xBF58476D1CE4E5B9) & _MASK
        mixed = ((mixed ^ (mixed >> 27)) * 0x94D049BB133111EB) & _MASK
        return mixed ^ (mixed >> 31)

    def pick(self, choices: Sequence[int]) -> int:
        """One of the choices."""
        return choices[self._next() % len(choices)]


def plan_of(number: int, system: str) -> dict[str, str]:
    """The plan of a class as typed: a bath and its reservoir in round numbers; ``system`` is "us" or "metric".

    The numbers of both systems are of like size, and not the same: each is round in its own.
    """
    draw = Draw(number)
    us = system != "metric"
    length = draw.pick(range(36, 97, 6) if us else range(90, 241, 10))
    width = draw.pick(range(18, 37, 2) if us else range(45, 91, 5))
    deep = draw.pick(range(6, 13) if us else range(15, 31))
    reservoir = draw.pick(range(18, 61, 2) if us else range(70, 231, 10))
    small, large, volume, mass = ("in", "in", "gal", "lb") if us else ("cm", "cm", "L", "kg")
    return {
        "units": "us" if us else "metric",
        "bath.length": f"{length} {large}", "bath.width": f"{width} {large}",
        "bath.water_depth": f"{deep} {small}", "bath.depth": f"{deep + (2 if us else 5)} {small}",
        "bath.tank_mass": f"{draw.pick(range(10, 41)) if us else draw.pick(range(5, 19))} {mass}",
        "reservoir.known_volume": f"{reservoir} {volume}",
        "reservoir.brim_volume": f"{reservoir + draw.pick(range(8, 17) if us else range(30, 61, 5))} {volume}",
        "circulation.turnover": f"{draw.pick((1, 2))} /h",
        "energy.tariff": f"0.{draw.pick(range(12, 39))}", "energy.other_power": f"{draw.pick(range(0, 21, 5))} W",
        "acidity.alkalinity": f"{draw.pick(range(40, 181, 10))} mg/L",
        "feed.way": "salts", "feed.stock_strength": str(draw.pick((50, 100, 200))),
        "use.least": f"{draw.pick(range(20, 41, 5))} %",
    }
