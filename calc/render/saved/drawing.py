"""A board as an SVG in millimetres, for cutters that read drawings and for anyone who wants to see the board."""

from __future__ import annotations

from html import escape
from math import atan, hypot, sin

from ...solve import Design
from . import shapes
from .dxf import CUT, DRILL, LAYERS, MARK, NOTCH
from .shapes import Path, Shape, Word

COLORS = dict(zip(LAYERS, ("#c00000", "#0000c0", "#007000", "#606060"), strict=True))
LINE_MM = 0.2


def _number(value: float) -> str:
    return f"{round(value, 4) + 0.0:.4f}".rstrip("0").rstrip(".")


def _pair(x: float, y: float) -> str:
    return f"{_number(x)} {_number(y)}"


def _path(path: Path) -> str:
    found = [f"M{_pair(*path.points[0])}"]
    ends = [*path.points[1:], *(path.points[:1] if path.closed else ())]
    for start, end, bulge in zip(path.points, ends, path.bulges, strict=False):
        if not bulge:
            # A closing line is drawn by the Z that ends the path.
            found += [f"L{_pair(*end)}"] if len(found) < len(path.points) else []
            continue
        turn = 4 * atan(abs(bulge))
        radius = hypot(end[0] - start[0], end[1] - start[1]) / (2 * sin(turn / 2))
        found.append(f"A{_pair(radius, radius)} 0 {int(abs(bulge) > 1)} {int(bulge > 0)} {_pair(*end)}")
    return f'<path d="{"".join(found)}{"Z" if path.closed else ""}"/>'


def _word(word: Word) -> str:
    # The layers stand on their feet by a mirror, which a word is taken out of again.
    turn = f" rotate({_number(-word.turn)})" if word.turn else ""
    return (f'<text transform="translate({_pair(*word.at)}) scale(1 -1){turn}" font-size="{_number(word.tall)}" '
            f'font-family="sans-serif" fill="{COLORS[MARK]}" stroke="none">{escape(word.words)}</text>')


def _layer(name: str, parts: list[str]) -> str:
    return f'<g id="{name}" stroke="{COLORS[name]}">{"".join(parts)}</g>\n'


def _said(shape: Shape) -> str:
    place = "the center of the disc" if shape.disc else "the marked corner"
    return (f"Board {shape.number} of {shape.count}: {len(shape.holes)} holes of {_number(shape.hole_mm)} mm. Lengths "
            f"are in millimeters from {place}, along to the right and across upwards.")


def write(design: Design, number: int, name: str) -> str:
    """``board-N.svg``: the same lines as the DXF, a group a kind; a hole is a circle whose ``cx`` and ``cy`` are its
    place. ValueError with a sentence where there is no such board."""
    shape = shapes.of(design, number)
    left, low, right, high = shape.box
    wide, tall = _number(right - left), _number(high - low)
    holes = [f'<circle cx="{_number(hole.x)}" cy="{_number(hole.y)}" r="{_number(shape.hole_mm / 2)}"/>'
             for hole in shape.holes]
    return ('<?xml version="1.0" encoding="UTF-8"?>\n'
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide}mm" height="{tall}mm" '
            f'viewBox="{_number(left)} {_number(-high)} {wide} {tall}">\n'
            f"<title>{escape(name)}: board {shape.number} of {shape.count}</title>\n<desc>{_said(shape)}</desc>\n"
            f'<g transform="scale(1 -1)" fill="none" stroke-width="{_number(LINE_MM)}">\n'
            + _layer(CUT, [_path(shape.outline)]) + _layer(DRILL, holes)
            + _layer(NOTCH, [_path(one) for one in shape.notches])
            + _layer(MARK, [*map(_path, shape.marks), *map(_word, shape.words)])
            + "</g>\n</svg>\n")
