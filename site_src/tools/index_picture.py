"""The picture that is an index: a bath in section to scale, with numbered circles at its parts; for Home and Guides."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from html import escape
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from calc.render.section import Section

WIDE, NARROW = 560.0, 330.0
RADIUS, APART = 12.5, 27.0
Point = tuple[float, float]


@dataclass(frozen=True)
class Mark:
    """One numbered circle: its number, the part it belongs to, and where it leads; "" leads nowhere."""

    number: int
    part: str
    href: str = ""
    title: str = ""


class _Picture:
    """The section, a lamp over it and an air pump beside it, and where each part is."""

    def __init__(self, design, wide: bool, lamp: bool):
        from calc.render import section
        from calc.render.levels import Levels
        from calc.render.placing import Labels
        self.wide, self.lamp = wide, lamp
        self.width = WIDE if wide else NARROW
        left, right = (118.0, self.width - 96.0) if wide else (52.0, self.width - 46.0)
        top = (150.0 if lamp else 92.0) if wide else (132.0 if lamp else 84.0)
        self.at = Levels(design, wide, left, right, top)
        self.one: Section = section.Section(design, wide, self.at, Labels(self.width))
        self.one.spots = []
        self.one.vessels(True)
        self.parts = list(self.one.parts)
        self._air()
        if lamp:
            self._lamp()

    def _air(self) -> None:
        from calc.render import svg
        at, one = self.at, self.one
        self.pump_at = (4.0, at.rim - 52.0)
        x, y = self.pump_at
        down, enter = at.left + max(at.slope, 0.0) + 8.0, at.left + 12.0
        level = one.stone + 3.0
        self.parts += [svg.line("air", (x + 34, y + 12), (enter, y + 12), (enter, at.rim + 2), (down, level),
                                (one.spots[-1] if one.spots else down, level)),
                       svg.rect("cut", x, y, 34, 22), svg.line("ink thin", (x + 8, y + 11), (x + 26, y + 11))]

    def _lamp(self) -> None:
        from calc.render import svg
        middle, y = (self.at.left + self.at.right) / 2, self.at.rim - 96.0
        half = (self.at.right - self.at.left) * 0.36
        self.lamp_at = (middle, y)
        self.parts += [svg.line("ink thin", (middle - half * .5, 4), (middle - half * .5, y)),
                       svg.line("ink thin", (middle + half * .5, 4), (middle + half * .5, y)),
                       svg.shape("cut", (middle - half, y), (middle + half, y), (middle + half + 12, y + 12),
                                 (middle - half - 12, y + 12))]
        for dx, slant in ((-half * .7, -7), (0.0, 0), (half * .7, 7)):
            self.parts.append(svg.line("lead", (middle + dx, y + 19), (middle + dx + slant, y + 35)))

    def places(self) -> Mapping[str, Sequence[Point]]:
        """For each part the places of its circles, best first; the part itself is where the first stands or points."""
        at, one = self.at, self.one
        low = at.reservoir
        assert low is not None and at.water is not None
        surface, middle = at.y(at.water), (at.left + at.right) / 2
        ways = one.ways
        pump = ways[0]
        inner = at.right - at.left
        upright = ways[-4] if len(ways) > 3 else ways[-1]
        stone_x = one.spots[len(one.spots) // 2] if one.spots else middle
        deep = (surface + at.floor) / 2
        plant_y = surface - 44.0
        drain = one.standpipe or (at.left + 20, at.floor)
        return {
            "plants": [(at.left + inner * share, plant_y) for share in (.5, .3, .7, .86, .14)],
            "raft": [(at.left + inner * share, surface - 36.0) for share in (.62, .4, .78)],
            "roots": [(at.left + inner * share, deep - 8) for share in (.4, .56)],
            "water": [(at.right - (30 if self.wide else 17), deep + 6), (at.right - 62, deep + 6),
                      (middle + 40, deep + 8)],
            "bath": [(at.left - 30, deep), (at.left - 30, deep + APART), (at.left - 30, at.rim - 8)],
            "stone": [(stone_x - 32, at.floor - 18), (stone_x + 36, at.floor - 18)],
            "air pump": [(self.pump_at[0] + 17, self.pump_at[1] + 42), (self.pump_at[0] + 17, self.pump_at[1] - 18)],
            "supply": [(upright[0] + 26, (upright[1] + at.floor) / 2), (upright[0] + 26, at.floor + 12)],
            "overflow": [(drain[0] + 34, at.floor + 26), (drain[0] + 62, at.floor + 26)],
            "reservoir": [(low.left + (low.right - low.left) * x, low.floor - y) for x, y in (
                (.26, 32), (.52, 46), (.26, 60), (.4, 16))],
            "pump": [(pump[0] + 46, low.floor - 16), (pump[0] + 46, low.floor - 16 - APART)],
            "lamp": [(self.lamp_at[0], self.lamp_at[1] - 16), (self.lamp_at[0] + APART, self.lamp_at[1] - 16)]
            if self.lamp else [],
            "floor": [(at.left - 4, at.ground + 22), (at.right - 8, at.ground + 22), (middle, at.ground + 22)],
            "outlet": [(self.pump_at[0] + 17, self.pump_at[1] + 42 + APART)],
            "beside": [(at.right + 40, at.ground - 20), (at.right + 40 - APART, at.ground - 20)],
        }

    def lead(self, part: str, x: float, y: float) -> str:
        """The line from a circle that stands beside its part to the part."""
        from calc.render import svg
        at = self.at
        ends = {"bath": (at.left - 1, y), "air pump": (self.pump_at[0] + 17, self.pump_at[1] + 22),
                "supply": (self.one.ways[-3][0] if len(self.one.ways) > 2 else x, y),
                "pump": (self.one.ways[0][0] + 13, self.at.reservoir.floor - 10 if self.at.reservoir else y)}
        if part not in ends:
            return ""
        return svg.line("lead", (x, y), ends[part])


def _circle(x: float, y: float, mark: Mark) -> str:
    from calc.render import svg
    words = (f'<circle class="balloon" cx="{svg.num(x)}" cy="{svg.num(y)}" r="{RADIUS}"/>'
             f'<text class="label strong" x="{svg.num(x)}" y="{svg.num(y + 4.8)}" text-anchor="middle">{mark.number}'
             "</text>")
    if not mark.href:
        return words
    return f'<a class="balloon-link" href="{escape(mark.href)}" aria-label="{escape(mark.title)}">{words}</a>'


def _spot(free: Sequence[Point], taken: list[Point], right: float) -> Point:
    """The first place that no circle stands on, none of it cut by the edge; where all are taken, one further along
    from the last, and from the edge on in the row above."""
    def stands_free(x: float, y: float) -> bool:
        return all((x - a) ** 2 + (y - b) ** 2 > APART ** 2 * .92 for a, b in taken)
    within = [(min(max(x, RADIUS + 2), right), y) for x, y in free]
    for x, y in within:
        if stands_free(x, y):
            return x, y
    x, y = within[-1]
    while not stands_free(x, y):
        x += APART
        if x > right:
            x, y = right - APART * int((right - RADIUS) / APART / 3), y - APART
    return x, y


def draw(name: str, design, marks: Sequence[Mark], wide: bool, dims: bool = False, lamp: bool = False) -> str:
    """The picture as SVG text; ``dims`` adds the sizes that a reader measures. A mark of the "whole" has no circle."""
    from calc.render import svg
    from calc.render.drawing import say_length
    one = _Picture(design, wide, lamp)
    at, parts = one.at, one.parts
    places, taken, circles, leads = one.places(), [], [], []
    for mark in marks:
        if mark.part == "whole" or not places.get(mark.part):
            continue
        x, y = _spot(places[mark.part], taken, one.width - RADIUS - 2)
        taken.append((x, y))
        leads.append(one.lead(mark.part, x, y))
        circles.append(_circle(x, y, mark))
    if dims:
        over = at.rim - 62.0
        words = say_length(design, at.length)
        parts += [svg.dim_across(at.left, at.right, over), svg.line("dim thin", (at.left, over), (at.left, at.rim - 4)),
                  svg.line("dim thin", (at.right, over), (at.right, at.rim - 4)),
                  svg.text((at.left + at.right) / 2, over - 8, words + (" at the rim" if wide else ""), "dim",
                           "middle"),
                  svg.dim_up(at.left - 14, at.rim, at.floor),
                  svg.text(at.left - 20, (at.rim + at.floor) / 2 + 5, say_length(design, at.depth), "dim", "end")]
        if at.water is not None:
            x = at.left + (at.right - at.left) * (.68 if wide else .5)
            parts += [svg.dim_up(x, at.y(at.water), at.floor),
                      svg.text(x + 7, (at.y(at.water) + at.floor) / 2 + 5, say_length(design, at.water), "dim halo")]
    said = ("A shallow bath stands on a bench. A foam board floats on its water; plants stand in net pots in the board "
            "and their roots hang in the water. An air pump stands above the water and feeds air stones on the floor "
            "of the bath. Below stands a reservoir; a pump in it sends water up a hose and over the rim, and an "
            "overflow standpipe lets it run back.")
    bottom = max([at.lowest + 10, *(y + RADIUS + 3 for _, y in taken)])
    drawn = svg.drawing(name, one.width, bottom, "A raft bath in section", said, [*parts, *leads, *circles])
    # A picture with links in it is no single image.
    return drawn.replace('role="img"', 'role="group"', 1) if any(mark.href for mark in marks) else drawn
