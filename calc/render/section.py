"""A bath is built from a drawing, not from a list of numbers: bath, reservoir and pipes, cut through the middle."""

from __future__ import annotations

from itertools import pairwise
from math import isfinite, sqrt

from ..declare import Row
from ..solve import Design
from . import svg
from .drawing import EDGE, INCH, LINE, WIDTH, counted, length_of, say_length, vessel
from .svg import text, text_width

# Lettering beside the section: height, size and word on the left; height, end of its line and words on the right.
LeftNote = tuple[float, str, str]
RightNote = tuple[float, float, str]
BATH_LEFT, BATH_MOST, BATH_LEAST = 150.0, 250.0, 90.0
BATH_TALL, BATH_LOW, BATH_AND_RAFT_TALL = 240.0, 42.0, 320.0
RESERVOIR_TALL, RESERVOIR_LEAST = 170.0, 70.0
GAP, GAP_LEAST, GAP_MOST = 84.0, 60.0, 170.0
LOW_SHARE = 0.5


class _Section:
    """Where everything of the section stands; x and y turn metres from the bath's rim corner and floor into places."""

    def __init__(self, length: float, base: float, depth: float, above: float):
        scale = min(BATH_MOST / length, BATH_TALL / depth)
        self.stretched = self.broken = False
        if depth * scale < BATH_LOW:
            scale = BATH_LOW / depth
        scale = min(scale, BATH_AND_RAFT_TALL / (depth + above))
        self.scale = scale
        self.wide = length * scale
        if self.wide > BATH_MOST * 1.001:
            self.broken, self.wide = True, BATH_MOST
        self.across = scale
        if self.wide < BATH_LEAST:
            self.stretched, self.wide = True, BATH_LEAST
            self.across = BATH_LEAST / length
        self.length, self.base, self.depth = length, base, depth
        self.left, self.right = BATH_LEFT, BATH_LEFT + self.wide
        self.rim = 62.0 + above * scale
        self.floor = self.rim + depth * scale
        # A taper wider than half of what is drawn would cross itself where a length is left out.
        self.slope = max(min((length - base) / 2 * self.across, self.wide * 0.4), -40.0)

    def y(self, height: float) -> float:
        """Place of a height above the floor."""
        return self.floor - height * self.scale

    def x(self, along: float) -> float | None:
        """Place of a length along the rim; ``None`` where it falls in the part left out."""
        if not self.broken:
            return self.left + along * self.across
        half = self.wide / 2 - 10
        if along * self.across <= half:
            return self.left + along * self.across
        back = (self.length - along) * self.across
        return self.right - back if back <= half else None

    def inset(self, height: float) -> float:
        """How far the wall stands in from the rim's corner at a height above the floor."""
        return self.slope * (1 - min(max(height / self.depth, 0.0), 1.0))


