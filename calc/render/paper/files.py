"""Which file is written by whom: a name chooses the writer, for the command line and for the page alike."""

from __future__ import annotations

import re
from collections.abc import Callable

from ..saved import data, drawing, dxf, tables, workbook
from . import calendar, leaf, sheet, shopping, template

Writer = Callable[[leaf.Paper, "re.Match[str]"], str | bytes]
# What is printed, by the folder of its page.
SHEETS: dict[str, Callable[[leaf.Paper], str]] = {
    "sheet": sheet.sheets, "list": shopping.sheets, "template": template.sheets,
    "calendar": calendar.sheets}
TITLES = {"sheet": "Build sheet", "list": "Shopping list", "template": "Drill template", "calendar": "Calendar"}


def _document(kind: str) -> Writer:
    """The writer of a page that stands by itself, its style inside."""
    return lambda paper, _: leaf.document(f"{TITLES[kind]}: {paper.name}", SHEETS[kind](paper))


# A pattern that the whole name must match, what such a file is called in the help, and who writes what is in it.
WRITERS: tuple[tuple[str, str, Writer], ...] = (
    *((rf"{kind}\.html", f"{kind}.html", _document(kind)) for kind in SHEETS),
    (r"board-([1-9]\d{0,3})\.dxf", "board-N.dxf", lambda paper, named: dxf.write(paper.design, int(named[1]))),
    (r"board-([1-9]\d{0,3})\.svg", "board-N.svg",
     lambda paper, named: drawing.write(paper.design, int(named[1]), paper.name)),
    (r"holes\.csv", "holes.csv", lambda paper, _: tables.holes(paper)),
    (r"list\.csv", "list.csv", lambda paper, _: tables.shopping(paper)),
    (r"results\.json", "results.json", lambda paper, _: data.results(paper)),
    (r"plan\.json", "plan.json", lambda paper, _: data.plan(paper)),
    (r"calendar\.ics", "calendar.ics", lambda paper, _: data.dates(paper)),
    (r"workbook\.xlsx", workbook.NAME, lambda paper, _: workbook.write(paper)),
)


def names() -> list[str]:
    """The names of files that can be written; N stands for a number."""
    return [said for _, said, _ in WRITERS]


def write(paper: leaf.Paper, name: str) -> str | bytes:
    """What is in the file of that name; ValueError with a sentence for a name that nobody writes."""
    for pattern, _, writer in WRITERS:
        found = re.fullmatch(pattern, name)
        if found:
            return writer(paper, found)
    raise ValueError(f"“{name[:60]}” is not a file that can be written; the names are {', '.join(names())}.")
