"""The small drawing by which a reader knows one plan from another: the bath in section, in centimeters, unlettered.

All of them are drawn in the same unit, so that a page can set many side by side to one scale.
"""

from __future__ import annotations

from dataclasses import dataclass
from html import escape

from ..solve import Design
from . import svg
from .drawing import drawable, length_of, say_length
from .levels import Levels
from .vessels import front_spots

CM = 100.0
# A longer bath loses its middle, or its neighbors would be strokes; a higher one its height above the reservoir.
LONGEST, HIGHEST = 3.6, 1.4
# Where a plan has legs and no height: just high enough to be seen.
SHORT_LEGS = 0.3
GAP, EDGE, LEAF = 0.12, 0.12, 0.11
LEAST_APART = 0.06


@dataclass(frozen=True)
class Miniature:
    """A drawing and how large in meters what it shows is: a page sets its size from these."""

    svg: str
    wide: float
    tall: float


class _Small:
    """A small section while it is drawn: meters to the right and up from the ground become centimeters."""

    def __init__(self, design: Design, at: Levels):
        self.design, self.at = design, at
        self.length = min(at.length, LONGEST)
        self.parts: list[str] = []
        under = at.has_reservoir and not at.beside
        self.floor = min(-at.r_floor, HIGHEST + at.r_depth) if under else SHORT_LEGS if at.legs else 0.0
        # Above a reservoir that stands on the ground there must be room for it.
        if under:
            self.floor = max(self.floor, at.r_depth + 0.05)
        self.low = max(min(at.r_floor + self.floor, 0.6), -0.8) if at.has_reservoir and at.beside else 0.0
        rim = self.floor + at.depth + at.above
        self.tallest = max(rim, self.low + at.r_depth if at.has_reservoir else 0.0) + LEAF * 2
        self.bath = EDGE
        if under:
            self.bath += max((at.r_top - self.length) / 2, 0.0)

    def point(self, right: float, up: float) -> tuple[float, float]:
        return right * CM, (self.tallest - up) * CM

    def along(self, place: float) -> float | None:
        """Where a place along the rim is drawn; ``None`` in the part left out."""
        if self.at.length <= LONGEST or place < LONGEST / 2:
            return self.bath + place
        back = self.at.length - place
        return self.bath + LONGEST - back if back < LONGEST / 2 else None

    def vessel(self, left: float, floor: float, sizes: tuple[float, float, float], level: float | None) -> None:
        """A vessel of (length at the rim, at the floor, depth), filled to ``level``."""
        top, base, depth = sizes
        inset = (top - base) / 2
        if level:
            there = inset * (1 - level / depth)
            self.parts.append(svg.shape("water", *(self.point(x, y) for x, y in (
                (left + there, floor + level), (left + top - there, floor + level), (left + top - inset, floor),
                (left + inset, floor)))))
        self.parts.append(svg.line("wall", *(self.point(x, y) for x, y in (
            (left, floor + depth), (left + inset, floor), (left + top - inset, floor), (left + top, floor + depth)))))

    def box(self, kind: str, left: float, up: float, wide: float, tall: float) -> None:
        x, y = self.point(left, up + tall)
        self.parts.append(svg.rect(kind, x, y, wide * CM, tall * CM))

    def stand(self) -> None:
        if not self.at.legs or self.floor < 0.06:
            return
        for left in (self.bath + 0.05, self.bath + self.length - 0.1):
            self.box("wood edge", left, 0.0, 0.05, self.floor - 0.04)
        self.box("wood edge", self.bath - 0.02, self.floor - 0.04, self.length + 0.04, 0.03)

    def raft(self) -> None:
        at = self.at
        if not at.floats or at.water is None or at.thickness is None:
            return
        opening = length_of(self.design, "water.opening_length") or at.length
        offset = (at.length - opening) / 2
        edge = min(offset, self.length / 3)
        under = self.floor + at.water - at.sunk
        self.box("cut", self.bath + edge, under, self.length - 2 * edge, at.thickness)
        last = -1.0
        for spot in front_spots(self.design):
            x = self.along(offset + spot)
            if x is None or x - last < LEAST_APART:
                continue
            last = x
            right, down = self.point(x, under + at.thickness)
            size = LEAF * CM * 0.6
            one, two = svg.num(size * 1.1), svg.num(size * 1.7)
            self.parts.append(f'<path class="plant" d="M{svg.num(right)} {svg.num(down)}q-{one} 0 -{one} -{two}q{one} '
                              f'0 {one} {two}q0 -{two} {one} -{two}q0 {two} -{one} {two}"/>')

    def break_marks(self) -> None:
        if self.at.length <= LONGEST:
            return
        x, top = self.point(self.bath + self.length / 2, self.floor + self.at.depth + 0.1)
        bottom = self.point(0.0, self.floor - 0.06)[1]
        self.parts += [svg.break_mark(x + dx, top, bottom) for dx in (-4.0, 4.0)]

    def draw(self) -> Miniature:
        at = self.at
        right = self.bath + self.length
        self.stand()
        if at.has_reservoir:
            left = right + GAP if at.beside else self.bath + (self.length - at.r_top) / 2
            level = at.r_level * at.r_depth if at.r_level else None
            self.vessel(left, self.low, (at.r_top, max(at.r_base, 0.02), at.r_depth), level)
            right = max(right, left + at.r_top)
        self.vessel(self.bath, self.floor, (self.length, max(self.length - (at.length - at.base), self.length * 0.2),
                                            at.depth), at.water)
        self.raft()
        self.break_marks()
        right += EDGE
        # The ground, and the pit that a reservoir beside the bath may stand in.
        pit = right - EDGE - at.r_top - 0.05 if at.has_reservoir and at.beside and self.low < -0.02 else right
        ground = [(0.0, 0.0), (pit, 0.0)] + ([(pit, self.low), (right, self.low)] if pit < right else [])
        self.parts.append(svg.line("ink thin", *(self.point(x, y) for x, y in ground)))
        tall = self.tallest - min(self.low, 0.0) + 0.02
        return Miniature(
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {svg.num(right * CM)} {svg.num(tall * CM)}" '
            f'role="img" aria-label="{escape(self.said())}">{"".join(self.parts)}</svg>', right, tall)

    def said(self) -> str:
        at = self.at
        words = f"Bath {say_length(self.design, at.length)} long and {say_length(self.design, at.depth)} deep"
        words += ", its middle left out" if at.length > LONGEST else ""
        words += ", on legs" if at.legs else ""
        place = "beside it" if at.has_reservoir and at.beside else "below"
        return words + (f", reservoir {place}" if at.has_reservoir else "")


def draw(design: Design) -> Miniature | None:
    """The small drawing of a plan; ``None`` while length or depth of its bath are not known."""
    if drawable(design.value("bath.depth")) is None:
        return None
    try:
        at = Levels(design, True, 0.0, 500.0, 0.0)
    except ValueError:
        return None
    return _Small(design, at).draw()