def bath_section(design: Design) -> str:
    """The bath cut open along its length, over its reservoir, as SVG text; "" while length or depth are not known.

    To scale, but for the hose lines, the pump and what the drawing itself names as not to scale.
    """
    length, base = vessel(design, "bath")
    depth = length_of(design, "bath.depth")
    if length is None or depth is None:
        return ""
    water = length_of(design, "bath.water_depth")
    if water is not None and water > depth:
        water = None
    thickness = length_of(design, "board.thickness")
    draught = design.value("board.draught")
    sunk = above = 0.0
    floats = False
    if thickness is not None and water is not None and isinstance(draught, (int, float)) and isfinite(draught):
        floats, sunk = True, min(max(draught, 0.0), water)
        above = max(water + thickness - sunk - depth, 0.0)
    place = _Section(length, base or length, depth, above)
    parts: list[str] = []
    left_notes: list[LeftNote] = []
    right_notes: list[RightNote] = []
    said: list[str] = []

    say = say_length
    said.append(f"The bath is {say(design, length)} long at the rim and {say(design, depth)} deep inside.")
    left_notes.append((place.rim, say(design, depth), "deep"))
    if water is not None:
        parts += _section_water(place, water)
        said.append(f"The water stands {say(design, water)} deep, {say(design, depth - water)} below the rim.")
        left_notes.append((place.y(water / 2) - LINE / 2, say(design, water), "water"))
        right_notes.append((place.y(water), place.right - place.inset(water),
                            f"water {say(design, depth - water)} down"))
    _section_stones(design, place, water, parts, right_notes, said)
    if floats and water is not None and thickness is not None:
        _section_raft(design, place, water, thickness, sunk, parts, right_notes, said)
    parts.append(svg.line("ink", (place.left - 8, place.rim), (place.left, place.rim),
                          (place.left + place.slope, place.floor), (place.right - place.slope, place.floor),
                          (place.right, place.rim), (place.right + 8, place.rim)))
    bottom, below = _section_reservoir(design, place, water, parts, left_notes, right_notes, said)
    if place.broken:
        middle = (place.left + place.right) / 2
        for x in (middle - 6, middle + 6):
            parts.append(svg.break_mark(x, place.rim - above * place.scale - 8, place.floor + 8))
    words = f"{say(design, length)} at the rim"
    top = place.rim - above * place.scale - 30
    parts.append(svg.dim_across(place.left, place.right, top))
    middle = max((place.left + place.right) / 2, text_width(words) / 2 + EDGE)
    parts.append(text(middle, top - 10, words, "dim", "middle"))
    parts.append(svg.dim_up(place.left - 46, place.rim, place.floor))
    if water is not None:
        parts.append(svg.dim_up(place.left - 32, place.y(water), place.floor))
    bottom = max(bottom, _section_notes(place, left_notes, right_notes, parts))
    if place.broken or place.stretched:
        below.append("Length not to scale: " + ("the middle is left out" if place.broken else "drawn wider"))
    baths = design.value("bath.count")
    if isinstance(baths, int) and baths > 1:
        below.append(f"One of {baths:,} equal baths on this reservoir")
    for words in below:
        bottom += LINE + 2
        parts.append(text(WIDTH / 2, bottom, words, "label", "middle"))
        said.append(words + ".")
    return svg.drawing("bath-section", WIDTH, bottom + 12, "The bath in section", " ".join(said), parts)


def _section_water(place: _Section, water: float) -> list[str]:
    inset, surface = place.inset(water), place.y(water)
    return [svg.shape("water", (place.left + inset, surface), (place.right - inset, surface),
                      (place.right - place.slope, place.floor), (place.left + place.slope, place.floor)),
            svg.line("ink", (place.left + inset, surface), (place.right - inset, surface))]


def _section_stones(design: Design, place: _Section, water: float | None, parts: list[str],
                    right_notes: list[RightNote], said: list[str]) -> None:
    """Stones on the floor, each place along the length once, with bubbles on their way up."""
    stones = design.value("air.stone_rows") or []
    if not stones or water is None:
        return
    offset = (place.length - place.base) / 2
    height = min(max((length_of(design, "air.stone_height") or INCH) * place.scale, 4.0),
                 max((place.floor - place.y(water)) * 0.5, 1.0))
    spots = sorted({round(one["x"], 4) for one in stones})
    found = [x for x in (place.x(offset + spot) for spot in spots) if x is not None]
    if not found:
        return
    near = min((b - a for a, b in pairwise(found)), default=24.0)
    half = max(min(9.0, near * 0.35), 0.8)
    parts.append('<g class="stone solid">' + "".join(
        svg.rect("stone solid", x - half, place.floor - height, 2 * half, height) for x in found) + "</g>")
    rise = place.floor - height - place.y(water)
    if rise > 16 and half >= 2:
        parts.extend(svg.circle("air", x + (-3, 2, -1)[step], place.floor - height - rise * (0.2 + 0.24 * step),
                                1.6 + 0.5 * step) for x in found for step in range(3))
    deep = length_of(design, "air.stone_depth")
    words = f"stones {say_length(design, deep)} down" if deep else "air stones"
    right_notes.append((place.floor - height / 2, found[-1] + half, words))
    said.append(f"{counted(len(stones), 'air stone')} {'lies' if len(stones) == 1 else 'lie'} on the floor"
                + (f", {say_length(design, deep)} under the water." if deep else "."))


