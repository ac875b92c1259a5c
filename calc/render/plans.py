"""Where to drill: the raft seen from above, every hole to scale, with the sizes that are measured out on the board."""

from __future__ import annotations

from bisect import bisect_right
from itertools import pairwise
from math import ceil, cos, isfinite, pi, sin

from ..solve import Design
from . import svg
from .drawing import counted, drawable, length_of, say_length, width_of
from .placing import Labels

PLAN_TOP = 52.0
# Room at the left and the right of the raft, and the tallest raft: for drilling or not, by the width of the drawing.
ROOM = {(True, True): (118.0, 92.0, 330.0), (True, False): (62.0, 84.0, 280.0),
        (False, True): (96.0, 40.0, 330.0), (False, False): (62.0, 20.0, 280.0)}
FOLD_RATIO, FOLD_TO, FOLD_MOST = 8.0, 5.0, 8
ROW_NUMBER, MOST_CROSSES, CROSS_LEAST = 15.0, 600, 2.4
CORNER_MARKS = 60


def raft(design: Design, wide: bool) -> str:
    """The raft from above, each hole to scale with a cross at its centre, as SVG text; "" while there is no board.

    A raft much longer than wide is drawn in several lengths, one under another, all to one scale.
    """
    return _drawn(design, wide, False)


def drilling(design: Design, wide: bool) -> str:
    """The same with what is needed to mark the holes out: sizes from the board's edge, and the first number of each
    row as in the list of hole centres."""
    return _drawn(design, wide, True)


def _drawn(design: Design, wide: bool, drill: bool) -> str:
    pieces = [piece for piece in design.value("board.pieces") or []
              if drawable(piece.get("length")) and drawable(piece.get("width"))]
    if not pieces:
        return ""
    corner_x, corner_y = min(piece["x"] for piece in pieces), min(piece["y"] for piece in pieces)
    long = max(piece["x"] + piece["length"] for piece in pieces) - corner_x
    across = max(piece["y"] + piece["width"] for piece in pieces) - corner_y
    turned = across > 1.6 * long
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
    return _Raft(design, (across, long) if turned else (long, across), boards, holes, radius, turned,
                 (corner_x, corner_y), wide, drill).draw()


# A board of the raft in m: x and y of its corner, length and width.
Box = tuple[float, float, float, float]


