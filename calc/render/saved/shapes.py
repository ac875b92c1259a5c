"""A board as lines for a cutter: outline, holes, notches and marks in mm, the one geometry of its DXF and its SVG.

Places are measured from the board's marked corner, along the length and across; those of a disc, or of a part of one,
from the disc's centre. Arcs stay arcs.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import atan2, cos, hypot, pi, sin, sqrt, tan

from ...declare import Row
from ...solve import Design
from ..paper import boards
from ..paper.boards import MM, Hole, Point

Frame = tuple[float, float, float, float]
NEAR_MM = 1e-6
INSET_MM, LETTER_MM, TICK_MM = 3.0, 5.0, 15.0
# Places tried for a word on a disc, each way, and how wide a letter is beside its height.
PLACES, LETTER_WIDE = 14, 0.75


@dataclass(frozen=True)
class Path:
    """A line through points, in mm. From each point to the next it is straight, or an arc where its ``bulge`` is not 0:
    the tangent of a quarter of the arc's angle, above zero when it turns counter-clockwise."""

    points: tuple[Point, ...]
    bulges: tuple[float, ...]
    closed: bool = False


@dataclass(frozen=True)
class Word:
    """A word to engrave: where its baseline begins, how tall its letters are in mm, its turn in degrees."""

    words: str
    at: Point
    tall: float = LETTER_MM
    turn: float = 0.0


@dataclass(frozen=True)
class Shape:
    """One board of a raft: ``number`` of ``count``."""

    number: int
    count: int
    disc: bool
    hole_mm: float
    outline: Path
    holes: tuple[Hole, ...]
    notches: tuple[Path, ...]
    marks: tuple[Path, ...]
    words: tuple[Word, ...]
    box: Frame


def numbers(design: Design) -> list[int]:
    """The numbers of the boards that there are; none while there is no raft."""
    return [int(row["board"]) for row in design.value("board.pieces") or []]


def of(design: Design, number: int) -> Shape:
    """The board of that number; ValueError with a sentence for one that this raft has not."""
    there = numbers(design)
    board = next((one for one in boards.of(design) if number in one.numbers), None)
    if board is None:
        have = ("it has no boards yet" if not there else "it has one board, number 1" if len(there) == 1
                else f"its boards have the numbers 1 to {max(there)}")
        raise ValueError(f"This plan has no board {number}: {have}.")
    (piece,) = [row for row in design.value("board.pieces") if row["board"] == number]
    frame = _frame(design, piece)
    outline = _of_disc(design.value("board.raft_length") * MM / 2, frame) if board.disc else _straight(frame)
    holes = tuple(Hole(at, *_centre(row)) for at, row in enumerate(design.value("board.holes") or [], 1)
                  if row["board"] == number)
    notches = tuple(path for one in board.notches for path in _notch(one, frame))
    box = _box(outline, frame, board.disc)
    words = [_name(number, len(there), board.disc, outline, holes, board.hole_mm, box)]
    words += [_seam(seam, box) for seam in board.seams]
    marks = _cross(frame) if board.disc else _corner(frame)
    return Shape(number, len(there), board.disc, board.hole_mm, outline, holes, notches, marks, tuple(words), box)


def _centre(row: Row) -> Point:
    x, y = (row["from_x"], row["from_y"]) if "from_x" in row else (row["x"], row["y"])
    return x * MM, y * MM


def _frame(design: Design, piece: Row) -> Frame:
    """The rectangle that a board is cut to: from its own corner, or from the disc's centre."""
    long, wide = piece["length"] * MM, piece["width"] * MM
    if design.value("water.opening_shape") != "round":
        return 0.0, 0.0, long, wide
    pieces, radius = design.value("board.pieces"), design.value("board.raft_length") * MM / 2
    left = (piece["x"] - min(one["x"] for one in pieces)) * MM - radius
    low = (piece["y"] - min(one["y"] for one in pieces)) * MM - radius
    return left, low, left + long, low + wide


def _straight(frame: Frame) -> Path:
    left, low, right, high = frame
    return Path(((left, low), (right, low), (right, high), (left, high)), (0.0,) * 4, True)


def _of_disc(radius: float, frame: Frame) -> Path:
    """What of a disc round 0, 0 lies in a frame, counter-clockwise."""
    if min(-frame[0], -frame[1], frame[2], frame[3]) >= radius - NEAR_MM:
        return Path(((radius, 0.0), (-radius, 0.0)), (1.0, 1.0), True)
    found = [(x, y) for x in (frame[0], frame[2]) for y in (frame[1], frame[3]) if hypot(x, y) < radius - NEAR_MM]
    for side in range(4):
        place = frame[side]
        half = sqrt(max(radius ** 2 - place ** 2, 0.0))
        for along in (-half, half):
            point = (place, along) if side in (0, 2) else (along, place)
            if _within(point, frame) and not any(hypot(point[0] - x, point[1] - y) < 1e-3 for x, y in found):
                found.append(point)
    middle = sum(x for x, _ in found) / len(found), sum(y for _, y in found) / len(found)
    found.sort(key=lambda point: atan2(point[1] - middle[1], point[0] - middle[0]))
    bulges = []
    for at, start in enumerate(found):
        end = found[(at + 1) % len(found)]
        angle = atan2(start[1], start[0])
        turn = (atan2(end[1], end[0]) - angle) % (2 * pi)
        top = radius * cos(angle + turn / 2), radius * sin(angle + turn / 2)
        round_ = all(abs(hypot(*point) - radius) < 1e-3 for point in (start, end)) and _within(top, frame, 0.01)
        bulges.append(tan(turn / 4) if round_ else 0.0)
    return Path(tuple(found), tuple(bulges), True)


