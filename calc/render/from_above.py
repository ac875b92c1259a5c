"""The bath from above, under its section and to the same scale: its widths, and where the overflow stands."""

from __future__ import annotations

from ..solve import Design
from . import svg
from .drawing import drawable, length_of, say_length
from .levels import Levels
from .placing import Labels

LEAST, MOST, MOST_BATHS = 40.0, 230.0, 6


def _is_round(design: Design) -> bool:
    return design.value("bath.shape") in ("round", "tapered round")


def width_of_bath(design: Design) -> float | None:
    """How wide the bath is at the rim, in m; a round one is as wide as long."""
    return length_of(design, "bath.diameter" if _is_round(design) else "bath.width")


def _floor_width(design: Design, at: Levels, width: float) -> float:
    """Width at the floor: as typed, or tapering as the length does."""
    if design.value("bath.shape") != "tapered box":
        return width
    return length_of(design, "bath.base_width") or drawable(width - (at.length - at.base)) or width


def bath(design: Design, at: Levels, labels: Labels, parts: list[str], said: list[str], top: float) -> float:
    """Draw the bath from above from ``top`` down; gives the lowest place."""
    width = width_of_bath(design)
    if width is None:
        return top - 8
    up = at.scale if not at.broken and at.across == at.scale else at.across
    tall = width * up
    if _is_round(design):
        tall = at.wide
    drawn = min(max(tall, LEAST), MOST)
    if abs(drawn - tall) > 0.5:
        at.notes.append("From above not to scale")
    share = drawn / width
    # Room for a number that stands above its line.
    top += 6.0
    low = top + drawn
    middle = (at.left + at.right) / 2
    if _is_round(design):
        _disc(design, at, labels, parts, said, middle, top, drawn)
    else:
        _box(design, at, labels, parts, said, (top, low), width, share)
    if at.broken:
        parts += [svg.break_mark(x, top - 6, low + 6) for x in (middle - 6, middle + 6)]
        labels.block(middle - 13, top - 6, middle + 13, low + 6)
    _overflows(design, at, labels, parts, (top + low) / 2, drawn)
    words = "from above"
    labels.put([words], [(at.right + 10, top + 8, "start"), (labels.width - 3, top + 8, "end"),
                         (at.right, low + 12, "end"), (at.left, low + 12, "start")], "label faded", below="")
    return _equal_baths(design, labels, parts, max(at.left, 4.0), max(low, labels.lowest()) + 2)


def _equal_baths(design: Design, labels: Labels, parts: list[str], left: float, low: float) -> float:
    """The other baths on the same reservoir, small and in a row; gives the lowest place."""
    count = design.value("bath.count")
    if not isinstance(count, int) or count < 2:
        return low
    shown = min(count, MOST_BATHS)
    for number in range(shown):
        x = left + number * 24.0
        parts += [svg.rect("water", x, low + 8, 18, 11), svg.rect("ink thin", x, low + 8, 18, 11)]
    labels.block(left, low + 6, left + shown * 24.0, low + 21)
    if count > shown:
        labels.put([f"and {count - shown:,} more"], [(left + shown * 24.0 + 2, low + 14, "start")])
    return low + 22


def _disc(design: Design, at: Levels, labels: Labels, parts: list[str], said: list[str], x: float, top: float,
          drawn: float) -> None:
    radius = drawn / 2
    parts += [svg.circle("water", x, top + radius, radius), svg.circle("wall", x, top + radius, radius)]
    if at.base < at.length - 1e-6:
        parts.append(svg.circle("ink thin", x, top + radius, radius * at.base / at.length))
    labels.block_line((x - radius, top + 2), (x - radius, top + drawn))
    labels.block_line((x + radius, top + 2), (x + radius, top + drawn))
    said.append(f"From above it is a disc {say_length(design, at.length)} across.")


def _oval(kind: str, x: float, y: float, width: float, height: float) -> str:
    """Straight sides and half-round ends."""
    end = min(height, width) / 2
    straight = width - 2 * end
    return (f'<path class="{kind}" d="M{svg.num(x + end)} {svg.num(y)}h{svg.num(straight)}'
            f'a{svg.num(end)} {svg.num(height / 2)} 0 0 1 0 {svg.num(height)}h{svg.num(-straight)}'
            f'a{svg.num(end)} {svg.num(height / 2)} 0 0 1 0 {svg.num(-height)}z"/>')


def _box(design: Design, at: Levels, labels: Labels, parts: list[str], said: list[str], ends: tuple[float, float],
         width: float, share: float) -> None:
    top, low = ends
    tapered = design.value("bath.shape") == "tapered box"
    draw = _oval if design.value("bath.shape") == "oval" else svg.rect
    parts += [draw("water", at.left, top, at.wide, low - top), draw("wall", at.left, top, at.wide, low - top)]
    labels.block_line((at.left, top), (at.right, top), (at.right, low), (at.left, low), (at.left, top))
    floor = min(_floor_width(design, at, width), width)
    inset = (width - floor) / 2 * share
    if tapered:
        side = max(at.slope, 0.0)
        parts.append(svg.rect("ink thin", at.left + side, top + inset, at.wide - 2 * side, low - top - 2 * inset))
        parts.append('<path class="ink thin" d="' + "".join(
            f"M{svg.num(x)} {svg.num(y)}L{svg.num(x + dx)} {svg.num(y + dy)}" for x, dx in (
                (at.left, side), (at.right, -side)) for y, dy in ((top, inset), (low, -inset))) + '"/>')
    x = at.left - 19.0
    parts += [svg.dim_up(x, top, low, "bath.width"), svg.line("dim thin", (x - 5, top), (at.left - 4, top)),
              svg.line("dim thin", (x - 5, low), (at.left - 4, low))]
    labels.block_line((x, top), (x, low), half=5)
    middle = (top + low) / 2
    words = say_length(design, width)
    labels.put([words], [(x - 8, middle, "end"), (x - 8, middle + 20, "end"), (x + 6, low + 15, "end"),
                         (2, low + 15, "start")], "dim", below=f"{words} wide at the rim")
    said.append(f"From above it is {words} wide at the rim.")
    if tapered:
        x = at.left + at.wide * 0.74
        parts.append(svg.dim_up(x, top + inset + 2, low - inset - 2, "bath.base_width"))
        labels.block_line((x, top + inset), (x, low - inset), half=3)
        words = say_length(design, floor)
        labels.put([words], [(x - 8, middle, "end"), (x + 8, middle, "start"), (x - 8, middle + 22, "end")],
                   "dim halo", below=f"{words} wide at the floor")
        said.append(f"At the floor it is {words} wide.")


def _overflows(design: Design, at: Levels, labels: Labels, parts: list[str], middle: float, tall: float) -> None:
    """Where the overflow is: a standpipe inside, or a hole in the wall."""
    if at.reservoir is None or not design.value("circulation.flow"):
        return
    radius = min(5.5, tall / 8)
    wall = design.value("circulation.overflow_place") == "wall"
    inner = at.wide * 0.2
    x = (at.right if at.beside else at.left) if wall else (at.right - inner if at.beside else at.left + inner)
    parts.append(svg.circle("cut", x, middle, radius))
    labels.block(x - radius, middle - radius, x + radius, middle + radius)
    labels.put(["overflow"], [(x + radius + 5, middle, "start"), (x - radius - 5, middle, "end"),
                              (x, middle + radius + 12, "middle")], "label")
