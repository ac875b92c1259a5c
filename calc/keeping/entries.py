"""What the log keeps: a reading or an event as typed, with the units that its bare numbers took on the meter."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta
from functools import cached_property, lru_cache
from types import MappingProxyType
from typing import Any

from .. import units
from ..declare import Choice, Field
from ..errors import UnreadableQuantity
from ..plan import LONGEST_KEPT, whole_characters
from . import times

# Raised when an entry means something else than before; older ones stay readable, newer ones are set aside.
VERSION = 1
READING = "reading"
MOST_BEFORE = 20
_METER = "as on your meter"

READING_FIELDS = (
    Field("reading.time", "moment", "Date and time", help="when it was measured"),
    Field("reading.temperature", "temperature", "Temperature", minimum=-5.0, maximum=60.0, us="F", metric="C",
          help="a thermometer in the bath, a hand deep", optional=True),
    Field("reading.ec", "conductivity", "EC", minimum=0.0, maximum=20000.0, us="mS/cm", metric="mS/cm",
          help=f"{_METER}: mS/cm, µS/cm, ppm500, ppm640 or ppm700", optional=True),
    Field("reading.ph", "number", "pH", help="after topping up, away from the inlet", optional=True),
    Field("reading.oxygen", "concentration", "Oxygen", minimum=0.0, us="mg/L", metric="mg/L",
          help="dissolved oxygen, if you have a meter", optional=True),
    Field("reading.level", "length", "Reservoir", minimum=0.0, us="in", metric="cm",
          help="depth of water in it; in one vessel, depth in the bath", optional=True),
    Field("reading.added", "volume", "Water added", minimum=0.0, us="gal", metric="L", help="all the top-up since the "
          "last reading", optional=True),
    Field("reading.fertilizer", "volume", "Fertilizer added", minimum=0.0, us="mL", metric="mL",
          help="of each concentrate, or of each bottle", optional=True),
    Field("reading.acid", "drops", "Acid added", minimum=0.0, us="mL", metric="mL", help="in mL or drops; pH-up too",
          optional=True),
    Field("reading.remark", "text", "Remark", help="in your words, or leave it empty", optional=True),
)
KINDS = (
    Choice("planted", "Planted", "sown, or set on the raft from elsewhere"),
    Choice("moved", "Moved", "from the nursery to the raft, or apart"),
    Choice("harvested", "Harvested", "how many, and their weight"),
    Choice("changed", "Changed the solution", "all of it out, and mixed anew"),
    Choice("cleaned", "Cleaned", "the strainer, the pump, or all between crops"),
    Choice("failed", "Failed", "power, a pump, a leak, or plants thrown away"),
    Choice("checked", "Checked a meter", "in its liquid, or two liquids"),
    Choice("done", "Done", "a line of Today that was ticked"),
)
EVENT_FIELDS = (
    Field("event.time", "moment", "Date and time", help="when it was done"),
    Field("event.count", "whole", "How many", minimum=0.0, help="plants or heads", optional=True),
    Field("event.mass", "mass", "Weight", minimum=0.0, us="oz", metric="g", help="of all that was cut", optional=True),
    Field("event.what", "text", "What", help="crop, tray, row or part", optional=True),
    Field("event.code", "text", "Line of Today", help="the line that was ticked", optional=True),
    Field("event.remark", "text", "Remark", help="in your words, or leave it empty", optional=True),
)
NAMES = (READING, *(one.value for one in KINDS))
# Units that meters and jugs show; the first that the system of units takes stands for a bare number.
METER_UNITS: Mapping[str, tuple[str, ...]] = MappingProxyType({
    "temperature": ("F", "C"), "ec": ("mS/cm", "µS/cm", "ppm500", "ppm640", "ppm700"), "oxygen": ("mg/L",),
    "level": ("in", "cm", "mm"), "added": ("gal", "L", "mL", "qt", "imp gal"), "fertilizer": ("mL", "L", "fl oz"),
    "acid": ("mL", "drops"), "mass": ("oz", "g", "lb", "kg")})
OF_KIND: Mapping[str, Mapping[str, Field]] = MappingProxyType({
    name: MappingProxyType({one.key.partition(".")[2]: one
                            for one in (READING_FIELDS if name == READING else EVENT_FIELDS)}) for name in NAMES})


@dataclass(frozen=True)
class Entry:
    """One line of the log.

    ``typed`` holds the texts by bare name ("ph"); ``units`` the unit that a bare number took, by the same name;
    ``at`` the moment as 2026-11-25T07:12; ``changed`` when it was last written, by the page's clock; ``invented``
    marks what came with the example. ``before`` are earlier wordings of it, and ``more`` is what this version does not
    know: both are carried along, so that nothing typed is lost.
    """

    id: str
    kind: str
    at: str
    typed: Mapping[str, str]
    units: Mapping[str, str] = field(default_factory=dict)
    bath: str = ""
    changed: str = ""
    invented: bool = False
    before: tuple[Mapping[str, Any], ...] = ()
    more: Mapping[str, Any] = field(default_factory=dict)

    @cached_property
    def moment(self) -> datetime:
        """When it was measured or done."""
        return datetime.fromisoformat(self.at)

    def text(self, name: str) -> str:
        """What was typed; empty where nothing was."""
        return self.typed.get(name, "")


@dataclass(frozen=True)
class Values:
    """An entry read: numbers in base units by bare name, and a sentence for each text that is none."""

    numbers: Mapping[str, float]
    faults: Mapping[str, str]

    def get(self, name: str) -> float | None:
        """A number, or ``None`` where there is none that can be read."""
        return self.numbers.get(name)


def unit_for(one: Field, system: str) -> str:
    """The unit that a bare number takes where the entry names none; empty for what has none."""
    kind = units.KINDS.get(one.kind)
    if kind is None:
        return ""
    return (one.metric or kind.metric) if system == "metric" else (one.us or kind.us)


@lru_cache(maxsize=8192)
def _parsed(text: str, kind: str, system: str, unit: str) -> float:
    return units.parse(text, kind, system, unit)


def read_number(one: Field, text: str, unit: str, system: str) -> float:
    """A number in base units. Raises UnreadableQuantity with a whole sentence; what is odd is asked, not refused."""
    try:
        value = _parsed(text, one.kind, system, unit if unit in units.KINDS[one.kind].units else unit_for(one, system))
    except UnreadableQuantity as error:
        raise UnreadableQuantity(f"{one.label} {error}".rstrip(".") + ".") from None
    if one.minimum is not None and one.minimum == 0.0 and value < 0.0:
        raise UnreadableQuantity(f"{one.label} must be 0 or more.")
    return value


def values_of(entry: Entry, system: str = "us") -> Values:
    """What an entry's texts mean. Never raises on account of what was typed."""
    # An entry never changes, and a year of them is read again for every chart.
    known: dict[str, Values] = entry.__dict__.setdefault("_values", {})
    if system not in known:
        known[system] = _read_values(entry, system)
    return known[system]


