"""Numbers on paper beside arithmetic: heads of a whole calendar, boards by the sheet, bars and cross-hairs at 1:1."""

import re
from types import SimpleNamespace

import pytest

from calc.render.paper import calendar, cut, tiles


def test_the_heads_of_a_calendar_are_those_of_its_weeks():
    weeks = [SimpleNamespace(cut={"Leaf lettuce": 3}), SimpleNamespace(cut={}),
             SimpleNamespace(cut={"Leaf lettuce": 4, "Basil": 2})]
    assert calendar._total(weeks) == "7 leaf lettuce, 2 basil"


@pytest.mark.parametrize("boards", [0, 1, cut.BOARDS_A_SHEET, cut.BOARDS_A_SHEET + 1, 3 * cut.BOARDS_A_SHEET + 1])
def test_every_board_is_on_one_sheet(boards):
    found = cut.sheets_of(list(range(boards)))
    assert [one for sheet in found for one in sheet] == list(range(boards))
    assert len(found) == max(1, -(-boards // cut.BOARDS_A_SHEET)) and max(map(len, found)) <= cut.BOARDS_A_SHEET


def test_the_bars_measure_four_inches_and_a_hundred_millimeters():
    drawn = "".join(tiles.bars(10.0, 20.0))
    ends = re.findall(r'class="bar[^"]*" d="M([\d.]+) [\d.]+L([\d.]+) ', drawn)
    # 4 in are 101.6 mm; the words stand over the middle of each.
    assert ends == [("10", "111.6"), ("10", "110")] and re.findall(r'<text x="([\d.]+)"', drawn) == ["60.8", "60"]
    # Five strokes in inches, eleven in centimeters, the two outer ones of each heavier.
    assert len(re.findall(r'class="hair', drawn)) == 3 + 9 and len(re.findall(r'class="edge', drawn)) == 4
