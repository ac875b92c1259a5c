"""Bath, reservoir and pipes cut through, to one scale in millimetres: the drawing of the cover and of water and air.

Heights are metres over the bath's floor, lengths metres from the rim's left end; the scale is one of a builder's list.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from math import sqrt

from ...solve import Design
from ..drawing import length_of, vessel
from . import ink
from .boards import of as boards_of
from .ink import Point
from .shop import standpipe_top

SCALES = (4, 5, 6, 8, 10, 11, 12, 13, 14.5, 16, 17, 18, 20, 25, 30, 40, 50, 60, 75, 100, 150)
# Where the plan does not say: how high a stand is, how much of the reservoir's water the pump needs over it.
STAND, LEAST_SHARE = 0.4, 0.3
ABOVE, BESIDE = 0.16, 0.28
# A bath longer than this many of its depths is drawn with its middle left out.
BREAK_RATIO = 5.0


@dataclass
class Reservoir:
    """The reservoir in metres: widths, depth, levels over its own floor, and where that stands."""

    top: float
    base: float
    depth: float
    level: float
    stopped: float
    floor: float
    left: float = 0.0


def stopped_level(design: Design) -> float | None:
    """How high the water stands in the reservoir with the pump stopped, in m over its floor."""
    level, depth = length_of(design, "reservoir.water_depth"), length_of(design, "reservoir.depth")
    back, room = design.value("water.drain_back_volume"), design.value("water.reservoir_headroom")
    if level is None or depth is None or back is None or not room or depth <= level:
        return None
    return float(min(level + (depth - level) * back / room, depth))


@dataclass
class Stand:
    """What stands where, of one bath of the plan."""

    design: Design
    length: float
    base: float
    depth: float
    water: float
    legs: bool
    ground: float
    reservoir: Reservoir | None = None
    beside: bool = False
    broken: bool = False
    standpipe: float | None = None
    pipe_top: float | None = None
    inlet: float | None = None
    shown_length: float = 0.0
    notes: list[str] = field(default_factory=list)


def of(design: Design) -> Stand | None:
    """The stand of a plan; ``None`` while a size of the bath is missing."""
    length, base = vessel(design, "bath")
    length = length or length_of(design, "water.opening_length")
    depth, water = length_of(design, "bath.depth"), length_of(design, "bath.water_depth")
    if length is None or depth is None or water is None or water > depth:
        return None
    legs = bool(design.value("bath.legs"))
    found = Stand(design, length, min(base or length, length), depth, water, legs, -STAND if legs else 0.0)
    circulating = design.value("water.scheme") == "circulating"
    if circulating:
        found.reservoir = _reservoir(design, found)
    if found.reservoir:
        below = found.reservoir.floor + found.reservoir.depth < -0.03
        found.beside = not below
        found.ground = min(found.reservoir.floor, 0.0) if below or legs else 0.0
        if found.beside and legs and found.reservoir.floor > -STAND:
            found.ground = min(found.reservoir.floor, -0.05)
    elif legs:
        found.notes.append("the stand’s height is a guess")
    found.broken = length > BREAK_RATIO * depth
    found.shown_length = BREAK_RATIO * depth if found.broken else length
    if found.broken:
        found.notes.append("the middle of the bath is left out")
    if found.reservoir:
        _pipes(design, found)
        found.reservoir.left = (
            found.shown_length + BESIDE if found.beside else max((found.shown_length - found.reservoir.top) / 2, 0.02)
        )
    return found


def _reservoir(design: Design, stand: Stand) -> Reservoir | None:
    top, base = vessel(design, "reservoir")
    depth, level = length_of(design, "reservoir.depth"), length_of(design, "reservoir.water_depth")
    if design.value("reservoir.shape") == "known volume" and top is None:
        held, deep = length_of(design, "reservoir.known_volume"), length_of(design, "reservoir.known_depth") or level
        top = base = sqrt(held / deep) if held and deep else None
        stand.notes.append("the reservoir’s width is guessed from what it holds")
    if top is None or depth is None:
        return None
    level = min(level or depth / 2, depth)
    share = design.value("use.least")
    low = level * (share if isinstance(share, float) and 0 <= share < 1 else LEAST_SHARE)
    lift = length_of(design, "circulation.lift")
    fill = stand.depth if design.value("bath.fill") == "rim" else (length_of(design, "bath.inlet_height") or 0.0)
    floor = fill - lift - low if lift else -depth - STAND / 2
    return Reservoir(top, base or top, depth, level, stopped_level(design) or level, floor)


def _pipes(design: Design, stand: Stand) -> None:
    """Where the standpipe stands along the bath, and on which end the water comes in."""
    stand.pipe_top = standpipe_top(design)
    opening = length_of(design, "water.opening_length") or stand.length
    edge = (stand.length - opening) / 2 + (length_of(design, "board.clearance") or 0.0)
    for board in boards_of(design):
        for notch in board.notches:
            if notch.what == "standpipe" and stand.standpipe is None:
                raft = length_of(design, "board.raft_length") or opening
                # From the end nearest to it, so that it keeps its place where the middle is left out.
                at = notch.centre[0] / 1000 + (raft / 2 if board.disc else _offset(design, board.numbers[0]))
                stand.standpipe = edge + at if at < raft / 2 else stand.shown_length - edge - (raft - at)
    if stand.standpipe is None:
        stand.standpipe = stand.shown_length - 0.02
    stand.inlet = 0.05


def _offset(design: Design, board: int) -> float:
    pieces = design.value("board.pieces") or []
    low = min(one["x"] for one in pieces)
    return float(next(one["x"] for one in pieces if one["board"] == board) - low)


class Section:
    """The drawing itself: ``x`` and ``y`` turn metres into places, mm on the sheet."""

    def __init__(self, stand: Stand, left: float, top: float, wide: float, tall: float, also: float = 0.0):
        """Within ``wide`` by ``tall`` mm; ``also`` is what else is drawn to this scale below it, in m."""
        self.stand = stand
        bath, store = stand.shown_length, stand.reservoir
        right = max(bath, store.left + store.top if store else 0.0)
        self.high = max(stand.depth + ABOVE, store.floor + store.depth + 0.05 if store else 0.0)
        low = min(stand.ground, store.floor if store else 0.0)
        need = max(right / wide, (self.high - low + also) / tall) * 1000
        self.scale = next((one for one in SCALES if one >= need), need)
        self.per = 1000 / self.scale
        self.left = left + max((wide - right * self.per) / 2, 0.0)
        self.zero = top + self.high * self.per
        self.bottom = self.zero - low * self.per
        self.parts: list[str] = []

    def x(self, along: float) -> float:
        """The place of a length along the bath."""
        return self.left + along * self.per

    def y(self, height: float) -> float:
        """The place of a height over the bath's floor."""
        return self.zero - height * self.per

    def at(self, along: float, height: float) -> Point:
        """Both."""
        return self.x(along), self.y(height)

    @property
    def said_scale(self) -> str:
        """The scale as 1:16; 1:14.5."""
        return f"1:{self.scale:g}" if self.scale in SCALES else f"1:{self.scale:.0f}"

    def inset(self, height: float) -> float:
        """How far the bath's wall stands in at a height."""
        stand = self.stand
        base = stand.base if not stand.broken else stand.shown_length - (stand.length - stand.base)
        return (stand.shown_length - base) / 2 * (1 - height / stand.depth)

    def vessels(self, plants: int = 3) -> None:
        """Ground, stand, both vessels with their water, boards and plants."""
        self._ground()
        self._bath(plants)
        if self.stand.reservoir:
            self._store(self.stand.reservoir)

    def _ground(self) -> None:
        stand, y = self.stand, self.y(self.stand.ground)
        first, last = (
            self.x(0) - 8,
            self.x(max(stand.shown_length, stand.reservoir.left + stand.reservoir.top if stand.reservoir else 0)) + 8,
        )
        self.parts.append(ink.line("hair", (first, y + 0.45), (last, y + 0.45)))
        step = first + 3
        while step < last:
            self.parts.append(ink.line("hair", (step, y + 0.45), (step - 1.6, y + 2.4)))
            step += 6.5
        if not stand.legs:
            return
        thick = min(2.4, (0 - stand.ground) * self.per * 0.25)
        left, right = self.x(0) - 1, self.x(stand.shown_length) + 1
        self.parts.append(ink.rect("wood", left, self.zero + 0.45, right - left, thick))
        for x in (left + 3, right - 6):
            self.parts.append(ink.rect("wood", x, self.zero + 0.45 + thick, 3, y - self.zero - thick))

    def _bath(self, plants: int) -> None:
        stand, end = self.stand, self.stand.shown_length
        at = self.at
        surface = stand.water
        self.parts.append(
            ink.shape(
                "water",
                [
                    at(self.inset(0), 0),
                    at(self.inset(surface), surface),
                    at(end - self.inset(surface), surface),
                    at(end - self.inset(0), 0),
                ],
            )
        )
        self._foam(plants)
        rim = 0.012
        self.parts.append(
            ink.line(
                "wall",
                at(-rim, stand.depth),
                at(0, stand.depth),
                at(self.inset(0), 0),
                at(end - self.inset(0), 0),
                at(end, stand.depth),
                at(end + rim, stand.depth),
            )
        )
        if stand.broken:
            middle, low, high = self.x(end / 2), self.zero + 2, self.y(stand.depth) - 4
            for shift in (-1.2, 1.2):
                x, half = middle + shift, (low + high) / 2
                self.parts.append(ink.line("hair", (x, low), (x - 1.5, half + 1.5), (x + 1.5, half - 1.5), (x, high)))

    def _foam(self, plants: int) -> None:
        stand, design = self.stand, self.stand.design
        thick = length_of(design, "board.thickness")
        if thick is None:
            return
        sunk = design.value("board.draught")
        top = stand.water + thick - (sunk if isinstance(sunk, float) and sunk >= 0 else 0.0)
        first, last = self.inset(stand.water) + 0.008, stand.shown_length - self.inset(stand.water) - 0.008
        count = max(int(design.value("board.count") or 1), 1)
        self.parts.append(ink.rect("foam", self.x(first), self.y(top), (last - first) * self.per, thick * self.per))
        if count > 1:
            middle = self.x((first + last) / 2)
            self.parts.append(ink.line("hair", (middle, self.y(top)), (middle, self.y(top - thick))))
        sites = int(design.value("board.sites") or 0)
        for number in range(min(plants, sites)):
            x = self.x(first + (last - first) * (number + 0.5) / min(plants, sites))
            self._plant(x, self.y(top), max(self.y(0) - self.y(stand.water) - 1, 1.0))

    def _plant(self, x: float, y: float, room: float) -> None:
        """A plant in its pot: three leaves, the pot, roots as long as there is water."""
        self.parts.append(
            "".join(
                f'<ellipse class="leafy" cx="{ink.num(x + shift)}" cy="{ink.num(y - 2.6)}" rx="1.2" ry="2.6" '
                f'transform="rotate({turn} {ink.num(x)} {ink.num(y)})"/>'
                for shift, turn in ((0, -32), (0, 32), (0, 0))
            )
        )
        self.parts.append(
            ink.shape("black", [(x - 1.7, y - 0.3), (x + 1.7, y - 0.3), (x + 1.1, y + 2.9), (x - 1.1, y + 2.9)])
        )
        deep = min(4.0, room)
        for shift in (-0.7, 0.0, 0.7):
            self.parts.append(ink.line("hair", (x + shift, y + 2.9), (x + shift * 1.6, y + 2.9 + deep)))

    def _store(self, one: Reservoir) -> None:
        def inset(height: float) -> float:
            return (one.top - one.base) / 2 * (1 - height / one.depth)

        right, at = one.left + one.top, self.at
        level = one.floor + one.level
        self.parts.append(
            ink.shape(
                "water",
                [
                    at(one.left + inset(0), one.floor),
                    at(one.left + inset(one.level), level),
                    at(right - inset(one.level), level),
                    at(right - inset(0), one.floor),
                ],
            )
        )
        rim = one.floor + one.depth
        self.parts.append(
            ink.line(
                "wall",
                at(one.left - 0.01, rim),
                at(one.left, rim),
                at(one.left + inset(0), one.floor),
                at(right - inset(0), one.floor),
                at(right, rim),
                at(right + 0.01, rim),
            )
        )
        if one.stopped > one.level + 0.002:
            self.parts.append(
                ink.line(
                    "stopped",
                    at(one.left + inset(one.stopped), one.floor + one.stopped),
                    at(right - inset(one.stopped), one.floor + one.stopped),
                )
            )

    # --- pipes --------------------------------------------------------------------------------------------------

    def supply(self) -> list[Point]:
        """The hose from the pump to the bath, drawn; its corners."""
        stand, store = self.stand, self.stand.reservoir
        if store is None:
            return []
        pump = self.x(store.left + store.top * (0.3 if not stand.beside else 0.55)), self.y(store.floor)
        over = self.y(stand.depth) - 4.5
        outside = self.x(0) - 5
        if stand.beside:
            outside = self.x(stand.shown_length) + 5
            inside = self.x(stand.shown_length) - max(4.0, 0.03 * self.per)
        else:
            inside = self.x(0) + max(4.0, 0.03 * self.per)
        lane = (
            min(self.zero + 6, self.y(store.floor + store.depth) - 2.5)
            if not stand.beside
            else self.y(store.floor + store.depth) - 3
        )
        corners = [
            (pump[0], pump[1] - 5),
            (pump[0], lane),
            (outside, lane),
            (outside, over),
            (inside, over),
            (inside, self.y(stand.depth) + 1.5),
        ]
        if stand.design.value("bath.fill") != "rim":
            low = self.y(stand.depth * 0.25)
            corners = [*corners[:3], (outside, low), (inside, low)]
        self.parts.append(ink.line("hose", *corners))
        self.parts.append(
            ink.rect("part", pump[0] - 3.6, pump[1] - 5.2, 7.2, 5) + ink.circle("part", pump[0], pump[1] - 2.7, 1.5)
        )
        return corners

    def drain(self) -> list[Point]:
        """The standpipe and the drain to the reservoir, drawn; top of the pipe, its foot, and the drain's end."""
        stand, store = self.stand, self.stand.reservoir
        if store is None or stand.standpipe is None:
            return []
        half = 1.3
        x = self.x(stand.standpipe)
        wall = stand.design.value("circulation.overflow_place") != "inside"
        top = self.y(stand.pipe_top if stand.pipe_top is not None else stand.water)
        low = self.zero + 5
        into = self.x(store.left + store.top * (0.72 if not stand.beside else 0.25))
        end = self.y(store.floor + min(store.stopped + 0.03, store.depth))
        if wall:
            x = self.x(stand.shown_length) + 3
            self.parts.append(
                ink.shape(
                    "part",
                    [
                        (self.x(stand.shown_length) - 2, top - half),
                        (x + half, top - half),
                        (x + half, top + half),
                        (self.x(stand.shown_length) - 2, top + half),
                    ],
                )
            )
        if end < low + 3:
            # A reservoir that stands as high: the drain falls into it from the wall.
            low = min(low, end - 2)
        way = [
            (x - half, top + (half if wall else 0)),
            (x - half, low - half),
            (into + half, low - half),
            (into + half, end),
        ]
        back = [
            (into - half, end),
            (into - half, low + half),
            (x + half, low + half),
            (x + half, top + (half if wall else 0)),
        ]
        if into > x:
            way = [(x + half, top), (x + half, low - half), (into + half, low - half), (into + half, end)]
            back = [(into - half, end), (into - half, low + half), (x - half, low + half), (x - half, top)]
        self.parts.append(ink.shape("white", [*way, *back]))
        self.parts.append(ink.line("part bare", *way) + ink.line("part bare", *back))
        if not wall:
            self.parts.append(
                "".join(
                    ink.line("part bare", (x + shift, top - 2.2), (x + shift, top + 0.3))
                    for shift in (-1.2, -0.4, 0.4, 1.2)
                )
                + ink.line("part bare", (x - 1.4, top - 2.2), (x + 1.4, top - 2.2))
            )
        return [(x, top), (x, low), (into, end)]
