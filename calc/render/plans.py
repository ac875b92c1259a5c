"""Where to drill and where to lay the stones: the raft and the floor of the bath, seen from above."""

from __future__ import annotations

from bisect import bisect_right
from itertools import pairwise
from math import ceil, cos, isfinite, pi, sin

from ..declare import Row
from ..solve import Design
from . import svg
from .drawing import EDGE, LINE, WIDTH, counted, drawable, length_of, say_length, vessel
from .svg import text, text_width

PLAN_LEFT, PLAN_WIDE, PLAN_TALL, PLAN_TOP = 46.0, 440.0, 440.0, 56.0
FOLD_RATIO, FOLD_TO, FOLD_MOST = 8.0, 5.0, 8
NUMBER_ALL, NUMBER_LEAST, NUMBER_MOST, NUMBER_OVER, MARGIN_NUMBER = 60, 10.5, 14.0, 12.0, 9.0
CORNER_MARKS = 60


def raft_plan(design: Design) -> str:
    """The raft from above, each hole to scale and numbered as in the list, as SVG text; "" while there is no board.

    A raft much longer than wide is drawn in several lengths, one under another, all to one scale. Up to 60 holes are
    all numbered; with more, or holes too small for a number, the first and last of each row are, outside the board.
    """
    pieces = [piece for piece in design.value("board.pieces") or []
              if drawable(piece.get("length")) and drawable(piece.get("width"))]
    if not pieces:
        return ""
    corner_x, corner_y = min(piece["x"] for piece in pieces), min(piece["y"] for piece in pieces)
    long = max(piece["x"] + piece["length"] for piece in pieces) - corner_x
    wide = max(piece["y"] + piece["width"] for piece in pieces) - corner_y
    turned = wide > 1.6 * long
    boards: dict[int, Box] = {}
    for number, piece in enumerate(pieces, 1):
        box = (piece["x"] - corner_x, piece["y"] - corner_y, piece["length"], piece["width"])
        boards[piece.get("board", number)] = (box[1], box[0], box[3], box[2]) if turned else box
    radius = (length_of(design, "board.hole_diameter") or 0.0) / 2
    holes = []
    for number, one in enumerate(design.value("board.holes") or [], 1):
        if one["board"] in boards:
            x, y = (one["y"], one["x"]) if turned else (one["x"], one["y"])
            box = boards[one["board"]]
            holes.append((box[0] + x, box[1] + y, number, one["board"]))
    raft = _Raft(design, (wide, long) if turned else (long, wide), boards, holes, radius, turned, (corner_x, corner_y))
    return raft.draw()


# A board of the raft in m: x and y of its corner, length and width.
Box = tuple[float, float, float, float]


