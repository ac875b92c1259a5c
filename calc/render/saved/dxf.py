"""A board as DXF (release 12, which every cutter's program reads), in millimetres, one layer a kind."""

from __future__ import annotations

from ...plan import MADE_WITH
from ...solve import Design
from . import shapes
from .shapes import Path, Shape, Word

CUT, DRILL, NOTCH, MARK = LAYERS = ("CUT", "DRILL", "NOTCH", "MARK")
# Each kind's number in the format's own list of colours: red, blue, green, grey.
COLORS = dict(zip(LAYERS, (1, 5, 3, 8), strict=True))
MILLIMETRES, METRIC, CLOSED = 4, 1, 1

# A group: what its value means by the format's own number, and the value.
Group = tuple[int, object]


def _number(value: float) -> str:
    # Adding zero takes the sign off a zero.
    return f"{round(value, 6) + 0.0:.6f}"


def _text(groups: list[Group]) -> str:
    return "".join(f"{code}\r\n{_number(value) if isinstance(value, float) else value}\r\n" for code, value in groups)


def _point(x: float, y: float, at: int = 10) -> list[Group]:
    return [(at, x), (at + 10, y), (at + 20, 0.0)]


def _path(layer: str, path: Path) -> list[Group]:
    found: list[Group] = [(0, "POLYLINE"), (8, layer), (66, 1), *_point(0.0, 0.0), (70, CLOSED if path.closed else 0)]
    for (x, y), bulge in zip(path.points, path.bulges, strict=True):
        found += [(0, "VERTEX"), (8, layer), *_point(x, y), (42, bulge)]
    return [*found, (0, "SEQEND"), (8, layer)]


def _word(word: Word) -> list[Group]:
    return [(0, "TEXT"), (8, MARK), *_point(*word.at), (40, word.tall), (1, word.words), (50, word.turn)]


def _header(shape: Shape) -> list[Group]:
    left, low, right, high = shape.box
    return [(999, f"{MADE_WITH}, board {shape.number} of {shape.count}, in millimeters"),
            (0, "SECTION"), (2, "HEADER"), (9, "$ACADVER"), (1, "AC1009"), (9, "$INSUNITS"), (70, MILLIMETRES),
            (9, "$MEASUREMENT"), (70, METRIC), (9, "$EXTMIN"), *_point(left, low), (9, "$EXTMAX"), *_point(right, high),
            (0, "ENDSEC")]


def _tables() -> list[Group]:
    found: list[Group] = [(0, "SECTION"), (2, "TABLES"), (0, "TABLE"), (2, "LTYPE"), (70, 1), (0, "LTYPE"),
                          (2, "CONTINUOUS"), (70, 0), (3, "Solid line"), (72, 65), (73, 0), (40, 0.0), (0, "ENDTAB"),
                          (0, "TABLE"), (2, "LAYER"), (70, len(LAYERS) + 1)]
    for name in ("0", *LAYERS):
        found += [(0, "LAYER"), (2, name), (70, 0), (62, COLORS.get(name, 7)), (6, "CONTINUOUS")]
    return [*found, (0, "ENDTAB"), (0, "TABLE"), (2, "STYLE"), (70, 1), (0, "STYLE"), (2, "STANDARD"), (70, 0),
            (40, 0.0), (41, 1.0), (50, 0.0), (71, 0), (42, 2.5), (3, "txt"), (4, ""), (0, "ENDTAB"), (0, "ENDSEC")]


def write(design: Design, number: int) -> str:
    """``board-N.dxf``: the outline on CUT, every hole a circle on DRILL, notches on NOTCH, and on MARK the corner or
    centre that all is measured from, the board's number and its seams. ValueError with a sentence where there is no
    such board."""
    shape = shapes.of(design, number)
    found = [*_header(shape), *_tables(), (0, "SECTION"), (2, "ENTITIES"), *_path(CUT, shape.outline)]
    for hole in shape.holes:
        found += [(0, "CIRCLE"), (8, DRILL), *_point(hole.x, hole.y), (40, shape.hole_mm / 2)]
    for path in shape.notches:
        found += _path(NOTCH, path)
    for path in shape.marks:
        found += _path(MARK, path)
    for word in shape.words:
        found += _word(word)
    return _text([*found, (0, "ENDSEC"), (0, "EOF")])