def _section_raft(design: Design, place: _Section, water: float, thickness: float, sunk: float, parts: list[str],
                  right_notes: list[RightNote], said: list[str]) -> None:
    """Boards afloat at their draught, with the pots of one row hanging in them."""
    opening = length_of(design, "water.opening_length") or place.length
    offset = (place.length - opening) / 2
    pieces = design.value("board.pieces") or []
    top, under = place.y(water - sunk + thickness), place.y(water - sunk)
    ends = {(round(piece["x"], 4), round(piece["x"] + piece["length"], 4)) for piece in pieces}
    middle = (place.left + place.right) / 2
    for start, end in sorted(ends) or [(0.0, opening)]:
        a, b = place.x(offset + start), place.x(offset + end)
        if a is None and b is None and not (start < place.length / 2 < end):
            continue
        a, b = (middle + 10 if a is None and start > place.length / 2 else a,
                middle - 10 if b is None and end < place.length / 2 else b)
        a, b = middle if a is None else a, middle if b is None else b
        parts.append(svg.rect("foam", min(a, b), top, abs(b - a), max(under - top, 0.5)))
    _section_pots(design, place, pieces, offset, top, parts)
    freeboard = thickness - sunk
    deep, high = say_length(design, sunk, "mm"), say_length(design, abs(freeboard), "mm")
    last = place.right - place.inset(water) - 3
    right_notes.append((top, last, f"raft {say_length(design, thickness, 'mm')} thick"))
    right_notes.append(((top + place.y(water)) / 2, last, f"raft {high} dry" if freeboard > 0
                        else f"raft {high} under"))
    right_notes.append((under, last, f"raft {deep} wet"))
    said.append(f"The raft is {say_length(design, thickness, 'mm')} thick; at harvest {deep} of it is in the water and "
                f"its top is {high} {'above' if freeboard > 0 else 'under'} it.")


def _section_pots(design: Design, place: _Section, pieces: list[Row], offset: float, top: float,
                  parts: list[str]) -> None:
    pot, holes = length_of(design, "board.pot"), design.value("board.holes") or []
    hole = length_of(design, "board.hole_diameter") or pot
    if not pot or not hole or not holes or not pieces:
        return
    corner = {piece["board"]: piece for piece in pieces if "board" in piece} or dict(enumerate(pieces, 1))
    front: dict[int, float] = {}
    for one in holes:
        front[one["board"]] = min(front.get(one["board"], one["y"]), one["y"])
    least = min(piece["y"] for piece in pieces)
    spots = {round(corner[one["board"]]["x"] + one["x"], 4) for one in holes
             if one["board"] in corner and corner[one["board"]]["y"] < least + 1e-6
             and one["y"] < front[one["board"]] + 1e-6}
    half, low = hole / 2 * place.across, min(top + pot * place.scale, place.floor - 2)
    path = []
    for spot in sorted(spots):
        x = place.x(offset + spot)
        if x is not None and place.left + half < x < place.right - half and low > top:
            path.append(f"M{svg.num(x - half)} {svg.num(top)}L{svg.num(x - half * 0.7)} {svg.num(low)}"
                        f"H{svg.num(x + half * 0.7)}L{svg.num(x + half)} {svg.num(top)}Z")
    if path:
        parts.append(f'<path class="hole pot" d="{"".join(path)}"/>')


def _reservoir_size(design: Design) -> tuple[float | None, float | None, bool]:
    """(length at the rim, at the floor, whether the width is only guessed from the volume)."""
    top, base = vessel(design, "reservoir")
    if design.value("reservoir.shape") != "known volume":
        return top, base, False
    held = length_of(design, "reservoir.known_volume")
    deep = length_of(design, "reservoir.known_depth") or length_of(design, "reservoir.water_depth")
    side = sqrt(held / deep) if held and deep else None
    return side, side, True


