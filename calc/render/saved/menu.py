"""The menu of files of a plan: which there are, what each is for, and what a browser calls it when it saves it."""

from __future__ import annotations

from dataclasses import dataclass
from html import escape

from ...solve import Design
from ..paper import boards, leaf
from . import workbook

LONGEST_SLUG = 40
TYPES = {"dxf": "application/dxf", "svg": "image/svg+xml", "csv": "text/csv", "json": "application/json",
         "ics": "text/calendar", "html": "text/html",
         "xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"}
# What stands above the files of a board, as plain as it is on a workshop's door.
FIRE = ("<strong>Never put foam into a laser cutter</strong> unless the cutter’s maker names that very foam: most "
        "foams catch fire under a laser, and their fumes are poisonous. Cut a template of card or plywood with it, and "
        "drill the foam by that. Stay beside any cutter that runs.")


@dataclass(frozen=True)
class Saved:
    """One file: its name for the command line, what it is called here, what it is for."""

    name: str
    title: str
    said: str


@dataclass(frozen=True)
class Group:
    """Files for one purpose; ``note`` is trusted HTML."""

    title: str
    files: tuple[Saved, ...]
    note: str = ""


def groups(design: Design) -> list[Group]:
    """All files of a plan, by purpose; boards that are alike are listed once."""
    cut = []
    for board in boards.of(design):
        alike = f", {len(board.holes)} holes"
        cut.append(Saved(f"board-{board.numbers[0]}.dxf", f"{board.name} as DXF",
                         f"for a cutter’s program: a layer for cuts, holes, notches and marks{alike}"))
        cut.append(Saved(f"board-{board.numbers[0]}.svg", f"{board.name} as SVG",
                         f"the same drawing, 1 unit is 1 mm{alike}"))
    tables = [Saved(workbook.NAME, "Workbook",
                    "list, figures, nutrients and calendar on sheets whose sums follow what you type (Excel format)"),
              Saved("list.csv", "Shopping list", "a line a thing, with need, packs and price (CSV)")]
    if cut:
        tables.insert(1, Saved("holes.csv", "Table of holes", "every center in millimeters and as a builder writes it "
                               "(CSV)"))
    dates = (Saved("calendar.ics", "Calendar", "sow, move and harvest as days in your phone (iCalendar)"),)
    pages = (("sheet", "Build sheet"), ("list", "Shopping list"), ("template", "Drill template"),
             ("calendar", "Calendar"))
    found = [
        Group("For a spreadsheet", tuple(tables)),
        Group("For a phone", dates if design.value("schedule.batches") else ()),
        Group("For a cutter", tuple(cut), FIRE),
        Group("To keep, or for a script", (
            Saved("plan.json", "The plan", "opens in the planner here and on any other machine"),
            Saved("results.json", "All results", "what the command line prints, to the letter"))),
        Group("To print elsewhere", tuple(Saved(f"{name}.html", title, "one page that needs nothing beside it")
                                          for name, title in pages)),
    ]
    return [group for group in found if group.files]


def html(design: Design) -> str:
    """The menu; its buttons wait for a script, and without one each file says its name."""
    made = []
    for group in groups(design):
        rows = "".join(
            f'<li><button type="button" data-file="{one.name}" hidden>Save<span class="visually-hidden"> '
            f"{escape(one.title)}</span></button><span><b>{escape(one.title)}</b> <code>{one.name}</code>"
            f"<small>{escape(one.said)}</small></span></li>" for one in group.files)
        note = f'<p class="caution danger">{group.note}</p>' if group.note else ""
        made.append(f"<section><h2>{group.title}</h2>{note}<ul>{rows}</ul></section>")
    return "".join(made)


def slug(name: str) -> str:
    """A plan's name as the beginning of a file's name: letters and digits of any script, the rest as hyphens."""
    kept = "".join(letter if letter.isalnum() else " " for letter in name.lower())
    return "-".join(kept.split())[:LONGEST_SLUG].strip("-") or "raft-bath"


def called(plan: str, day: str, file: str, boards_in_all: int) -> str:
    """What a browser calls a saved file: plan, day, file, so that a folder sorts by itself.

    >>> from calc.render.saved.menu import called
    >>> called("Tote by the wall", "2026-11-26", "board-2.dxf", 12)
    'tote-by-the-wall-2026-11-26-board-02.dxf'
    """
    stem, _, rest = file.rpartition("-")
    number, dot, ending = rest.partition(".")
    if stem == "board" and number.isdigit():
        file = f"board-{number.zfill(len(str(boards_in_all)))}{dot}{ending}"
    named = "raft-bath" if plan in (leaf.UNNAMED, "") else slug(plan)
    return "-".join(part for part in (named, day, file) if part)