def _read_values(entry: Entry, system: str) -> Values:
    numbers, faults = {}, {}
    for name, one in OF_KIND[entry.kind].items():
        text = entry.text(name).strip()
        if not text or one.kind in ("text", "moment"):
            continue
        try:
            numbers[name] = read_number(one, text, entry.units.get(name, ""), system)
        except UnreadableQuantity as error:
            faults[name] = str(error)
    return Values(numbers, faults)


def new_id(at: str, kind: str, taken: Iterable[str]) -> str:
    """A name for an entry that came without one: its moment and kind, numbered where that is taken."""
    known = set(taken)
    stem, number = f"{at}-{kind}", 2
    found = stem
    while found in known:
        found, number = f"{stem}-{number}", number + 1
    return found


def _texts(given: object) -> dict[str, str]:
    if not isinstance(given, Mapping):
        return {}
    return {str(key): whole_characters(str(value))[:LONGEST_KEPT] for key, value in given.items()
            if isinstance(value, (str, int, float)) and not isinstance(value, bool) and str(value) != ""}


def as_json(entry: Entry) -> dict[str, Any]:
    """An entry as plain data, as the page keeps it and as it stands in the file of everything."""
    found: dict[str, Any] = {**entry.more, "id": entry.id, "kind": entry.kind, "at": entry.at,
                             "typed": dict(entry.typed), "version": VERSION}
    for name, value in (("units", dict(entry.units)), ("bath", entry.bath), ("changed", entry.changed),
                        ("invented", entry.invented), ("before", [dict(one) for one in entry.before])):
        if value:
            found[name] = value
    return found


