"""Dates and hours of the day as people type them; a calendar and a day of weather need them, no unit fits them."""

from __future__ import annotations

import re
from datetime import date

from .errors import UnreadableQuantity

EARLIEST, LATEST = date(2000, 1, 1), date(2100, 12, 31)
_DATE = re.compile(r"(\d{4})-(\d{1,2})-(\d{1,2})", re.ASCII)
_CLOCK = re.compile(r"(\d{1,2})(?:[:.](\d{2}))?\s*(am|pm|a\.m\.|p\.m\.|h)?", re.ASCII | re.IGNORECASE)


def read_date(text: str) -> date:
    """A day written year-month-day (ISO 8601), from 2000 to 2100; raises UnreadableQuantity with a sentence's rest."""
    found = _DATE.fullmatch(text.strip())
    if not found:
        raise UnreadableQuantity("must be a date, written like 2027-03-15: year, month, day")
    try:
        day = date(*map(int, found.groups()))
    except ValueError:
        raise UnreadableQuantity("must be a day that the calendar has, written like 2027-03-15") from None
    if not EARLIEST <= day <= LATEST:
        raise UnreadableQuantity(f"must be between {EARLIEST} and {LATEST}")
    return day


def read_clock(text: str) -> float:
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
