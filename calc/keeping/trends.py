"""What two weeks of readings say: where pH and EC go, what water goes, how near saturation its oxygen is."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta
from typing import Any

from .. import units
from ..figures import number
from ..numeric.theil_sen import Slope, slope
from . import refit
from .acts import day_words
from .bath import Bath
from .entries import READING, Entry, unit_for, values_of, within
from .latest import REMEMBERED_D, latest
from .sanity import can_be

WINDOW_D, DAY_S = 14.0, 86400.0
# Fewer days, or fewer points, tell nothing: engineering judgment, no source.
LEAST_DAYS, LEAST_POINTS = 2.0, 3
# Slopes a day that are worth a word, and how far the water that goes may be from the plan's before it is told.
WORTH: Mapping[str, float] = {"ph": 0.03, "ec": 0.01, "temperature": 0.2, "oxygen": 0.05}
NEAR_USE, FARTHEST_D = 0.15, 60.0
MOVES = {"ph": ("climbs", "falls"), "ec": ("rises", "falls"), "temperature": ("has warmed", "has cooled"),
         "oxygen": ("rises", "falls")}
NAMES = {"ph": "pH", "ec": "EC", "temperature": "The water", "oxygen": "Oxygen"}


@dataclass(frozen=True)
class Finding:
    """One thing that the readings say: a code, a sentence, its numbers in base units, and a change of the plan if one
    follows (``changes``, with the words of its button and what comes of it)."""

    code: str
    text: str
    numbers: Mapping[str, float] = field(default_factory=dict)
    act: str = ""
    consequence: str = ""
    changes: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class Point:
    """A value of one reading at a moment; ``stretch`` counts the corrections before it."""

    day: float
    value: float
    stretch: int


def _corrects(entry: Entry, name: str, numbers: Mapping[str, float]) -> bool:
    """Whether an entry moves a reading by hand: acid the pH, water and fertilizer the EC, a change all of them."""
    if entry.kind != READING:
        return entry.kind == "changed" or entry.text("code") in ("thin", "nutrients")
    moved = {"ph": ("acid", "added", "fertilizer"), "ec": ("added", "fertilizer")}.get(name, ())
    return any(numbers.get(one) for one in moved)


def points(entries: Iterable[Entry], name: str, now: datetime, system: str) -> list[Point]:
    """The last two weeks of one reading. What was poured counts after the reading that it stands with."""
    found: list[Point] = []
    stretch = 0
    for entry in within(entries, now, WINDOW_D):
        numbers = values_of(entry, system).numbers
        if entry.kind == READING and name in numbers and can_be(name, numbers[name]):
            found.append(Point((entry.moment - now).total_seconds() / DAY_S, numbers[name], stretch))
        stretch += _corrects(entry, name, numbers)
    return found


def trend(found: Sequence[Point]) -> Slope | None:
    """The slope a day between corrections; over all of it where corrections leave too little; ``None`` for too few."""
    if len(found) < LEAST_POINTS or found[-1].day - found[0].day < LEAST_DAYS:
        return None
    line = [(one.day, one.value) for one in found]
    groups = [one.stretch for one in found]
    pairs = sum(many * (many - 1) // 2 for many in (groups.count(group) for group in set(groups)))
    return slope(line, groups=groups if pairs >= LEAST_POINTS else None)


def _a_day(bath: Bath, name: str, value: float) -> str:
    """A slope a day with its unit."""
    unit = unit_for(bath.field(name), bath.system)
    amount = abs(value) / (units.KINDS[bath.field(name).kind].units[unit].factor if unit else 1.0)
    shown = f" {units.written(unit)}" if unit else ""
    return f"{number(amount, 2)}{shown} a day"


def drifts(bath: Bath, entries: Sequence[Entry], now: datetime, refitting: bool = True) -> list[Finding]:
    """Where pH, EC, warmth and oxygen go, beside what the plan says of it; ``refitting`` offers to mend the plan."""
    found = []
    for name, worth in WORTH.items():
        line = trend(points(entries, name, now, bath.system))
        if line is None:
            continue
        model = refit.model(bath.design, name)
        rate = _a_day(bath, name, line.slope)
        up, down = MOVES[name]
        if abs(line.slope) < worth:
            words = f"{NAMES[name]} holds steady."
        elif not line.sure:
            words = f"{NAMES[name]} moves, with no clear way yet."
        else:
            between = " between corrections" if name in ("ph", "ec") else ""
            words = f"{NAMES[name]} {up if line.slope > 0 else down} by {rate}{between}."
        numbers = {"slope": line.slope, "low": line.low, "high": line.high}
        moves = abs(line.slope) >= worth and line.sure
        if model is not None and line.sure and (abs(model) >= worth or (moves and name == "ec")):
            numbers["model"] = model
            words += (f" The plan says {'up' if model > 0 else 'down'} {_a_day(bath, name, model)}."
                      if abs(model) >= worth else " The plan says that it holds steady.")
        change = REFITS[name](bath, line) if moves and refitting and name in REFITS else None
        found.append(_with(Finding(f"drift-{name}", words, numbers), change))
    return found


REFITS = {"ph": refit.ph, "ec": refit.ec}


def _with(found: Finding, change: refit.Change | None) -> Finding:
    """A finding with the change of the plan that follows from it, if one does."""
    return found if change is None else replace(found, act=change.act, consequence=change.consequence,
                                                changes=change.changes)


def used_a_day(bath: Bath, entries: Iterable[Entry], now: datetime) -> tuple[float, float] | None:
    """Water gone a day in m3, drunk and evaporated, and over how many days; ``None`` where the log does not tell.

    From level to level, with what was added between; without levels, from top-up to top-up, each taken as back to the
    mark, as no still bath is filled.
    """
    levels: list[tuple[datetime, float]] = []
    added: list[tuple[datetime, float]] = []
    for entry in within(entries, now, WINDOW_D):
        if entry.kind == "changed":
            levels, added = [], []
            continue
        numbers = values_of(entry, bath.system).numbers if entry.kind == READING else {}
        if "level" in numbers:
            there = bath.water_read(numbers["level"])
            if there is not None:
                levels.append((entry.moment, there))
        if bath.poured(numbers):
            added.append((entry.moment, bath.poured(numbers)))
    if len(levels) >= 2:
        (first, full), (last, left) = levels[0], levels[-1]
        # What stands with the first level was poured after it was read, what stands with the last one as well.
        poured = sum(value for at, value in added if first <= at < last)
        days = (last - first).total_seconds() / DAY_S
        gone = full - left + poured
    elif len(added) >= 2 and not bath.still:
        days = (added[-1][0] - added[0][0]).total_seconds() / DAY_S
        gone = sum(value for _, value in added[1:])
    else:
        return None
    return (gone / days, days) if days >= LEAST_DAYS and gone > 0.0 else None


def _water(bath: Bath, entries: Sequence[Entry], now: datetime) -> Finding | None:
    """The water that goes in a day, beside the plan; a change of the plan where they differ."""
    found, planned = used_a_day(bath, entries, now), bath.number("use.gone")
    if found is None or not planned:
        return None
    used, days = found
    ratio = used / planned
    said = units.show(used, "volume", bath.system, "gal", "L")
    numbers = {"used": used, "planned": planned, "ratio": ratio, "days": days}
    if abs(ratio - 1.0) <= NEAR_USE:
        return Finding("water", f"{said} of water goes in a day, as the plan says.", numbers)
    text = (f"{number(ratio, 2)} times as much water goes as the plan says: {said} a day, where it says "
            f"{units.show(planned, 'volume', bath.system, 'gal', 'L')}.")
    return _with(Finding("water", text, numbers), refit.water(bath, used))


def _oxygen(bath: Bath, known: Mapping[str, float]) -> Finding | None:
    value, warm = known.get("oxygen"), known.get("temperature")
    holds = None if value is None or warm is None else bath.saturation(warm, known.get("ec"))
    if value is None or warm is None or not holds:
        return None
    share = value / holds
    words = (f"Oxygen of {bath.show('oxygen', value)} is {number(100 * share, 2)} % of what water of "
             f"{bath.show('temperature', warm)} holds.")
    if share > 1.1:
        words += " That is more than air can bring: check the meter."
    return Finding("oxygen", words, {"share": share, "saturation": holds})


@dataclass(frozen=True)
class Due:
    """When something will be due: a code, the moment, and why."""

    code: str
    what: str
    at: datetime
    why: str


def due(bath: Bath, entries: Sequence[Entry], now: datetime) -> list[Due]:
    """The next top-up and the next correction, if nothing else changes."""
    known = latest(entries, now, bath.system)
    found: list[Due] = []
    gone, planned = used_a_day(bath, entries, now), bath.number("use.gone")
    rate = gone[0] if gone else planned
    band, level = bath.bands.get("level"), known.values.get("level")
    if rate and band is not None and level is not None:
        there, least = bath.water_read(level), bath.water_at(band.low)
        if there is not None and least is not None and there > least:
            why = "by the water that goes" if gone else "by what the plan says"
            if gone and planned and abs(rate / planned - 1.0) > NEAR_USE:
                why = f"{number(rate / planned, 2)} times as much water goes as the plan says"
            what = "Water at its lowest" if bath.still else "Next top-up"
            found.append(Due("top-up", what, known.at["level"] + timedelta(
                days=min((there - least) / rate, FARTHEST_D)), why))
    for name, words in (("ph", "Next correction of the pH"), ("ec", "Next correction of the EC")):
        line, band = trend(points(entries, name, now, bath.system)), bath.bands.get(name)
        value = known.values.get(name)
        if line is None or band is None or value is None or band.word(value) != "in":
            continue
        if not line.sure or abs(line.slope) < WORTH[name]:
            continue
        edge = band.high if line.slope > 0 else band.low
        days = (edge - value) / line.slope
        if days < FARTHEST_D:
            up, down = MOVES[name]
            found.append(Due(name, words, known.at[name] + timedelta(days=days),
                             f"it {up if line.slope > 0 else down} by {_a_day(bath, name, line.slope)}"))
    return sorted(found, key=lambda one: one.at)


def findings(bath: Bath, entries: Iterable[Entry], now: datetime) -> list[Finding]:
    """All that the last two weeks say."""
    log = within(entries, now, REMEMBERED_D)
    known = latest(log, now, bath.system)
    gone = _water(bath, log, now)
    # Drift follows from the water that goes: one thing of the plan is put right at a time.
    first = gone is not None and bool(gone.changes)
    return [*drifts(bath, log, now, not first), *filter(None, (gone, _oxygen(bath, known.fresh(now))))]


def as_json(found: Iterable[Finding]) -> list[dict[str, Any]]:
    """Findings as plain data; one with ``changes`` is offered as the planner offers a mend."""
    return [{"code": one.code, "text": one.text, "numbers": dict(one.numbers), "act": one.act,
             "consequence": one.consequence, "changes": dict(one.changes)} for one in found]


def due_json(found: Iterable[Due], system: str) -> list[dict[str, Any]]:
    """What is due, as plain data."""
    return [{"code": one.code, "what": one.what, "why": one.why, "at": one.at.strftime("%Y-%m-%dT%H:%M"),
             "words": day_words(one.at.date(), system)} for one in found]
