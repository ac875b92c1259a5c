"""The iCalendar format (RFC 5545) by itself, for all who write dates for a phone: texts, lines, whole days."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from zlib import crc32

LINE_OCTETS = 75


@dataclass(frozen=True)
class Event:
    """A whole day: its name (what a second import moves it by), and what is said of it.

    ``every`` is after how many days it comes again, 0 for once; ``until`` the last day on which it may, ``without`` the
    days on which it does not.
    """

    uid: str
    day: date
    summary: str
    description: str
    every: int = 0
    until: date | None = None
    without: Sequence[date] = ()


def mark(text: str) -> str:
    """Eight letters that stand for a text in the name of an event."""
    return f"{crc32(text.encode('utf-8', 'replace')):08x}"


def escape(text: str) -> str:
    """A TEXT value by RFC 5545, 3.3.11; other control characters have no place in one and are left out."""
    text = text.replace("\\", "\\\\").replace(";", "\\;").replace(",", "\\,")
    text = text.replace("\r\n", "\n").replace("\r", "\n").replace("\n", "\\n")
    return "".join(letter for letter in text if letter == "\t" or (ord(letter) >= 32 and ord(letter) != 127))


def fold(line: str) -> str:
    """One content line by RFC 5545, 3.1: no piece longer than 75 octets, no letter cut in two, CRLF at the end."""
    pieces, piece, size = [], "", 0
    for letter in line:
        octets = len(letter.encode("utf-8"))
        # The blank that begins a later piece counts too.
        if size + octets > LINE_OCTETS:
            pieces.append(piece)
            piece, size = " ", 1
        piece += letter
        size += octets
    return "\r\n".join([*pieces, piece]) + "\r\n"


def _lines(event: Event, stamp: str) -> list[str]:
    lines = ["BEGIN:VEVENT", f"UID:{event.uid}", f"DTSTAMP:{stamp}", f"DTSTART;VALUE=DATE:{event.day:%Y%m%d}",
             f"DTEND;VALUE=DATE:{event.day + timedelta(1):%Y%m%d}"]
    if event.every:
        until = f";UNTIL={event.until:%Y%m%d}" if event.until else ""
        lines.append(f"RRULE:FREQ=DAILY;INTERVAL={event.every}{until}")
    if event.without:
        lines.append("EXDATE;VALUE=DATE:" + ",".join(f"{day:%Y%m%d}" for day in event.without))
    return [*lines, f"SUMMARY:{escape(event.summary)}", f"DESCRIPTION:{escape(event.description)}",
            "TRANSP:TRANSPARENT", "END:VEVENT"]


def write(events: Iterable[Event], stamp: date, product: str) -> str:
    """A whole calendar as text. ``stamp`` is the day that it was made of, ``product`` who wrote it."""
    lines = ["BEGIN:VCALENDAR", "VERSION:2.0", f"PRODID:{product}", "CALSCALE:GREGORIAN"]
    for event in events:
        lines += _lines(event, f"{stamp:%Y%m%d}T000000Z")
    return "".join(map(fold, [*lines, "END:VCALENDAR"]))
