"""Boards as shapes, and the pages of the drill template: which there are, and which are left out."""

import re
from math import hypot, pi

import pytest

from calc import solve
from calc.plan import Plan
from calc.render.paper import boards, files, leaf, template, tiles
from tests.calc import whole


def area(outline):
    """Of a shape, by the shoelace formula."""
    return sum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in zip(outline, [*outline[1:], outline[0]], strict=True)) / 2


@pytest.fixture(scope="module")
def example():
    return solve(Plan({}))


def test_an_outline_is_the_board_less_its_notches(example):
    (board,) = boards.of(example)
    # 47 1/2 x 23 1/2 in, less a notch of 2 1/4 x 2 in and two of 1 1/2 x 1 1/4 in, their ends half rounds.
    def notch(wide, deep):
        return wide * (deep - wide / 2) + pi * wide ** 2 / 8
    wanted = 47.5 * 23.5 - notch(2.25, 2.0) - 2 * notch(1.5, 1.25)
    assert area(board.outline) / 25.4 ** 2 == pytest.approx(wanted, rel=1e-4)


def test_the_halves_of_a_disc_are_measured_from_its_center():
    design = whole.plan("round_tub")
    found = boards.of(design)
    assert [len(board.holes) for board in found] == [9, 9] and all(board.disc for board in found)
    radius = design.value("board.diameter") * 500
    for row in (row for board in found for row in board.holes):
        assert hypot(row.x, row.y) + found[0].hole_mm / 2 < radius
    # Each half ends at the seam through the centre.
    assert found[0].box[2] == pytest.approx(0, abs=0.01) and found[1].box[0] == pytest.approx(0, abs=0.01)
    assert [len(board.seams) for board in found] == [1, 1]


def test_boards_that_are_alike_are_drawn_once():
    design = solve(Plan.from_mapping({"units": "metric", "bath.count": "3", "parts.copies": "2"}))
    (board,) = boards.of(design)
    assert board.count == 6


@pytest.mark.parametrize("name", ["us_tote", "bucket", "round_tub", "four_baths", "drum_halves"])
def test_each_center_is_on_a_page_and_no_page_is_without_work(name):
    for board in boards.of(whole.plan(name)):
        tiling = tiles.Tiling(board)
        owners = {tiling.owner(one.x, one.y) for one in board.holes}
        assert owners <= set(tiling.wanted)
        work = [(one.x, one.y) for one in board.holes] + [(0.0, 0.0)]
        work += [point for notch in board.notches for point in (notch.line[0], notch.centre, notch.line[-1])]
        for tile in tiling.wanted:
            x, y = tiling.corner(tile)
            assert any(x - 0.5 <= point[0] <= x + tiles.WIDE + 0.5 and y - 0.5 <= point[1] <= y + tiles.TALL + 0.5
                       for point in work), f"{name}: {tiles.said_tile(tile)} holds no work"
            # Nothing of the board lies outside of all windows.
        assert tiling.corner((tiling.columns - 1, 0))[0] + tiles.WIDE >= board.box[2] - 1e-6
        assert tiling.corner((0, tiling.rows - 1))[1] + tiles.TALL >= board.box[3] - 1e-6


def test_a_short_template_is_tiles_alone_and_a_long_one_offers_less_first(example):
    tote, long = (files.SHEETS["template"](leaf.Paper(one, "Plan")) for one in (whole.plan("us_tote"), example))
    assert tote.count('<section class="leaf') <= 12 and "Rather not print" not in tote
    assert long.count('<section class="leaf') > 12 and "Rather not print" in long
    assert long.index("Table of holes") < long.index("every row") < long.index('data-tile="A1"')


def test_a_row_that_repeats_lies_where_the_holes_are(example):
    (board,) = boards.of(example)
    turned, rows = template.rows_of(board)
    places = {(round(laid if turned else place), round(place if turned else laid))
              for row in rows for place in row.places for laid in row.laid}
    assert places == {(round(one.x), round(one.y)) for one in board.holes}


def test_tiles_by_the_hundred_are_not_drawn_and_it_is_said():
    html = files.SHEETS["template"](leaf.Paper(whole.plan("farm_raft_30m"), "Farm"))
    assert "they are not drawn" in html and "data-tile" not in html and "Table of holes" in html


@pytest.mark.parametrize("more", [{}, {"bath.width": "2 m", "bath.count": "4"}, {"board.spacing": "15 cm"}])
def test_a_farm_of_sixty_meters_gets_the_table_and_a_row_and_is_told_so(more):
    design = solve(Plan.from_mapping({"units": "metric", "bath.length": "60 m", "bath.width": "1.2 m", **more}))
    html = files.SHEETS["template"](leaf.Paper(design, "Farm"))
    sheets = html.split('<section class="leaf')[1:]
    parted = template.Template(leaf.Paper(design, "Farm")).tiles
    said = re.sub("<[^>]*>", "", sheets[0])
    ahead = int(re.search(r"print pages 1 to (\d+) and stop there", said)[1])
    assert f"Rather not print {parted:,} tiles?" in said and "table of holes" in said and "one repeating row" in said
    assert len(sheets) == ahead + (parted if parted <= template.MOST else 0)
    assert ("they are not drawn" in said) == ("data-tile" not in html) == (parted > template.MOST)
    # Each board is on a map, each sheet shows something, and every hole is in the table or in a row.
    assert html.count("<figcaption>") == len(boards.of(design))
    assert all("<figcaption>" in one or "<svg" in one or "<table" in one for one in sheets)
    assert sum(one.count('class="holes"') for one in sheets) >= len(boards.of(design))


@pytest.mark.parametrize("many", [1, 4, 5, 9, 10, 11, 100])
def test_no_sheet_of_maps_is_empty(many, example):
    made = template.Template(leaf.Paper(example, "Plan"))
    made.long, made.kinds = False, []
    made.boards, made.tilings, made.tiles = made.boards[:1] * many, made.tilings[:1] * many, template.MOST + 1
    sheets = made.sheets().split('<section class="leaf')[1:]
    maps = [one for one in sheets if "<figcaption>" in one]
    assert len(maps) == len(sheets) and sum(one.count("<figcaption>") for one in maps) == many


def test_a_plan_without_boards_says_so():
    design = solve(Plan.from_mapping({"bath.length": "5 gal"}))
    assert "no boards yet" in files.SHEETS["template"](leaf.Paper(design, "Plan"))


def test_rows_and_joints_are_lettered_as_columns_of_a_table_are():
    names = [tiles.letters(number) for number in (0, 25, 26, 51, 52, 701, 702)]
    assert names == ["A", "Z", "AA", "AZ", "BA", "ZZ", "AAA"]
