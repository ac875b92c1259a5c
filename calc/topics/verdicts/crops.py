"""Whether the crops chosen go together in one water, and go on a raft at all."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ...data import crops as data
from ...declare import Row
from . import counted, listed, small, span

if TYPE_CHECKING:
    from ...sheet import Sheet

# A spacing rounded to what a tape shows is not yet closer than its source.
ROUNDED = 0.03


def judge(sheet: Sheet) -> None:
    """A crop that no raft suits, needs that part, or one set of needs for all."""
    rows = sheet.result_rows("crops.table")
    conflicts = sheet.result_rows("crops.conflicts")
    figure = str(rows[0]["name"]) if len(rows) == 1 else counted(len(rows), "crop")
    for fitness, state in (("no", "fails"), ("poor", "tight")):
        named = [row["name"] for row in rows if row["fitness"]["text"] == fitness]
        if named:
            sheet.verdict(state, f"{listed([named[0], *map(small, named[1:])])}: "
                          f"{data.FITNESS[fitness]}; {data.BY_KEY[_key(rows, fitness)].fitness.note}.", figure,
                          "Not on a raft." if state == "fails" else "A hard crop for a raft.")
    if conflicts:
        first = conflicts[0]
        more = len({row["what"] for row in conflicts}) - 1
        sheet.verdict("tight", f"{_parted(sheet, first)}: no one setting suits both"
                      + (f", and {counted(more, 'other need parts', 'other needs part')} them too. " if more else ". ")
                      + "Grow them in two baths, or choose one.", figure)
    _crowded(sheet, [str(row["crop"]) for row in rows], figure)
    sheet.verdict("fits", _together(sheet, len(rows)), figure, "" if len(rows) > 1 else _one(rows[0]))


def _crowded(sheet: Sheet, keys: list[str], figure: str) -> None:
    """A spacing of the reader's own that is closer than any source gives for the crop that needs most room."""
    typed = sheet.optional("board.spacing")
    widest = max((data.BY_KEY[key] for key in keys), key=lambda crop: crop.spacing.low)
    if typed is None or typed >= widest.spacing.low * (1.0 - ROUNDED):
        return
    usual = span(*(sheet.shown_as("crops.spacing", end) for end in (widest.spacing.low, widest.spacing.high)))
    sheet.verdict("tight", f"You set the plants {sheet.shown('board.spacing')} apart, and {small(widest.name)} is "
                  f"grown {usual} apart: closer, they shade each other, and heads stay small. Set them "
                  f"{sheet.shown('crops.spacing')} apart, or cut them young.", figure, "Plants stand close.")


def _one(row: Row) -> str:
    well = row["fitness"]["text"] in ("excellent", "good")
    return f"{row['name']} {'goes well' if well else 'can grow'} on a raft."


def _key(rows: list[Row], fitness: str) -> str:
    return next(str(row["crop"]) for row in rows if row["fitness"]["text"] == fitness)


# How each need is shown: the result that tells one end of what suits all.
SHOWN = {"EC": "crops.ec_low", "pH": "crops.ph_low", "Water temperature": "crops.root_low", "Light": "crops.dli_low"}


def _parted(sheet: Sheet, row: Row) -> str:
    """Two crops with their own ranges of one need."""
    def range_of(which: str) -> str:
        low, high = (sheet.shown_as(SHOWN[row["what"]], row[f"{which}_{end}"]) for end in ("low", "high"))
        return span(low, high)
    less, more = (data.BY_KEY[row[which]].name for which in ("less", "more"))
    return f"{row['what']}: {small(less)} is kept at {range_of('less')}, {small(more)} at {range_of('more')}"


def _together(sheet: Sheet, count: int) -> str:
    found = []
    for words, key in (("EC", "ec"), ("pH", "ph"), ("water of", "root")):
        found.append(f"{words} {span(*(sheet.shown(f'crops.{key}_{end}') for end in ('low', 'high')))}")
    return f"{'It likes' if count == 1 else f'All {count} share'} {listed(found)}."
