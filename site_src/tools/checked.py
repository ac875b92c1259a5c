"""Every outside check value beside what the code gives today, for the page and in the same way as for the tests."""

from __future__ import annotations

import sys
from dataclasses import dataclass

from .setup import ROOT, Trouble

# A value that equals the expected one but for the last bit is no deviation.
LAST_BIT = 1e-12


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
    within: bool
    source: str
    kind: str
    note: str = ""


def rows() -> list[Row]:
    """All rows of tests/references, computed now; deviation and tolerance are in the unit of the result."""
    if str(ROOT) not in sys.path:
        sys.path.insert(0, str(ROOT))
    from calc.relations.base import RELATIONS
    from tests import references
    found = []
    for row in references.rows():
        relation = RELATIONS.get(row["relation"])
        if relation is None:
            raise Trouble(f"{row['file']}: there is no relation {row['relation']}.")
        got = float(relation.function(**row["inputs"]))
        away = abs(got - row["expected"])
        within = away <= row["tolerance"] + LAST_BIT * abs(row["expected"])
        found.append(Row(row["relation"], relation.title, row["inputs"], row["expected"], got, away,
                         row["tolerance"], within, row["source"], row["kind"], row.get("note") or ""))
    return found
