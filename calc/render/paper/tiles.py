"""The drill template's tiles: which pages a board at its real size is parted into, and how each is drawn.

A page shows a window of the board; windows overlap, and the strip where two meet carries diamonds with one letter. A
page that holds no centre of a hole, no notch and no mark to measure from is left out.
"""

from __future__ import annotations

from collections.abc import Callable
from math import hypot

from . import ink
from .boards import Board, Hole, Notch, Point

WIDE, TALL, OVERLAP = 180.0, 220.0, 10.0
STEP_X, STEP_Y = WIDE - OVERLAP, TALL - OVERLAP
PAGE_TALL = 254.0
CORNER = 12.0
# Where along a strip its words may stand, the best place first.
ALONG = (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8)
# A window's corner coordinate, so that a page whose neighbours are left out still finds its place.
Say = Callable[[float], str]


def letters(number: int) -> str:
    """A, B ... Z, AA, AB: the name of a row of tiles, and of a joint."""
    name = ""
    number += 1
    while number:
        number, rest = divmod(number - 1, 26)
        name = chr(65 + rest) + name
    return name


def said_tile(tile: tuple[int, int]) -> str:
    """The name of a tile: the row's letter from the mark's side up, then the number along."""
    return f"{letters(tile[1])}{tile[0] + 1}"


