"""A sheet of paper for sums: each line is reckoned from the numbers as they stand on it, as a pocket calculator does.

So a reader who types a line meets its right side, and what is carried on is what was written down, not a longer number
that nobody sees.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from math import acos, ceil, degrees, floor, isfinite, pi, sqrt
from typing import Any

from ... import moments, units
from ...figures import written_out
from ...solve import SPECS, Design

# How a number or a sum binds: a sum as part of a product takes brackets, and so does whatever stands behind a stroke.
_SUM, _PRODUCT, _NUMBER = range(3)


class NoSum(Exception):
    """A result is not found by such a sum here: by another way, from a reading, or by a search."""


@dataclass(frozen=True)
class Term:
    """Part of a line as written, and what it comes to."""

    text: str
    value: float
    binds: int = _NUMBER

    def _as(self, least: int) -> str:
        return self.text if self.binds >= least else f"({self.text})"

    def __add__(self, other: Term) -> Term:
        return Term(f"{self.text} + {other.text}", self.value + other.value, _SUM)

    def __sub__(self, other: Term) -> Term:
        return Term(f"{self.text} - {other._as(_PRODUCT)}", self.value - other.value, _SUM)

    def __mul__(self, other: Term) -> Term:
        return Term(f"{self._as(_PRODUCT)} x {other._as(_PRODUCT)}", self.value * other.value, _PRODUCT)

    def __truediv__(self, other: Term) -> Term:
        if other.value == 0.0:
            raise NoSum
        return Term(f"{self._as(_PRODUCT)} / {other._as(_NUMBER)}", self.value / other.value, _PRODUCT)


class Pad:
    """The lines of one sum for one result; ``digits`` is how many of a number are written down."""

    def __init__(self, design: Design, key: str, digits: int):
        self.design, self.key, self.digits = design, key, digits
        self.us = design.system != "metric"
        self.lines: list[str] = []
        # The result as these lines come to it, said as the page says results; empty until the last line.
        self.said = ""

    def num(self, value: float) -> Term:
        """A number as it is written down."""
        if not isfinite(value):
            raise NoSum
        text = written_out(value, self.digits)
        plain = text.replace(",", "")
        binds = _NUMBER if value >= 0.0 else _SUM
        return Term(text, float(plain), binds)

    def pi(self) -> Term:
        """The number of the circle, never with fewer than five digits: everybody knows it so."""
        text = units.number(pi, max(self.digits, 5))
        return Term(text, float(text))

    def value(self, key: str) -> float:
        """A number of the plan or an answer in its base unit; NoSum where there is none."""
        found = self.design.value(key)
        if isinstance(found, bool) or not isinstance(found, (int, float)):
            raise NoSum
        return found

    def text(self, key: str) -> str:
        """A choice of the plan, or an answer in words; empty where there is none."""
        return str(self.design.value(key) or "")

    def whole(self, key: str) -> Term:
        """A count."""
        return Term(units.count(self.value(key)), float(round(self.value(key))))

    def times(self, count_key: str, term: Term) -> Term:
        """So many of one thing; one of it is the thing itself."""
        count = self.whole(count_key)
        return term if count.value == 1.0 else count * term

    def read(self, key: str, kind: str, us: str, metric: str = "") -> Term:
        """A number of the plan or an answer, in the unit that this reader reckons in."""
        return self.put(self.value(key), kind, us, metric)

    def typed(self, key: str, kind: str, us: str, metric: str = "") -> Term:
        """The reader's own number, where an answer has the same name; NoSum where there is none."""
        found = self.design.plan.values.get(key)
        if not isinstance(found, (int, float)):
            raise NoSum
        return self.put(float(found), kind, us, metric)

    def put(self, value: float, kind: str, us: str, metric: str = "") -> Term:
        """Another value of that kind, in the unit that this reader reckons in."""
        return self.num(units.convert(value, kind, us if self.us else metric or us))

    def inputs(self, name: str) -> float:
        """What the relation of the result was given under this name."""
        answer = self.design.answers[self.key]
        found: Any = answer.inputs.get(name)
        if not isinstance(found, (int, float)):
            raise NoSum
        return float(found)

    def rows(self, key: str) -> list[dict[str, Any]]:
        """The rows of an answer."""
        found = self.design.value(key)
        if not isinstance(found, list) or not found:
            raise NoSum
        return found

    def gives(self, label: str, term: Term, unit: str = "") -> Term:
        """Write a line down, and what it gives is what goes on; a number alone is no line."""
        if term.binds == _NUMBER:
            return term
        found = self.num(term.value)
        self.lines.append(f"{label}: {term.text} = {found.text} {unit}".rstrip())
        return found

    def root(self, label: str, term: Term, unit: str = "") -> Term:
        """Write down the square root of a number; NoSum below nothing."""
        if term.value < 0.0:
            raise NoSum
        found = self.num(sqrt(term.value))
        self.lines.append(f"{label}: √{term._as(_NUMBER)} = {found.text} {unit}".rstrip())
        return found

    def angle(self, label: str, cosine: Term) -> Term:
        """Write down the angle in degrees that has this cosine; NoSum where none has."""
        if not -1.0 <= cosine.value <= 1.0:
            raise NoSum
        found = self.num(degrees(acos(cosine.value)))
        self.lines.append(f"{label}: arccos {cosine._as(_NUMBER)} = {found.text} degrees")
        return found

    def rounded(self, label: str, term: Term, up: bool = True) -> Term:
        """A line whose result is taken up, or down, to a whole number."""
        found = self.num(term.value)
        way = ceil if up else floor
        whole = Term(units.count(way(found.value)), float(way(found.value)))
        said = "" if whole.value == found.value else f", rounded {'up' if up else 'down'} {whole.text}"
        self.lines.append(f"{label}: {term.text} = {found.text}{said}")
        return whole

    def total(self, terms: Iterable[Term]) -> Term:
        """All added up; NoSum of nothing."""
        found: Term | None = None
        for term in terms:
            found = term if found is None else found + term
        if found is None:
            raise NoSum
        return found

    def shows(self, label: str, term: Term, us: str = "", metric: str = "") -> None:
        """The last line: what it gives is said as the page says the result."""
        spec = SPECS[self.key]
        symbol = us if self.us else metric or us
        base = term.value
        if spec.kind in units.KINDS and symbol:
            unit = units.KINDS[spec.kind].units[symbol]
            base = term.value * unit.factor + unit.offset
        self.said = self.design.shown_as(self.key, base)
        plain = self.said.endswith(f" {units.written(symbol)}") if symbol else True
        straight = plain and "/" not in self.said.removesuffix(units.written(symbol))
        right = self.said if straight else f"{self.num(term.value).text} {units.written(symbol)}, or {self.said}"
        if term.binds != _NUMBER:
            self.lines.append(f"{label}: {term.text} = {right}")
        elif self.lines and ", rounded " not in self.lines[-1]:
            # The line before is the last one already.
            self.lines[-1] = f"{self.lines[-1].rpartition(' = ')[0]} = {right}"

    def counts(self, label: str, term: Term, up: bool = True) -> None:
        """The last line of a count that is rounded to whole things."""
        self.said = units.count(self.rounded(label, term, up).value)

    def day(self, label: str, start: date, days: int) -> None:
        """The last line of a date, so many days after another."""
        end = start + timedelta(days)
        self.said = moments.show_date(end)
        self.lines.append(f"{label}: {moments.show_date(start)} + {days:,} days = {self.said}")
