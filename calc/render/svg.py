"""Small pieces of SVG as text: shapes, lettering, dimension lines; coordinates kept short, every text escaped."""

from __future__ import annotations

from html import escape

TEXT_SIZE = 14.0
TICK = 4.0


class _Widths(dict[str, float]):
    """Widths of letters in ems, as wide as the widest of the site's lettering has them in bold."""

    def __missing__(self, letter: str) -> float:
        wide = 0.75 if letter.isupper() else 0.62
        self[letter] = wide
        return wide


_WIDTHS = _Widths({**dict.fromkeys("iljI.,:;|!'", 0.33), **dict.fromkeys("ftr()[]/- ", 0.39), **dict.fromkeys(
    "0123456789", 0.6), **dict.fromkeys("mwMW%@…", 1.0)})


def num(value: float) -> str:
    """A coordinate to a tenth of a unit, without a trailing zero."""
    text = f"{value:.1f}"
    if text.endswith(".0"):
        text = text[:-2]
    return "0" if text == "-0" else text


def text_width(words: str, size: float = TEXT_SIZE) -> float:
    """Estimated width of lettering, on the wide side, so that what is placed by it does not touch."""
    return sum(map(_WIDTHS.__getitem__, words)) * size


def shorten(words: str, room: float, size: float = TEXT_SIZE) -> str:
    """The words, cut with an ellipsis where they are wider than ``room``."""
    if text_width(words, size) <= room:
        return words
    left = room - text_width("…", size)
    kept = 0
    while kept < len(words) and left >= 0.0:
        left -= _WIDTHS[words[kept]] * size
        kept += left >= 0.0
    return words[:kept].rstrip() + "…"


def wrap(words: str, room: float, size: float = TEXT_SIZE) -> list[str]:
    """The words in lines no wider than ``room``; a single word that is wider is cut."""
    lines: list[str] = []
    for word in words.split():
        if lines and text_width(f"{lines[-1]} {word}", size) <= room:
            lines[-1] += " " + word
        else:
            lines.append(shorten(word, room, size))
    return lines


def text(x: float, y: float, words: str, kind: str = "label", anchor: str = "start", size: float = TEXT_SIZE) -> str:
    """Lettering on the base line (x, y); ``anchor`` is "start", "middle" or "end"."""
    # What is so anyway, and the size of the whole drawing, need not be said of each.
    how = (f' font-size="{num(size)}"' if size != TEXT_SIZE else "") + (
        f' text-anchor="{anchor}"' if anchor != "start" else "")
    return f'<text class="{kind}" x="{num(x)}" y="{num(y)}"{how}>{escape(words)}</text>'


def line(kind: str, *points: tuple[float, float]) -> str:
    """An open line through the points."""
    joined = " ".join(f"{num(x)},{num(y)}" for x, y in points)
    return f'<polyline class="{kind}" fill="none" points="{joined}"/>'


def shape(kind: str, *points: tuple[float, float]) -> str:
    """A closed shape through the points."""
    joined = " ".join(f"{num(x)},{num(y)}" for x, y in points)
    return f'<polygon class="{kind}" points="{joined}"/>'


def rect(kind: str, x: float, y: float, width: float, height: float) -> str:
    """A rectangle from its upper left corner."""
    return f'<rect class="{kind}" x="{num(x)}" y="{num(y)}" width="{num(width)}" height="{num(height)}"/>'


def circle(kind: str, x: float, y: float, radius: float) -> str:
    """A circle round (x, y)."""
    return f'<circle class="{kind}" cx="{num(x)}" cy="{num(y)}" r="{num(radius)}"/>'


def _of_field(key: str) -> str:
    """The mark by which a question thickens the dimension line of its own size."""
    return f' data-dim="{key}"' if key else ""


def dim_across(x1: float, x2: float, y: float, key: str = "") -> str:
    """A level dimension line with a builder's slash at each end; ``key`` is the field whose size it is."""
    return (f'<path class="dim" fill="none"{_of_field(key)} d="M{num(x1)} {num(y)}H{num(x2)}'
            + "".join(f"M{num(x - TICK)} {num(y + TICK)}L{num(x + TICK)} {num(y - TICK)}" for x in (x1, x2)) + '"/>')


def dim_up(x: float, y1: float, y2: float, key: str = "") -> str:
    """An upright dimension line with a builder's slash at each end; ``key`` is the field whose size it is."""
    return (f'<path class="dim" fill="none"{_of_field(key)} d="M{num(x)} {num(y1)}V{num(y2)}'
            + "".join(f"M{num(x - TICK)} {num(y + TICK)}L{num(x + TICK)} {num(y - TICK)}" for y in (y1, y2)) + '"/>')


def lit(key: str, *points: tuple[float, float]) -> str:
    """A line that shows only while the question of its field has the focus: where that size is in the drawing."""
    joined = " ".join(f"{num(x)},{num(y)}" for x, y in points)
    return f'<polyline class="lit" fill="none"{_of_field(key)} points="{joined}"/>'


def break_mark(x: float, top: float, bottom: float) -> str:
    """The zigzag that says a length was left out here."""
    middle = (top + bottom) / 2
    return line("ink break", (x, top), (x, middle - 8), (x + 6, middle - 3), (x - 6, middle + 3), (x, middle + 8),
                (x, bottom))


def drawing(name: str, width: float, height: float, title: str, description: str, parts: list[str]) -> str:
    """The whole drawing; ``name`` begins its ids and must be the only one of its kind on a page."""
    name = escape(name)
    return (f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {num(width)} {num(height)}" '
            f'font-size="{num(TEXT_SIZE)}" role="img" '
            f'aria-labelledby="{name}-title {name}-desc"><title id="{name}-title">{escape(title)}</title>'
            f'<desc id="{name}-desc">{escape(description)}</desc>{"".join(parts)}</svg>')
