"""Every outside check value beside what the code gives today, for the page and in the same way as for the tests."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from . import dots, plainly, reference
from .setup import ROOT, Trouble

if TYPE_CHECKING:
    from calc.relations.base import Relation

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

    @property
    def share(self) -> float:
        """The deviation as a share of what the source allows; 0 where no printed digit differs."""
        if self.deviation <= plainly.ROUNDING * max(abs(self.expected), plainly.ROUNDING):
            return 0.0
        return self.deviation / self.tolerance if self.tolerance else float("inf")


@dataclass(frozen=True)
class Told:
    """A row as the page prints it, every cell a text."""

    inputs: str
    expected: str
    got: str
    deviation: str
    tolerance: str
    share: str
    within: bool
    source: str
    kind: str


@dataclass(frozen=True)
class Kind:
    """A kind of source: what it means, how many values are of it, and how many of them lie within."""

    name: str
    means: str
    count: int
    within: int


# What the kinds of tests/references mean, those that prove most first.
KINDS = {
    "published": "read in print: a table, a paper, a standard",
    "library": "worked out by a general library that others keep",
    "definition": "follows from how a unit or a quantity is defined",
    "practice": "a rule of practice, held to the way it is said",
    "memory": "from memory, and not verified yet",
}


def told(row: Row, relation: Relation) -> Told:
    """A row in words and figures."""
    unit = relation.result.unit
    return Told(plainly.inputs(relation, row.inputs), plainly.said(row.expected, unit),
                plainly.said(row.got, unit, 7, row.expected),
                plainly.difference(row.deviation, row.expected, unit),
                plainly.allowance(row.tolerance, row.expected, unit),
                "0 %" if row.share == 0.0 else f"{max(round(100 * row.share), 1)} %", row.within,
                plainly.source(row.source + (f" ({row.note})" if row.note else "")), row.kind)


def kinds(found: Sequence[Row]) -> list[Kind]:
    """How many values there are of each kind of source."""
    return [Kind(name, means, sum(row.kind == name for row in found),
                 sum(row.kind == name and row.within for row in found)) for name, means in KINDS.items()]


def pictures(found: Sequence[Row]) -> dict[str, str]:
    """The picture of all deviations, wide and narrow."""
    groups = [(group.title, [dots.Dot(row.share, row.kind in ("published", "library")) for row in found
                             if reference.group_of(row.relation) is group]) for group in reference.GROUPS]
    return {"wide": dots.picture(groups, True), "narrow": dots.picture(groups, False)}


def by_topic(found: Sequence[Row]) -> list[tuple[reference.Group, list[tuple[Relation, list[Told]]]]]:
    """All rows as printed, by topic and formula."""
    from calc.relations.base import RELATIONS
    rows_of: dict[str, list[Row]] = {}
    for row in found:
        rows_of.setdefault(row.relation, []).append(row)
    return [(group, [(relation, [told(row, relation) for row in rows_of.get(relation.name, [])]) for relation in held])
            for group, held in reference.grouped(RELATIONS.values())]


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

    @property
    def summary(self) -> str:
        """How many of its figures agree, in words."""
        held = [row for row in self.rows if row.verdict in ("agrees", "differs")]
        return f"{sum(row.verdict == 'agrees' for row in held)} of {len(held)} figures agree"


# Things that are counted: their plural is said.
COUNTED = ("board", "sheet", "stone")


def _beside(build, row) -> Beside:
    from calc.figures import number
    from tests import published
    unit = f" {row.unit}" if row.unit else ""
    # A remark of the source's own stands behind the unit: "about 10 g (2 tsp)".
    size, bracket, remark = row.published.partition(" (")
    printed = size + unit + bracket + remark
    if row.lacks:
        return Beside(row.quantity, printed, "–", "not in a plan", row.lacks)
    if row.refused:
        return Beside(row.quantity, printed, "–", "refused", published.design(build, row).faults[row.refused])
    value = published.got(build, row)
    several = "s" if row.unit in COUNTED and value != 1.0 else ""
    shown = "–" if value is None else number(value, 4) + unit + several
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
