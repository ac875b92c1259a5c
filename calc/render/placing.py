"""Where lettering goes in a drawing, so that no two words touch and nothing is cut, whatever the plan's sizes are.

Each label names the places it would like, best first. Where none is free, a letter takes its place and the words are
written under the drawing, as on a workshop drawing.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from string import ascii_uppercase

from . import svg

LINE = 17.0
ABOVE, BELOW = 0.8, 0.24
NEAR = 5
# A place: the side it is written from, and the middle of its height.
Place = tuple[float, float, str]
Box = tuple[float, float, float, float]


class Labels:
    """The lettering of one drawing: what is taken, what is written, and what has to be said below."""

    def __init__(self, width: float, edge: float = 2.0):
        self.width, self.edge = width, edge
        self.parts: list[str] = []
        self.below: list[str] = []
        self._taken: list[Box] = []
        self._letters = list(ascii_uppercase)

    def block(self, x1: float, y1: float, x2: float, y2: float) -> None:
        """Take a place that no words may lie on."""
        self._taken.append((min(x1, x2), min(y1, y2), max(x1, x2), max(y1, y2)))

    def block_line(self, *points: tuple[float, float], half: float = 3.0) -> None:
        """Take the places along a line of level and upright pieces."""
        for (x1, y1), (x2, y2) in pairwise(points):
            self.block(min(x1, x2) - half, min(y1, y2) - half, max(x1, x2) + half, max(y1, y2) + half)

    def free(self, x1: float, y1: float, x2: float, y2: float) -> bool:
        """Whether nothing lies there yet, and it is inside the drawing."""
        return self.edge <= x1 and x2 <= self.width - self.edge and not self._hits((x1, y1, x2, y2))

    def put(self, choices: Sequence[str | tuple[str, ...]], places: Sequence[Place], kind: str = "label",
            below: str = "", size: float = svg.TEXT_SIZE) -> Box | None:
        """Write the first choice that has room at one of the places; gives where it stands.

        A choice is a line or several. With ``below`` words that find no room are written under the drawing, and a
        letter points to them where there is room for that; without, they are left out.
        """
        for choice in choices:
            found = self._write((choice,) if isinstance(choice, str) else choice, places, kind, size)
            if found is not None:
                return found
        if not below:
            return None
        letter = self._letters[0] if self._letters else ""
        # A letter far from what it means would be a riddle: only the best places are near enough.
        found = self._write((letter,), places[:NEAR], kind, size) if letter else None
        if found is None:
            self.below.append(below)
            return None
        self.below.append(f"{self._letters.pop(0)}: {below}")
        return found

    def _write(self, lines: tuple[str, ...], places: Sequence[Place], kind: str, size: float) -> Box | None:
        wide = max(svg.text_width(one, size) for one in lines)
        tall = LINE * (len(lines) - 1) + size * (ABOVE + BELOW)
        for x, y, anchor in places:
            left = x - {"start": 0.0, "middle": wide / 2, "end": wide}[anchor]
            box = (left, y - tall / 2, left + wide, y + tall / 2)
            if box[0] < self.edge or box[2] > self.width - self.edge or box[1] < 0.0 or self._hits(box):
                continue
            self._taken.append(box)
            base = y - tall / 2 + size * ABOVE
            self.parts += [svg.text(x, base + LINE * number, one, kind, anchor, size)
                           for number, one in enumerate(lines)]
            return box
        return None

    def _hits(self, box: Box) -> bool:
        left, top, right, low = box
        return any(left < x2 and x1 < right and top < y2 and y1 < low for x1, y1, x2, y2 in self._taken)

    def lowest(self) -> float:
        """The lowest place taken."""
        return max((box[3] for box in self._taken), default=0.0)

    def write_below(self, top: float, notes: Sequence[str] = (), left: float = 2.0) -> float:
        """Write what found no room, and notes, in lines from ``top`` down; gives the lowest place."""
        for words, kind in (*((one, "label") for one in self.below), (". ".join(notes), "label faded")):
            for one in svg.wrap(words, self.width - 2 * left):
                top += LINE
                self.parts.append(svg.text(left, top, one, kind))
        return top
