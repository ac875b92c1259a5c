"""Everything in one file: plans, baths, entries, column mappings; what a newer version wrote is set aside whole."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from ..plan import MADE_WITH
from .entries import Entry, as_json, many

# Raised when the file itself means something else; its entries have a version of their own.
VERSION = 1
FORMAT = "raftwright-everything"
LONGEST, DEEPEST = 60_000_000, 40
MOST_TOLD = 200


@dataclass
class Whole:
    """What a file of everything holds. ``aside`` is kept as it was found, each with the sentence why."""

    entries: list[Entry] = field(default_factory=list)
    plans: list[Any] = field(default_factory=list)
    baths: list[Any] = field(default_factory=list)
    mappings: dict[str, Any] = field(default_factory=dict)
    aside: list[tuple[Any, str]] = field(default_factory=list)
    told: list[str] = field(default_factory=list)
    newer: bool = False
    trouble: str = ""


def write(entries: Iterable[Entry], plans: Iterable[Any] = (), baths: Iterable[Any] = (),
          mappings: Mapping[str, Any] | None = None, aside: Iterable[Any] = (), saved: str = "") -> str:
    """All of it as one text of JSON; ``aside`` is what earlier files held that this version could not take in."""
    kept = {"format": FORMAT, "version": VERSION, "made_with": MADE_WITH, "saved": saved, "plans": list(plans),
            "baths": list(baths), "mappings": dict(mappings or {}), "entries": [as_json(one) for one in entries],
            "aside": list(aside)}
    return json.dumps(kept, indent=1, ensure_ascii=False, allow_nan=False) + "\n"


def read(text: str) -> Whole:
    """What a file holds. Never raises: what cannot be taken in is set aside, and told line by line."""
    found = Whole()
    if len(text) > LONGEST:
        found.trouble = "This file is larger than any log; nothing was read from it."
        return found
    try:
        given = json.loads(text.removeprefix("\ufeff"))
    except (ValueError, RecursionError):
        found.trouble = ("This file cannot be read: it is cut short or damaged, or no file of this page. Nothing was "
                         "changed.")
        return found
    if isinstance(given, Mapping) and given.get("format") != FORMAT and "plan" in given:
        # A plan saved by the planner is taken as the one plan of an empty log.
        given = {"format": FORMAT, "version": 1, "plans": [given]}
    if not isinstance(given, Mapping) or given.get("format") != FORMAT:
        found.trouble = "This file is not one of ours: it holds no log. Nothing was changed."
        return found
    version = given.get("version", 1)
    found.newer = not isinstance(version, int) or isinstance(version, bool) or version > VERSION
    if found.newer:
        found.told.append("A newer version wrote this file: what is understood of it comes in.")
    found.entries, aside = many(given.get("entries"))
    newer = sum(is_newer for _, _, is_newer in aside)
    for number, (one, why, _) in enumerate(aside, 1):
        found.aside.append((one, why))
        if number <= MOST_TOLD:
            found.told.append(f"Line {_place(given, one)}: {why}")
    if len(aside) > MOST_TOLD:
        found.told.append(f"and {len(aside) - MOST_TOLD} more lines like these")
    found.plans, found.baths = ([one for one in given.get(name) or () if isinstance(one, Mapping)]
                                if isinstance(given.get(name), list) else [] for name in ("plans", "baths"))
    mappings = given.get("mappings")
    found.mappings = dict(mappings) if isinstance(mappings, Mapping) else {}
    before = given.get("aside")
    found.aside += [(one, "It was set aside before.") for one in before] if isinstance(before, list) else []
    unknown = sorted(set(given) - {"format", "version", "made_with", "saved", "plans", "baths", "mappings", "entries",
                                   "aside"})
    if unknown:
        found.aside.append(({key: given[key] for key in unknown}, "A newer version wrote it."))
        found.told.append(f"The file has parts that this version does not know: {', '.join(unknown)[:200]}.")
    found.newer = found.newer or newer > 0 or bool(unknown)
    return found


def _place(given: Mapping[str, Any], one: object) -> int:
    """Which line of the entries it was, counted from 1."""
    return next((number for number, other in enumerate(given.get("entries") or (), 1) if other is one), 0)