def _within(point: Point, frame: Frame, near: float = NEAR_MM) -> bool:
    return (frame[0] - near <= point[0] <= frame[2] + near) and (frame[1] - near <= point[1] <= frame[3] + near)


def _box(outline: Path, frame: Frame, disc: bool) -> Frame:
    """What a board takes up; a disc bulges past its corners, but never past the frame or its own radius."""
    if not disc:
        return frame
    radius = max(hypot(*point) for point in outline.points)
    xs, ys = [x for x, _ in outline.points], [y for _, y in outline.points]
    box = [min(xs), min(ys), max(xs), max(ys)]
    for side, point in enumerate(((-radius, 0.0), (0.0, -radius), (radius, 0.0), (0.0, radius))):
        if _within(point, frame, 0.01):
            box[side] = point[side % 2]
    return box[0], box[1], box[2], box[3]


def _notch(notch: boards.Notch, frame: Frame) -> list[Path]:
    """A notch from edge to edge, its end an arc; one that a seam parts is cut off there, in short straight lines."""
    if all(_within(point, frame, 0.01) for point in notch.line):
        ends = (notch.line[0], notch.line[1], notch.line[-2], notch.line[-1])
        return [Path(ends, (0.0, -1.0 if len(notch.line) > 4 else 0.0, 0.0, 0.0))]
    found: list[Path] = []
    run: list[Point] = []
    for start, end in zip(notch.line, notch.line[1:], strict=False):
        part = _clipped(start, end, frame)
        if part is None or (run and hypot(run[-1][0] - part[0][0], run[-1][1] - part[0][1]) > 1e-3):
            found += [Path(tuple(run), (0.0,) * len(run))] if len(run) > 1 else []
            run = []
        if part is not None:
            run += [part[1]] if run else list(part)
    return found + ([Path(tuple(run), (0.0,) * len(run))] if len(run) > 1 else [])


def _clipped(start: Point, end: Point, frame: Frame) -> tuple[Point, Point] | None:
    """What of a straight line lies in a frame (Liang and Barsky)."""
    low, high = 0.0, 1.0
    for axis in range(2):
        step = end[axis] - start[axis]
        for limit, sign in ((frame[axis], -1.0), (frame[axis + 2], 1.0)):
            room = (limit - start[axis]) * sign
            if abs(step) < 1e-12:
                if room < -NEAR_MM:
                    return None
            elif step * sign > 0:
                high = min(high, room / (step * sign))
            else:
                low = max(low, room / (step * sign))
    if high - low < 1e-9:
        return None
    first, last = ((start[0] + (end[0] - start[0]) * at, start[1] + (end[1] - start[1]) * at) for at in (low, high))
    return first, last


def _corner(frame: Frame) -> tuple[Path, ...]:
    """The mark of the corner that all is measured from: an angle that points at it."""
    tick = min(TICK_MM, frame[2] / 4, frame[3] / 4)
    points = ((INSET_MM, INSET_MM + tick), (INSET_MM, INSET_MM), (INSET_MM + tick, INSET_MM))
    return (Path(points, (0.0, 0.0, 0.0)),)


def _cross(frame: Frame) -> tuple[Path, ...]:
    """The mark of the disc's centre, as far as it lies on this part."""
    found = [_clipped(start, end, frame) for start, end in (((-TICK_MM, 0.0), (TICK_MM, 0.0)),
                                                           ((0.0, -TICK_MM), (0.0, TICK_MM)))]
    return tuple(Path(one, (0.0, 0.0)) for one in found if one is not None)


def _seam(seam: tuple[Point, Point], box: Frame) -> Word:
    """The word beside an edge that butts against another board."""
    (x1, y1), (x2, y2) = seam
    middle = (x1 + x2) / 2, (y1 + y2) / 2
    half = len("SEAM") * LETTER_MM * LETTER_WIDE / 2
    if abs(x1 - x2) < abs(y1 - y2):
        away = INSET_MM + LETTER_MM if middle[0] < (box[0] + box[2]) / 2 else -INSET_MM
        return Word("SEAM", (middle[0] + away, middle[1] - half), turn=90.0)
    away = INSET_MM if middle[1] < (box[1] + box[3]) / 2 else -INSET_MM - LETTER_MM
    return Word("SEAM", (middle[0] - half, middle[1] + away))


def _name(number: int, count: int, disc: bool, outline: Path, holes: tuple[Hole, ...], hole_mm: float,
          box: Frame) -> Word:
    """The board's name: beside the marked corner, or where a disc has most room for it."""
    words = f"BOARD {number} OF {count}"
    if not disc:
        return Word(words, (INSET_MM + 4.0, INSET_MM + 4.0))
    wide = len(words) * LETTER_MM * LETTER_WIDE
    radius = max(hypot(*point) for point in outline.points)
    best, place = -1.0, (0.0, 0.0)
    for column in range(PLACES):
        for row in range(PLACES):
            x = box[0] + (box[2] - box[0]) * (column + 0.5) / PLACES
            y = box[1] + (box[3] - box[1]) * (row + 0.5) / PLACES
            rim = radius - max(hypot(x + side * wide / 2, y) for side in (-1, 1))
            room = min([rim, x - box[0] - wide / 2, box[2] - x - wide / 2]
                       + [hypot(max(abs(one.x - x) - wide / 2, 0.0), one.y - y) - hole_mm / 2 for one in holes])
            if room > best:
                best, place = room, (x - wide / 2, y - LETTER_MM / 2)
    return Word(words, place)
