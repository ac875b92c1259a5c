"""Tables for a spreadsheet: where to drill, and what to buy; sizes are numbers, each under the unit it is in."""

from __future__ import annotations

from math import degrees

from ... import cells, units
from ...declare import Row
from ...solve import Design
from ..paper import leaf, shop

HOLES = ("hole", "board", "x mm", "y mm", "diameter mm", "measured from", "x", "y", "from center mm", "angle degrees")
LIST = ("shop", "thing", "size as sold", "need", "unit", "owned", "packs", "pack size", "buy", "price", "currency")
CORNER, CENTER = "marked corner of the board", "center of the disc"


def _mm(value: float) -> float:
    return round(value * 1000, 3) + 0.0


def _words(design: Design, value: float, sides: tuple[str, str]) -> str:
    """A length as a builder writes it; behind the centre and ahead of it are told by words, not by a sign."""
    said = design.shown_as("board.length", abs(value))
    return said if not any(sides) or abs(value) < 5e-5 else f"{said} {sides[value > 0]}"


def hole_rows(design: Design) -> list[list[object]]:
    """A row a hole, under ``HOLES``: mm from the board's marked corner, or from the centre of a disc."""
    wide = design.value("board.hole_diameter")
    found: list[list[object]] = []
    for number, row in enumerate(design.value("board.holes") or [], 1):
        found.append([number, row["board"], *_place(design, row, _mm(wide))])
    return found


def _place(design: Design, row: Row, wide: float) -> list[object]:
    if "from_x" not in row:
        words = [_words(design, row[axis], ("", "")) for axis in ("x", "y")]
        return [_mm(row["x"]), _mm(row["y"]), wide, CORNER, *words, None, None]
    x, y = row["from_x"], row["from_y"]
    return [_mm(x), _mm(y), wide, CENTER, _words(design, x, ("left", "right")), _words(design, y, ("front", "back")),
            _mm(row["radius"]), round(degrees(row["angle"]), 2)]


def holes(paper: leaf.Paper) -> str:
    """``holes.csv``; ValueError with a sentence where there is no hole."""
    rows = hole_rows(paper.design)
    if not rows:
        raise ValueError("This plan has no holes yet, so there is no holes.csv of it: see what its raft waits for.")
    return cells.table([HOLES, *rows])


def unit_of(line: shop.Line, system: str) -> str:
    """The unit in which a line of the list is counted out; "" for pieces."""
    if line.kind == "length":
        return "ft" if system == "us" else "m"
    small, large, limit = {"mass": ("g", "kg", 1.0), "volume": ("mL", "L", 1e-3)}.get(line.kind, ("", "", 0.0))
    return small if line.need < limit else large


def _number(value: float, line: shop.Line, unit: str) -> float | int:
    """An amount in a unit, without the digits that nobody measures; pieces are whole."""
    made = float(f"{units.convert(value, line.kind, unit) if unit else value:.5g}")
    return int(made) if made == int(made) else made


def list_rows(design: Design) -> list[list[object]]:
    """A row a line of the shopping list, under ``LIST``."""
    money = str(design.value("energy.currency") or "")
    found: list[list[object]] = []
    for line in shop.lines(design):
        unit, (packs, size) = unit_of(line, design.system), shop.pack_of(line, design.system)
        found.append([line.shop, line.thing, line.detail, _number(line.need, line, unit), unit,
                      _number(line.owned, line, unit), packs, _number(size, line, unit) if packs else None,
                      shop.to_buy(line, design.system), None if line.price is None else round(line.price, 2),
                      money if line.price is not None else ""])
    return found


def shopping(paper: leaf.Paper) -> str:
    """``list.csv``."""
    return cells.table([LIST, *list_rows(paper.design)])
