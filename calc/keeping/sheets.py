"""The log as CSV that a spreadsheet may open: one line an entry, a unit beside every number, no cell that is a formula.

Columns: id, kind, time, then for each size its number and its unit, then count, what, code, remark, and what only this
program reads. An exact round trip is promised for what ``write`` wrote; ``incoming`` reads other people's files too.
"""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterable, Mapping

from ..cells import MARK, safe
from ..plan import whole_characters
from .entries import METER_UNITS, Entry, from_json

NUMBERS = ("temperature", "ec", "ph", "oxygen", "level", "added", "fertilizer", "acid", "mass")
TEXTS = ("count", "what", "code", "remark")
# What a reader's eye begins with, then each number and its unit, then words, then what only this program reads.
COLUMNS: tuple[str, ...] = ("kind", "time",
                            *(part for name in NUMBERS
                              for part in ((name, f"{name} unit") if name in METER_UNITS else (name,))),
                            *TEXTS, "at", "id", "bath", "changed", "invented", "more")


def _row(entry: Entry) -> list[str]:
    cells = {"kind": entry.kind, "at": entry.at, "id": entry.id, "bath": entry.bath, "changed": entry.changed,
             "invented": "yes" if entry.invented else ""}
    rest: dict[str, object] = {}
    for name, text in entry.typed.items():
        if name in NUMBERS or name in TEXTS or name == "time":
            cells[name] = text
        else:
            rest.setdefault("typed", {})[name] = text  # type: ignore[index]
    if "time" not in entry.typed:
        # The moment is shown in either case; the mark says that nobody typed it so.
        cells["time"], rest["no_time"] = entry.at, True
    for name, unit in entry.units.items():
        if f"{name} unit" in COLUMNS:
            cells[f"{name} unit"] = unit
        else:
            rest.setdefault("units", {})[name] = unit  # type: ignore[index]
    if entry.before:
        rest["before"] = [dict(one) for one in entry.before]
    if entry.more:
        rest["more"] = dict(entry.more)
    cells["more"] = json.dumps(rest, ensure_ascii=False, sort_keys=True) if rest else ""
    return [safe(cells.get(name, "")) for name in COLUMNS]


def write(entries: Iterable[Entry], separator: str = ",") -> str:
    """Entries as CSV text with a BOM, so that spreadsheets read its letters right; lines end as RFC 4180 says."""
    out = io.StringIO(newline="")
    rows = csv.writer(out, delimiter=separator, lineterminator="\r\n")
    rows.writerow(COLUMNS)
    rows.writerows(_row(entry) for entry in entries)
    return MARK + whole_characters(out.getvalue())


def entry_of(cells: Mapping[str, str], taken: Iterable[str], order: str) -> Entry:
    """An entry of one line that ``write`` wrote, its cells by column; raises NotUnderstood for one to be set aside."""
    try:
        rest = json.loads(cells.get("more") or "{}")
    except ValueError:
        rest = {"more": {"cell": cells["more"]}}
    rest = rest if isinstance(rest, dict) else {}
    typed = {name: cells[name] for name in ("time", *NUMBERS, *TEXTS) if cells.get(name)}
    if rest.get("no_time"):
        typed.pop("time", None)
    taken_units = {name: cells[f"{name} unit"] for name in METER_UNITS if cells.get(f"{name} unit")}
    given = {**_mapping(rest.get("more")), "id": cells.get("id", ""), "kind": cells.get("kind") or "reading",
             "at": cells.get("at") or cells.get("time", ""), "typed": {**typed, **_mapping(rest.get("typed"))},
             "units": {**taken_units, **_mapping(rest.get("units"))}, "bath": cells.get("bath", ""),
             "changed": cells.get("changed", ""), "invented": cells.get("invented") == "yes",
             "before": rest.get("before") or ()}
    return from_json(given, taken, order)


def _mapping(given: object) -> Mapping[str, object]:
    return given if isinstance(given, Mapping) else {}
