"""Outside check values: rows of relation, inputs, expected value, tolerance, source and kind, read from the CSV files beside this."""

from __future__ import annotations

import csv
from pathlib import Path

FOLDER = Path(__file__).resolve().parent
COUNTED = ("published", "library")
KINDS = COUNTED + ("definition", "practice", "memory")


def rows() -> list[dict]:
    """Every check row, with ``inputs`` as numbers by argument name, and ``file`` for messages."""
    found = []
    for file in sorted(FOLDER.glob("*.csv")):
        with file.open(encoding="utf-8", newline="") as stream:
            for row in csv.DictReader(stream):
                pairs = (pair.split("=") for pair in row["inputs"].split(";"))
                row["inputs"] = {name.strip(): float(value) for name, value in pairs}
                row["expected"] = float(row["expected"])
                row["tolerance"] = float(row["tolerance"])
                row["file"] = file.name
                found.append(row)
    return found
