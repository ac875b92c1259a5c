"""To-scale drawings as SVG: the bath in section, the raft in plan, the stones on the floor; each says itself in words."""

from __future__ import annotations

from html import escape

WIDE = 640.0
BREAK_RATIO = 8.0
MOST_NUMBERED = 60


def _n(value: float) -> str:
    return f"{value:.1f}".rstrip("0").rstrip(".")


def _rect(kind: str, x: float, y: float, wide: float, high: float) -> str:
    return f'<rect class="{kind}" x="{_n(x)}" y="{_n(y)}" width="{_n(max(wide, 0))}" height="{_n(max(high, 0))}"/>'


def _line(kind: str, *points: tuple[float, float]) -> str:
    way = " ".join(f"{_n(x)},{_n(y)}" for x, y in points)
    return f'<polyline class="{kind}" fill="none" points="{way}"/>'


def _text(x: float, y: float, words: str, anchor: str = "middle", size: int = 13) -> str:
    return (f'<text class="label" x="{_n(x)}" y="{_n(y)}" text-anchor="{anchor}" font-size="{size}">'
            f"{escape(words)}</text>")


def _across(x1: float, x2: float, y: float, words: str) -> str:
    """A dimension line from left to right, with ticks as on a workshop drawing."""
    return (_line("dim", (x1, y), (x2, y)) + _line("dim", (x1 - 3, y + 4), (x1 + 3, y - 4))
            + _line("dim", (x2 - 3, y + 4), (x2 + 3, y - 4)) + _text((x1 + x2) / 2, y - 5, words))


def _down(x: float, y1: float, y2: float, words: str, anchor: str = "start") -> str:
    """A dimension line from top to bottom, its text beside it."""
    shift = 7 if anchor == "start" else -7
    return (_line("dim", (x, y1), (x, y2)) + _line("dim", (x - 4, y1 + 3), (x + 4, y1 - 3))
            + _line("dim", (x - 4, y2 + 3), (x + 4, y2 - 3)) + _text(x + shift, (y1 + y2) / 2 + 4, words, anchor))


def _svg(name: str, title: str, words: str, high: float, body: str) -> str:
    return (f'<svg viewBox="0 0 {_n(WIDE)} {_n(high)}" role="img" aria-labelledby="{name}-t {name}-d">'
            f'<title id="{name}-t">{escape(title)}</title><desc id="{name}-d">{escape(words)}</desc>{body}</svg>')


def _size(design, value: float) -> str:
    return design.show(value, "length", "in", "mm", 16)


def _bath_sizes(design):
    """Rim length, floor length, depth and water depth in m, or ``None`` where one is missing."""
    shape = design.value("bath.shape")
    round_bath = shape in ("round", "tapered round")
    rim = design.value("bath.diameter" if round_bath else "bath.length")
    base = rim
    if shape in ("tapered box", "tapered round"):
        base = design.value("bath.base_diameter" if round_bath else "bath.base_length")
    sizes = (rim, base, design.value("bath.depth"), design.value("bath.water_depth"))
    return None if None in sizes or sizes[3] > sizes[2] * (1 + 1e-9) else sizes


