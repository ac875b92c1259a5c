"""The pieces that sections are put together from: bath, raft with plants, reservoir, stand, pipes; no lettering."""

from __future__ import annotations

from itertools import pairwise

from ..solve import Design
from . import svg
from .drawing import INCH, length_of
from .levels import Levels, Reservoir
from .placing import Labels

MOST_PLANTS, PLANT_LEAST = 14, 13.0
BENCH = 8.0


def bath(at: Levels, labels: Labels) -> list[str]:
    """The walls of the bath, over its water."""
    labels.block_line((at.left - 8, at.rim), (at.left, at.rim), (at.left, at.floor))
    labels.block_line((at.right + 8, at.rim), (at.right, at.rim), (at.right, at.floor))
    labels.block_line((at.left, at.floor), (at.right, at.floor))
    return [svg.line("wall", (at.left - 7, at.rim), (at.left, at.rim), (at.left + at.slope, at.floor),
                     (at.right - at.slope, at.floor), (at.right, at.rim), (at.right + 7, at.rim))]


def water(at: Levels) -> list[str]:
    """The water in the bath, with the pump running."""
    if at.water is None:
        return []
    inset, surface = at.inset(at.water), at.y(at.water)
    return [svg.shape("water", (at.left + inset, surface), (at.right - inset, surface),
                      (at.right - at.slope, at.floor), (at.left + at.slope, at.floor)),
            svg.line("ink thin", (at.left + inset, surface), (at.right - inset, surface))]


def breaks(at: Levels, labels: Labels) -> list[str]:
    """The zigzags where the middle of a long bath is left out."""
    if not at.broken:
        return []
    middle = (at.left + at.right) / 2
    labels.block(middle - 13, at.rim - at.above * at.scale - 8, middle + 13, at.floor + 8)
    return [svg.break_mark(x, at.rim - at.above * at.scale - 8, at.floor + 8) for x in (middle - 6, middle + 6)]


def raft(design: Design, at: Levels, labels: Labels) -> list[str]:
    """Boards afloat at their draught, with the pots and plants of the front row."""
    if not at.floats or at.water is None or at.thickness is None:
        return []
    opening = length_of(design, "water.opening_length") or at.length
    offset = (at.length - opening) / 2
    pieces = design.value("board.pieces") or []
    top, under = at.y(at.water - at.sunk + at.thickness), at.y(at.water - at.sunk)
    ends = {(round(piece["x"], 4), round(piece["x"] + piece["length"], 4)) for piece in pieces}
    middle = (at.left + at.right) / 2
    parts = []
    for start, end in sorted(ends) or [(0.0, opening)]:
        a, b = at.x(offset + start), at.x(offset + end)
        if a is None and b is None and not start < at.length / 2 < end:
            continue
        a = (middle + 10 if start > at.length / 2 else middle) if a is None else a
        b = (middle - 10 if end < at.length / 2 else middle) if b is None else b
        parts.append(svg.rect("cut", min(a, b), top, abs(b - a), max(under - top, 0.5)))
    labels.block(at.left, top - 2, at.right, under + 1)
    return parts + _plants(design, at, offset, top, under, labels)


def front_spots(design: Design) -> list[float]:
    """Places of the holes nearest the front along the opening, in meters, each once."""
    holes, pieces = design.value("board.holes") or [], design.value("board.pieces") or []
    corner = {piece["board"]: piece for piece in pieces if "board" in piece} or dict(enumerate(pieces, 1))
    if not holes or not corner:
        return []
    front: dict[int, float] = {}
    for one in holes:
        front[one["board"]] = min(front.get(one["board"], one["y"]), one["y"])
    least = min(piece["y"] for piece in pieces)
    return sorted({round(corner[one["board"]]["x"] + one["x"], 4) for one in holes
                   if one["board"] in corner and corner[one["board"]]["y"] < least + 1e-6
                   and one["y"] < front[one["board"]] + 1e-6})


def _front_row(design: Design, offset: float, at: Levels) -> list[float]:
    """Where the holes nearest the front are drawn."""
    found = (at.x(offset + spot) for spot in front_spots(design))
    return [x for x in found if x is not None and at.left + 3 < x < at.right - 3]