def _section_reservoir(design: Design, place: _Section, water: float | None, parts: list[str],
                       left_notes: list[LeftNote], right_notes: list[RightNote],
                       said: list[str]) -> tuple[float, list[str]]:
    """Reservoir, pump, hose and return; gives the lowest place drawn and what is not to scale."""
    top, base, guessed = _reservoir_size(design)
    depth = length_of(design, "reservoir.depth")
    fill = design.value("bath.fill")
    if top is None or depth is None:
        return place.floor + 16, []
    scale = min(place.scale, BATH_MOST / top, RESERVOIR_TALL / depth)
    wide, tall = max(top * scale, RESERVOIR_LEAST), max(depth * scale, 44.0)
    true = place.scale * 0.999 < scale and wide == top * scale and tall == depth * scale
    running = length_of(design, "reservoir.water_depth")
    level = min(running / depth, 1.0) if running else None
    inlet = (place.rim - 16 if fill == "rim"
             else place.y(min(length_of(design, "bath.inlet_height") or 0.0, place.depth)))
    lift = length_of(design, "circulation.lift")
    low_up = (level or 0.5) * LOW_SHARE * tall
    gap, lift_true = GAP, False
    if lift and true:
        wished = inlet + lift * place.scale + low_up - tall - place.floor
        lift_true = GAP_LEAST <= wished <= GAP_MOST
        gap = wished if lift_true else GAP
    rim, floor_y = place.floor + gap, place.floor + gap + tall
    middle = (place.left + place.right) / 2
    # Wide reservoirs under narrow baths must not run into the lettering on the left.
    left = max(middle - wide / 2, BATH_LEFT - 20)
    right = left + wide
    taper = max(min((top - (base or top)) / 2 * scale, wide * 0.3), -wide * 0.15)
    legs = design.value("bath.legs")
    if legs and wide < place.wide - 40:
        parts += [svg.line("ground ink", (x, place.floor), (x, floor_y + 4))
                  for x in (place.left + place.slope + 5, place.right - place.slope - 5)]
    if level is not None and running is not None:
        inset, surface = taper * (1 - level), floor_y - level * tall
        parts.append(svg.shape("water", (left + inset, surface), (right - inset, surface), (right - taper, floor_y),
                               (left + taper, floor_y)))
        right_notes.append((surface, right - inset, f"runs {say_length(design, running)} deep"))
    low = floor_y - low_up
    parts.append(svg.line("seam", (left + taper, low), (right - taper, low)))
    parts.append(svg.line("reservoir ink", (left, rim), (left + taper, floor_y), (right - taper, floor_y),
                          (right, rim)))
    parts.append(svg.line("ground ink", (BATH_LEFT - 30, floor_y + 4), (BATH_LEFT + BATH_MOST + 10, floor_y + 4)))
    volume = length_of(design, "water.reservoir_volume")
    held = design.shown("water.reservoir_volume") if volume else ""
    right_notes.append((rim + 4, right, f"reservoir {held}".strip()))
    right_notes.append((low, right - taper, "low water level"))
    _section_pipes(design, place, water, fill, (left, right, rim, floor_y, taper), gap, parts, right_notes, said)
    said.append(f"Below it stands the reservoir{f', holding {held}' if held else ''}; its low water line is only an "
                "example.")
    notes = []
    if lift:
        parts.append(svg.dim_up(14, inlet, low))
        parts += [svg.line("dim", (8, y), (20, y)) for y in (inlet, low)]
        left_notes.append((place.floor + gap * 0.5, say_length(design, lift), "lift"))
        said.append(f"The lift from low water to the inlet is {say_length(design, lift)}.")
        if not lift_true:
            notes.append("Height of the bath over the reservoir not to scale")
    if not true or guessed:
        notes.append("Reservoir not to scale" if not guessed else "Width of the reservoir guessed from its volume")
    return floor_y + 6, notes


