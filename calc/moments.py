"""Dates and hours of the day as people type them; a calendar and a day of weather need them, no unit fits them."""

from __future__ import annotations

import re
from datetime import date

from .errors import UnreadableQuantity

EARLIEST, LATEST = date(2000, 1, 1), date(2100, 12, 31)
_DATE = re.compile(r"(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})", re.ASCII)
_YEAR_LAST = re.compile(r"(\d{1,2})([/.-])(\d{1,2})\2(\d{4}|\d{2})", re.ASCII)
_WITH_NAME = re.compile(r"(?:([a-z]{3,9})\.? (\d{1,2})|(\d{1,2})\.? ([a-z]{3,9})\.?) (\d{4})", re.ASCII | re.IGNORECASE)
_MONTHS = "jan feb mar apr may jun jul aug sep oct nov dec".split()
_CLOCK = re.compile(r"(\d{1,2})(?:[:.](\d{2}))?\s*(am|pm|a\.m\.|p\.m\.|h)?", re.ASCII | re.IGNORECASE)


def _numbers_of_date(text: str, system: str) -> tuple[int, int, int] | None:
    """Year, month and day as written; ``None`` for what is no date.

    Raises UnreadableQuantity where day and month could be either way round: only US readers write 3/1/2027 in one way.
    """
    found = _DATE.fullmatch(text)
    if found:
        return int(found[1]), int(found[2]), int(found[3])
    found = _WITH_NAME.fullmatch(text)
    if found:
        name = next(word for word in (found[1], found[4]) if word)[:3].lower()
        day = found[2] or found[3]
        return (_year(found[5]), _MONTHS.index(name) + 1, int(day)) if name in _MONTHS else None
    found = _YEAR_LAST.fullmatch(text)
    if not found:
        return None
    first, second, year = int(found[1]), int(found[3]), _year(found[4])
    if found[2] == "." or first > 12:
        return year, second, first
    if system == "us" or second > 12 or first == second:
        return year, first, second
    raise UnreadableQuantity(f"could be {year}-{second:02d}-{first:02d} or {year}-{first:02d}-{second:02d}: type the "
                             "one you mean, as year, month, day")


def _year(text: str) -> int:
    return int(text) + (2000 if len(text) == 2 else 0)


def read_date(text: str, system: str = "metric") -> date:
    """A day from 2000 to 2100: 2027-03-15, March 15, 2027, 15 Mar 2027, 15.3.2027, and in the US 3/15/2027.

    Raises UnreadableQuantity with a sentence's rest.
    """
    numbers = _numbers_of_date(" ".join(text.replace(",", " ").split()), system)
    if numbers is None:
        raise UnreadableQuantity("must be a date, written like 2027-03-15: year, month, day")
    try:
        day = date(*numbers)
    except ValueError:
        raise UnreadableQuantity("must be a day that the calendar has, written like 2027-03-15") from None
    if not EARLIEST <= day <= LATEST:
        raise UnreadableQuantity(f"must be between {EARLIEST} and {LATEST}")
    return day


def read_clock(text: str, system: str = "") -> float:
    """Hour of the day from 0 to below 24: "5 am", "14:30", "15"; raises UnreadableQuantity with a sentence's rest."""
    found = _CLOCK.fullmatch(text.strip())
    if not found:
        raise UnreadableQuantity("must be an hour of the day, like 3 pm or 15:00")
    hour, minute, half = int(found[1]), int(found[2] or 0), (found[3] or "").lower().replace(".", "")
    twelve = half in ("am", "pm")
    if minute > 59 or hour > (12 if twelve else 23) or (twelve and hour == 0):
        raise UnreadableQuantity("must be an hour that a clock shows, like 3 pm or 15:00")
    if twelve:
        hour = hour % 12 + (12 if half == "pm" else 0)
    return hour + minute / 60.0


def show_date(day: date) -> str:
    """A day as it may be typed again."""
    return day.isoformat()


def show_clock(hours: float, system: str) -> str:
    """An hour of the day to the minute: "3:00 pm" for US readers, "15:00" for others; hours past midnight wrap."""
    minutes = round(hours * 60.0) % 1440
    hour, minute = divmod(minutes, 60)
    if system == "metric":
        return f"{hour:02d}:{minute:02d}"
    return f"{(hour - 1) % 12 + 1}:{minute:02d} {'am' if hour < 12 else 'pm'}"
