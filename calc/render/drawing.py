"""A bath is built from a drawing, not from a list of numbers; here are section, raft, stones and pump curves."""

from __future__ import annotations

from bisect import bisect_right
from itertools import pairwise
from math import ceil, cos, isfinite, pi, sin, sqrt

from ..declare import Row
from ..solve import Design
from . import svg
from .svg import text, text_width

WIDTH = 620.0
FOOT, INCH = 0.3048, 0.0254
LONG_US, LONG_METRIC = 120 * INCH, 3.0
LINE = 19.0
EDGE = 6.0
# Lettering beside the section: height, size and word on the left; height, end of its line and words on the right.
LeftNote = tuple[float, str, str]
RightNote = tuple[float, float, str]


def _size(value: object) -> float | None:
    """A length above zero, or ``None`` where there is nothing that can be drawn."""
    if isinstance(value, (int, float)) and not isinstance(value, bool) and isfinite(value) and value > 0:
        return float(value)
    return None


def _get(design: Design, key: str) -> float | None:
    return _size(design.value(key))


def _words(design: Design, value: float, small: str = "cm") -> str:
    """A length as a builder writes it: 48 in, 12 ft 6 in, 60 cm, 30 m."""
    if design.system == "metric":
        return design.show(value, "length", metric="m" if value >= LONG_METRIC else small)
    if value <= LONG_US + 1e-9:
        return design.show(value, "length", us="in", fraction=16)
    parts = round(value / INCH * 16)
    feet, rest = divmod(parts, 192)
    inches = " " + design.show(rest / 16 * INCH, "length", us="in", fraction=16) if rest else ""
    return f"{feet:,} ft{inches}"


def _count(number: int, one: str) -> str:
    return f"{number:,} {one}{'' if number == 1 else 's'}"


def _vessel(design: Design, prefix: str) -> tuple[float | None, float | None]:
    """(length at the rim, length at the floor) of the bath or the reservoir, in m."""
    kind = design.value(prefix + ".shape")
    if kind in ("round", "tapered round"):
        top = _get(design, prefix + ".diameter")
        return top, (_get(design, prefix + ".base_diameter") if kind == "tapered round" else None) or top
    top = _get(design, prefix + ".length")
    return top, (_get(design, prefix + ".base_length") if kind == "tapered box" else None) or top


# --- the bath in section ---------------------------------------------------------------------------------------------

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
    length, base = _vessel(design, "bath")
    depth = _get(design, "bath.depth")
    if length is None or depth is None:
        return ""
    water = _get(design, "bath.water_depth")
    if water is not None and water > depth:
        water = None
    thickness = _get(design, "board.thickness")
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

    say = _words
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
    height = min(max((_get(design, "air.stone_height") or INCH) * place.scale, 4.0),
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
    deep = _get(design, "air.stone_depth")
    words = f"stones {_words(design, deep)} down" if deep else "air stones"
    right_notes.append((place.floor - height / 2, found[-1] + half, words))
    said.append(f"{_count(len(stones), 'air stone')} {'lies' if len(stones) == 1 else 'lie'} on the floor"
                + (f", {_words(design, deep)} under the water." if deep else "."))


def _section_raft(design: Design, place: _Section, water: float, thickness: float, sunk: float, parts: list[str],
                  right_notes: list[RightNote], said: list[str]) -> None:
    """Boards afloat at their draught, with the pots of one row hanging in them."""
    opening = _get(design, "water.opening_length") or place.length
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
    deep, high = _words(design, sunk, "mm"), _words(design, abs(freeboard), "mm")
    last = place.right - place.inset(water) - 3
    right_notes.append((top, last, f"raft {_words(design, thickness, 'mm')} thick"))
    right_notes.append(((top + place.y(water)) / 2, last, f"raft {high} dry" if freeboard > 0
                        else f"raft {high} under"))
    right_notes.append((under, last, f"raft {deep} wet"))
    said.append(f"The raft is {_words(design, thickness, 'mm')} thick; at harvest {deep} of it is in the water and "
                f"its top is {high} {'above' if freeboard > 0 else 'under'} it.")


def _section_pots(design: Design, place: _Section, pieces: list[Row], offset: float, top: float,
                  parts: list[str]) -> None:
    pot, holes = _get(design, "board.pot"), design.value("board.holes") or []
    hole = _get(design, "board.hole_diameter") or pot
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
    top, base = _vessel(design, "reservoir")
    if design.value("reservoir.shape") != "known volume":
        return top, base, False
    held = _get(design, "reservoir.known_volume")
    deep = _get(design, "reservoir.known_depth") or _get(design, "reservoir.water_depth")
    side = sqrt(held / deep) if held and deep else None
    return side, side, True


def _section_reservoir(design: Design, place: _Section, water: float | None, parts: list[str],
                       left_notes: list[LeftNote], right_notes: list[RightNote],
                       said: list[str]) -> tuple[float, list[str]]:
    """Reservoir, pump, hose and return; gives the lowest place drawn and what is not to scale."""
    top, base, guessed = _reservoir_size(design)
    depth = _get(design, "reservoir.depth")
    fill = design.value("bath.fill")
    if top is None or depth is None:
        return place.floor + 16, []
    scale = min(place.scale, BATH_MOST / top, RESERVOIR_TALL / depth)
    wide, tall = max(top * scale, RESERVOIR_LEAST), max(depth * scale, 44.0)
    true = place.scale * 0.999 < scale and wide == top * scale and tall == depth * scale
    running = _get(design, "reservoir.water_depth")
    level = min(running / depth, 1.0) if running else None
    inlet = place.rim - 16 if fill == "rim" else place.y(min(_get(design, "bath.inlet_height") or 0.0, place.depth))
    lift = _get(design, "circulation.lift")
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
        right_notes.append((surface, right - inset, f"runs {_words(design, running)} deep"))
    low = floor_y - low_up
    parts.append(svg.line("seam", (left + taper, low), (right - taper, low)))
    parts.append(svg.line("reservoir ink", (left, rim), (left + taper, floor_y), (right - taper, floor_y),
                          (right, rim)))
    parts.append(svg.line("ground ink", (BATH_LEFT - 30, floor_y + 4), (BATH_LEFT + BATH_MOST + 10, floor_y + 4)))
    volume = _get(design, "water.reservoir_volume")
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
        left_notes.append((place.floor + gap * 0.5, _words(design, lift), "lift"))
        said.append(f"The lift from low water to the inlet is {_words(design, lift)}.")
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
        inlet = place.y(min(_get(design, "bath.inlet_height") or 0.0, place.depth))
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
    name = design.value("circulation.pump_name")
    flow = _get(design, "circulation.flow")
    words = f"pump, {design.shown('circulation.flow')}" if flow else "pump"
    right_notes.append((floor_y - 6, pump_x + 13, words))
    said.append("The pump" + (f", {name}," if name else "") + " lies in the reservoir"
                + (f" and moves {design.shown('circulation.flow')}." if flow else "."))
    if water is None:
        return
    film = _get(design, "bath.film") or 0.0
    stand = place.right - max(place.slope, 0.0) - 14
    out = right - 12
    parts.append(svg.line("pipe", (stand, place.y(max(water - film, 0.0))), (stand, place.floor + gap * 0.36),
                          (out, place.floor + gap * 0.36), (out, rim + 6)))
    bore = _get(design, "circulation.overflow_bore")
    note = f"overflow {_words(design, bore, 'mm')}" if bore else "overflow"
    right_notes.append((place.floor + gap * 0.2, stand + 2, note))
    said.append("The overflow" + (f", {_words(design, bore, 'mm')} in bore," if bore else "")
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


# --- the raft from above ---------------------------------------------------------------------------------------------

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
              if _size(piece.get("length")) and _size(piece.get("width"))]
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
    radius = (_get(design, "board.hole_diameter") or 0.0) / 2
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
        margin = _get(self.design, "board.margin") or 1.0
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
            spacing = _get(self.design, "board.spacing_used") or _get(self.design, "board.spacing") or 0.0
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
        return _words(self.design, value, "mm")

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
        spacing, margin = _get(self.design, "board.spacing_used"), _get(self.design, "board.margin")
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
                f"{_count(len(self.boards), 'board')}, with {_count(len(self.holes), 'hole')}."]
        if self.radius:
            said.append(f"Each hole is {self._say(2 * self.radius)} across.")
        spacing, margin = _get(self.design, "board.spacing_used"), _get(self.design, "board.margin")
        spacing = spacing or _get(self.design, "board.spacing")
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