def bath_section(design) -> str:
    """The bath in section over its reservoir; empty while a size is missing."""
    sizes = _bath_sizes(design)
    if sizes is None:
        return ""
    rim, base, depth, water = sizes
    longest = max(rim, base)
    across = 400.0 / longest
    # A long shallow bath drawn to one scale would be a line: its height then has a scale of its own, and says so.
    high_scale = min(max(across, 70.0 / depth), 240.0 / depth)
    to_scale = abs(high_scale - across) < 1e-9
    left, top = 90.0, 62.0
    middle = left + 200.0
    floor = top + depth * high_scale
    line = floor - water * high_scale

    def half(height: float) -> float:
        return (base + (rim - base) * height / depth) * across / 2
    at_line = half(water)
    parts = ['<polygon class="water" points="' + " ".join(f"{_n(x)},{_n(y)}" for x, y in (
        (middle - at_line, line), (middle + at_line, line), (middle + half(0), floor), (middle - half(0), floor))) + '"/>']
    parts.append(_line("ink", (middle - half(depth), top), (middle - half(0), floor), (middle + half(0), floor),
                       (middle + half(depth), top)))
    thickness, draught = design.value("board.thickness"), design.value("board.draught")
    if thickness and draught is not None and draught <= thickness:
        long = min(design.value("water.opening_length") or rim, rim) * across / 2
        clear = (design.value("board.clearance") or 0.0) * across
        y = line + draught * high_scale
        parts.append(_rect("foam", middle - long + clear, y - thickness * high_scale, 2 * (long - clear),
                           thickness * high_scale))
    parts += [_stone(middle + share * half(0), floor, line) for share in (-0.6, 0.0, 0.6)]
    tank_top = floor + 70
    parts += _reservoir(design, middle, tank_top)
    pump_y = tank_top + 66
    over_rim = design.value("bath.fill") == "rim"
    inlet_x = middle - half(depth)
    if over_rim:
        parts.append(_line("pipe", (middle - 70, pump_y), (inlet_x - 24, pump_y), (inlet_x - 24, top - 14),
                           (middle - at_line + 16, top - 14), (middle - at_line + 16, line - 8)))
    else:
        parts.append(_line("pipe", (middle - 70, pump_y), (middle - half(0) + 16, pump_y), (middle - half(0) + 16, floor)))
    out = middle + at_line - 12
    parts.append(_line("pipe", (out, line + 3), (out, tank_top + 22)))
    parts.append(_text(out + 8, floor + 34, "overflow", "start"))
    parts.append(_text(inlet_x - 28 if over_rim else middle - half(0) + 8, floor + 34, "pump hose", "end"))
    parts.append(_across(middle - half(depth), middle + half(depth), 34, _size(design, rim)))
    edge = middle + max(half(depth), half(0)) + 26
    parts.append(_down(edge, line, floor, "water " + _size(design, water)))
    if depth > water:
        parts.append(_text(edge + 7, max(top + 4, line - 12) - 6, "rim to water " + _size(design, depth - water), "start"))
    if not to_scale:
        parts.append(_text(WIDE / 2, tank_top + 112, "height not to the scale of the length", size=12))
    how = "over the rim" if over_rim else "through the floor"
    words = (f"A bath {_size(design, rim)} long and {_size(design, depth)} deep with {_size(design, water)} of water. A "
             f"foam board floats on it, air stones lie on its floor. A pump in the reservoir below fills it {how}; "
             "an overflow at the water line lets the water run back. The reservoir is not to scale.")
    return _svg("section", "The bath in section", words, tank_top + 122, "".join(parts))


def _stone(x: float, floor: float, line: float) -> str:
    bubbles = "".join(f'<circle class="air" fill="none" cx="{_n(x + (-4, 4, -2)[step])}" '
                      f'cy="{_n(floor - (floor - line) * share)}" r="{2 + step}"/>'
                      for step, share in enumerate((0.25, 0.45, 0.65)))
    return _rect("stone", x - 9, floor - 6, 18, 6) + bubbles


def _reservoir(design, middle: float, top: float) -> list[str]:
    parts = [_rect("water", middle - 110, top + 30, 220, 60),
             _line("ink", (middle - 110, top), (middle - 110, top + 90), (middle + 110, top + 90), (middle + 110, top)),
             _rect("pump", middle - 86, top + 62, 32, 28), _text(middle - 46, top + 80, "pump", "start")]
    held = design.shown("water.reservoir_volume")
    parts.append(_text(middle + 20, top + 52, f"reservoir {held}".strip()))
    return parts


def _plan_scale(long: float, wide: float) -> tuple[float, float, bool]:
    """Pixels for a metre along and across, and whether they are the same."""
    across = 480.0 / long
    if wide * across > 480.0:
        across = 480.0 / wide
    if long / wide > BREAK_RATIO:
        return across, 480.0 / BREAK_RATIO / wide, False
    return across, across, True