def _section_pipes(design: Design, place: _Section, water: float | None, fill: str | None,
                   tank: tuple[float, float, float, float, float], gap: float, parts: list[str],
                   right_notes: list[RightNote], said: list[str]) -> None:
    if design.value("circulation.flow") == 0.0:
        said.append("No water is pumped.")
        return
    left, right, rim, floor_y, taper = tank
    pump_x, pump_y = left + taper + 22, floor_y - 9
    level = place.floor + gap * 0.68
    if fill == "rim":
        ending = min(place.y(water) - 6 if water is not None else place.rim + 10, place.rim + 10)
        ending = max(ending, place.rim - 12)
        side = place.left - 16
        parts.append(svg.line("pipe", (pump_x, pump_y), (pump_x, level), (side, level), (side, place.rim - 16),
                              (place.left + 8, place.rim - 16), (place.left + 8, ending)))
        said.append("The hose rises from the pump and fills the bath over the rim.")
    elif fill in ("floor", "floor with check valve"):
        x = min(place.left + max(place.slope, 0.0) + 26, (place.left + place.right) / 2 - 12)
        inlet = place.y(min(length_of(design, "bath.inlet_height") or 0.0, place.depth))
        parts.append(svg.line("pipe", (pump_x, pump_y), (pump_x, level), (x, level), (x, min(inlet, place.floor - 3))))
        if fill == "floor with check valve":
            y = place.floor + gap * 0.36
            parts.append(svg.shape("solid", (x - 7, y + 7), (x + 7, y + 7), (x, y - 5)))
            parts.append(svg.line("ink", (x - 8, y - 6), (x + 8, y - 6)))
            said.append("The hose fills the bath through its floor, with a check valve, drawn as a triangle.")
        else:
            said.append("The hose fills the bath through its floor, without a check valve.")
    parts.append(svg.rect("pump foam", pump_x - 13, floor_y - 18, 26, 16))
    parts.append(svg.circle("pump ink", pump_x, floor_y - 10, 5))
    flow = length_of(design, "circulation.flow")
    words = f"pump, {design.shown('circulation.flow')}" if flow else "pump"
    right_notes.append((floor_y - 6, pump_x + 13, words))
    said.append("The pump lies in the reservoir"
                + (f" and moves {design.shown('circulation.flow')}." if flow else "."))
    if water is None:
        return
    film = length_of(design, "bath.film") or 0.0
    stand = place.right - max(place.slope, 0.0) - 14
    out = right - 12
    parts.append(svg.line("pipe", (stand, place.y(max(water - film, 0.0))), (stand, place.floor + gap * 0.36),
                          (out, place.floor + gap * 0.36), (out, rim + 6)))
    bore = length_of(design, "circulation.overflow_bore")
    note = f"overflow {say_length(design, bore, 'mm')}" if bore else "overflow"
    right_notes.append((place.floor + gap * 0.2, stand + 2, note))
    said.append("The overflow" + (f", {say_length(design, bore, 'mm')} in bore," if bore else "")
                + " returns the water to the reservoir.")


def _section_notes(place: _Section, left_notes: list[LeftNote], right_notes: list[RightNote],
                   parts: list[str]) -> float:
    """Lettering on both sides, moved apart where it would touch; gives the lowest base line."""
    left_notes.sort(key=lambda note: note[0])
    spots = svg.spread([note[0] + 12 for note in left_notes], 2 * LINE + 2, place.rim + 6)
    low = 0.0
    for y, (_, value, word) in zip(spots, left_notes, strict=True):
        lift = word == "lift"
        x, anchor, room = (24.0, "start", 76.0) if lift else (place.left - 54, "end", place.left - 54 - 20)
        for step, words in enumerate((value, word)):
            size = min(svg.TEXT_SIZE, room / (len(words) * svg.LETTER))
            parts.append(text(x, y + step * (LINE - 2), words, "dim", anchor, size))
        low = max(low, y + LINE)
    column = BATH_LEFT + BATH_MOST + 24
    right_notes.sort(key=lambda note: note[0])
    spots = svg.spread([note[0] + 5 for note in right_notes], LINE, 60.0)
    for y, (at, x, words) in zip(spots, right_notes, strict=True):
        parts.append(svg.line("dim", (x, at), (column - 14, y - 5), (column - 4, y - 5)))
        parts.append(text(column, y, svg.shorten(words, WIDTH - EDGE - column)))
        low = max(low, y)
    return low
