"""Lines and lettering in millimetres, as SVG: what every drawing on paper is made of, shown at its true size."""

from __future__ import annotations

from collections.abc import Iterable
from html import escape

from .. import svg

# Ten points, the smallest lettering on paper, in mm.
LETTER = 3.53
TICK = 1.1
Point = tuple[float, float]


def num(value: float) -> str:
    """A length in mm to a thousandth, without needless zeros."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def width(words: str, size: float = LETTER) -> float:
    """How wide lettering is at most, in mm."""
    return svg.text_width(words, size)


def text(x: float, y: float, words: str, kind: str = "", anchor: str = "start", size: float = LETTER,
         turn: float = 0.0) -> str:
    """Lettering on the base line (x, y); a size in it never breaks, for a line of SVG does not."""
    how = (f' font-size="{num(size)}"' if size != LETTER else "") + (
        f' text-anchor="{anchor}"' if anchor != "start" else "") + (
        f' transform="rotate({num(turn)} {num(x)} {num(y)})"' if turn else "") + (f' class="{kind}"' if kind else "")
    return f'<text x="{num(x)}" y="{num(y)}"{how}>{escape(words)}</text>'


def _path(points: Iterable[Point], closed: bool) -> str:
    joined = "L".join(f"{num(x)} {num(y)}" for x, y in points)
    return f"M{joined}{'Z' if closed else ''}"


def line(kind: str, *points: Point) -> str:
    """An open line through the points."""
    return f'<path class="{kind} bare" d="{_path(points, False)}"/>'


def shape(kind: str, points: Iterable[Point]) -> str:
    """A closed shape."""
    return f'<path class="{kind}" d="{_path(points, True)}"/>'


def rect(kind: str, x: float, y: float, wide: float, tall: float) -> str:
    """A rectangle from its upper left corner."""
    return f'<rect class="{kind}" x="{num(x)}" y="{num(y)}" width="{num(wide)}" height="{num(tall)}"/>'


def circle(kind: str, x: float, y: float, radius: float) -> str:
    """A circle."""
    return f'<circle class="{kind}" cx="{num(x)}" cy="{num(y)}" r="{num(radius)}"/>'


def curve(kind: str, start: Point, *pieces: tuple[Point, Point, Point]) -> str:
    """A curved line; each piece is two points that pull it, and its end."""
    drawn = "".join("C" + " ".join(f"{num(x)} {num(y)}" for x, y in piece) for piece in pieces)
    return f'<path class="{kind} bare" d="M{num(start[0])} {num(start[1])}{drawn}"/>'


def slash(x: float, y: float) -> str:
    """A builder's slash at the end of a dimension, as a piece of a path."""
    return f"M{num(x - TICK)} {num(y + TICK)}L{num(x + TICK)} {num(y - TICK)}"


def across(x1: float, x2: float, y: float, words: str, yours: bool = False, above: bool = True) -> str:
    """A level dimension with its words in the middle."""
    kind = "yours" if yours else "dim"
    at = y - 1.4 if above else y + 4.4
    return (f'<path class="{kind} bare" d="M{num(x1)} {num(y)}H{num(x2)}{slash(x1, y)}{slash(x2, y)}"/>'
            + text((x1 + x2) / 2, at, words, "bold mine" if yours else "", "middle"))


def upright(x: float, y1: float, y2: float, words: str, yours: bool = False, left: bool = True) -> str:
    """An upright dimension with its words beside the middle."""
    kind = "yours" if yours else "dim"
    at = (x - 1.6, "end") if left else (x + 1.6, "start")
    return (f'<path class="{kind} bare" d="M{num(x)} {num(y1)}V{num(y2)}{slash(x, y1)}{slash(x, y2)}"/>'
            + text(at[0], (y1 + y2) / 2 + 1.2, words, "bold mine" if yours else "", at[1]))


def letter(x: float, y: float, words: str, radius: float = 2.9) -> str:
    """A letter in a ring: a part that the key names."""
    return circle("ring", x, y, radius) + text(x, y + 1.25, words, "bold", "middle")


def window(x: float, y: float, wide: float, tall: float, parts: Iterable[str]) -> str:
    """A part of a drawing that ends at the edges of its window; the parts stand in the window's own places."""
    return (f'<svg x="{num(x)}" y="{num(y)}" width="{num(wide)}" height="{num(tall)}" '
            f'viewBox="0 0 {num(wide)} {num(tall)}">{"".join(parts)}</svg>')


def drawing(wide: float, tall: float, title: str, description: str, parts: Iterable[str], kind: str = "") -> str:
    """The whole drawing at its true size; who cannot see it hears title and description."""
    said = escape(f"{title}. {description}".strip().removesuffix(" ."), quote=True)
    return (f'<svg xmlns="http://www.w3.org/2000/svg" class="mm {kind}" width="{num(wide)}mm" height="{num(tall)}mm" '
            f'viewBox="0 0 {num(wide)} {num(tall)}" font-size="{num(LETTER)}" role="img" aria-label="{said}">'
            f'{"".join(parts)}</svg>')