# --- the stones from above -------------------------------------------------------------------------------------------

FLOOR_LEAST = 84.0
HOSE_ROOM = 7.0


def stone_plan(design: Design) -> str:
    """The floor of the bath from above, with its air stones and their hoses, as SVG; "" while not known."""
    stones = design.value("air.stone_rows") or []
    _, long = _vessel(design, "bath")
    kind = design.value("bath.shape")
    is_round = kind in ("round", "tapered round")
    wide = long if is_round else _get(design, "bath.width")
    if kind == "tapered box" and wide:
        # An empty floor width means that all sides taper alike.
        wide = _get(design, "bath.base_width") or _size(wide - ((_get(design, "bath.length") or long or 0.0)
                                                                - (long or 0.0)))
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
    spacing, hose = _get(design, "air.stone_spacing"), _get(design, "air.hose_length")
    near = spacing * min(across, up) if spacing else 12.0
    radius = max(min(7.0, near * 0.36), 0.8)
    parts.append('<g class="stone solid">' + "".join(
        f'<circle cx="{svg.num(x)}" cy="{svg.num(y)}" r="{svg.num(radius)}"/>' for x, y in spots) + "</g>")
    words = f"{_words(design, long)} at the floor"
    parts.append(svg.dim_across(PLAN_LEFT, right, 30))
    parts.append(text(max((PLAN_LEFT + right) / 2, text_width(words) / 2 + EDGE), 20, words, "dim", "middle"))
    at = right + 14
    parts.append(svg.dim_up(at, top, bottom))
    words = _words(design, wide)
    size = min(svg.TEXT_SIZE, (WIDTH - EDGE - at - 8) / (len(words) * svg.LETTER))
    parts.append(text(at + 8, (top + bottom) / 2 + 5, words, "dim", "start", size))
    notes = [_count(len(stones), "stone") + (f", nearest {_words(design, spacing)} apart" if spacing else "")]
    first = min(stones, key=lambda one: (round(one["y"], 4), one["x"]))
    notes.append(f"First: {_words(design, first['x'])} along, {_words(design, first['y'])} across from the lower left")
    notes.append("Each stone has its own hose" + (f" of {_words(design, hose)}" if hose else "")
                 + ("; a row's hoses lie together" if room >= HOSE_ROOM else "; too many to draw"))
    if not true:
        notes.append("Not to scale: drawn wider than it is, to show the stones")
    low = bottom + 6
    for note in notes:
        low += LINE + 2
        parts.append(text(EDGE, low, svg.shorten(note, WIDTH - 2 * EDGE)))
    said = f"The floor of the bath is {_words(design, long)} by {_words(design, wide)}. " + ". ".join(notes) + "."
    return svg.drawing("stone-plan", WIDTH, low + 12, "Air stones on the floor of the bath", said, parts)
