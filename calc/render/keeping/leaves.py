"""The small drawings of leaf and root signs; yellow is dotted and brown is hatched, so that no sign needs its color."""

from __future__ import annotations

from math import cos, radians, sin

from .. import svg

WIDE, TALL = 180.0, 140.0
BOARD, POT = 104.0, 40.0
# Shown where no style sheet is; the page's own colors take their place by the classes.
FILLS = {"leaf": "#cfe3bd", "leaf-yellow": "#ead26a", "leaf-brown": "#9a6a3a", "root-brown": "#9a6a3a",
         "bubble": "#ffffff", "water": "#b6d7e8", "pot": "#22303c"}
EDGES = {"leaf": "#4d7a3c", "leaf-yellow": "#6b5a14", "leaf-brown": "#5c3716", "root-brown": "#5c3716",
         "bubble": "#2f5f7c"}
NAMES = {
    "old-yellow": "Head whose lowest leaves are yellow",
    "young-yellow": "Head whose heart leaves are yellow between green veins",
    "tips-brown": "Head whose inner leaves have brown tips",
    "slimy": "Brown roots that cling together, dripping",
    "white": "White roots, well branched",
    "foam": "Foam on the water beside the board",
}


def _paint(kind: str) -> str:
    """Class, fill and edge of a shape; the class of lines would leave it without a fill."""
    return f'class="{kind}" fill="{FILLS[kind]}" stroke="{EDGES[kind]}" stroke-width="1.5"'


def _patterns(name: str) -> str:
    """Dots for yellow and lines for brown."""
    return (f'<defs><pattern id="{name}-dots" width="6" height="6" patternUnits="userSpaceOnUse">'
            '<circle class="dot-yellow" cx="2" cy="2" r="1.1" fill="#8a6a10"/></pattern>'
            f'<pattern id="{name}-lines" width="5" height="5" patternUnits="userSpaceOnUse">'
            '<path class="line-brown" d="M0 5L5 0" stroke="#5c3716" stroke-width="1"/></pattern></defs>')


def _leaf(x: float, y: float, long: float, turn: float, kind: str = "leaf", over: str = "") -> str:
    """A leaf from its foot, ``turn`` degrees from upright; ``over`` is the pattern laid on it."""
    half = long * 0.27
    path = (f"M0 0C{svg.num(-half * 1.6)} {svg.num(-long * 0.35)} {svg.num(-half)} {svg.num(-long * 0.95)} 0 "
            f"{svg.num(-long)}C{svg.num(half)} {svg.num(-long * 0.95)} {svg.num(half * 1.6)} {svg.num(-long * 0.35)} 0 "
            "0Z")
    veins = "".join(f"M0 {svg.num(-long * at)}L{svg.num(side * half * 0.7)} {svg.num(-long * (at + 0.16))}"
                    for at in (0.25, 0.45, 0.65) for side in (-1, 1))
    laid = f'<path d="{path}" fill="url(#{over})"/>' if over else ""
    return (f'<g transform="translate({svg.num(x)} {svg.num(y)}) rotate({svg.num(turn)})"><path {_paint(kind)} '
            f'd="{path}"/>{laid}<path class="vein" fill="none" stroke="#3f6f2f" '
            f'd="M0 0V{svg.num(-long * 0.9)}{veins}"/></g>')


def _tip(x: float, y: float, long: float, turn: float, name: str) -> str:
    """The brown end of a leaf."""
    angle = radians(turn)
    cx, cy = x + sin(angle) * long * 0.88, y - cos(angle) * long * 0.88
    path = "M-9 6C-8 -6 -3 -9 0 -9C3 -9 8 -6 9 6C4 1 -4 1 -9 6Z"
    return (f'<g transform="translate({svg.num(cx)} {svg.num(cy)}) rotate({svg.num(turn)})">'
            f'<path {_paint("leaf-brown")} d="{path}"/>'
            f'<path d="{path}" fill="url(#{name}-lines)"/></g>')


def _board(parts: list[str], y: float) -> None:
    middle = WIDE / 2
    parts.append(svg.rect("foam ink", 14, y, middle - 32, 12))
    parts.append(svg.rect("foam ink", middle + 18, y, middle - 32, 12))
    parts.append(f'<path class="pot" fill="{FILLS["pot"]}" d="M{svg.num(middle - 18)} {svg.num(y)}h36l-5 24h-26z"/>')


