"""Least squares without negative amounts, for nobody can weigh out minus three grams of a salt."""

from __future__ import annotations

from collections.abc import Sequence
from math import sqrt

# A column's part outside the span of the others, as a share of its length, below which it counts as inside.
INSIDE = 1e-7
STEEP = 1e-11


def _factor(gram: list[list[float]], chosen: list[int]) -> list[list[float]] | None:
    """Cholesky's triangle of the chosen part of a unit-diagonal Gram matrix; ``None`` where its columns depend."""
    low: list[list[float]] = []
    for i, place in enumerate(chosen):
        line = gram[place]
        row: list[float] = []
        for j in range(i):
            other = low[j]
            row.append((line[chosen[j]] - sum(map(_times, row, other))) / other[j])
        left = line[place] - sum(map(_times, row, row))
        if left <= INSIDE * INSIDE:
            return None
        row.append(sqrt(left))
        low.append(row)
    return low


def _back(low: list[list[float]], right: list[float]) -> list[float]:
    half: list[float] = []
    for row, value in zip(low, right, strict=True):
        half.append((value - sum(map(_times, row, half))) / row[-1])
    found = [0.0] * len(half)
    for i in range(len(half) - 1, -1, -1):
        amount = half[i] / low[i][i]
        found[i] = amount
        row = low[i]
        for j in range(i):
            half[j] -= row[j] * amount
    return found


def _times(one: float, other: float) -> float:
    return one * other


def _dot(one: Sequence[float], other: Sequence[float]) -> float:
    return sum(map(_times, one, other))


class Problem:
    """Minimise the length of A x - b over x >= 0, with A given as ``columns`` and b as ``aims``.

    The active set method of Lawson & Hanson, Solving Least Squares Problems (1974), chapter 23.
    """

    def __init__(self, columns: Sequence[Sequence[float]], aims: Sequence[float]):
        self.aims = list(aims)
        self.lengths = [sqrt(_dot(column, column)) for column in columns]
        self.unit = [[value / length for value in column] if length > 0.0 else list(column)
                     for column, length in zip(columns, self.lengths, strict=True)]
        self.gram = [[_dot(one, other) for other in self.unit] for one in self.unit]
        self.scale = sqrt(_dot(self.aims, self.aims))

    def residual(self, unit_amounts: Sequence[float]) -> list[float]:
        """What is left of the aims after these amounts of the unit columns."""
        left = list(self.aims)
        for amount, column in zip(unit_amounts, self.unit, strict=True):
            if amount != 0.0:
                left = [one - amount * part for one, part in zip(left, column, strict=True)]
        return left

    def _best(self, chosen: list[int]) -> list[float] | None:
        """Least squares on the chosen columns, refined twice against the columns themselves; order as ``chosen``."""
        low = _factor(self.gram, chosen)
        if low is None:
            return None
        found = [0.0] * len(chosen)
        left = self.aims
        for _ in range(3):
            step = _back(low, [_dot(self.unit[place], left) for place in chosen])
            found = [one + more for one, more in zip(found, step, strict=True)]
            full = [0.0] * len(self.unit)
            for place, amount in zip(chosen, found, strict=True):
                full[place] = amount
            left = self.residual(full)
        return found

    def _start(self, free: list[int]) -> tuple[list[float], list[int]]:
        """Amounts above nothing to set out from: all columns that do not depend on others, less those that go below."""
        chosen: list[int] = []
        for place in free:
            if _factor(self.gram, [*chosen, place]) is not None:
                chosen.append(place)
        while chosen:
            best = self._best(chosen) or [0.0] * len(chosen)
            if min(best) > 0.0:
                amounts = [0.0] * len(self.unit)
                for place, amount in zip(chosen, best, strict=True):
                    amounts[place] = amount
                return amounts, chosen
            chosen = [place for place, amount in zip(chosen, best, strict=True) if amount > 0.0]
        return [0.0] * len(self.unit), []

    def solve(self, allowed: Sequence[int] | None = None) -> tuple[list[float], float]:
        """The amounts, one for each column, and the length of what is left; only ``allowed`` columns may be used."""
        count = len(self.unit)
        free = [place for place in (range(count) if allowed is None else allowed) if self.lengths[place] > 0.0]
        amounts, chosen = self._start(free)
        left, spent = self.residual(amounts), set()
        for _ in range(10 * count + 10):
            pull = {place: _dot(self.unit[place], left) for place in free
                    if place not in chosen and place not in spent}
            place = max(pull, key=pull.__getitem__, default=None)
            if place is None or pull[place] <= STEEP * self.scale:
                break
            tried = self._take_in(amounts, chosen, place)
            if tried is None:
                spent.add(place)
                continue
            new_amounts, new_chosen = tried
            new_left = self.residual(new_amounts)
            if _dot(new_left, new_left) >= _dot(left, left):
                spent.add(place)
                continue
            amounts, chosen, left = new_amounts, new_chosen, new_left
            spent.clear()
        return ([amount / length if length > 0.0 else 0.0
                 for amount, length in zip(amounts, self.lengths, strict=True)], sqrt(_dot(left, left)))

    def _take_in(self, amounts: list[float], chosen: list[int],
                 place: int) -> tuple[list[float], list[int]] | None:
        """Amounts and columns after one more column has come in and those driven below nothing have gone."""
        amounts, chosen = list(amounts), [*chosen, place]
        while chosen:
            best = self._best(chosen)
            if best is None:
                return None
            if min(best) > 0.0:
                for each, amount in zip(chosen, best, strict=True):
                    amounts[each] = amount
                return amounts, chosen
            # Go towards the best as far as the first amount that reaches nothing, and leave that one out.
            part, gone = min((amounts[each] / (amounts[each] - amount) if amounts[each] > 0.0 else 0.0, each)
                             for each, amount in zip(chosen, best, strict=True) if amount <= 0.0)
            kept = []
            for each, amount in zip(chosen, best, strict=True):
                amounts[each] += part * (amount - amounts[each])
                if each == gone or (amount <= 0.0 and amounts[each] <= 0.0):
                    amounts[each] = 0.0
                else:
                    kept.append(each)
            chosen = kept
        return None

    def others(self, amounts: Sequence[float], allowed: Sequence[int] | None = None) -> list[int]:
        """Unused columns that could stand in for used ones without changing the fit: the answer is not the only one."""
        used = [place for place, amount in enumerate(amounts) if amount > 0.0]
        unit_amounts = [amount * length for amount, length in zip(amounts, self.lengths, strict=True)]
        left = self.residual(unit_amounts)
        found = []
        for place in range(len(self.unit)) if allowed is None else allowed:
            if place in used or self.lengths[place] == 0.0:
                continue
            flat = abs(_dot(self.unit[place], left)) <= 1e-8 * max(self.scale, 1e-300)
            if flat and _factor(self.gram, [*used, place]) is None:
                found.append(place)
        return found


def solve(columns: Sequence[Sequence[float]], aims: Sequence[float]) -> tuple[list[float], float]:
    """Amounts >= 0 of the columns that come nearest the aims, and the length of what is left."""
    return Problem(columns, aims).solve()