class _Raft:
    """The raft's plan while it is being drawn; lengths in m, ``length`` to the right and ``width`` upwards."""

    def __init__(self, design: Design, size: tuple[float, float], boards: dict[int, Box],
                 holes: list[tuple[float, float, int, int]], radius: float, turned: bool, corner: tuple[float, float]):
        self.design, self.boards, self.holes = design, boards, holes
        self.length, self.width = size
        self.radius, self.turned, self.corner = radius, turned, corner
        self.round = design.value("water.opening_shape") == "round"
        self.folds = self._folds()
        longest = max(b - a for a, b in pairwise(self.folds))
        self.scale = min(PLAN_WIDE / longest, PLAN_TALL / self.width)
        self.pitch = self.width * self.scale + 34
        self.parts: list[str] = []

    def _folds(self) -> list[float]:
        """Where the raft is parted into lengths drawn one under another: at seams where there are any."""
        if self.round or self.length <= FOLD_RATIO * self.width:
            return [0.0, self.length]
        strips = min(ceil(self.length / (FOLD_TO * self.width)), FOLD_MOST)
        step = self.length / strips
        columns = sorted({round(box[0], 6) for box in self.boards.values()})
        if len(columns) >= strips:
            return [*columns[::ceil(len(columns) / strips)], self.length]
        return [step * number for number in range(strips)] + [self.length]

    def strip(self, x: float) -> int:
        """Number of the drawn length that a place along the raft falls in."""
        if len(self.folds) == 2:
            return 0
        return min(max(bisect_right(self.folds, x + 2e-6) - 1, 0), len(self.folds) - 2)

    def px(self, x: float, strip: int) -> float:
        """Place across the page."""
        return PLAN_LEFT + (x - self.folds[strip]) * self.scale

    def py(self, y: float, strip: int) -> float:
        """Place down the page; the raft's front is below."""
        return PLAN_TOP + strip * self.pitch + (self.width - y) * self.scale

    def draw(self) -> str:
        """The whole drawing."""
        self._boards()
        self._keepouts()
        self._notches()
        # Thousands of holes have to follow a keystroke, so this loop is kept bare.
        radius, scale = svg.num(max(self.radius * self.scale, 0.8)), self.scale
        starts = [(PLAN_LEFT - fold * scale, PLAN_TOP + strip * self.pitch + self.width * scale)
                  for strip, fold in enumerate(self.folds)]
        circles = []
        for x, y, *_ in self.holes:
            left, low = starts[self.strip(x)]
            circles.append(f'<circle cx="{left + x * scale:.1f}" cy="{low - y * scale:.1f}" r="{radius}"/>')
        if circles:
            self.parts.append(f'<g class="hole">{"".join(circles)}</g>')
        every = self._numbers()
        bottom = self._dimensions()
        return svg.drawing("raft-plan", WIDTH, bottom + 12, "The raft from above", self._description(every), self.parts)

    def _boards(self) -> None:
        last = len(self.folds) - 2
        margin = length_of(self.design, "board.margin") or 1.0
        if self.round:
            half = self.length / 2
            self.parts.append(svg.circle("foam", self.px(half, 0), self.py(half, 0), half * self.scale))
            # Two marked diameters: a disc has no corner, so its holes are measured from its centre.
            self.parts.append(svg.line("dim", (self.px(0, 0), self.py(half, 0)), (self.px(self.length, 0),
                                                                                  self.py(half, 0))))
            self.parts.append(svg.line("dim", (self.px(half, 0), self.py(0, 0)), (self.px(half, 0),
                                                                                  self.py(self.length, 0))))
            self._round_seams()
        for x, y, long, wide in self.boards.values():
            first, end = self.strip(x), self.strip(x + long - 1e-5)
            for strip in range(first, end + 1):
                a, b = max(x, self.folds[strip]), min(x + long, self.folds[strip + 1])
                if not self.round:
                    self.parts.append(svg.rect("foam", self.px(a, strip), self.py(y + wide, strip),
                                               (b - a) * self.scale, wide * self.scale))
                if strip == end and x + long < self.length - 1e-6 and not self.round:
                    at = self.px(b, strip)
                    self.parts.append(svg.line("seam", (at, self.py(y, strip)), (at, self.py(y + wide, strip))))
                if y > 1e-6 and not self.round:
                    at = self.py(y, strip)
                    self.parts.append(svg.line("seam", (self.px(a, strip), at), (self.px(b, strip), at)))
            if len(self.boards) <= CORNER_MARKS and not self.round:
                cx, cy = self.px(x, first), self.py(y, first)
                arm = min(11.0, long * self.scale / 3, wide * self.scale / 3, max(margin * self.scale * 1.2, 3.0))
                self.parts.append(svg.shape("solid", (cx, cy), (cx + arm, cy), (cx, cy - arm)))
        for strip in range(last):
            for x, at in ((self.folds[strip + 1], strip), (self.folds[strip + 1], strip + 1)):
                self.parts.append(svg.line("dim", (self.px(x, at), self.py(0, at) + 7),
                                           (self.px(x, at), self.py(self.width, at) - 7)))

    def _round_seams(self) -> None:
        left, front = self.corner
        for seam in self.design.value("board.seams") or []:
            ends = [(seam["x1"] - left, seam["y1"] - front), (seam["x2"] - left, seam["y2"] - front)]
            self.parts.append(svg.line("seam", *((self.px(x, 0), self.py(y, 0)) for x, y in ends)))

    def _keepouts(self) -> None:
        rows = getattr(self.design, "rows", None)
        for row in (rows("board.keepouts") if rows else None) or []:
            sides = [row.get(name) for name in ("x", "y", "length", "width")]
            if not all(isinstance(side, (int, float)) and isfinite(side) for side in sides):
                continue
            x, y, long, wide = sides[0] - self.corner[0], sides[1] - self.corner[1], sides[2], sides[3]
            if self.turned:
                x, y, long, wide = y, x, wide, long
            x1, y1 = max(x, 0.0), max(y, 0.0)
            x2, y2 = min(x + long, self.length), min(y + wide, self.width)
            if x2 <= x1 or y2 <= y1:
                continue
            for strip in range(self.strip(x1), self.strip(x2 - 1e-5) + 1):
                a, b = self.px(max(x1, self.folds[strip]), strip), self.px(min(x2, self.folds[strip + 1]), strip)
                top, low = self.py(y2, strip), self.py(y1, strip)
                self.parts.append(f'<path class="keepout ink" fill="none" d="M{svg.num(a)} {svg.num(top)}H{svg.num(b)}'
                                  f"V{svg.num(low)}H{svg.num(a)}ZL{svg.num(b)} {svg.num(low)}M{svg.num(a)} "
                                  f'{svg.num(low)}L{svg.num(b)} {svg.num(top)}"/>')

    def _notches(self) -> None:
        """Notches in the edge, as cut-outs; on a disc they are turned to the rim."""
        for row in self.design.value("board.notch_rows") or []:
            x, y = (row["y"], row["x"]) if self.turned else (row["x"], row["y"])
            wide, deep = row["width"] / 2, row["depth"]
            if row["angle"] is not None:
                angle = pi / 2 - row["angle"] if self.turned else row["angle"]
                out, across = (cos(angle), sin(angle)), (-sin(angle), cos(angle))
                corners = [(x + s * wide * across[0] - d * out[0], y + s * wide * across[1] - d * out[1])
                           for s, d in ((-1, 0.0), (-1, deep), (1, deep), (1, 0.0))]
            else:
                side = {"right": "back", "left": "front", "back": "right"}[row["side"]] if self.turned else row["side"]
                dx, dy = {"right": (-1, 0), "left": (1, 0), "back": (0, -1), "front": (0, 1)}[side]
                corners = [(x + s * wide * abs(dy) + d * dx, y + s * wide * abs(dx) + d * dy)
                           for s, d in ((-1, 0.0), (-1, deep), (1, deep), (1, 0.0))]
            strip = self.strip(min(max(x, 0.0), self.length - 1e-5))
            self.parts.append(svg.shape("notch ink", *((self.px(a, strip), self.py(b, strip)) for a, b in corners)))

    def _numbers(self) -> bool:
        """Numbers in the holes, or of each row's first and last hole beside the board; whether all are numbered."""
        if not self.holes:
            return True
        across = 2 * self.radius * self.scale
        size = min(NUMBER_MOST, across * 0.74 / (len(str(len(self.holes))) * svg.LETTER), across * 0.8)
        drop = size * 0.36
        if size < NUMBER_LEAST:
            # Over the hole, where the foam between two holes leaves room for it.
            spacing = length_of(self.design, "board.spacing_used") or length_of(self.design, "board.spacing") or 0.0
            room = spacing * self.scale - across
            size, drop = (NUMBER_OVER, -across / 2 - 3) if room >= NUMBER_OVER + 5 else (0.0, 0.0)
        if len(self.holes) <= NUMBER_ALL and size:
            for x, y, number, _ in self.holes:
                strip = self.strip(x)
                self.parts.append(text(self.px(x, strip), self.py(y, strip) + drop, str(number), "label", "middle",
                                       size))
            return True
        rows: dict[tuple[int, int], list[tuple[float, int]]] = {}
        for x, y, number, _ in self.holes:
            rows.setdefault((self.strip(x), round(y * 1e4)), []).append((x, number))
        lowest: dict[int, float] = {}
        for strip, y in sorted(rows):
            at = self.py(y / 1e4, strip)
            if strip in lowest and lowest[strip] - at < MARGIN_NUMBER * 1.15:
                continue
            lowest[strip] = at
            row = rows[strip, y]
            right = self.px(self.folds[strip + 1], strip)
            self.parts.append(text(PLAN_LEFT - 6, at + 3.2, str(min(row)[1]), "label", "end", MARGIN_NUMBER))
            if len(row) > 1:
                self.parts.append(text(right + 6, at + 3.2, str(max(row)[1]), "label", "start", MARGIN_NUMBER))
        return False

    def _say(self, value: float) -> str:
        return say_length(self.design, value, "mm")

    def _dimensions(self) -> float:
        last = len(self.folds) - 2
        right = max(self.px(b, strip) for strip, b in enumerate(self.folds[1:]))
        # The overall length is written over the first drawn length, which shows only its beginning when folded.
        words = f"{self._say(self.length)} overall" + (f", drawn in {last + 1} lengths" if last else "")
        if self.round:
            words = f"{self._say(self.length)} across"
        end = self.px(self.folds[1], 0)
        self.parts.append(svg.dim_across(PLAN_LEFT, end, PLAN_TOP - 18))
        middle = max((PLAN_LEFT + end) / 2, text_width(words) / 2 + EDGE)
        self.parts.append(text(middle, PLAN_TOP - 28, words, "dim", "middle"))
        if not self.round:
            at = right + 38
            self.parts.append(svg.dim_up(at, self.py(self.width, 0), self.py(0, 0)))
            words = self._say(self.width)
            size = min(svg.TEXT_SIZE, (WIDTH - EDGE - at - 8) / (len(words) * svg.LETTER))
            self.parts.append(text(at + 8, (self.py(self.width, 0) + self.py(0, 0)) / 2 + 5, words, "dim", "start",
                                   size))
        bottom = self.py(0, last)
        bottom = self._spacing(bottom)
        marks = "Black corner: measure that board's holes from here" if len(self.boards) <= CORNER_MARKS \
            else "Measure each board's holes from its lower left corner"
        if self.round:
            marks = "Measure every hole from the centre, along two diameters"
        notes = [marks]
        spacing, margin = length_of(self.design, "board.spacing_used"), length_of(self.design, "board.margin")
        if spacing and self.holes:
            notes.append(f"Nearest centres {self._say(spacing)} apart or more")
        if margin:
            notes.append(f"At least {self._say(margin)} from board edge to hole edge")
        if self.turned:
            notes.append("Drawn a quarter turn round: the length runs up the page")
        for words in notes:
            bottom += LINE + 2
            self.parts.append(text(PLAN_LEFT, bottom, words))
        return bottom

    def _spacing(self, bottom: float) -> float:
        """The distance between neighbours in a row, drawn under the raft where the row nearest the front stands."""
        last = len(self.folds) - 2
        rows: dict[tuple[int, object], list[float]] = {}
        for x, y, _, board in self.holes:
            if self.strip(x) == last:
                rows.setdefault((round(y * 1e4), board), []).append(x)
        row = min((key for key in rows if len(rows[key]) > 1), key=lambda key: (key[0], min(rows[key])), default=None)
        if row is None:
            return bottom
        first, second = min(pairwise(sorted(rows[row])), key=lambda pair: round(pair[1] - pair[0], 6))
        at = bottom + 22
        a, b = self.px(first, last), self.px(second, last)
        top = self.py(row[0] / 1e4, last) + self.radius * self.scale
        self.parts += [svg.line("dim", (x, top), (x, at + 5)) for x in (a, b)]
        self.parts.append(svg.dim_across(a, b, at))
        words = f"{self._say(second - first)} centre to centre"
        x = b + 12
        if x + text_width(words) <= WIDTH - EDGE:
            self.parts.append(text(x, at + 5, words, "dim"))
            return at + 6
        # No room beside the dimension line: under it, kept within the picture.
        half = text_width(words) / 2
        x = min(max((a + b) / 2, EDGE + half), WIDTH - EDGE - half)
        self.parts.append(text(x, at + 22, words, "dim", "middle"))
        return at + 24

    def _description(self, every: bool) -> str:
        size = f"a disc {self._say(self.length)} across" if self.round else \
            f"{self._say(self.length)} by {self._say(self.width)}"
        said = [f"The raft is {size}, in "
                f"{counted(len(self.boards), 'board')}, with {counted(len(self.holes), 'hole')}."]
        if self.radius:
            said.append(f"Each hole is {self._say(2 * self.radius)} across.")
        spacing, margin = length_of(self.design, "board.spacing_used"), length_of(self.design, "board.margin")
        spacing = spacing or length_of(self.design, "board.spacing")
        if spacing:
            said.append(f"Centres are at least {self._say(spacing)} apart.")
        if margin:
            said.append(f"Hole edges stay {self._say(margin)} from the board's edge.")
        said.append("Holes are numbered as in the list of hole centres." if every else
                    "The first and last holes of a row are numbered, as in the list of hole centres.")
        if len(self.folds) > 2:
            said.append(f"The raft is drawn in {len(self.folds) - 1} lengths, one under another, to one scale.")
        said.append("Measure from the centre of the disc." if self.round else
                    "Measure from the lower left corner of each board"
                    + (", drawn a quarter turn round." if self.turned else "."))
        return " ".join(said)


