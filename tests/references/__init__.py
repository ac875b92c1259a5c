"""Outside check values, read from the CSV files beside this; a value checks a relation only if it was made elsewhere.

Columns: relation; inputs (``name=value; name=value`` in base SI units); expected; unit; tolerance (in that unit) or
``tolerance_rel`` (a share of the expected value); source; kind; note. ``published`` was read in print or a reprint,
``library`` was computed by a general library, ``definition`` follows from how units or the quantity are defined,
``practice`` and ``memory`` are what they say and prove little.
"""

from __future__ import annotations

import csv
from pathlib import Path

FOLDER = Path(__file__).resolve().parent
COUNTED = ("published", "library")
KINDS = COUNTED + ("definition", "practice", "memory")


def rows() -> list[dict]:
    """Every check row: ``inputs`` as numbers by argument name, an absolute ``tolerance``, ``file`` for messages."""
    found = []
    for file in sorted(FOLDER.glob("*.csv")):
        with file.open(encoding="utf-8", newline="") as stream:
            for row in csv.DictReader(stream):
                pairs = (pair.split("=") for pair in row["inputs"].split(";"))
                row["inputs"] = {name.strip(): float(value) for name, value in pairs}
                row["expected"] = float(row["expected"])
                share = row.pop("tolerance_rel", None)
                row["tolerance"] = float(share) * abs(row["expected"]) if share else float(row["tolerance"])
                row["file"] = file.name
                found.append(row)
    return found
