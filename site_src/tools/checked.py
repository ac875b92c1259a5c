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


@dataclass(frozen=True)
class Beside:
    """One printed figure of a build beside the plan's: both as text, and what is said of the two."""

    quantity: str
    published: str
    plan: str
    verdict: str
    words: str
    bad: bool = False


@dataclass(frozen=True)
class Built:
    """A published raft or trial with its figures."""

    name: str
    source: str
    read: str
    rows: list[Beside]


def _beside(build, row) -> Beside:
    from calc.figures import number
    from tests import published
    unit = f" {row.unit}" if row.unit else ""
    printed = row.published + unit
    if row.lacks:
        return Beside(row.quantity, printed, "–", "not in a plan", row.lacks)
    if row.refused:
        return Beside(row.quantity, printed, "–", "refused", published.design(build, row).faults[row.refused])
    value = published.got(build, row)
    shown = "–" if value is None else number(value, 4) + unit
    within = published.within(row, value)
    allowed = number(row.low, 4) if row.low == row.high else f"{number(row.low, 4)} to {number(row.high, 4)}"
    if within:
        return Beside(row.quantity, printed, shown, "agrees", f"{allowed}{unit}: {row.why}")
    return Beside(row.quantity, printed, shown, "differs", row.differs or f"{allowed}{unit}: {row.why}",
                  not row.differs)


def builds() -> list[Built]:
    """All published builds, their plans solved now."""
    if str(ROOT) not in sys.path:
        sys.path.insert(0, str(ROOT))
    from tests import published
    return [Built(one.name, one.source, one.read, [_beside(one, row) for row in one.rows])
            for one in published.builds()]
