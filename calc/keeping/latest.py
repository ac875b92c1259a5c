"""Which readings stand for now: one just typed, else the newest of the log; and the ones before them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import datetime, timedelta

from .entries import READING, Entry, values_of, within

# An older reading says what was, not what to pour: engineering judgment, no source.
FRESH = timedelta(hours=24)
# A value from before these days stands for nothing any more.
REMEMBERED_D = 60.0
MEASURED = ("ph", "temperature", "level", "ec", "oxygen")


@dataclass(frozen=True)
class Latest:
    """What is known of now: values by name in base units with the moment of each, and the value before it."""

    values: Mapping[str, float]
    at: Mapping[str, datetime]
    before: Mapping[str, float]
    moment: datetime | None
    faults: Mapping[str, str] = field(default_factory=dict)

    def fresh(self, now: datetime) -> dict[str, float]:
        """Values young enough to dose by."""
        return {name: value for name, value in self.values.items() if now - self.at[name] <= FRESH}

    def warmth_of(self, name: str) -> float | None:
        """The temperature in C that a reading was taken at; ``None`` where none was read within a day of it."""
        warm, at = self.values.get("temperature"), self.at.get(name)
        return None if warm is None or (at and abs(at - self.at["temperature"]) > FRESH) else warm


def latest(entries: Iterable[Entry], now: datetime, system: str, typed: Entry | None = None) -> Latest:
    """The newest value of each reading of the last weeks up to ``now``; ``typed`` is one that is not kept yet."""
    values: dict[str, float] = {}
    at: dict[str, datetime] = {}
    before: dict[str, float] = {}
    moment: datetime | None = None
    faults: Mapping[str, str] = {}
    readings = [one for one in within(entries, now, REMEMBERED_D) if one.kind == READING]
    for entry in ([typed] if typed is not None else []) + readings[::-1]:
        found = values_of(entry, system)
        if entry is typed:
            faults = found.faults
        # What was only poured is no reading.
        if moment is None and any(name in found.numbers for name in MEASURED):
            moment = entry.moment
        for name in MEASURED:
            value = found.get(name)
            if value is None:
                continue
            if name not in values:
                values[name], at[name] = value, entry.moment
            else:
                before.setdefault(name, value)
        if len(before) == len(MEASURED):
            break
    return Latest(values, at, before, moment, faults)