def raft_plan(design) -> str:
    """The raft from above with its boards, seams and numbered holes; empty while there is none."""
    pieces, holes = design.value("board.pieces"), design.value("board.holes")
    diameter = design.value("board.hole_diameter")
    if not pieces or holes is None or not diameter:
        return ""
    long = max(piece["x"] + piece["length"] for piece in pieces)
    wide = max(piece["y"] + piece["width"] for piece in pieces)
    sx, sy, same = _plan_scale(long, wide)
    left, top = 40.0, 52.0
    bottom = top + wide * sy
    round_raft = design.value("water.opening_shape") == "round"
    parts = []
    if round_raft:
        parts.append(f'<ellipse class="foam" cx="{_n(left + long * sx / 2)}" cy="{_n(top + wide * sy / 2)}" '
                     f'rx="{_n(long * sx / 2)}" ry="{_n(wide * sy / 2)}"/>')
    for piece in pieces:
        if not round_raft:
            parts.append(_rect("foam", left + piece["x"] * sx, bottom - (piece["y"] + piece["width"]) * sy,
                               piece["length"] * sx, piece["width"] * sy))
        if piece["x"] > 1e-9:
            parts.append(_line("seam", (left + piece["x"] * sx, top), (left + piece["x"] * sx, bottom)))
    radius = max(diameter / 2 * min(sx, sy), 1.5)
    size = int(max(min(radius * 1.1, 14), 0))
    for number, hole in enumerate(holes, 1):
        piece = pieces[hole["board"] - 1]
        x, y = left + (piece["x"] + hole["x"]) * sx, bottom - (piece["y"] + hole["y"]) * sy
        parts.append(f'<circle class="hole" cx="{_n(x)}" cy="{_n(y)}" r="{_n(radius)}"/>')
        if size >= 7 and (len(holes) <= MOST_NUMBERED or number in (1, len(holes))):
            parts.append(_text(x, y + size * 0.36, str(number), size=size))
    for area in design.rows("board.keepouts") if "board.keepouts" not in design.faults else []:
        x, y, length, width = (area.get(name) for name in ("x", "y", "length", "width"))
        if None not in (x, y, length, width):
            parts.append(_rect("keepout", left + x * sx, bottom - (y + width) * sy, length * sx, width * sy))
    parts.append(_line("ink", (left - 7, bottom), (left + 7, bottom)) + _line("ink", (left, bottom - 7), (left, bottom + 7)))
    parts.append(_text(left, bottom + 24, "measure from here", "start"))
    parts.append(_across(left, left + long * sx, 32, _size(design, long)))
    parts.append(_down(left + long * sx + 22, top, bottom, _size(design, wide)))
    if not same:
        parts.append(_text(WIDE / 2, bottom + 42, "width not to the scale of the length", size=12))
    count = len(pieces)
    words = (f"{count} board{'' if count == 1 else 's'}, {_size(design, long)} by {_size(design, wide)} in all, with "
             f"{len(holes)} hole{'' if len(holes) == 1 else 's'} of {_size(design, diameter)}, numbered from the marked "
             "corner. The centres are listed in a table.")
    return _svg("raft", "The raft from above", words, bottom + 52, "".join(parts))


def stone_plan(design) -> str:
    """The floor of the bath with its air stones; empty while there are none."""
    stones = design.value("air.stone_rows")
    sizes = _bath_sizes(design)
    if not stones or sizes is None:
        return ""
    shape = design.value("bath.shape")
    round_bath = shape in ("round", "tapered round")
    long = sizes[1]
    wide = long if round_bath else _floor_width(design, shape)
    if not wide:
        return ""
    sx, sy, same = _plan_scale(long, wide)
    left, top = 40.0, 18.0
    bottom = top + wide * sy
    if round_bath:
        body = (f'<ellipse class="water" cx="{_n(left + long * sx / 2)}" cy="{_n(top + wide * sy / 2)}" '
                f'rx="{_n(long * sx / 2)}" ry="{_n(wide * sy / 2)}"/>')
    else:
        body = _rect("water", left, top, long * sx, wide * sy)
    radius = max(min(9.0, 200 / len(stones)), 2.0)
    dots = "".join(f'<circle class="stone" cx="{_n(left + one["x"] * sx)}" cy="{_n(bottom - one["y"] * sy)}" '
                   f'r="{_n(radius)}"/>' for one in stones)
    count = f"{len(stones)} air stone{'' if len(stones) == 1 else 's'}"
    note = "" if same else ", width not to the scale of the length"
    return _svg("stones", "Air stones on the floor", f"{count}, spread evenly over the floor of the bath.", bottom + 34,
                body + dots + _text(left, bottom + 22, count + note, "start"))


def _floor_width(design, shape: str) -> float | None:
    width = design.value("bath.width")
    if shape != "tapered box":
        return width
    base = design.value("bath.base_width")
    if base is None and width is not None:
        base = width - (design.value("bath.length") - design.value("bath.base_length"))
    return base
