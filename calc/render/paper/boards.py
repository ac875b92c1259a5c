"""The boards of a raft as shapes in millimetres: outline with its notches, holes and seams, from each board's own mark.

A board is measured from its marked corner, along the length and across; a disc, and each part of one, from its centre.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import atan2, cos, hypot, pi, sin, sqrt

from ...declare import Row
from ...solve import Design

MM = 1000.0
Point = tuple[float, float]
# Of an arc, in radians: at half a metre the chord leaves it by 0.02 mm.
STEP = pi / 180
ALIKE_MM = 0.1


@dataclass(frozen=True)
class Hole:
    """A hole's number in the plan's own list, and its centre in mm from the board's mark."""

    number: int
    x: float
    y: float


@dataclass(frozen=True)
class Notch:
    """A notch in the edge: its line from edge to edge, and the centre of its round end (of its bottom, where flat)."""

    what: str
    width: float
    depth: float
    centre: Point
    line: tuple[Point, ...]


@dataclass(frozen=True)
class Board:
    """One distinct board: ``numbers`` are the boards of a bath that are alike, ``count`` how many to make in all."""

    numbers: tuple[int, ...]
    count: int
    disc: bool
    outline: tuple[Point, ...]
    box: tuple[float, float, float, float]
    hole_mm: float
    holes: tuple[Hole, ...]
    notches: tuple[Notch, ...]
    seams: tuple[tuple[Point, Point], ...]

    @property
    def wide(self) -> float:
        """Length of the board, in mm."""
        return self.box[2] - self.box[0]

    @property
    def tall(self) -> float:
        """Width of the board, in mm."""
        return self.box[3] - self.box[1]

    @property
    def name(self) -> str:
        """Board 1; boards 1 and 3; boards 1 to 25."""
        found = self.numbers
        if len(found) == 1:
            return f"Board {found[0]}"
        if len(found) == 2:
            return f"Boards {found[0]} and {found[1]}"
        if found[-1] - found[0] == len(found) - 1:
            return f"Boards {found[0]} to {found[-1]}"
        return f"Board {found[0]} and {len(found) - 1} like it"


def of(design: Design) -> list[Board]:
    """Every distinct board, in the order of the plan; none while there is no raft."""
    pieces = design.value("board.pieces") or []
    if not pieces or design.value("board.hole_diameter") is None:
        return []
    corner = min(one["x"] for one in pieces), min(one["y"] for one in pieces)
    disc = design.value("water.opening_shape") == "round"
    radius = (design.value("board.raft_length") or 0.0) * MM / 2
    mark = (radius, radius) if disc else None
    notches = [_notch(row, radius if disc else None) for row in design.value("board.notch_rows") or []]
    whole, bare = (_raft(design, cut, radius if disc else None) for cut in (notches, []))
    copies = int(design.value("bath.count") or 1) * int(design.value("parts.copies") or 1)
    found: dict[object, Board] = {}
    for piece in pieces:
        left, low = (piece["x"] - corner[0]) * MM, (piece["y"] - corner[1]) * MM
        board = _board(design, piece, (left, low), (whole, bare), notches, mark)
        alike = _signature(board)
        there = found.get(alike)
        found[alike] = replace(there, numbers=(*there.numbers, *board.numbers), count=there.count + copies) \
            if there else replace(board, count=copies)
    return list(found.values())


def _signature(board: Board) -> object:
    """What two boards share that are alike to a tenth of a millimetre."""
    return (tuple((round(x / ALIKE_MM), round(y / ALIKE_MM)) for x, y in board.outline),
            tuple(sorted((round(one.x / ALIKE_MM), round(one.y / ALIKE_MM)) for one in board.holes)))


def _board(design: Design, piece: Row, at: Point, raft_outlines: tuple[list[Point], list[Point]],
           notches: list[Notch], mark: Point | None) -> Board:
    """One board; ``at`` is its corner on the raft, ``mark`` the disc's centre there, else it is the corner itself.

    The raft comes with its notches and without them: a notch takes nothing off the size that is cut out first.
    """
    zero = mark or at
    long, wide = piece["length"] * MM, piece["width"] * MM
    frame = (at[0], at[1], at[0] + long, at[1] + wide)
    outline, uncut = (_moved(_clipped(one, frame), zero) for one in raft_outlines)
    holes = tuple(
        Hole(number, row["from_x"] * MM if mark else row["x"] * MM, row["from_y"] * MM if mark else row["y"] * MM)
        for number, row in enumerate(design.value("board.holes") or [], 1) if row["board"] == piece["board"])
    own = tuple(replace(one, centre=(one.centre[0] - zero[0], one.centre[1] - zero[1]),
                        line=tuple(_moved(list(one.line), zero)))
                for one in notches if any(_inside(point, frame) for point in one.line))
    low = min(x for x, _ in uncut), min(y for _, y in uncut)
    high = max(x for x, _ in uncut), max(y for _, y in uncut)
    raft = (0.0, 0.0, design.value("board.raft_length") * MM, design.value("board.raft_width") * MM)
    return Board((int(piece["board"]),), 1, mark is not None, tuple(outline), (*low, *high),
                 design.value("board.hole_diameter") * MM, holes, own, _seams(frame, raft, zero, mark))