FLOOR_LEAST = 84.0
HOSE_ROOM = 7.0


def _first_round(design: Design, first: Row, across: float) -> str:
    """Where the first stone of a round floor lies, from its centre: a disc has no corner to measure from."""
    aside, up = first["x"] - across / 2, first["y"] - across / 2
    said = [f"{say_length(design, abs(value))} {ahead if value > 0 else behind} it"
            for value, ahead, behind in ((aside, "right of", "left of"), (up, "above", "below")) if abs(value) > 5e-4]
    return "First: " + ("in the centre" if not said else f"from the centre, {' and '.join(said)}")


def stone_plan(design: Design) -> str:
    """The floor of the bath from above, with its air stones and their hoses, as SVG; "" while not known."""
    stones = design.value("air.stone_rows") or []
    _, long = vessel(design, "bath")
    kind = design.value("bath.shape")
    is_round = kind in ("round", "tapered round")
    wide = long if is_round else length_of(design, "bath.width")
    if kind == "tapered box" and wide:
        # An empty floor width means that all sides taper alike.
        narrower = (length_of(design, "bath.length") or long or 0.0) - (long or 0.0)
        wide = length_of(design, "bath.base_width") or drawable(wide - narrower)
    if not stones or long is None or wide is None:
        return ""
    long = max(long, *(one["x"] for one in stones))
    wide = max(wide, *(one["y"] for one in stones))
    across = up = min(PLAN_WIDE / long, PLAN_TALL / wide)
    if wide * up < FLOOR_LEAST:
        up = FLOOR_LEAST / wide
    if long * across < FLOOR_LEAST:
        across = FLOOR_LEAST / long
    true = up == across
    top = PLAN_TOP + 44
    right, bottom = PLAN_LEFT + long * across, top + wide * up
    spots = [(PLAN_LEFT + one["x"] * across, bottom - one["y"] * up) for one in stones]
    parts = [svg.circle("water", (PLAN_LEFT + right) / 2, (top + bottom) / 2, long * across / 2),
             svg.circle("ink", (PLAN_LEFT + right) / 2, (top + bottom) / 2, long * across / 2)] if is_round else \
        [svg.rect("water", PLAN_LEFT, top, right - PLAN_LEFT, bottom - top),
         svg.rect("ink", PLAN_LEFT, top, right - PLAN_LEFT, bottom - top)]
    rows: dict[float, list[float]] = {}
    for x, y in spots:
        rows.setdefault(round(y, 1), []).append(x)
    trunk = PLAN_LEFT - 18
    manifold = top - 26
    ordered = sorted(rows)
    room = min((b - a for a, b in pairwise(ordered)), default=HOSE_ROOM)
    if room >= HOSE_ROOM:
        parts.extend(svg.line("air", (trunk, y), (max(places), y)) for y, places in rows.items())
        parts.append(svg.line("air", (trunk, manifold), (trunk, max(rows))))
    parts.append(svg.rect("pump foam", trunk - 8, manifold - 16, 50, 16))
    parts.append(text(trunk + 50, manifold - 3, "pump and manifold"))
    spacing, hose = length_of(design, "air.stone_spacing"), length_of(design, "air.hose_length")
    near = spacing * min(across, up) if spacing else 12.0
    radius = max(min(7.0, near * 0.36), 0.8)
    parts.append('<g class="stone solid">' + "".join(
        f'<circle cx="{svg.num(x)}" cy="{svg.num(y)}" r="{svg.num(radius)}"/>' for x, y in spots) + "</g>")
    words = f"{say_length(design, long)} {'across, ' if is_round else ''}at the floor"
    parts.append(svg.dim_across(PLAN_LEFT, right, 30))
    parts.append(text(max((PLAN_LEFT + right) / 2, text_width(words) / 2 + EDGE), 20, words, "dim", "middle"))
    if not is_round:
        at = right + 14
        parts.append(svg.dim_up(at, top, bottom))
        words = say_length(design, wide)
        size = min(svg.TEXT_SIZE, (WIDTH - EDGE - at - 8) / (len(words) * svg.LETTER))
        parts.append(text(at + 8, (top + bottom) / 2 + 5, words, "dim", "start", size))
    notes = [counted(len(stones), "stone") + (f", nearest {say_length(design, spacing)} apart" if spacing else "")]
    first = min(stones, key=lambda one: (round(one["y"], 4), one["x"]))
    notes.append(_first_round(design, first, long) if is_round else
                 f"First: {say_length(design, first['x'])} along, {say_length(design, first['y'])} across from the "
                 "lower left")
    notes.append("Each stone has its own hose" + (f" of {say_length(design, hose)}" if hose else "")
                 + ("; a row's hoses lie together" if room >= HOSE_ROOM else "; too many to draw"))
    if not true:
        notes.append("Not to scale: drawn wider than it is, to show the stones")
    low = bottom + 6
    for note in notes:
        low += LINE + 2
        parts.append(text(EDGE, low, svg.shorten(note, WIDTH - 2 * EDGE)))
    said = "The floor of the bath is " + (f"a disc {say_length(design, long)} across. " if is_round else
                                          f"{say_length(design, long)} by {say_length(design, wide)}. ")
    said += ". ".join(notes) + "."
    return svg.drawing("stone-plan", WIDTH, low + 12, "Air stones on the floor of the bath", said, parts)
