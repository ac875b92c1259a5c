"""Where the air stones lie: the floor of the bath, seen from above, with the hoses to its stones."""

from __future__ import annotations

from itertools import pairwise

from ..declare import Row
from ..solve import Design
from . import svg
from .drawing import counted, drawable, length_of, say_length, vessel, width_of
from .placing import Labels

FLOOR_LEAST, HOSE_ROOM = 84.0, 7.0
LEFT, TOP = 74.0, 84.0
# What stays free at the right, and the tallest floor, by the width of the drawing.
ROOM = {True: (90.0, 300.0), False: (40.0, 260.0)}


def _floor(design: Design) -> tuple[float, float] | None:
    """Length and width of the bath at its floor."""
    _, long = vessel(design, "bath")
    kind = design.value("bath.shape")
    wide = long if kind in ("round", "tapered round") else length_of(design, "bath.width")
    if kind == "tapered box" and wide:
        # An empty floor width means that all sides taper alike.
        narrower = (length_of(design, "bath.length") or long or 0.0) - (long or 0.0)
        wide = length_of(design, "bath.base_width") or drawable(wide - narrower)
    return None if long is None or wide is None else (long, wide)


def _round(design: Design) -> bool:
    return design.value("bath.shape") in ("round", "tapered round")


def stone_plan(design: Design, wide: bool) -> str:
    """The floor of the bath from above, with its air stones and their hoses, as SVG; "" while not known."""
    stones, size = design.value("air.stone_rows") or [], _floor(design)
    if not stones or size is None:
        return ""
    labels = Labels(width_of(wide))
    long, deep = max(size[0], *(one["x"] for one in stones)), max(size[1], *(one["y"] for one in stones))
    room, tall = ROOM[wide]
    across = up = min((labels.width - LEFT - room) / long, tall / deep)
    across, up = max(across, FLOOR_LEAST / long), max(up, FLOOR_LEAST / deep)
    right, bottom = LEFT + long * across, TOP + deep * up
    spots = [(LEFT + one["x"] * across, bottom - one["y"] * up) for one in stones]
    parts = _outline(design, right, bottom)
    rows: dict[float, list[float]] = {}
    for x, y in spots:
        rows.setdefault(round(y, 1), []).append(x)
    hoses = min((b - a for a, b in pairwise(sorted(rows))), default=HOSE_ROOM) >= HOSE_ROOM
    trunk, manifold = LEFT - 14, TOP - 14
    if hoses:
        parts.extend(svg.line("air", (trunk, y), (max(places), y)) for y, places in rows.items())
        parts.append(svg.line("air", (trunk, manifold), (trunk, max(rows))))
    parts.append(svg.rect("cut", trunk - 8, manifold - 16, 42, 16))
    spacing = length_of(design, "air.stone_spacing")
    near = spacing * min(across, up) if spacing else 12.0
    radius = max(min(7.0, near * 0.36), 0.8)
    parts.append('<g class="stone solid">' + "".join(
        f'<circle cx="{svg.num(x)}" cy="{svg.num(y)}" r="{svg.num(radius)}"/>' for x, y in spots) + "</g>")
    labels.put(["pump and manifold"], [(trunk + 42, manifold - 8, "start")], below="Box: pump and manifold")
    words = f"{say_length(design, long)} {'across, ' if _round(design) else ''}at the floor"
    parts.append(svg.dim_across(LEFT, right, 34))
    labels.block_line((LEFT, 34), (right, 34), half=5)
    labels.put([words, say_length(design, long)], [((LEFT + right) / 2, 16, "middle"), (LEFT, 16, "start")], "dim",
               below=words)
    if not _round(design):
        parts.append(svg.dim_up(right + 14, TOP, bottom))
        labels.block_line((right + 14, TOP), (right + 14, bottom), half=5)
        words = say_length(design, deep)
        labels.put([words], [(right + 22, (TOP + bottom) / 2, "start"), (right + 20, bottom + 16, "end")], "dim",
                   below=f"{words} across the floor")
    notes = _notes(design, stones, hoses, long)
    if across != up:
        notes.append("Not to scale: drawn wider than it is, to show the stones")
    told = (f"a disc {say_length(design, long)} across" if _round(design) else
            f"{say_length(design, long)} by {say_length(design, deep)}")
    said = f"The floor of the bath is {told}. {'. '.join(notes)}."
    low = labels.write_below(max(bottom, labels.lowest()) + 6, notes)
    return svg.drawing("stone-plan" + ("" if wide else "-narrow"), labels.width, low + 8,
                       "Air stones on the floor of the bath", said, parts + labels.parts)


def _outline(design: Design, right: float, bottom: float) -> list[str]:
    if _round(design):
        middle, radius = ((LEFT + right) / 2, (TOP + bottom) / 2), (right - LEFT) / 2
        return [svg.circle("water", *middle, radius), svg.circle("ink", *middle, radius)]
    return [svg.rect("water", LEFT, TOP, right - LEFT, bottom - TOP),
            svg.rect("ink", LEFT, TOP, right - LEFT, bottom - TOP)]


def _first_round(design: Design, first: Row, across: float) -> str:
    """Where the first stone of a round floor lies, from its centre: a disc has no corner to measure from."""
    aside, up = first["x"] - across / 2, first["y"] - across / 2
    said = [f"{say_length(design, abs(value))} {ahead if value > 0 else behind} it"
            for value, ahead, behind in ((aside, "right of", "left of"), (up, "above", "below")) if abs(value) > 5e-4]
    return "First: " + ("in the center" if not said else f"from the center, {' and '.join(said)}")


def _notes(design: Design, stones: list[Row], hoses: bool, long: float) -> list[str]:
    spacing, hose = length_of(design, "air.stone_spacing"), length_of(design, "air.hose_length")
    first = min(stones, key=lambda one: (round(one["y"], 4), one["x"]))
    along, across = say_length(design, first["x"]), say_length(design, first["y"])
    return [counted(len(stones), "stone") + (f", nearest {say_length(design, spacing)} apart" if spacing else ""),
            _first_round(design, first, long) if _round(design) else
            f"First: {along} along, {across} across from the lower left",
            "Each stone has its own hose" + (f" of {say_length(design, hose)}" if hose else "")
            + ("; a row's hoses lie together" if hoses else "; too many to draw")]
