"""The build sheet: its pages in order, and how many there are."""

from __future__ import annotations

from collections.abc import Callable

from . import boards, build, cover, cut, leaf, test_week, water_air

Maker = Callable[[int, int], str]


def makers(paper: leaf.Paper) -> list[Maker]:
    """Who makes each sheet, given its number and how many there are."""
    found: list[Maker] = [lambda _, pages: cover.sheet(paper, pages)]
    if not cover.dangers_fit(paper.design):
        found.append(lambda number, pages: cover.danger_sheet(paper, number, pages))
    for at, shown in enumerate(cut.sheets_of(boards.of(paper.design))):
        found.append(_cut(paper, shown, at == 0))
    found.append(lambda number, pages: water_air.sheet(paper, number, pages))
    found.append(lambda number, pages: build.sheet(paper, number, pages))
    found.append(lambda number, pages: test_week.sheet(paper, number, pages))
    return found


def _cut(paper: leaf.Paper, shown: list[boards.Board], first: bool) -> Maker:
    return lambda number, pages: cut.sheet(paper, number, pages, shown, first)


def sheets(paper: leaf.Paper) -> str:
    """The whole build sheet."""
    made = makers(paper)
    return "".join(make(number, len(made)) for number, make in enumerate(made, 1))
