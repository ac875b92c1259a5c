"""Guesses of oxygen made better by a meter: each moved as far as it may have caused what the meter shows."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from math import exp, log, sqrt

from ..data import roots as data
from ..relations import reading as physics
from . import balance
from .balance import HIGH, LIKELY, LOW, UNCERTAIN, Bath, Guess

# The ends of a band are its 5th and 95th percentile: so many standard deviations off.
NINETY = 1.6448536269514722
STEP = 0.05
ROUNDS = 12
MOST_STOP = 0.9
LEAST = 1e-6


@dataclass(frozen=True)
class Measured:
    """A reading in mg/L with its error (one standard deviation), and the bath and air (L/h) it was taken in."""

    level_mg_l: float
    error_mg_l: float
    bath: Bath
    air_l_h: float


@dataclass(frozen=True)
class Calibrated:
    """The guesses after a reading, ``likely``, and what is needed to say how sure any number is that hangs on them.

    ``surprise`` is how many standard deviations of guess and meter together the reading was off before.
    """

    likely: Guess
    spreads: dict[str, float]
    slopes: dict[str, float]
    seen: float
    error: float
    surprise: float


def _moved(guess: Guess, shifts: dict[str, float]) -> Guess:
    moved = replace(guess, **{name: getattr(guess, name) * exp(shift) for name, shift in shifts.items()})
    # Uptake stops below the level at which it begins to ease.
    return replace(moved, stop_mg_l=min(moved.stop_mg_l, MOST_STOP * data.CRITICAL_MG_L))


def _slopes(at: Callable[[Guess], float], guess: Guess, names: list[str]) -> dict[str, float]:
    """How much a number changes for a relative change of each guess."""
    return {name: (at(_moved(guess, {name: STEP})) - at(_moved(guess, {name: -STEP}))) / (2 * STEP) for name in names}


def strain(bath: Bath, air_l_h: float) -> Callable[[Guess], float]:
    """What the bath lacks of the level that bubbles drive it to, as a logarithm; nearly straight in the guesses'."""
    most = balance.limits(bath)[1]
    return lambda guess: log(max(most - balance.steady(bath, guess, air_l_h)[0], LEAST))


def calibrate(ends: dict[str, Guess], measured: Measured) -> Calibrated:
    """The likeliest guesses in the light of a reading: those that may be far off move most, in small repeated steps."""
    start = ends[LIKELY]
    spreads = {name: abs(log(getattr(ends[HIGH], name) / getattr(ends[LOW], name))) / (2 * NINETY)
               for name in UNCERTAIN if getattr(ends[LOW], name) > 0.0 < getattr(ends[HIGH], name)
               and getattr(ends[HIGH], name) != getattr(ends[LOW], name)}
    names = list(spreads)
    most = balance.limits(measured.bath)[1]
    lacks = max(most - measured.level_mg_l, measured.error_mg_l / 2)
    seen, error = log(lacks), measured.error_mg_l / lacks
    at = strain(measured.bath, measured.air_l_h)
    shifts = dict.fromkeys(names, 0.0)
    slopes = _slopes(at, start, names)
    doubt = sqrt(sum((slopes[name] * spreads[name]) ** 2 for name in names) + error**2)
    surprise = abs(seen - at(start)) / doubt
    for _ in range(ROUNDS):
        here = _moved(start, shifts)
        slopes = _slopes(at, here, names)
        variance = sum((slopes[name] * spreads[name]) ** 2 for name in names)
        off = seen - at(here) + sum(slopes[name] * shifts[name] for name in names)
        next_shifts = {name: spreads[name] ** 2 * slopes[name] * off / (variance + error**2) for name in names}
        moved = max((abs(next_shifts[name] - shifts[name]) for name in names), default=0.0)
        # Half steps settle where the curve bends.
        shifts = {name: 0.5 * (shifts[name] + next_shifts[name]) for name in names}
        if moved < 1e-6:
            break
    spread = sqrt(sum((slopes[name] * spreads[name]) ** 2 for name in names))
    return Calibrated(_moved(start, shifts), spreads, slopes, spread, error, surprise)


def weight(found: Calibrated) -> float:
    """How far the reading was followed, 0 to 1."""
    return physics.reading_weight(guess_spread=found.seen, reading_spread=found.error)


def spread_of(found: Calibrated, at: Callable[[Guess], float]) -> float:
    """Standard deviation that is left of a number that hangs on the guesses."""
    slopes = _slopes(at, found.likely, list(found.spreads))
    own = sqrt(sum((slopes[name] * found.spreads[name]) ** 2 for name in slopes))
    if own <= 0.0 or found.seen <= 0.0:
        return own
    shared = sum(slopes[name] * found.slopes[name] * found.spreads[name] ** 2 for name in slopes)
    return physics.spread_left(guess_spread=own, weight=weight(found), likeness=shared / (own * found.seen))


def band(found: Calibrated, bath: Bath, air_l_h: float) -> tuple[float, float, float]:
    """Steady oxygen of the bath in mg/L: 5th percentile, likely and 95th, by the guesses after the reading."""
    at = strain(bath, air_l_h)
    middle, spread = at(found.likely), spread_of(found, at)
    most = balance.limits(bath)[1]
    low, high = (max(most - exp(middle + sign * NINETY * spread), 0.0) for sign in (1.0, -1.0))
    return low, balance.steady(bath, found.likely, air_l_h)[0], high


def factors(ends: dict[str, Guess], found: Calibrated, bath: Bath) -> tuple[float, float]:
    """Transfer by bubbles and demand after the reading, each over what was guessed before it."""
    before, after = ends[LIKELY], found.likely
    bubbles = (balance.bubble_transfer(bath, after, 1.0) / balance.bubble_transfer(bath, before, 1.0)
               if balance.bubble_transfer(bath, before, 1.0) > 0.0 else 1.0)
    wanted = sum(balance.demands(bath, before))
    return bubbles, (sum(balance.demands(bath, after)) / wanted if wanted > 0.0 else 1.0)
