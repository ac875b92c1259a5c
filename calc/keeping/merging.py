"""Two logs into one: nothing twice, nothing lost; an entry worded anew keeps its earlier wording."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from math import isclose
from typing import Any

from .entries import MOST_BEFORE, Entry, as_json, in_order, new_id, values_of


@dataclass(frozen=True)
class Merged:
    """The log after merging, and the names of what came in: new ones, those worded anew, and those here already."""

    entries: tuple[Entry, ...]
    added: tuple[str, ...]
    changed: tuple[str, ...]
    known: tuple[str, ...]


def _wording(entry: Entry) -> dict[str, Any]:
    """What an entry says, without its name and its history."""
    return {key: value for key, value in as_json(entry).items() if key not in ("id", "before", "changed", "bath")}


def alike(one: Entry, other: Entry, system: str) -> bool:
    """Whether two entries of different names are the same reading: one moment, and no value that differs."""
    if one.kind != other.kind or one.at != other.at or one.invented != other.invented:
        return False
    first, second = values_of(one, system), values_of(other, system)
    shared = first.numbers.keys() & second.numbers.keys()
    if any(not isclose(first.numbers[name], second.numbers[name], rel_tol=1e-3, abs_tol=1e-9) for name in shared):
        return False
    words = [(one.text(name).strip(), other.text(name).strip()) for name in ("remark", "what", "code")]
    agree = all(a == b or not a or not b for a, b in words)
    return agree and (bool(shared) or not (first.numbers or second.numbers) or any(a == b != "" for a, b in words))


def _newer(mine: Entry, theirs: Entry) -> Entry:
    """The later wording, with the earlier one kept in it."""
    late, early = (theirs, mine) if theirs.changed > mine.changed else (mine, theirs)
    kept: list[dict[str, Any]] = []
    for one in ({**_wording(early), "changed": early.changed}, *map(dict, early.before), *map(dict, late.before)):
        if one not in kept:
            kept.append(one)
    return replace(late, before=tuple(kept[:MOST_BEFORE]))


def _filled(mine: Entry, theirs: Entry) -> Entry:
    """One entry with what only the other has; the texts that are here stay."""
    return replace(mine, typed={**theirs.typed, **mine.typed}, units={**theirs.units, **mine.units},
                   more={**theirs.more, **mine.more})


def _earlier(entry: Entry) -> list[Entry]:
    """What an entry said before it was worded anew."""
    return [replace(entry, at=str(old.get("at") or entry.at), typed=dict(old.get("typed") or {}),
                    units=dict(old.get("units") or {}), before=()) for old in entry.before]


def merge(mine: Iterable[Entry], theirs: Iterable[Entry], system: str = "us") -> Merged:
    """A log with another one taken in; merging the same again changes nothing."""
    kept = {entry.id: entry for entry in mine}
    theirs = list(theirs)
    names = {entry.id for entry in theirs}
    moments: dict[tuple[str, str], list[str]] = {}
    for entry in kept.values():
        moments.setdefault((entry.at, entry.kind), []).append(entry.id)
    past = [old for entry in kept.values() for old in _earlier(entry)]
    added: list[str] = []
    changed: list[str] = []
    known: list[str] = []
    for entry in theirs:
        there = kept.get(entry.id)
        if there is not None and _wording(there) == _wording(entry):
            known.append(entry.id)
            continue
        if there is not None and (there.at, there.kind) == (entry.at, entry.kind) or there is not None and (
                there.changed and entry.changed):
            later = _newer(there, entry)
            (known if later == there or _wording(later) == _wording(there) else changed).append(entry.id)
            kept[entry.id] = later
            past += _earlier(later)
            continue
        if any(alike(one, entry, system) for one in past):
            known.append(entry.id)
            continue
        twin = next((kept[name] for name in moments.get((entry.at, entry.kind), ())
                     if alike(kept[name], entry, system)), None)
        if twin is not None:
            filled = _filled(twin, entry)
            (known if _wording(filled) == _wording(twin) else changed).append(twin.id)
            kept[twin.id] = filled
            continue
        fresh = entry if there is None else replace(entry, id=new_id(entry.at, entry.kind, {*kept, *names}))
        kept[fresh.id] = fresh
        moments.setdefault((fresh.at, fresh.kind), []).append(fresh.id)
        added.append(fresh.id)
    return Merged(tuple(in_order(kept.values())), tuple(added), tuple(changed), tuple(known))
