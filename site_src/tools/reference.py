"""The pages of the reference folder, each short enough to print: which there are, and what stands on each."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from . import tables
from .setup import Trouble

if TYPE_CHECKING:
    from calc.relations.base import Relation

FOLDER = "reference"


@dataclass(frozen=True)
class Group:
    """Formulas of one topic: its name in the address, its title, and the modules of calc/relations that hold them."""

    name: str
    title: str
    modules: tuple[str, ...]

    @property
    def path(self) -> str:
        """The page with its formulas, below the top."""
        return f"{FOLDER}/formulas/{self.name}/index.html"


GROUPS = (
    Group("bath", "Bath and water", ("geometry", "frame", "water", "atmosphere")),
    Group("raft", "Raft and plants", ("layout", "floating", "schedule", "roots")),
    Group("flow", "Water that flows", ("pipe", "pump", "overflow")),
    Group("air", "Air and oxygen", ("air", "oxygen", "reading", "outage")),
    Group("nutrients", "Nutrients and pH", ("feed", "acidity", "phosphate")),
    Group("warmth", "Light and warmth", ("light", "heat")),
    Group("running", "Water used, and electricity", ("use", "electricity")),
)


@dataclass(frozen=True)
class Sheet:
    """One page of the folder but those of formulas: its name, title, summary, template, and the tables on it."""

    name: str
    title: str
    summary: str
    kind: str = "reference-tables"
    tables: tuple[str, ...] = ()

    @property
    def path(self) -> str:
        """Its file below the top."""
        return f"{FOLDER}/{self.name}/index.html"


SHEETS = (
    Sheet("words", "Words of the trade", "What each word means, in a sentence or two.", "reference-words"),
    Sheet("crops", "Crops", "Spacing, days, strength, pH, warmth and light of each crop.", tables=("crops",)),
    Sheet("fertilizers", "Fertilizers and salts", "The nutrient formulas to grow by, and what each salt holds.",
          tables=("targets", "salts")),
    Sheet("oxygen", "Oxygen by temperature and altitude",
          "How much oxygen fresh water holds, from 0 to 40 °C and from the sea to 3,000 m.", tables=("oxygen",)),
    Sheet("units", "Units you can type", "Every unit that a question takes after a number.", "reference-units"),
    Sheet("scripts", "Every question and answer", "For links, files and scripts: each key with its default and its "
          "units.", "reference-scripts"),
)


def group_of(relation: str) -> Group:
    """Where a formula is printed; one of a module that no group names stops the build."""
    module = relation.partition(".")[0]
    found = next((group for group in GROUPS if module in group.modules), None)
    if found is None:
        raise Trouble(f"calc/relations/{module}.py stands in no group of formulas; add it to GROUPS in "
                      "site_src/tools/reference.py.")
    return found


def address(relation: str) -> str:
    """The page and place of a formula, below the top."""
    return f"{group_of(relation).path}#{anchor(relation)}"


def anchor(relation: str) -> str:
    """The place of a formula on its page."""
    return f"formula-{relation.replace('.', '-')}"


def grouped(relations: Iterable[Relation]) -> list[tuple[Group, list[Relation]]]:
    """All formulas by group, in the order of the groups and of their modules."""
    held: dict[str, list[Relation]] = {group.name: [] for group in GROUPS}
    for relation in relations:
        held[group_of(relation.name).name].append(relation)
    return [(group, sorted(held[group.name], key=lambda one: group.modules.index(one.name.partition(".")[0])))
            for group in GROUPS]


def printed(sheet: Sheet) -> list[tables.Printed]:
    """The tables of a page."""
    known: Mapping[str, tables.Printed] = {one.anchor: one for one in tables.every()}
    return [known[name] for name in sheet.tables]


def table_pages() -> Sequence[tuple[tables.Printed, Sheet]]:
    """Every table with the page it stands on."""
    return [(table, sheet) for sheet in SHEETS for table in printed(sheet)]