_KEPT = re.compile(r"20\d\d-\d\d-\d\dT\d\d:\d\d", re.ASCII)


def _moment(text: str, order: str) -> str:
    """A moment as it is kept; one that is written so already is only looked over."""
    if _KEPT.fullmatch(text):
        try:
            datetime.fromisoformat(text)
        except ValueError:
            raise UnreadableQuantity(times.WHAT) from None
        return text
    return times.show(times.read_moment(text, order))


OWN = ("id", "kind", "at", "typed", "version", "units", "bath", "changed", "invented", "before")


class NotUnderstood(ValueError):
    """A line of a log that this version cannot take in; the message says why, and the line is set aside whole.

    ``newer`` is true where a newer version wrote it.
    """

    def __init__(self, why: str, newer: bool = False):
        super().__init__(why)
        self.newer = newer


def from_json(given: object, taken: Iterable[str] = (), order: str = times.MONTH_FIRST) -> Entry:
    """An entry of plain data; raises NotUnderstood with a sentence for one that is to be set aside."""
    if not isinstance(given, Mapping):
        raise NotUnderstood("This is no entry of a log.")
    version = given.get("version", 1)
    if not isinstance(version, int) or isinstance(version, bool) or version > VERSION:
        raise NotUnderstood("A newer version wrote this entry.", newer=True)
    kind = given.get("kind", READING)
    if kind not in NAMES:
        raise NotUnderstood(f"This version does not know the kind of entry {str(kind)[:40]!r}.", newer=True)
    typed = _texts(given.get("typed"))
    try:
        at = _moment(str(given.get("at") or typed.get("time", "")), order)
    except UnreadableQuantity as error:
        raise NotUnderstood(f"Date and time {error}.") from None
    before = tuple(dict(one) for one in given.get("before") or () if isinstance(one, Mapping))[:MOST_BEFORE]
    name = whole_characters(str(given.get("id") or ""))[:200] or new_id(at, kind, taken)
    return Entry(name, kind, at, typed, _texts(given.get("units")), whole_characters(str(given.get("bath") or "")),
                 str(given.get("changed") or ""), bool(given.get("invented")), before,
                 {str(key): value for key, value in given.items() if key not in OWN})


def many(given: object, order: str = times.MONTH_FIRST) -> tuple[list[Entry], list[tuple[Any, str, bool]]]:
    """The entries of a list, oldest first, and those set aside: (as given, why, whether newer)."""
    found: dict[str, Entry] = {}
    aside: list[tuple[Any, str, bool]] = []
    for one in given if isinstance(given, (list, tuple)) else ():
        try:
            entry = from_json(one, found, order)
        except NotUnderstood as error:
            aside.append((one, str(error), error.newer))
            continue
        if entry.id in found:
            entry = replace(entry, id=new_id(entry.at, entry.kind, found))
        found[entry.id] = entry
    return in_order(found.values()), aside


def within(entries: Iterable[Entry], now: datetime, days: float) -> list[Entry]:
    """The entries of the last days up to now, oldest first; an hour ahead is a clock that was wrong by a little."""
    start, end = (f"{at:%Y-%m-%dT%H:%M}" for at in (now - timedelta(days=days), now + timedelta(hours=1)))
    return in_order(one for one in entries if start <= one.at <= end)


def in_order(entries: Iterable[Entry]) -> list[Entry]:
    """Entries by their moment, and of one moment by their name."""
    return sorted(entries, key=lambda one: (one.at, one.id))
