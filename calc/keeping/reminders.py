"""The rounds as an iCalendar file (RFC 5545) that repeats, so that a phone can remind of cleaning and of the change."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from .. import icalendar
from . import trends
from .bath import Bath
from .entries import Entry
from .rounds import Done
from .waterwork import work_of

PRODUCT = "-//Raftwright//Rounds of a raft bath//EN"
HOST = "rounds.raftwright.invalid"


@dataclass(frozen=True)
class Reminder:
    """Something that comes again: a code, its day, every how many days (0: once), and the words."""

    code: str
    day: date
    every: int
    summary: str
    description: str


def reminders(bath: Bath, entries: Iterable[Entry], now: datetime) -> list[Reminder]:
    """What this bath is to be reminded of, from the log's last times on; from today where the log does not tell."""
    log: Sequence[Entry] = list(entries)
    done, today = Done(log), now.date()

    def following(last: date | None, every: int) -> date:
        return today if last is None else max(last + timedelta(days=every), today)
    work = work_of(bath.design)
    last = {"strainer": done.last("cleaned", "strainer"), "meters": done.last("checked"),
            "change": done.last("changed")}
    found = [Reminder(code, following(last[code], work[code].every), work[code].every, work[code].summary,
                      work[code].description) for code in last if code in work]
    found += [Reminder(f"due-{one.code}", max(one.at.date(), today), 0, one.what, one.why)
              for one in trends.due(bath, log, now)]
    return found


def write(found: Iterable[Reminder], now: datetime, bath: str = "") -> str:
    """Reminders as iCalendar text. A second import for the same ``bath`` moves an event and does not double it; those
    of another bath stay."""
    whose = icalendar.mark(bath)
    return icalendar.write((icalendar.Event(f"{one.code}-{whose}@{HOST}", one.day, one.summary, one.description,
                                            one.every) for one in found), now.date(), PRODUCT)
