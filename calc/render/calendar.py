"""The calendar as an iCalendar file, so that a phone can remind of sowing, moving, cutting and of the water."""

from __future__ import annotations

import json
from datetime import date, timedelta

from .. import icalendar
from ..declare import Row
from ..keeping import waterwork
from ..solve import Design

PRODUCT = "-//Raftwright//Raft bath calendar//EN"
HOST = "calendar.raftwright.invalid"


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


def whose(design: Design, name: str = "") -> str:
    """What stands for a plan in the names of its events: its name, which stays when sizes change, so that a second
    import moves events; without a name the plan itself, so that no plan ever writes over another's events."""
    return icalendar.mark(f"name {name}" if name else json.dumps(design.plan.lasting(), sort_keys=True))


def _of_batch(row: Row, plan: str) -> list[icalendar.Event]:
    crop = row["crop"].replace(" ", "-")
    return [icalendar.Event(f"{row['sow']}-{crop}-{row['batch']}-{what}-{plan}@{HOST}", date.fromisoformat(day),
                            summary, description) for what, day, summary, description in events(row)]


def _series(first: date, last: date, every: int) -> list[date]:
    return [first + timedelta(at) for at in range(0, (last - first).days + 1, every or 1)]


def _of_water(found: waterwork.Dated, plan: str) -> icalendar.Event:
    work, days = found.work, found.days
    # The series as it would be without the days that were left out of it.
    skipped = set(_series(days[0], days[-1], work.every)) - set(days)
    return icalendar.Event(f"water-{work.code}-{plan}@{HOST}", days[0], work.summary, work.description,
                           work.every if len(days) > 1 else 0, days[-1] if len(days) > 1 else None, sorted(skipped))


def write(design: Design, name: str = "") -> str:
    """All dates of the calendar as iCalendar text; "" where there is no date, for an empty calendar is not allowed.

    ``name`` is the plan's own, "" for none. The stamp is the first day of sowing, not the clock, so that one plan
    always gives one file.
    """
    rows, start = design.value("schedule.batches"), design.value("schedule.start")
    if not rows or start is None:
        return ""
    plan = whose(design, name)
    found = [event for row in rows for event in _of_batch(row, plan)]
    found += [_of_water(one, plan) for one in waterwork.dated(design)]
    return icalendar.write(found, start, PRODUCT)
