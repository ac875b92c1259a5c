"""The calendar as an iCalendar file (RFC 5545), so that a phone can remind of sowing, moving and cutting."""

from __future__ import annotations

from datetime import date, timedelta

from ..declare import Row
from ..solve import Design

PRODUCT = "-//Raftwright//Raft bath calendar//EN"
HOST = "calendar.raftwright.invalid"
LINE_OCTETS = 75


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


def _plural(count: int, one: str, more: str = "") -> str:
    return f"{count:,} {one if count == 1 else more or one + 's'}"


def events(row: Row) -> list[tuple[str, str, str, str]]:
    """(what, day, summary, description) of one batch's dates; ``row`` as in schedule.batches."""
    name, batch = row["name"], f"Batch {row['batch']} of {row['name']}."
    found = [
        ("sow", row["sow"], f"Start {name}: {_plural(row['seeds'], row['begins'])}",
         f"{batch} {_plural(row['cells'], 'cell')} in the nursery, for {_plural(row['plants'], 'plant')} on the raft."),
        ("transplant", row["transplant"], f"Move to the raft: {_plural(row['plants'], 'plant')} of {name}",
         f"{batch} Keep the even seedlings, throw out the weak ones."
         + (" To the board with close holes." if row["apart"] else "")),
    ]
    if row["apart"]:
        found.append(("apart", row["apart"], f"Move apart: {_plural(row['plants'], 'plant')} of {name}",
                      f"{batch} From the close board to full spacing."))
    early = f" It may be ready from {row['ready']}." if row["ready"] != row["harvest"] else ""
    found.append(("harvest", row["harvest"], f"Harvest by today: {_plural(row['heads'], 'head')} of {name}",
                  f"{batch}{early} The sites are wanted for the next batch. Wash hands, use a clean knife, chill the "
                  "harvest at once."))
    return found


def _event(row: Row, event: tuple[str, str, str, str], stamp: str) -> list[str]:
    what, day, summary, description = event
    first = date.fromisoformat(day)
    crop = row["crop"].replace(" ", "-")
    # One batch of one plan keeps its name when sizes change, so that a second import moves events, not doubles them.
    name = f"{row['sow']}-{crop}-{row['batch']}-{what}@{HOST}"
    return ["BEGIN:VEVENT", f"UID:{name}", f"DTSTAMP:{stamp}", f"DTSTART;VALUE=DATE:{first:%Y%m%d}",
            f"DTEND;VALUE=DATE:{first + timedelta(1):%Y%m%d}", f"SUMMARY:{escape(summary)}",
            f"DESCRIPTION:{escape(description)}", "TRANSP:TRANSPARENT", "END:VEVENT"]


def write(design: Design) -> str:
    """All dates of the calendar as iCalendar text; "" where there is no date, for an empty calendar is not allowed.

    The stamp is the first day of sowing, not the clock, so that one plan always gives one file.
    """
    rows, start = design.value("schedule.batches"), design.value("schedule.start")
    if not rows or start is None:
        return ""
    stamp = f"{start:%Y%m%d}T000000Z"
    lines = ["BEGIN:VCALENDAR", "VERSION:2.0", f"PRODID:{PRODUCT}", "CALSCALE:GREGORIAN"]
    for row in rows:
        for event in events(row):
            lines += _event(row, event, stamp)
    return "".join(map(fold, [*lines, "END:VCALENDAR"]))
