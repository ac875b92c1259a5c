"""Charts as SVG text: lines over two axes, and bars beside their aim; one look and one lettering for every topic."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil, floor, isfinite, log10

from .. import units
from . import svg
from .svg import text

WIDTH, EDGE, LINE = 620.0, 6.0, 19.0
LEFT, RIGHT, TOP, TALL = 74.0, 560.0, 62.0, 250.0
# How the first, second, ... line of a chart is drawn: told apart by dashes, not by colour alone.
KINDS = ("chart-line ink", "chart-load seam", "chart-third ink", "chart-fourth seam")


@dataclass(frozen=True)
class Line:
    """One line of a chart: the words of its key, and (across, up) points by rising ``across``."""

    words: str
    points: Sequence[tuple[float, float]]


def ticks(least: float, most: float) -> list[float]:
    """Round numbers from just below ``least`` to just past ``most``, four to eight of them."""
    rough = (most - least) / 5
    size = 10.0 ** floor(log10(rough))
    step = next(size * one for one in (1, 2, 2.5, 5, 10) if size * one >= rough * (1 - 1e-9))
    first, last = floor(least / step + 1e-9), ceil(most / step - 1e-9)
    return [step * number for number in range(first, last + 1)]


def _clipped(points: Sequence[tuple[float, float]], across: tuple[float, float],
             up: tuple[float, float]) -> list[list[tuple[float, float]]]:
    """The line through the points as far as it lies within the axes, in pieces."""
    pieces: list[list[tuple[float, float]]] = []
    for (x1, y1), (x2, y2) in pairwise(points):
        low, high = 0.0, 1.0
        for at, change, (least, most) in ((x1, x2 - x1, across), (y1, y2 - y1, up)):
            if change == 0:
                if not least <= at <= most:
                    low, high = 1.0, 0.0
                continue
            a, b = sorted(((least - at) / change, (most - at) / change))
            low, high = max(low, a), min(high, b)
        if low > high:
            continue
        start = (x1 + low * (x2 - x1), y1 + low * (y2 - y1))
        end = (x1 + high * (x2 - x1), y1 + high * (y2 - y1))
        if pieces and pieces[-1][-1] == start:
            pieces[-1].append(end)
        else:
            pieces.append([start, end])
    return pieces


def usable(points: Iterable[tuple[float, float]] | None) -> list[tuple[float, float]]:
    """The points that can be drawn: both numbers finite."""
    return [(float(x), float(y)) for x, y in points or [] if isfinite(x) and isfinite(y)]


def _name(title: str) -> str:
    return "chart-" + ("".join(letter if letter.isascii() and letter.isalnum() else "-" for letter in title.lower())
                       or "lines")


def _axes(xs: list[float], ys: list[float], x_words: Callable[[float], str], bottom: float, title: str, y_label: str,
          place: Callable[[tuple[float, float]], tuple[float, float]]) -> list[str]:
    parts = [text(EDGE, 20, svg.shorten(title, WIDTH - 2 * EDGE)),
             text(EDGE, 44, svg.shorten(y_label, WIDTH - 2 * EDGE), "dim"),
             svg.line("ink", (LEFT, TOP), (LEFT, bottom), (RIGHT, bottom))]
    wide = max(svg.text_width(x_words(x)) for x in xs)
    every = max(ceil((wide + 10) / ((RIGHT - LEFT) / (len(xs) - 1))), 1)
    for number, x in enumerate(xs):
        at = place((x, ys[0]))[0]
        parts.append(svg.line("ink", (at, bottom), (at, bottom + 5)))
        if number % every == 0:
            words = x_words(x)
            parts.append(text(min(at, WIDTH - EDGE - svg.text_width(words) / 2), bottom + 22, words, "label", "middle"))
    for y in ys:
        at, words = place((xs[0], y))[1], units.number(y, 4)
        parts.append(svg.line("ink", (LEFT - 5, at), (LEFT, at)))
        size = min(svg.TEXT_SIZE, (LEFT - 10 - EDGE) / (len(words) * svg.LETTER))
        parts.append(text(LEFT - 10, at + 5, words, "label", "end", size))
    return parts


def lines(series: Sequence[Line], x_label: str, y_label: str, title: str, *,
          mark: tuple[float, float, str] | None = None,
          said: Sequence[str] = (), x_least: float = 0.0, y_least: float | None = 0.0,
          x_words: Callable[[float], str] | None = None, x_ticks: Sequence[float] = (),
          reach: tuple[float, float] | None = None) -> str:
    """Lines over two axes as SVG text; "" without at least two points of the first line.

    ``mark`` is (across, up, words) of a point to show. ``said`` are sentences for who cannot see the chart; without
    them each line's ends are told. Axes begin at ``x_least`` and ``y_least`` (``None``: just below the lowest point)
    and reach as far as the lines, or to ``reach``. ``x_words`` writes a number of the level axis and ``x_ticks``
    says where its marks stand (the hours of a clock), from end to end.
    Titles on one page must differ.
    """
    drawn = [(one.words, usable(one.points)) for one in series]
    if not drawn or len(drawn[0][1]) < 2:
        return ""
    marked = usable([mark[:2]] if mark else [])
    everything = [point for _, points in drawn for point in points] + marked
    x_most, y_most = reach or (max(x for x, _ in everything), max(y for _, y in everything))
    lowest = y_least if y_least is not None else min(y for _, y in everything)
    if y_least is None and y_most - lowest < 1e-9 * max(abs(y_most), 1.0):
        y_most = lowest + 1.0
    if x_most <= x_least or y_most <= lowest:
        return ""
    xs, ys = list(x_ticks) or ticks(x_least, x_most), ticks(lowest, y_most)
    bottom = TOP + TALL

    def place(point: tuple[float, float]) -> tuple[float, float]:
        return (LEFT + (point[0] - xs[0]) / (xs[-1] - xs[0]) * (RIGHT - LEFT),
                bottom - (point[1] - ys[0]) / (ys[-1] - ys[0]) * TALL)

    parts = _axes(xs, ys, x_words or (lambda x: units.number(x, 4)), bottom, title, y_label, place)
    drawn = [one for one in drawn if one[1]]
    for kind, (_, points) in zip(KINDS, drawn, strict=False):
        parts += [svg.line(kind, *map(place, piece)) for piece in _clipped(points, (xs[0], xs[-1]), (ys[0], ys[-1]))]
    low = bottom + 44
    parts.append(text((LEFT + RIGHT) / 2, low, svg.shorten(x_label, RIGHT - LEFT), "dim", "middle"))
    told = [f"Across: {x_label}. Up: {y_label}.", *said]
    for kind, (words, points) in zip(KINDS, drawn, strict=False):
        low += LINE + 3
        parts += [svg.line(kind, (LEFT, low - 5), (LEFT + 40, low - 5)),
                  text(LEFT + 50, low, svg.shorten(words, WIDTH - LEFT - 50 - EDGE))]
        if not said:
            first, last = (f"{units.number(y)} at {units.number(x)}" for x, y in (points[0], points[-1]))
            told.append(f"{words[:1].upper()}{words[1:]}: {first}, {last}.")
    if mark and marked:
        low += LINE + 3
        parts += [svg.circle("chart-point solid", *place(marked[0]), 5.5),
                  svg.circle("chart-point solid", LEFT + 20, low - 5, 5.5), text(LEFT + 50, low, mark[2])]
        told.append(mark[2].capitalize() + ".")
    return svg.drawing(_name(title), WIDTH, low + 12, title, " ".join(told), parts)


def pump_chart(curve_points: Sequence[tuple[float, float]], load_points: Sequence[tuple[float, float]] | None,
               operating: tuple[float, float] | None, x_label: str, y_label: str, title: str) -> str:
    """What a pump can push beside what the line asks of it, as SVG text; "" without at least two points of the pump.

    ``curve_points`` and ``load_points`` are (flow, push) in the units that the labels name, by rising flow, from 0 up;
    ``operating`` is the point where they meet, or ``None``.
    """
    curve, meet = usable(curve_points), next(iter(usable([operating] if operating else [])), None)
    if len(curve) < 2:
        return ""
    flow, push = (max([point[side] for point in curve] + ([meet[side]] if meet else [])) for side in (0, 1))
    mark = (*meet, f"they meet at {units.number(meet[0])}, {units.number(meet[1])}") if meet else None
    both = [Line("what the pump can push", curve), Line("what the line asks", load_points or [])]
    return lines(both, x_label, y_label, title, mark=mark, reach=(flow, push))


@dataclass(frozen=True)
class Bar:
    """One level bar: its label, its length, the aim it is measured against (``None``: none), and words at its end."""

    label: str
    value: float
    aim: float | None = None
    words: str = ""


BAR_TALL, BAR_STEP = 16.0, 44.0


def bars(rows: Sequence[Bar], title: str, *, most: float | None = None, aim_words: str = "") -> str:
    """Level bars one under another, each with an upright tick at its aim; "" without a bar above nothing.

    All bars share one scale, up to ``most`` or the largest value or aim; a bar beyond ``most`` ends in an open edge and
    its words tell the number. ``aim_words`` explain the tick.
    """
    shown = [row for row in rows if isfinite(row.value) and row.value >= 0]
    top = most or max([row.value for row in shown] + [row.aim for row in shown if row.aim], default=0.0)
    if not shown or top <= 0:
        return ""
    room = WIDTH - 2 * EDGE
    parts = [text(EDGE, 20, svg.shorten(title, WIDTH - 2 * EDGE))]
    low = 34.0
    for row in shown:
        words = svg.shorten(row.words, WIDTH / 2)
        label = svg.shorten(row.label, WIDTH - 3 * EDGE - svg.text_width(words))
        parts += [text(EDGE, low + 14, label), text(WIDTH - EDGE, low + 14, words, "label", "end"),
                  svg.rect("bar-room", EDGE, low + 19, room, BAR_TALL),
                  svg.rect("bar", EDGE, low + 19, room * min(row.value / top, 1.0), BAR_TALL)]
        if row.aim is not None and 0 < row.aim <= top:
            at = EDGE + room * row.aim / top
            parts.append(svg.line("bar-aim ink", (at, low + 15), (at, low + 23 + BAR_TALL)))
        low += BAR_STEP
    if aim_words:
        low += 8
        parts += [svg.line("bar-aim ink", (EDGE + 4, low), (EDGE + 4, low + 18)), text(EDGE + 16, low + 14, aim_words)]
        low += 24
    told = "; ".join(f"{row.label}: {row.words or units.number(row.value)}" for row in shown)
    return svg.drawing(_name(title), WIDTH, low + 6, title, told + ".", parts)
