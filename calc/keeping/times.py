"""Date and time of a reading as people, meters and spreadsheets write them; which number is the month may be asked."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date, datetime

from ..errors import UnreadableQuantity
from ..moments import EARLIEST, LATEST, read_clock

MONTH_FIRST, DAY_FIRST = "month", "day"
ORDERS = (MONTH_FIRST, DAY_FIRST)
_MONTHS = "jan feb mar apr may jun jul aug sep oct nov dec".split()
_SPLIT = re.compile(r"[T\s,]+")
_ZONE = re.compile(r"(?<=\d)\s*(Z|UTC|GMT|[+-]\d{2}:?\d{2})$", re.ASCII)
_ISO = re.compile(r"(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})", re.ASCII)
_LAST = re.compile(r"(\d{1,2})([-/.])(\d{1,2})\2(\d{4}|\d{2})", re.ASCII)
_NAMED = re.compile(r"(?:([A-Za-z]{3,9})\.? (\d{1,2})|(\d{1,2})[. -]+([A-Za-z]{3,9})\.?)[ -](\d{4})", re.ASCII)
_SECONDS = re.compile(r"(\d{1,2}[:.]\d{2})[:.]\d{2}(?:[.,]\d+)?", re.ASCII)
WHAT = "must be a day and an hour, like 2026-11-25 7:12"


@dataclass(frozen=True)
class Written:
    """A moment as it was found: its days by the order of month and day that it may be in, and hours since midnight.

    ``days`` has one entry where only one reading is possible; ``zone`` is what was written behind it ("Z"), or "".
    """

    days: dict[str, date]
    hours: float
    zone: str = ""

    @property
    def unclear(self) -> bool:
        """Whether month and day could be either way round, for two different days."""
        return len(set(self.days.values())) > 1

    def at(self, order: str) -> datetime | None:
        """The moment with the month where ``order`` says; ``None`` where no day is written so."""
        day = self.days.get(order)
        if day is None:
            return None
        minutes = round(self.hours * 60.0)
        return datetime(day.year, day.month, day.day, minutes // 60, minutes % 60)


def _day(year: int, month: int, day: int) -> date | None:
    try:
        found = date(year + (2000 if year < 100 else 0), month, day)
    except ValueError:
        return None
    return found if EARLIEST <= found <= LATEST else None


def _days(text: str) -> dict[str, date]:
    found = _ISO.fullmatch(text)
    if found:
        one = _day(int(found[1]), int(found[2]), int(found[3]))
        return dict.fromkeys(ORDERS, one) if one else {}
    found = _NAMED.fullmatch(text)
    if found:
        name = (found[1] or found[4])[:3].lower()
        one = _day(int(found[5]), _MONTHS.index(name) + 1, int(found[2] or found[3])) if name in _MONTHS else None
        return dict.fromkeys(ORDERS, one) if one else {}
    found = _LAST.fullmatch(text)
    if not found:
        return {}
    first, second, year = int(found[1]), int(found[3]), int(found[4])
    # Points are written by those who write the day first.
    ways = {DAY_FIRST: _day(year, second, first)}
    if found[2] != ".":
        ways[MONTH_FIRST] = _day(year, first, second)
    else:
        ways[MONTH_FIRST] = ways[DAY_FIRST]
    return {order: one for order, one in ways.items() if one}


def read(text: str) -> Written:
    """A moment: 2026-11-25T07:12, 11/25/2026 7:12 am, 25.11.2026 07:12, Nov 25, 2026 7 pm; a bare day is its noon.

    Raises UnreadableQuantity with a sentence's rest. Seconds are read and dropped: a bath does not change in a minute.
    """
    whole = " ".join(text.replace("\u202f", " ").replace("\u00a0", " ").split())
    found = _ZONE.search(whole) if ":" in whole else None
    zone = found[1] if found else ""
    whole = whole[:found.start()] if found else whole
    words = [word for word in _SPLIT.split(whole) if word]
    for many in range(len(words), 0, -1):
        days = _days(" ".join(words[:many]))
        if not days:
            continue
        rest = " ".join(words[many:])
        if not rest:
            return Written(days, 12.0, zone)
        try:
            return Written(days, read_clock(_SECONDS.sub(r"\1", rest)), zone)
        except UnreadableQuantity:
            raise UnreadableQuantity(f"{WHAT}; the hour is not one that a clock shows") from None
    raise UnreadableQuantity(WHAT)


def read_moment(text: str, order: str) -> datetime:
    """A moment where the order of month and day is known; raises UnreadableQuantity with a sentence's rest."""
    written = read(text)
    found = written.at(order)
    if found is None:
        raise UnreadableQuantity(f"{WHAT}; this is no day with the {order} first")
    return found


def show(moment: datetime) -> str:
    """A moment as it is kept and may be typed again: 2026-11-25T07:12."""
    return moment.strftime("%Y-%m-%dT%H:%M")


def order_of(system: str) -> str:
    """Which number a reader of this system of units writes first."""
    return DAY_FIRST if system == "metric" else MONTH_FIRST