def _seams(frame: tuple[float, float, float, float], raft: tuple[float, float, float, float], zero: Point,
           mark: Point | None) -> tuple[tuple[Point, Point], ...]:
    """The edges that butt against another board."""
    found = []
    for side in range(4):
        if abs(frame[side] - raft[side]) < 0.5:
            continue
        place = frame[side]
        low, high = (frame[1], frame[3]) if side in (0, 2) else (frame[0], frame[2])
        if mark:
            half = sqrt(max(mark[0] ** 2 - (place - mark[0]) ** 2, 0.0))
            low, high = max(low, mark[0] - half), min(high, mark[0] + half)
        ends = ((place, low), (place, high)) if side in (0, 2) else ((low, place), (high, place))
        found.append(tuple(_moved(list(ends), zero)))
    return tuple((one[0], one[1]) for one in found)


def _moved(points: list[Point], zero: Point) -> list[Point]:
    return [(x - zero[0], y - zero[1]) for x, y in points]


def _inside(point: Point, frame: tuple[float, float, float, float]) -> bool:
    return frame[0] - 0.5 <= point[0] <= frame[2] + 0.5 and frame[1] - 0.5 <= point[1] <= frame[3] + 0.5


def _notch(row: Row, radius: float | None) -> Notch:
    """A notch on the raft, in mm from the raft's corner; its end is round where it is deep enough for that."""
    wide, deep = row["width"] * MM, row["depth"] * MM
    if radius is not None:
        turn = row["angle"]
        edge = radius
        zero = (radius, radius)
    else:
        turn = {"right": 0.0, "back": pi / 2, "left": pi, "front": -pi / 2}[row["side"]]
        edge = 0.0
        zero = (row["x"] * MM, row["y"] * MM)
    half = wide / 2
    # Along u out of the board, along v to the left of that.
    mouth = sqrt(max(edge ** 2 - half ** 2, 0.0)) if edge else 0.0
    if deep > half:
        middle = edge - deep + half
        end = [(middle - half * sin(pi * step / 36), -half * cos(pi * step / 36)) for step in range(37)]
    else:
        middle = edge - deep
        end = [(middle, -half), (middle, half)]
    line = [(mouth, -half), *end, (mouth, half)]
    place = tuple((zero[0] + u * cos(turn) - v * sin(turn), zero[1] + u * sin(turn) + v * cos(turn)) for u, v in line)
    centre = (zero[0] + middle * cos(turn), zero[1] + middle * sin(turn))
    return Notch(str(row["what"]), wide, deep, centre, place)


def _raft(design: Design, notches: list[Notch], radius: float | None) -> list[Point]:
    """The whole raft with its notches, counter-clockwise from its corner, in mm."""
    if radius is not None:
        return _disc(notches, radius)
    long, wide = design.value("board.raft_length") * MM, design.value("board.raft_width") * MM
    corners = [(0.0, 0.0), (long, 0.0), (long, wide), (0.0, wide)]
    found: list[Point] = []
    for at, corner in enumerate(corners):
        found.append(corner)
        after = corners[(at + 1) % 4]
        here = [one for one in notches if _between(one.line[0], corner, after)]
        for one in sorted(here, key=lambda one: hypot(one.line[0][0] - corner[0], one.line[0][1] - corner[1])):
            first, last = (hypot(one.line[end][0] - corner[0], one.line[end][1] - corner[1]) for end in (0, -1))
            found += one.line if first < last else one.line[::-1]
    return found


def _between(point: Point, start: Point, end: Point) -> bool:
    """Whether a point lies on a side of the raft."""
    off = abs((end[0] - start[0]) * (point[1] - start[1]) - (end[1] - start[1]) * (point[0] - start[0]))
    return off / max(hypot(end[0] - start[0], end[1] - start[1]), 1e-9) < 0.5


def _disc(notches: list[Notch], radius: float) -> list[Point]:
    spans = []
    for one in notches:
        ends = [atan2(one.line[end][1] - radius, one.line[end][0] - radius) for end in (0, -1)]
        spans.append((ends[0] % (2 * pi), (ends[1] - ends[0]) % (2 * pi), one))
    found: list[Point] = []
    for step in range(360):
        turn = step * STEP
        for start, _, one in spans:
            # A notch stands ahead of the first step behind its beginning.
            if turn - STEP < start <= turn or (step == 0 and start > 2 * pi - STEP):
                found += one.line
        if not any((turn - start) % (2 * pi) <= span for start, span, _ in spans):
            found.append((radius + radius * cos(turn), radius + radius * sin(turn)))
    return found


def _clipped(points: list[Point], frame: tuple[float, float, float, float]) -> list[Point]:
    """What of a shape lies within a frame (Sutherland and Hodgman)."""
    for side in range(4):
        axis, limit, sign = side % 2, frame[side], 1.0 if side < 2 else -1.0
        kept: list[Point] = []
        for at, point in enumerate(points):
            before = points[at - 1]
            here, there = (point[axis] - limit) * sign, (before[axis] - limit) * sign
            if (here >= -1e-6) != (there >= -1e-6):
                share = there / (there - here)
                kept.append((before[0] + (point[0] - before[0]) * share, before[1] + (point[1] - before[1]) * share))
            if here >= -1e-6:
                kept.append(point)
        points = kept
    return points
