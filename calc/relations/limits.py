"""Refusals in one wording, so that every relation says what was out of range, the range and the unit."""

from __future__ import annotations

from math import inf

from ..errors import OutOfRange
from ..figures import scientific


def above(quantity: str, value: float, unit: str = "", least: float = 0.0) -> None:
    """Raise OutOfRange unless ``value`` is a finite number above ``least``."""
    if not least < value < inf:
        raise OutOfRange(f"{quantity} must be more than {_amount(least, unit)}.")


def at_least(quantity: str, value: float, unit: str = "", least: float = 0.0) -> None:
    """Raise OutOfRange unless ``value`` is a finite number of ``least`` or more."""
    if not least <= value < inf:
        raise OutOfRange(f"{quantity} must be {_amount(least, unit)} or more.")


def between(quantity: str, value: float, least: float, most: float, unit: str = "") -> None:
    """Raise OutOfRange unless ``value`` lies from ``least`` to ``most``, both included."""
    if not least <= value <= most:
        raise OutOfRange(f"{quantity} must be between {scientific(least)} and {_amount(most, unit)}.")


def _amount(value: float, unit: str) -> str:
    return f"{scientific(value)} {unit}".rstrip()
