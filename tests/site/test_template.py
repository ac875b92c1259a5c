"""The drill template as printed: every centre read back out of the PDF lies where the plan has it, within 0.2 mm."""

from __future__ import annotations

import io
from collections import defaultdict

import pdfplumber
import pytest

from calc.plan import Plan
from calc.render.paper import files, leaf
from calc.solve import solve
from tests.calc import whole

pytestmark = pytest.mark.browser
MM = 25.4 / 72
CLOSE = 0.2
# The window of a tile and how far the next one lies from it, said once more here: what is printed is held to it.
WINDOW, STEP_X, STEP_Y = (180.0, 220.0), 170.0, 210.0
THREE_BOARDS = {"units": "metric", "bath.length": "240 cm", "bath.width": "60 cm", "board.max_length": "80 cm"}


def designs():
    """A small tote, discs of one and of two boards, and a bath 2.4 m long under three boards."""
    return {"tote": whole.plan("us_tote"), "disc": whole.plan("bucket"), "two half discs": whole.plan("round_tub"),
            "three boards": solve(Plan.from_mapping(THREE_BOARDS))}


def printed(browser, tmp_path, design, paper):
    """The PDF of the template, and (board, tile) of each of its pages; none for a page that is no tile."""
    file = tmp_path / "template.html"
    file.write_text(files.write(leaf.Paper(design, "Proof"), "template.html"), encoding="utf-8")
    page = browser.new_page()
    page.goto(file.as_uri())
    names = page.evaluate("() => [...document.querySelectorAll('.leaf')].map((one) => [one.dataset.board || '', "
                          "one.dataset.tile || ''])")
    data = page.pdf(format=paper, print_background=True)
    page.close()
    return pdfplumber.open(io.BytesIO(data)), names


def circles(page, across):
    """Centres, in mm from the page's upper left, of all circles of about that size."""
    found = []
    for one in page.curves:
        wide, tall = (one["x1"] - one["x0"]) * MM, (one["bottom"] - one["top"]) * MM
        # The browser also writes what a page cuts off, outside of the page.
        if one["bottom"] <= page.height and one["top"] >= 0 and abs(wide - across) < 0.3 and abs(tall - across) < 0.3:
            found.append(((one["x0"] + one["x1"]) / 2 * MM, (one["top"] + one["bottom"]) / 2 * MM))
    return found


def frame(page):
    """Left and bottom of the tile's window: the thin frame, the only rectangle of that size that is drawn."""
    (one,) = {(box["x0"], box["bottom"]): box for box in page.rects
              if box["stroke"] and box["bottom"] <= page.height and abs((box["x1"] - box["x0"]) * MM - WINDOW[0]) < 0.6
              and abs((box["bottom"] - box["top"]) * MM - WINDOW[1]) < 0.6}.values()
    return one["x0"] * MM - 0.1, one["bottom"] * MM + 0.1


def expected(design):
    """Centres by board, in mm from its marked corner, or from the disc's centre, as the plan's own table has them."""
    found = defaultdict(list)
    for row in design.value("board.holes"):
        x, y = (row["from_x"], row["from_y"]) if "from_x" in row else (row["x"], row["y"])
        found[row["board"]].append((x * 1000, y * 1000))
    return found


def corner_of(design, board):
    """Where a board's lower left corner lies from its mark: a disc is measured from its centre."""
    (piece,) = [row for row in design.value("board.pieces") if row["board"] == board]
    if design.value("board.diameter") is None:
        return 0.0, 0.0
    radius = design.value("board.diameter") * 500
    gap = min(row["x"] for row in design.value("board.pieces")) * 1000
    return piece["x"] * 1000 - gap - radius, piece["y"] * 1000 - gap - radius


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("name", list(designs()))
def test_every_centre_is_printed_where_the_plan_has_it(browser, tmp_path, name, paper):
    design = designs()[name]
    document, names = printed(browser, tmp_path, design, paper)
    assert len(document.pages) == len(names)
    across = design.value("board.hole_diameter") * 1000
    read = defaultdict(list)
    for page, (board, tile) in zip(document.pages, names, strict=True):
        if not tile:
            continue
        left, bottom = frame(page)
        row, column = ord(tile[0]) - ord("A"), int(tile[1:]) - 1
        start = corner_of(design, int(board))
        for x, y in circles(page, across):
            read[int(board)].append((start[0] + column * STEP_X + x - left, start[1] + row * STEP_Y + bottom - y))
    wanted = expected(design)
    assert set(read) == set(wanted)
    for board, centres in wanted.items():
        for x, y in centres:
            near = min(max(abs(x - one[0]), abs(y - one[1])) for one in read[board])
            assert near <= CLOSE, f"board {board}: the hole at {x:.1f}, {y:.1f} is off by {near:.2f} mm"
        # Nothing is drilled that the plan does not have.
        for x, y in read[board]:
            assert min(max(abs(x - one[0]), abs(y - one[1])) for one in centres) <= CLOSE


def test_both_bars_are_as_long_as_they_say(browser, tmp_path):
    document, names = printed(browser, tmp_path, whole.plan("us_tote"), "A4")
    for page, (_, tile) in zip(document.pages, names, strict=True):
        long = sorted((one["x1"] - one["x0"]) * MM for one in page.lines if abs(one["bottom"] - one["top"]) < 0.1)
        for size in (100.0, 101.6):
            assert min(abs(one - size) for one in long) <= CLOSE, tile or "the first page"


def test_the_three_boards_are_three():
    assert designs()["three boards"].value("board.count") == 3


def test_a_long_template_offers_table_and_row_first(browser, tmp_path):
    design = designs()["three boards"]
    document, names = printed(browser, tmp_path, design, "A4")
    ahead = next(at for at, (_, tile) in enumerate(names) if tile)
    assert len(names) > 12 and ahead >= 3
    assert f"print pages 1 to {ahead}" in document.pages[0].extract_text()
    before = [page.extract_text() for page in document.pages[:ahead]]
    table = next(at for at, text in enumerate(before) if "Table of holes" in text)
    # Two maps stand on the first page, the third on the next; then come the table and the row.
    assert table == 2 and "Board 3" in before[1]
    assert "row" in before[table + 1]