def _plants(design: Design, at: Levels, offset: float, top: float, under: float, labels: Labels) -> list[str]:
    pot = length_of(design, "board.pot")
    hole = length_of(design, "board.hole_diameter") or pot
    places = _front_row(design, offset, at)
    if not pot or not hole or not places or under - top < 1.0:
        return []
    near = min((b - a for a, b in pairwise(places)), default=60.0)
    half = min(max(hole / 2 * at.across, 3.5), max(near * 0.42, 1.0))
    low = min(top + max(pot * at.scale, 10.0), at.floor - 3)
    pots = "".join(f"M{svg.num(x - half)} {svg.num(top)}L{svg.num(x - half * .6)} {svg.num(low)}"
                   f"H{svg.num(x + half * .6)}L{svg.num(x + half)} {svg.num(top)}Z" for x in places)
    size = min(near * 0.42, 11.0)
    parts = []
    if near >= PLANT_LEAST and len(places) <= MOST_PLANTS:
        leaves = "".join(_leaves(x, top, size) for x in places)
        parts.append(f'<path class="plant" d="{leaves}"/>')
        deep = min(low + 16.0, at.floor - (36 if at.base < at.length else 21))
        roots = "".join(f"M{svg.num(x + dx)} {svg.num(low)}L{svg.num(x + dx * 1.3)} {svg.num(deep)}"
                        for x in places for dx in (-half * .45, 0.0, half * .45)) if deep > low + 3 else ""
        parts.append(f'<path class="root" d="{roots}"/>' if roots else "")
        for x in places:
            labels.block(x - size, top - 1.7 * size, x + size, low)
            labels.block(x - half, low, x + half, max(deep, low))
    parts.append(f'<path class="solid" d="{pots}"/>')
    return parts


def _leaves(x: float, y: float, size: float) -> str:
    """Three leaves over a pot."""
    one, two, tall = svg.num(size * .5), svg.num(size), svg.num(size * 1.6)
    half = svg.num(size * .7)
    start = f"M{svg.num(x)} {svg.num(y)}"
    return (f"{start}q-{two} -{one} -{two} -{two}q{half} -{svg.num(size * .2)} {two} {two}"
            f"{start}q{two} -{one} {two} -{two}q-{half} -{svg.num(size * .2)} -{two} {two}"
            f"{start}q-{half} -{half} 0 -{tall}q{half} {svg.num(size * .9)} 0 {tall}")


def stand(at: Levels, labels: Labels) -> list[str]:
    """Bench and legs, the ground, and what the reservoir stands on or in."""
    parts = []
    if at.legs:
        left, right = at.left - 4, at.right + 4
        for x in (left + 12, right - 24):
            parts.append(svg.rect("wood edge", x, at.floor + BENCH, 12, max(at.ground - at.floor - BENCH, 1)))
            labels.block(x, at.floor, x + 12, at.ground)
        parts.append(svg.rect("wood edge", left, at.floor + 1.5, right - left, BENCH - 1.5))
        labels.block(left, at.floor, right, at.floor + BENCH)
    return parts + _ground(at, labels)


def _ground(at: Levels, labels: Labels) -> list[str]:
    left, right, y = at.left - 30, at.right + 30, at.ground
    low = at.reservoir
    if not at.beside or low is None:
        if low is not None:
            left, right = min(left, low.left - 24), max(right, low.right + 24)
        labels.block(left, y - 2, right, y + 8)
        return [_hatched(left, right, y)]
    right = low.right + 26
    bottom = low.floor + 3.0
    if abs(bottom - y) < 3.0:
        labels.block(left, y - 2, right, y + 8)
        return [_hatched(left, right, y)]
    if bottom > y:
        # The reservoir is let into the ground, or stands on the storey below.
        wall = low.left - 10
        labels.block(left, y - 2, wall, y + 8)
        labels.block_line((wall, y), (wall, bottom))
        labels.block(wall, bottom - 2, right, bottom + 8)
        return [_hatched(left, wall, y), svg.line("ink thin", (wall, y), (wall, bottom)), _hatched(wall, right, bottom)]
    labels.block(left, y - 2, right, y + 8)
    labels.block(low.left, bottom, low.right, y)
    return [_hatched(left, right, y), svg.rect("wood edge", low.left + 2, bottom, low.right - low.left - 4, y - bottom)]


def _hatched(left: float, right: float, y: float) -> str:
    """A line of ground with its strokes."""
    left = max(left, 1.0)
    strokes = "".join(f"M{svg.num(left + 10 + 18 * n)} {svg.num(y)}l-6 6" for n in range(int((right - left - 6) / 18)))
    return f'<path class="ink thin" d="M{svg.num(left)} {svg.num(y)}H{svg.num(right)}{strokes}"/>'