def _head(name: str, old: str, young: str, tips: bool) -> list[str]:
    """A head of lettuce in its pot, seen from the side."""
    middle, foot = WIDE / 2, BOARD
    parts = [_patterns(name)]
    for turn, long in ((-38, 80), (38, 80), (-16, 86), (16, 86), (0, 78)):
        kind = young if abs(turn) < 30 else "leaf"
        parts.append(_leaf(middle, foot, long, turn, kind, f"{name}-dots" if kind == "leaf-yellow" else ""))
        if tips and abs(turn) < 30:
            parts.append(_tip(middle, foot, long, turn, name))
    for turn, long in ((-58, 74), (58, 74), (-78, 76), (78, 76)):
        kind = old if abs(turn) > 70 else "leaf"
        parts.append(_leaf(middle, foot, long, turn, kind, f"{name}-dots" if kind == "leaf-yellow" else ""))
    _board(parts, BOARD)
    return parts


def _roots(name: str, bad: bool) -> list[str]:
    middle = WIDE / 2
    parts = [_patterns(name), f'<rect class="water" fill="{FILLS["water"]}" x="14" y="{svg.num(POT + 12)}" '
             f'width="{svg.num(WIDE - 28)}" height="{svg.num(TALL - POT - 16)}"/>']
    for turn in (-50, 50, -25, 25, 0):
        parts.append(_leaf(middle, POT, 34, turn))
    _board(parts, POT)
    top = POT + 24
    if bad:
        clump = (f"M{svg.num(middle - 13)} {svg.num(top)}C{svg.num(middle - 22)} {svg.num(top + 30)} "
                 f"{svg.num(middle - 6)} {svg.num(top + 50)} {svg.num(middle - 4)} {svg.num(top + 66)}"
                 f"C{svg.num(middle + 2)} {svg.num(top + 50)} {svg.num(middle + 24)} {svg.num(top + 34)} "
                 f"{svg.num(middle + 13)} {svg.num(top)}Z")
        parts.append(f'<path {_paint("root-brown")} d="{clump}"/>'
                     f'<path d="{clump}" fill="url(#{name}-lines)"/>')
        for x, y in ((middle - 20, top + 44), (middle + 22, top + 52), (middle - 2, top + 72)):
            parts.append(f'<path {_paint("root-brown")} d="M{svg.num(x)} {svg.num(y - 5)}'
                         f'C{svg.num(x + 5)} {svg.num(y + 3)} {svg.num(x - 5)} {svg.num(y + 3)} {svg.num(x)} '
                         f'{svg.num(y - 5)}Z"/>')
        return parts
    for turn in (-38, -22, -8, 8, 22, 38):
        angle = radians(turn)
        start = middle + turn * 0.3
        points = [(start + sin(angle) * step + (3 if step // 14 % 2 else -3), top + cos(angle) * step)
                  for step in range(0, 72, 14)]
        parts.append(f'<g class="root-white">{svg.line("root-edge ink", (start, top), *points)}</g>')
        for x, y in points[1:4]:
            parts.append(svg.line("root-edge ink thin", (x, y), (x + 7, y + 7)))
            parts.append(svg.line("root-edge ink thin", (x, y), (x - 7, y + 6)))
    return parts


def _foam(name: str) -> list[str]:
    level = 74.0
    parts = [f'<rect class="water" fill="{FILLS["water"]}" x="26" y="{svg.num(level)}" width="{svg.num(WIDE - 40)}" '
             f'height="{svg.num(TALL - level - 4)}"/>', svg.rect("foam ink", 92, level - 10, 74, 12),
             svg.line("ink", (14, 30), (26, 30), (36, TALL - 4))]
    for x, y, radius in ((40, 68, 9), (54, 70, 8), (68, 70, 10), (82, 71, 7), (48, 56, 8), (62, 55, 9), (76, 58, 7),
                         (56, 44, 6), (68, 43, 7)):
        parts.append(f'<circle {_paint("bubble")} cx="{x}" cy="{y}" r="{radius}"/>')
    return parts


def picture(drawn: str) -> str:
    """A sign's drawing as SVG; "" for a sign that has none."""
    if drawn not in NAMES:
        return ""
    name = f"sign-{drawn}"
    if drawn in ("slimy", "white"):
        parts = _roots(name, drawn == "slimy")
    elif drawn == "foam":
        parts = _foam(name)
    else:
        parts = _head(name, "leaf-yellow" if drawn == "old-yellow" else "leaf",
                      "leaf-yellow" if drawn == "young-yellow" else "leaf", drawn == "tips-brown")
    return svg.drawing(name, WIDE, TALL, NAMES[drawn], f"{NAMES[drawn]}.", parts)
