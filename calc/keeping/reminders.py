"""The rounds as an iCalendar file (RFC 5545) that repeats, so that a phone can remind of cleaning and of the change."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from ..render.calendar import PRODUCT, escape, fold
from . import trends
from .bath import Bath
from .entries import Entry
from .rounds import METERS_D, STRAINER_D, Done

HOST = "rounds.raftwright.invalid"
DAY_S = 86400.0


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
    found = []
    if bath.circulates:
        found.append(Reminder("strainer", following(done.last("cleaned", "strainer"), STRAINER_D), STRAINER_D,
                              "Clean the overflow strainer", "Unplug the pump before your hand goes in."))
    found.append(Reminder("meters", following(done.last("checked"), METERS_D), METERS_D, "Check both meters in their "
                          "liquids", "Every dose of acid hangs on the pH meter."))
    after = bath.number("use.replace_after")
    if after:
        every = int(after // DAY_S)
        found.append(Reminder("change", following(done.last("changed"), every), every, "Change the solution",
                              f"{bath.design.shown('water.working_volume')} anew. Unplug first; old solution goes on "
                              "soil or to the sewer."))
    found += [Reminder(f"due-{one.code}", max(one.at.date(), today), 0, one.what, one.why)
              for one in trends.due(bath, log, now)]
    return found


def write(found: Iterable[Reminder], now: datetime) -> str:
    """Reminders as iCalendar text. A second import moves an event and does not double it."""
    stamp = f"{now:%Y%m%d}T000000Z"
    lines = ["BEGIN:VCALENDAR", "VERSION:2.0", f"PRODID:{PRODUCT}", "CALSCALE:GREGORIAN"]
    for one in found:
        lines += ["BEGIN:VEVENT", f"UID:{one.code}@{HOST}", f"DTSTAMP:{stamp}", f"DTSTART;VALUE=DATE:{one.day:%Y%m%d}",
                  f"DTEND;VALUE=DATE:{one.day + timedelta(days=1):%Y%m%d}"]
        lines += [f"RRULE:FREQ=DAILY;INTERVAL={one.every}"] if one.every else []
        lines += [f"SUMMARY:{escape(one.summary)}", f"DESCRIPTION:{escape(one.description)}", "TRANSP:TRANSPARENT",
                  "END:VEVENT"]
    return "".join(map(fold, [*lines, "END:VCALENDAR"]))