class _Raft:
    """The raft's plan while it is being drawn; lengths in m, ``length`` to the right and ``width`` upwards."""

    def __init__(self, design: Design, size: tuple[float, float], boards: dict[int, Box],
                 holes: list[tuple[float, float, int, int]], radius: float, turned: bool, corner: tuple[float, float],
                 wide: bool, drill: bool):
        self.labels, self.drill, self.suffix = Labels(width_of(wide)), drill, "" if wide else "-narrow"
        self.design, self.boards, self.holes = design, boards, holes
        self.length, self.width = size
        self.radius, self.turned, self.corner = radius, turned, corner
        self.round = design.value("water.opening_shape") == "round"
        self.folds = self._folds()
        longest = max(b - a for a, b in pairwise(self.folds))
        self.start, right, tall = ROOM[drill, wide]
        self.scale = min((self.labels.width - self.start - right) / longest, tall / self.width)
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
        return self.start + (x - self.folds[strip]) * self.scale

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
        starts = [(self.start - fold * scale, PLAN_TOP + strip * self.pitch + self.width * scale)
                  for strip, fold in enumerate(self.folds)]
        circles = []
        for x, y, *_ in self.holes:
            left, low = starts[self.strip(x)]
            circles.append(f'<circle cx="{left + x * scale:.1f}" cy="{low - y * scale:.1f}" r="{radius}"/>')
        if circles:
            self.parts.append(f'<g class="hole">{"".join(circles)}</g>')
        self._crosses()
        if self.drill:
            self._numbers()
        bottom = self._dimensions()
        name, title = ("drill-plan", "Where to drill") if self.drill else ("raft-plan", "The raft from above")
        return svg.drawing(name + self.suffix, self.labels.width, bottom + 8, title, self._description(),
                           self.parts + self.labels.parts)

    def _crosses(self) -> None:
        """A cross at the centre of each hole."""
        arm = min(max(self.radius * self.scale * 1.5, 4.0), 10.0)
        if self.radius * self.scale < CROSS_LEAST or not 0 < len(self.holes) <= MOST_CROSSES:
            return
        path = []
        for x, y, *_ in self.holes:
            strip = self.strip(x)
            a, b = self.px(x, strip), self.py(y, strip)
            path.append(f"M{a - arm:.1f} {b:.1f}h{2 * arm:.1f}M{a:.1f} {b - arm:.1f}v{2 * arm:.1f}")
        self.parts.append(f'<path class="centre" d="{"".join(path)}"/>')
        x, y, *_ = self.holes[0]
        a, b, half = self.px(x, self.strip(x)), self.py(y, self.strip(x)), self.radius * self.scale
        self.parts += [svg.lit(key, (a - half, b), (a + half, b)) for key in ("board.pot", "board.hole")]

    def _boards(self) -> None:
        last = len(self.folds) - 2
        margin = length_of(self.design, "board.margin") or 1.0
        if self.round:
            half = self.length / 2
            self.parts.append(svg.circle("cut", self.px(half, 0), self.py(half, 0), half * self.scale))
            # Two marked diameters: a disc has no corner, so its holes are measured from its centre.
            self.parts.append(svg.line("centre", (self.px(0, 0), self.py(half, 0)), (self.px(self.length, 0),
                                                                                  self.py(half, 0))))
            self.parts.append(svg.line("centre", (self.px(half, 0), self.py(0, 0)), (self.px(half, 0),
                                                                                  self.py(self.length, 0))))
            self._round_seams()
        for x, y, long, wide in self.boards.values():
            first, end = self.strip(x), self.strip(x + long - 1e-5)
            for strip in range(first, end + 1):
                a, b = max(x, self.folds[strip]), min(x + long, self.folds[strip + 1])
                if not self.round:
                    self.parts.append(svg.rect("cut", self.px(a, strip), self.py(y + wide, strip),
                                               (b - a) * self.scale, wide * self.scale))
                if strip == end and x + long < self.length - 1e-6 and not self.round:
                    at = self.px(b, strip)
                    self.parts.append(svg.line("seam", (at, self.py(y, strip)), (at, self.py(y + wide, strip))))
                if y > 1e-6 and not self.round:
                    at = self.py(y, strip)
                    self.parts.append(svg.line("seam", (self.px(a, strip), at), (self.px(b, strip), at)))
            if self.drill and len(self.boards) <= CORNER_MARKS and not self.round:
                cx, cy = self.px(x, first), self.py(y, first)
                arm = min(11.0, long * self.scale / 3, wide * self.scale / 3, max(margin * self.scale * 1.2, 3.0))
                self.parts.append(svg.shape("solid", (cx, cy), (cx + arm, cy), (cx, cy - arm)))
        for strip in range(last):
            for x, at in ((self.folds[strip + 1], strip), (self.folds[strip + 1], strip + 1)):
                self.parts.append(svg.line("lead", (self.px(x, at), self.py(0, at) + 7),
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

    def _numbers(self) -> None:
        """The number of each row's first hole, outside the board, as in the list of centres."""
        rows: dict[tuple[int, int], list[tuple[float, int]]] = {}
        for x, y, number, _ in self.holes:
            rows.setdefault((self.strip(x), round(y * 1e4)), []).append((x, number))
        lowest: dict[int, float] = {}
        for strip, y in sorted(rows):
            at = self.py(y / 1e4, strip)
            if strip in lowest and lowest[strip] - at < ROW_NUMBER:
                continue
            lowest[strip] = at
            self.labels.put([str(min(rows[strip, y])[1])], [(self.start - 5, at, "end")], "label faded")

    def _say(self, value: float) -> str:
        return say_length(self.design, value, "mm")

    def _dimensions(self) -> float:
        """The sizes round the raft, then what is to be said below it; gives the lowest place."""
        last = len(self.folds) - 2
        for strip in range(last + 1):
            self.labels.block(self.start, self.py(self.width, strip), self.px(self.folds[strip + 1], strip),
                              self.py(0, strip))
        self._lengths(last)
        if not self.round:
            self._width()
        if self.drill and not self.round:
            self._from_the_edges(last)
        else:
            self._spacing(last)
        bottom = max(self.py(0, last), self.labels.lowest()) + 2
        return self.labels.write_below(bottom, self._notes())

    def _lengths(self, last: int) -> None:
        """Over the raft: the boards one by one where they are few, else the whole."""
        y = PLAN_TOP - 14
        front = sorted({(round(box[0], 5), round(box[0] + box[2], 5)) for box in self.boards.values()})
        each = self.drill and not self.round and not last and 1 < len(front) <= 4
        spans = front if each else [(0.0, self.length)]
        for a, b in spans:
            x1, x2 = self.px(a, 0), self.px(min(b, self.folds[1]), 0)
            words = self._say(b - a)
            self.parts.append(svg.dim_across(x1, x2, y))
            self.labels.block_line((x1, y), (x2, y), half=5)
            middle = (x1 + x2) / 2
            more = "" if each else " across" if self.round else f" overall, drawn in {last + 1} lengths" if last else ""
            if not more and not each:
                more = " overall" if len(self.boards) > 1 else " long"
            if self.turned and not each:
                more = " wide" if not last else f" wide, drawn in {last + 1} lengths"
            self.labels.put([words + more, words], [(middle, y - 15, "middle"), (x1, y - 15, "start"),
                                                    (2.0, y - 15, "start")], "dim", below=words + more)

    def _width(self) -> None:
        """At the left: how wide the raft is."""
        x = self.start - (34 if self.drill else 16)
        top, low = self.py(self.width, 0), self.py(0, 0)
        self.parts.append(svg.dim_up(x, top, low))
        self.labels.block_line((x, top), (x, low), half=5)
        words, middle = self._say(self.width), (top + low) / 2
        self.labels.put([words], [(x - 8, middle, "end"), (x + 8, top - 13, "end"), (x + 10, low + 15, "end"),
                                  (2.0, low + 15, "start"), (x, low + 15, "middle")], "dim",
                        below=f"{words} {'long' if self.turned else 'wide'}")

    def _pair(self, start: float, places: list[float]) -> list[tuple[float, float]]:
        """From the edge to the first centre, and on to the second."""
        marks = [start, *sorted(places)[:2]]
        return [(a, b) for a, b in pairwise(marks) if b - a > 1e-6]

    def _from_the_edges(self, last: int) -> None:
        """Under and right of the raft: from a board's edge to the first centre, and to the next."""
        found = [(y, x, board) for x, y, _, board in self.holes if self.strip(x) == last]
        if not found:
            return
        _, _, board = min(found)
        box = self.boards[board]
        rows: dict[int, list[float]] = {}
        for y, x, one in found:
            if one == board:
                rows.setdefault(round(y * 1e4), []).append(x)
        # The lowest row; of two the one with a next centre to measure to.
        row = max((rows[y] for y in sorted(rows)[:2]), key=lambda places: len(places) > 1)
        at = self.py(0, last) + 16
        for number, (a, b) in enumerate(self._pair(max(box[0], self.folds[last]), row)):
            x1, x2 = self.px(a, last), self.px(b, last)
            self.parts.append(svg.dim_across(x1, x2, at, "board.spacing" if number else ""))
            self.labels.block_line((x1, at), (x2, at), half=5)
            words = self._say(b - a)
            what = "to the next center" if number else "from the edge to the first center"
            near = [(x2 + 8, at, "start"), (x2, at + 16, "start")] if number else [(x1 - 8, at, "end")]
            self.labels.put([words], [((x1 + x2) / 2, at + 16, "middle"), *near, (x1, at + 16, "start"),
                                      (x2, at + 33, "middle")], "dim", below=f"{words} {what}")
        self._up_the_side(last, found)

    def _up_the_side(self, last: int, found: list[tuple[float, float, int]]) -> None:
        right = max(self.boards[board][0] for _, _, board in found)
        column = [(y, board) for y, _, board in found if self.boards[board][0] > right - 1e-4]
        low = min(self.boards[board][1] for _, board in column)
        heights = sorted({round(y, 4) for y, board in column if self.boards[board][1] < low + 1e-4})
        at = self.px(self.folds[last + 1], last) + 14
        for number, (a, b) in enumerate(self._pair(low, heights)):
            y1, y2 = self.py(b, last), self.py(a, last)
            self.parts.append(svg.dim_up(at, y1, y2))
            self.labels.block_line((at, y1), (at, y2), half=5)
            words = self._say(b - a)
            what = "up to the next row" if number else "from the lower edge up to the first row"
            middle = (y1 + y2) / 2
            self.labels.put([words], [(at + 8, middle, "start"), (at + 8, middle - 10, "start"),
                                      (at + 8, y1 - 8, "start"), (at + 8, y2 + 8, "start")], "dim",
                            below=f"{words} {what}")

    def _spacing(self, last: int) -> None:
        """The distance between neighbours in a row, drawn under the raft where the row nearest the front stands."""
        rows: dict[tuple[int, object], list[float]] = {}
        for x, y, _, board in self.holes:
            if self.strip(x) == last:
                rows.setdefault((round(y * 1e4), board), []).append(x)
        row = min((key for key in rows if len(rows[key]) > 1), key=lambda key: (key[0], min(rows[key])), default=None)
        if row is None:
            return
        first, second = min(pairwise(sorted(rows[row])), key=lambda pair: round(pair[1] - pair[0], 6))
        at = self.py(0, last) + 20
        a, b = self.px(first, last), self.px(second, last)
        top = self.py(row[0] / 1e4, last) + self.radius * self.scale
        self.parts += [svg.line("dim thin", (x, top), (x, at + 5)) for x in (a, b)]
        self.parts.append(svg.dim_across(a, b, at, "board.spacing"))
        self.labels.block_line((a, at), (b, at), half=5)
        words = f"{self._say(second - first)} center to center"
        self.labels.put([words], [(b + 10, at, "start"), ((a + b) / 2, at + 18, "middle"), (a - 10, at, "end"),
                                  (2.0, at + 18, "start")], "dim", below=words)

    def _notes(self) -> list[str]:
        spacing, margin = length_of(self.design, "board.spacing_used"), length_of(self.design, "board.margin")
        notes = []
        if self.radius and self.holes:
            notes.append(f"{counted(len(self.holes), 'hole')}, {self._say(2 * self.radius)} across")
        if self.drill:
            if self.round:
                notes.append("Measure every hole from the center, along two diameters")
            elif len(self.boards) <= CORNER_MARKS:
                notes.append("Measure from the black corner of each board")
            else:
                notes.append("Measure each board's holes from its lower left corner")
        if spacing and self.holes and not self.drill:
            notes.append(f"Nearest centers {self._say(spacing)} apart or more")
        if margin:
            notes.append(f"At least {self._say(margin)} from board edge to hole edge")
        if self.turned:
            notes.append("Drawn a quarter turn round")
        return notes

    def _description(self) -> str:
        size = f"a disc {self._say(self.length)} across" if self.round else \
            f"{self._say(self.length)} by {self._say(self.width)}"
        said = [f"The raft is {size}, in "
                f"{counted(len(self.boards), 'board')}, with {counted(len(self.holes), 'hole')}."]
        spacing = length_of(self.design, "board.spacing_used") or length_of(self.design, "board.spacing")
        if spacing and self.drill:
            said.append(f"Centers are at least {self._say(spacing)} apart.")
        said += [f"{note}." for note in self._notes()]
        if self.drill:
            said.append("The first hole of a row is numbered, as in the list of hole centers.")
        if len(self.folds) > 2:
            said.append(f"The raft is drawn in {len(self.folds) - 1} lengths, one under another, to one scale.")
        return " ".join(said)