def reservoir(low: Reservoir, labels: Labels, key: str) -> list[str]:
    """Reservoir with its water; the water line carries ``key`` where the volume was asked for."""
    parts = []
    if low.share is not None:
        surface = low.y(low.share)
        inset = low.inset(surface)
        parts.append(svg.shape("water", (low.left + inset, surface), (low.right - inset, surface),
                               (low.right - low.taper, low.floor), (low.left + low.taper, low.floor)))
        mark = f' data-dim="{key}"' if key else ""
        parts.append(f'<path class="{"dim" if key else "ink thin"}" fill="none"{mark} d="M{svg.num(low.left + inset)} '
                     f'{svg.num(surface)}H{svg.num(low.right - inset)}"/>')
    parts.append(svg.line("wall", (low.left - 6, low.rim), (low.left, low.rim), (low.left + low.taper, low.floor),
                          (low.right - low.taper, low.floor), (low.right, low.rim), (low.right + 6, low.rim)))
    labels.block_line((low.left - 6, low.rim), (low.left, low.rim), (low.left, low.floor), (low.right, low.floor),
                      (low.right, low.rim), (low.right + 6, low.rim))
    return parts


def sizes_of_reservoir(low: Reservoir, design: Design) -> list[str]:
    """The sizes of a reservoir that was measured, each to be seen while its question has the focus."""
    shape = design.value("reservoir.shape")
    if shape == "known volume":
        return []
    across = "diameter" if shape in ("round", "tapered round") else "length"
    inner = low.left + low.taper + 6
    parts = [svg.lit(f"reservoir.{across}", (low.left, low.rim), (low.right, low.rim)),
             svg.lit("reservoir.depth", (inner, low.rim), (inner, low.floor))]
    if low.taper:
        parts.append(svg.lit(f"reservoir.base_{across}", (low.left + low.taper, low.floor),
                             (low.right - low.taper, low.floor)))
    if low.share is not None:
        parts.append(svg.lit("reservoir.water_depth", (inner, low.y(low.share)), (inner, low.floor)))
    return parts


def stones(design: Design, at: Levels, most: int = 24) -> tuple[list[str], list[float], float, float]:
    """Stones at their depth with bubbles on their way up: the drawing, their places, where their tops are, and how tall
    they are drawn."""
    rows = design.value("air.stone_rows") or []
    if not rows or at.water is None:
        return [], [], at.floor, 0.0
    offset = (at.length - at.base) / 2
    tall = min(max((length_of(design, "air.stone_height") or INCH) * at.scale, 4.0),
               max((at.floor - at.y(at.water)) * 0.5, 1.0))
    spots = sorted({round(one["x"], 4) for one in rows})
    found = [x for x in (at.x(offset + spot) for spot in spots) if x is not None]
    near = min((b - a for a, b in pairwise(found)), default=40.0)
    half = max(min(10.0, near * 0.35), 0.8)
    # Stones lie on the floor, or hang where the plan wants them less deep.
    top, deep = at.floor - tall - 1, length_of(design, "air.stone_depth")
    if deep is not None:
        top = min(max(at.y(at.water - deep), at.y(at.water)), top)
    parts = ['<g class="stone solid">' + "".join(
        svg.rect("stone solid", x - half, top, 2 * half, tall) for x in found) + "</g>"]
    rise = top - at.y(at.water)
    if rise > 14 and half >= 2 and len(found) <= most:
        parts += [svg.circle("air", x + (-4, 3, -2, 2)[step], top - rise * (0.16 + 0.2 * step), 1.5 + 0.5 * step)
                  for x in found for step in range(4)]
    return parts, found, top, tall


def pump(x: float, y: float, labels: Labels, wide: bool) -> list[str]:
    """A pump on the reservoir's floor; (x, y) is the middle of its foot."""
    half, tall = (13.0, 18.0) if wide else (10.0, 14.0)
    labels.block(x - half, y - tall - 2, x + half, y)
    return [svg.rect("cut", x - half, y - tall - 1, 2 * half, tall),
            svg.circle("ink thin", x, y - tall / 2 - 1, tall * 0.27)]


def pipe(points: list[tuple[float, float]], half: float, labels: Labels) -> list[str]:
    """A pipe of level and upright pieces, drawn by its two sides."""
    labels.block_line(*points, half=half + 2)
    joined = " ".join(f"{svg.num(x)},{svg.num(y)}" for x, y in points)
    return [f'<polyline class="tube" fill="none" stroke-width="{svg.num(2 * half)}" points="{joined}"/>'
            f'<polyline class="bore" fill="none" stroke-width="{svg.num(2 * half - 3)}" points="{joined}"/>']
