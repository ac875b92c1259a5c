"""Every outside check value beside what the code gives today, for the page and in the same way as for the tests."""

from __future__ import annotations

import csv
import json
import sys
from dataclasses import dataclass

from .setup import ROOT, Trouble

FOLDER = ROOT / "tests" / "references"


@dataclass(frozen=True)
class Row:
    """One check: what was put in, what the outside says, what the code gives, and how far apart they are."""

    relation: str
    title: str
    inputs: dict
    expected: float
    got: float
    deviation: float
    tolerance: float
    source: str
    kind: str
    note: str = ""


def rows() -> list[Row]:
    """All rows of tests/references, computed now."""
    if str(ROOT) not in sys.path:
        sys.path.insert(0, str(ROOT))
    from calc.relations.base import RELATIONS
    found = []
    for file in sorted(FOLDER.glob("*.csv")):
        with file.open(encoding="utf-8", newline="") as lines:
            for number, line in enumerate(csv.DictReader(lines), 2):
                relation = RELATIONS.get(line["relation"])
                if relation is None:
                    raise Trouble(f"{file.name}, line {number}: there is no relation {line['relation']}.")
                inputs = json.loads(line["inputs"])
                expected, got = float(line["expected"]), float(relation.function(**inputs))
                away = abs(got - expected) / abs(expected) if expected else abs(got)
                found.append(Row(line["relation"], relation.title, inputs, expected, got, away,
                                 float(line["tolerance"]), line["source"], line["kind"], line.get("note") or ""))
    return found
