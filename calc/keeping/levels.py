"""What a level says by itself: more water gone than the plan says, or more than the mark; topping up comes after."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from .. import units
from .acts import Act, Caution
from .bath import Bath
from .entries import READING, Entry, in_order, values_of
from .latest import FRESH, Latest

DAY_S = 86400.0
# So many times what goes by the plan, drunk and evaporated, and this share of all the water besides, is no thirst any
# more; over more days than these, nothing can be told (engineering judgment, no source).
THIRST, SHARE, MOST_D = 3.0, 0.02, 10.0
PLUGS = Caution("Water near a plug or a cord?", "Stay out of it, and switch off at the breaker first.")


def _gone(bath: Bath, entries: Iterable[Entry], now: datetime) -> tuple[float, float] | None:
    """Water in m3 that went between the last two levels, with what was poured between, and the days of it."""
    before: tuple[datetime, float] | None = None
    last: tuple[datetime, float, float] | None = None
    poured = 0.0
    for entry in in_order(entries):
        if entry.moment > now:
            break
        if entry.kind == "changed":
            before, last, poured = None, None, 0.0
        numbers = values_of(entry, bath.system).numbers if entry.kind == READING else {}
        there = None if "level" not in numbers else bath.water_read(numbers["level"])
        if there is not None:
            if before is not None:
                last = entry.moment, before[1] + poured - there, (entry.moment - before[0]).total_seconds() / DAY_S
            before, poured = (entry.moment, there), 0.0
        # What stands with a level was poured after it was read.
        poured += bath.poured(numbers)
    if last is None or now - last[0] > FRESH or not 0.0 < last[2] <= MOST_D:
        return None
    return last[1], last[2]


def _span(days: float) -> str:
    """A stretch of time in words."""
    hours = round(days * 24.0)
    if hours < 36:
        return "in less than an hour" if hours < 1 else "in an hour" if hours == 1 else f"in {hours} hours"
    return f"in {round(days)} days"


def leak(bath: Bath, known: Latest, entries: Iterable[Entry], now: datetime) -> Act | None:
    """Where more is gone than the plan says: look, before water is added that may run out as well."""
    band, level, a_day = bath.bands.get("level"), known.fresh(now).get("level"), bath.number("use.gone")
    # A still bath may fall far below its mark, and a leak shows before that.
    falls = band is not None and level is not None and (bath.still or band.word(level) == "low")
    if not falls or not a_day or not bath.working:
        return None
    found = _gone(bath, entries, now)
    if found is None or found[0] <= THIRST * a_day * found[1] + SHARE * bath.working:
        return None

    def said(value: float) -> str:
        return units.show(value, "volume", bath.system, "gal", "L")
    where = ("the floor, every joint, and the overflow: a strainer that is blocked keeps the water in the bath, up to "
             "its rim" if bath.circulates else "the floor and under the bath")
    then = (("Then read", "the level again in an hour.") if bath.still
            else ("Then top up,", "and read the level again in an hour."))
    return Act("leak", "Look where the water went", f"{said(found[0])} went {_span(found[1])}, and by your plan "
               f"{said(a_day)} goes in a day. Look at {where}. Was the level read right?", caution=PLUGS,
               then=then, log={"kind": "done"})


def high(bath: Bath, known: Latest, now: datetime) -> Act | None:
    """Where more stands in the vessel than its mark says."""
    band, level = bath.bands.get("level"), known.fresh(now).get("level")
    if band is None or level is None or bath.mark is None or band.word(level) != "high":
        return None
    over = f"It stands {bath.show('level', level - bath.mark)} over its mark."
    deep = bath.sheet.input_if_any(f"{bath.vessel}.depth")
    if deep is not None and level > deep:
        return Act("high", "Read the level once more", f"{bath.show('level', level)} is deeper than your "
                   f"{bath.vessel}, {bath.show('level', deep)}.", minutes=1, log={"kind": "done"})
    if not bath.circulates:
        return Act("high", "See why the bath stands high", f"{over} Rain, or a top-up too large? Dip out down to the "
                   "mark, so that a lifted board or a hand spills nothing.", minutes=5, log={"kind": "done"})
    return Act("high", "See why the reservoir stands high", f"{over} Did the pump stop, so that water ran back? See "
               "that water runs in and over the rim. If all runs, rain or a large top-up did it: no harm, as long as "
               "there is room for what runs back.", minutes=5, log={"kind": "done"})


def acts(bath: Bath, known: Latest, entries: Iterable[Entry], now: datetime) -> list[Act]:
    """The lines that the level asks for before any water is added."""
    return [one for one in (leak(bath, known, entries, now), high(bath, known, now)) if one is not None]
