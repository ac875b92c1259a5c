"""Who does the daily rounds in which week: turns in one order, so that nobody has two turns more than others."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta


@dataclass(frozen=True)
class Week:
    """A week of the rota: its number from 1, its first and last day, who is on duty, and who stands in for them.

    ``stand_in`` is "" where all members are on duty.
    """

    number: int
    first: date
    last: date
    on_duty: tuple[str, ...]
    stand_in: str


def rota(members: tuple[str, ...], start: date, weeks: int, on_duty: int = 1) -> list[Week]:
    """The weeks from ``start`` on; none without members.

    Members take turns in their order, ``on_duty`` of them a week (all, where there are fewer). So over any run of weeks
    from the first the numbers of turns differ by one at most, nobody is named twice in a week, and with twice as many
    members as turns nobody has two weeks in a row. Who stands in is whose turn comes next.

    >>> [week.on_duty[0] for week in rota(("Ana", "Ben", "Cleo"), date(2027, 3, 1), 4)]
    ['Ana', 'Ben', 'Cleo', 'Ana']
    """
    if not members:
        return []
    each = min(max(on_duty, 1), len(members))
    found = []
    for week in range(weeks):
        turns = [members[(week * each + at) % len(members)] for at in range(each + 1)]
        first = start + timedelta(weeks=week)
        found.append(Week(week + 1, first, first + timedelta(days=6), tuple(turns[:each]),
                          turns[each] if each < len(members) else ""))
    return found