class Tiling:
    """How one board is parted into pages."""

    def __init__(self, board: Board):
        self.board = board
        self.left, self.low = board.box[0], board.box[1]
        self.columns = max(1, -int(-(board.wide - OVERLAP) // STEP_X))
        self.rows = max(1, -int(-(board.tall - OVERLAP) // STEP_Y))
        wanted = {self.owner(one.x, one.y) for one in board.holes} | {self.owner(0.0, 0.0)}
        for notch in board.notches:
            wanted |= {self.owner(*self._within(point)) for point in (notch.line[0], notch.centre, notch.line[-1])}
        self.wanted = sorted(wanted, key=lambda tile: (tile[1], tile[0]))
        self._joints()

    def _within(self, point: Point) -> Point:
        box = self.board.box
        return min(max(point[0], box[0]), box[2]), min(max(point[1], box[1]), box[3])

    def owner(self, x: float, y: float) -> tuple[int, int]:
        """The tile on which a point lies furthest from the edges."""
        half = OVERLAP / 2
        return (min(max(int((x - self.left - half) // STEP_X), 0), self.columns - 1),
                min(max(int((y - self.low - half) // STEP_Y), 0), self.rows - 1))

    def corner(self, tile: tuple[int, int]) -> Point:
        """The window's lower left corner on the board, in mm from its mark."""
        return self.left + tile[0] * STEP_X, self.low + tile[1] * STEP_Y

    def _joints(self) -> None:
        """A letter for each place where two pages that are printed meet."""
        there = set(self.wanted)
        self.joints: dict[tuple[tuple[int, int], tuple[int, int]], str] = {}
        for tile in self.wanted:
            for after in ((tile[0] + 1, tile[1]), (tile[0], tile[1] + 1)):
                if after in there:
                    self.joints[tile, after] = letters(len(self.joints)).lower()


class Tile:
    """One page of a board while it is drawn; lengths in mm, the window's upper left corner at 0."""

    def __init__(self, tiling: Tiling, tile: tuple[int, int], say: Say):
        self.tiling, self.tile, self.say, self.board = tiling, tile, say, tiling.board
        self.corner = tiling.corner(tile)
        self.parts: list[str] = []
        # Where words on notches stand, as (left, right, upper, lower), so that those of a joint keep clear of them.
        self.told: list[tuple[float, float, float, float]] = []

    def at(self, point: Point) -> Point:
        """Where a point of the board lies in the window."""
        return point[0] - self.corner[0], TALL - (point[1] - self.corner[1])

    def sees(self, x: float, y: float, around: float = 0.0) -> bool:
        """Whether a point, or something round it, is in the window."""
        across, down = self.at((x, y))
        return -around <= across <= WIDE + around and -around <= down <= TALL + around

    def drawn(self) -> list[str]:
        """The window with all that lies in it, and the frame and diamonds to cut and to join it by."""
        board = self.board
        self.parts.append(ink.shape("edge", map(self.at, board.outline)))
        self._seams()
        self._mark()
        for notch in board.notches:
            if self.sees(*notch.centre, around=max(notch.width, notch.depth)):
                self._notch(notch)
        for hole in board.holes:
            if self.sees(hole.x, hole.y, board.hole_mm / 2 + 4):
                self._hole(hole)
        self._joined()
        return [ink.window(0, 0, WIDE, TALL, self.parts), *self._crop()]

    def _cross(self, x: float, y: float, arm: float) -> None:
        """Cross-hairs with a small ring at the centre, to prick through."""
        self.parts.append(ink.line("hair", (x - arm, y), (x + arm, y)) + ink.line("hair", (x, y - arm), (x, y + arm)))
        if 0 <= x <= WIDE and 0 <= y <= TALL:
            self.parts.append(ink.circle("prick", x, y, 1.0))

    def _hole(self, hole: Hole) -> None:
        x, y = self.at((hole.x, hole.y))
        radius = self.board.hole_mm / 2
        self.parts.append(ink.circle("drill", x, y, radius))
        self._cross(x, y, radius + 4)
        home = self.tiling.owner(hole.x, hole.y)
        if home != self.tile:
            self._elsewhere(x, y, radius, f"hole {hole.number}: its center is on {said_tile(home)}")
            return
        right = x < WIDE - 45
        self.parts.append(ink.text(x + 3 if right else x - 3, y - 3.5, f"hole {hole.number}", "bold",
                                   "start" if right else "end", 4.6))
        words = f"{self.say(hole.x)} along, {self.say(hole.y)} across"
        half = ink.width(words) / 2
        below = y + radius + 9 < TALL - 3
        self.parts.append(ink.text(min(max(x, half + 2), WIDE - half - 2), y + radius + 9 if below else y - radius - 6,
                                   words, "halo", "middle"))

    def _elsewhere(self, x: float, y: float, radius: float, words: str) -> None:
        """Of a hole whose centre is on another page: where that is, if there is room for it beside the arc."""
        half = ink.width(words) / 2
        place = min(max(x, half + 12), WIDE - half - 12), y + (radius + 7 if y < TALL / 2 else -radius - 4)
        if 14 < place[1] < TALL - 14:
            self.parts.append(ink.text(*place, words, "faded halo", "middle"))

    def _notch(self, notch: Notch) -> None:
        x, y = self.at(notch.centre)
        self._cross(x, y, min(notch.width / 2 + 4, 30))
        if self.tiling.owner(*self.tiling._within(notch.centre)) != self.tile:
            return
        words = [f"notch for {notch.what}, cut out", f"{self.say(notch.width)} wide, {self.say(notch.depth)} deep",
                 f"center {self.say(notch.centre[0])} along, {self.say(notch.centre[1])} across"]
        wide = max(map(ink.width, words))
        outside = notch.width / 2 + 8
        across = min(max(x, wide / 2 + 3), WIDE - wide / 2 - 3)
        top = y + outside if y < TALL / 2 else y - outside - 10
        self.told.append((across - wide / 2, across + wide / 2, top - 5, top + 12))
        for number, one in enumerate(words):
            self.parts.append(ink.text(across, top + 5 * number, one, "halo bold" if not number else "halo", "middle"))

    def _seams(self) -> None:
        for start, end in self.board.seams:
            level = abs(start[1] - end[1]) < abs(start[0] - end[0])
            middle = ((self.corner[0] + WIDE / 2, start[1]) if level else (start[0], self.corner[1] + TALL * 0.72))
            x, y = self.at(middle)
            inside = -1.0 if (start[0] if not level else start[1]) > sum(self.board.box[not level::2]) / 2 else 1.0
            if not (0 <= x <= WIDE and 0 <= y <= TALL):
                continue
            self.parts.append(ink.text(x, y - inside * 4 + 1.2, "seam: butts against the next board", "faded", "middle")
                              if level else ink.text(x + inside * 4.5 + (0 if inside > 0 else 1.2), y,
                                                     "seam: butts against the next board", "faded", "middle", turn=-90))

    def _mark(self) -> None:
        """The black corner, or a disc's centre."""
        x, y = self.at((0.0, 0.0))
        if not (-CORNER <= x <= WIDE and 0 <= y <= TALL + CORNER):
            return
        if self.board.disc:
            self._cross(x, y, 14)
            near = any(hypot(one.x, one.y) < self.board.hole_mm for one in self.board.holes)
            down = y - self.board.hole_mm / 2 - 13 if near else y + 6
            self.parts.append(ink.circle("black", x, y, 2.2) + ink.text(
                x + 4 if x < WIDE - 60 else x - 4, down, "center of the disc: measure from here", "bold halo",
                "start" if x < WIDE - 60 else "end"))
            return
        self.parts.append(ink.shape("black", [(x, y), (x + CORNER, y), (x, y - CORNER)])
                          + ink.text(x + CORNER + 3, y - 4, "black corner: measure from here", "bold"))

    def _joined(self) -> None:
        """Diamonds in the strips that overlap, and what is glued over what."""
        for (first, second), name in self.tiling.joints.items():
            if self.tile not in (first, second):
                continue
            beside = first[0] != second[0]
            near = self.tile == first
            for number, share in enumerate((0.25, 0.75), 1):
                place = (WIDE - OVERLAP / 2 if near else OVERLAP / 2, TALL * share) if beside else (
                    WIDE * share, OVERLAP / 2 if near else TALL - OVERLAP / 2)
                self.parts.append(_diamond(*place, f"{name}{number}"))
            if not near:
                continue
            words = f"glue {said_tile(second)} over this strip"
            half = ink.width(words) / 2 + 2
            long = TALL if beside else WIDE
            boxes = [(at, (STEP_X - 7, STEP_X, at - half, at + half) if beside else
                      (at - half, at + half, OVERLAP, OVERLAP + 7)) for at in (long * share for share in ALONG)]
            free = next((at for at, box in boxes if not self._meets(box)), long / 2)
            if beside:
                self.parts.append(ink.line("dash", (STEP_X, 0), (STEP_X, TALL))
                                  + ink.text(STEP_X - 2, free, words, "faded halo", "middle", turn=-90))
            else:
                self.parts.append(ink.line("dash", (0, OVERLAP), (WIDE, OVERLAP))
                                  + ink.text(free, OVERLAP + 5, words, "faded halo", "middle"))

    def _meets(self, box: tuple[float, float, float, float]) -> bool:
        """Whether words in a box would meet those told of a notch."""
        left, right, upper, lower = box
        return any(left < other[1] and other[0] < right and upper < other[3] and other[2] < lower
                   for other in self.told)

    def _crop(self) -> list[str]:
        """The frame that the page is cut along; outside of it a printer may have no room for marks."""
        return [ink.rect("grid", 0.1, 0.1, WIDE - 0.2, TALL - 0.2)]


def _diamond(x: float, y: float, words: str) -> str:
    half = OVERLAP / 2 - 0.5
    return (ink.shape("ring", [(x - half, y), (x, y - half), (x + half, y), (x, y + half)])
            + ink.text(x, y + 1.2, words, "bold", "middle"))


def bars(left: float, top: float) -> list[str]:
    """The two bars that tell whether the printer kept the size: 4 in and 100 mm."""
    made = []
    for y, long, parts, words in ((top + 4, 101.6, 4, "this bar must measure 4 in"),
                                  (top + 15, 100.0, 10, "this bar must measure 100 mm")):
        made.append(ink.text(left + long / 2, y - 2, words, "", "middle"))
        made.append(ink.line("bar", (left, y), (left + long, y)))
        made += [ink.line("edge" if step in (0, parts) else "hair", (left + long * step / parts, y - 1.8),
                          (left + long * step / parts, y + 1.8)) for step in range(parts + 1)]
    return made


def key_map(tiling: Tiling, here: tuple[int, int] | None, left: float, top: float, wide: float, tall: float,
            named: bool = False) -> list[str]:
    """The board with its tiles, small; the tile ``here`` is black, tiles without a page are hatched."""
    board = tiling.board
    scale = min(wide / board.wide, tall / board.tall)
    high = board.tall * scale

    def at(point: Point) -> Point:
        return left + (point[0] - board.box[0]) * scale, top + high - (point[1] - board.box[1]) * scale

    made = []
    for column in range(tiling.columns):
        for row in range(tiling.rows):
            x, y = tiling.corner((column, row))
            right = board.box[2] if column == tiling.columns - 1 else x + STEP_X
            upper = board.box[3] if row == tiling.rows - 1 else y + STEP_Y
            (x1, y1), (x2, y2) = at((x, y)), at((right, upper))
            kind = "black" if (column, row) == here else "" if (column, row) in tiling.wanted else "waste"
            if kind == "waste":
                made += _hatch(x1, y2, x2 - x1, y1 - y2)
            made.append(ink.rect("black" if kind == "black" else "grid", x1, y2, x2 - x1, y1 - y2))
            if named and kind != "waste" and x2 - x1 > 8 and y1 - y2 > 6:
                made.append(ink.text(x1 + 1.5, y2 + 4.4, said_tile((column, row)), "bold"))
    made.append(ink.shape("outline", map(at, board.outline)))
    for hole in board.holes:
        kind = "white" if tiling.owner(hole.x, hole.y) == here else "drill thin"
        made.append(ink.circle(kind, *at((hole.x, hole.y)), max(board.hole_mm / 2 * scale, 0.7)))
    x, y = at((0.0, 0.0))
    made.append(ink.circle("black", x, y, 1.2) if board.disc else
                ink.shape("black", [(x, y), (x + min(4, wide / 8), y), (x, y - min(4, wide / 8))]))
    return made


def _hatch(x: float, y: float, wide: float, tall: float) -> list[str]:
    """Slanted lines over a rectangle, wide apart: nothing is here."""
    made, step = [], 3.0
    start = -tall
    while start < wide:
        first = (x + max(start, 0.0), y + max(-start, 0.0))
        last = (x + min(start + tall, wide), y + min(tall, wide - start))
        if hypot(last[0] - first[0], last[1] - first[1]) > 0.5:
            made.append(ink.line("hatch", first, last))
        start += step
    return made
