"""Signs weighed against causes by Bayes' rule, and the question whose answer is expected to tell most."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import lru_cache
from math import log2

from .causes import CAUSES, Cause
from .signs import EITHER, SIGNS

# No share is ever nothing or all: a table is never that sure.
LEAST, MOST = 0.01, 0.97


def shown_by(cause: Cause, sign: str) -> float:
    """The share of baths with this cause that show this sign."""
    return min(max(cause.signs.get(sign, SIGNS[sign].often), LEAST), MOST)


@lru_cache(maxsize=128)
def _column(sign: str) -> tuple[float, ...]:
    """The shares of all causes that show a sign, in their order."""
    return tuple(shown_by(cause, sign) for cause in CAUSES.values())


def shares(present: Iterable[str], absent: Iterable[str] = ()) -> dict[str, float]:
    """How likely each cause is, all together 1: its weight times the shares of its signs seen and not seen.

    Signs are taken to show independently of each other once the cause is given, which overdoes what two signs of one
    thing say; so shares are told in tenths only.

    >>> from calc.keeping.trouble.weigh import shares
    >>> found = shares(["one-stone"])
    >>> max(found, key=found.get)
    'stone'
    """
    found = {}
    there, not_there = list(present), list(absent)
    for key, cause in CAUSES.items():
        product = cause.weight
        for sign in there:
            product *= shown_by(cause, sign)
        for sign in not_there:
            product *= 1.0 - shown_by(cause, sign)
        found[key] = product
    whole = sum(found.values())
    return {key: value / whole for key, value in found.items()}


def bits(found: Mapping[str, float]) -> float:
    """How much is still open, in bits: Shannon's entropy of the shares."""
    return -sum(value * log2(value) for value in found.values() if value > 0.0)


def expected_gain(found: Mapping[str, float], sign: str) -> float:
    """By how many bits the answer to one question is expected to lessen what is open."""
    column, each = _column(sign), [found[key] for key in CAUSES]
    there = [share * shown for share, shown in zip(each, column, strict=True)]
    gone = [share - seen for share, seen in zip(each, there, strict=True)]
    return bits(found) - _open(there) - _open(gone)


def _open(parts: Iterable[float]) -> float:
    """Bits still open after an answer, times its chance; ``parts`` are the shares that go with it."""
    kept = [part for part in parts if part > 0.0]
    chance = sum(kept)
    return chance * log2(chance) - sum(part * log2(part) for part in kept) if chance > 0.0 else 0.0


def questions(found: Mapping[str, float], known: Iterable[str],
              present: Iterable[str] = ()) -> list[tuple[str, float]]:
    """The signs that are not known, with what each is expected to tell, the most telling first.

    What a sign that is ``present`` rules out by itself is not asked.
    """
    asked, there = {*known, *present}, set(present)
    asked |= {sign for one in EITHER if there & one for sign in one}
    gains = [(sign, expected_gain(found, sign)) for sign in SIGNS if sign not in asked]
    return sorted(gains, key=lambda one: -one[1])


def evidence(cause: Cause, present: Iterable[str], absent: Iterable[str]) -> tuple[list[str], list[str]]:
    """Signs (or their absence, as "no <sign>") that speak for a cause and those that speak against it.

    For or against by a third at least, beside the sign in any bath.
    """
    for_it: list[tuple[float, str]] = []
    against: list[tuple[float, str]] = []
    for sign, mark, seen in [*((sign, "", True) for sign in present), *((sign, "no ", False) for sign in absent)]:
        share, usual = shown_by(cause, sign), max(SIGNS[sign].often, LEAST)
        ratio = share / usual if seen else (1.0 - share) / (1.0 - usual)
        if ratio > 4.0 / 3.0:
            for_it.append((-ratio, mark + sign))
        elif ratio < 3.0 / 4.0:
            against.append((ratio, mark + sign))
    return [name for _, name in sorted(for_it)], [name for _, name in sorted(against)]


def tenths(share: float) -> str:
    """A share in words, no finer than a tenth."""
    if share < 0.05:
        return "less than 1 in 10"
    if share > 0.95:
        return "nearly certain"
    return f"about {round(share * 10)} in 10"
