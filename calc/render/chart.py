"""Charts as SVG text: lines over two axes, and bars beside their aim; one look and one lettering for every topic."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil, floor, isfinite, log10

from .. import units
from . import svg
from .drawing import width_of
from .svg import text

EDGE, LINE, SIGN = 2.0, 18.0, 34.0
TALL = {True: 190.0, False: 160.0}
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


def _name(title: str, wide: bool) -> str:
    return "chart-" + ("".join(letter if letter.isascii() and letter.isalnum() else "-" for letter in title.lower())
                       or "lines") + ("" if wide else "-narrow")


class _Frame:
    """The two axes of a chart: from where to where they go, and the titles over them."""

    def __init__(self, wide: bool, xs: list[float], ys: list[float], title: str, y_label: str):
        self.width, self.xs, self.ys = width_of(wide), xs, ys
        self.y_words = [units.number(y, 4) for y in ys]
        room = self.width - 2 * EDGE
        titles = [(words, "label strong") for words in svg.wrap(title, room)]
        titles += [(words, "label faded") for words in svg.wrap(y_label, room)]
        self.parts = [text(EDGE, 15 + LINE * number, words, kind) for number, (words, kind) in enumerate(titles)]
        self.left = EDGE + max(svg.text_width(words) for words in self.y_words) + 10
        self.left = min(self.left, self.width * 0.4)
        self.right = self.width - 22.0
        self.top = 15 + LINE * len(titles) + 4
        self.bottom = self.top + TALL[wide]

    def place(self, point: tuple[float, float]) -> tuple[float, float]:
        """Where a point of the chart lies in the drawing."""
        xs, ys = self.xs, self.ys
        return (self.left + (point[0] - xs[0]) / (xs[-1] - xs[0]) * (self.right - self.left),
                self.bottom - (point[1] - ys[0]) / (ys[-1] - ys[0]) * (self.bottom - self.top))

    def band(self, low: float, high: float) -> None:
        """The stretch where all is well, as far as it lies within the chart."""
        a, b = (self.place((self.xs[0], min(max(y, self.ys[0]), self.ys[-1])))[1] for y in (high, low))
        if b - a > 0.5:
            self.parts.append(svg.rect("good", self.left, a, self.right - self.left, b - a))

    def axes(self, x_words: Callable[[float], str]) -> None:
        """Both axes with their numbers, and thin lines across at each number."""
        parts, xs, ys = self.parts, self.xs, self.ys
        for y, words in zip(ys, self.y_words, strict=True):
            at = self.place((xs[0], y))[1]
            parts.append(svg.line("grid", (self.left, at), (self.right, at)))
            parts.append(text(self.left - 7, at + 4.5, svg.shorten(words, self.left - 8), "label", "end"))
        parts.append(svg.line("ink", (self.left, self.top), (self.left, self.bottom), (self.right, self.bottom)))
        wide = max(svg.text_width(x_words(x)) for x in xs)
        every = max(ceil((wide + 8) / ((self.right - self.left) / (len(xs) - 1))), 1)
        for number, x in enumerate(xs):
            at = self.place((x, ys[0]))[0]
            parts.append(svg.line("ink", (at, self.bottom), (at, self.bottom + 5)))
            words = x_words(x)
            half = svg.text_width(words) / 2
            if number % every == 0 and at + half <= self.width - EDGE + 0.01:
                parts.append(text(max(at, EDGE + half), self.bottom + 20, words, "label", "middle"))
            elif number % every == 0 and (number == 0 or self.place((xs[number - every], ys[0]))[0]
                                          + 2 * half + half + 8 < self.width - EDGE):
                parts.append(text(self.width - EDGE - half, self.bottom + 20, words, "label", "middle"))


def lines(series: Sequence[Line], x_label: str, y_label: str, title: str, *,
          mark: tuple[float, float, str] | None = None,
          said: Sequence[str] = (), x_least: float = 0.0, y_least: float | None = 0.0,
          x_words: Callable[[float], str] | None = None, x_ticks: Sequence[float] = (),
          reach: tuple[float, float] | None = None, band: tuple[float, float, str] | None = None,
          wide: bool = True) -> str:
    """Lines over two axes as SVG text; "" without at least two points of the first line.

    ``mark`` is (across, up, words) of a point to show. ``said`` are sentences for who cannot see the chart; without
    them each line's ends are told. Axes begin at ``x_least`` and ``y_least`` (``None``: just below the lowest point)
    and reach as far as the lines, or to ``reach``. ``x_words`` writes a number of the level axis and ``x_ticks``
    says where its marks stand (the hours of a clock), from end to end. ``band`` is (from, to, words) of the
    stretch where all is well. Titles on one page must differ.
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
    frame = _Frame(wide, list(x_ticks) or ticks(x_least, x_most), ticks(lowest, y_most), title, y_label)
    if band is not None:
        frame.band(band[0], band[1])
    frame.axes(x_words or (lambda x: units.number(x, 4)))
    parts, xs, ys = frame.parts, frame.xs, frame.ys
    drawn = [one for one in drawn if one[1]]
    for kind, (_, points) in zip(KINDS, drawn, strict=False):
        parts += [svg.line(kind, *map(frame.place, piece))
                  for piece in _clipped(points, (xs[0], xs[-1]), (ys[0], ys[-1]))]
    low = frame.bottom + 22
    for words in svg.wrap(x_label, frame.width - 2 * EDGE):
        low += LINE
        half = svg.text_width(words) / 2
        middle = min(max((frame.left + frame.right) / 2, EDGE + half), frame.width - EDGE - half)
        parts.append(text(middle, low, words, "label faded", "middle"))
    told = [f"Across: {x_label}. Up: {y_label}.", *said]
    keys = [(kind, words) for kind, (words, _) in zip(KINDS, drawn, strict=False)]
    if band is not None:
        keys.append(("good", band[2]))
    if mark and marked:
        parts.append(svg.circle("chart-point solid", *frame.place(marked[0]), 5.5))
        keys.append(("chart-point solid", mark[2]))
    low = _keys(parts, keys, frame.width, low)
    for words, points in drawn:
        if not said:
            first, last = (f"{units.number(y)} at {units.number(x)}" for x, y in (points[0], points[-1]))
            told.append(f"{words[:1].upper()}{words[1:]}: {first}, {last}.")
    if band is not None:
        told.append(f"{band[2][:1].upper()}{band[2][1:]}.")
    if mark and marked:
        told.append(mark[2].capitalize() + ".")
    return svg.drawing(_name(title, wide), frame.width, low + 10, title, " ".join(told), parts)


def _keys(parts: list[str], keys: Sequence[tuple[str, str]], width: float, low: float) -> float:
    """What each line, band and point means, one beside the other as far as they fit; gives the lowest place."""
    x, low = EDGE, low + LINE + 4
    for kind, words in keys:
        wide = SIGN + 8 + svg.text_width(words)
        if x > EDGE and x + wide > width - EDGE:
            x, low = EDGE, low + LINE + 2
        if kind == "good":
            parts.append(svg.rect(kind, x, low - 11, SIGN, 12))
        elif kind.startswith("chart-point"):
            parts.append(svg.circle(kind, x + SIGN / 2, low - 5, 5.5))
        else:
            parts.append(svg.line(kind, (x, low - 5), (x + SIGN, low - 5)))
        for number, one in enumerate(svg.wrap(words, width - 2 * EDGE - SIGN - 8)):
            low += LINE if number else 0.0
            parts.append(text(x + SIGN + 8, low, one))
        x += wide + 16
    return low


def pump_chart(curve_points: Sequence[tuple[float, float]], load_points: Sequence[tuple[float, float]] | None,
               operating: tuple[float, float] | None, x_label: str, y_label: str, title: str,
               wide: bool = True) -> str:
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
    return lines(both, x_label, y_label, title, mark=mark, reach=(flow, push), wide=wide)


@dataclass(frozen=True)
class Bar:
    """One level bar: its label, its length, the aim it is measured against (``None``: none), and words at its end."""

    label: str
    value: float
    aim: float | None = None
    words: str = ""


BAR_TALL = 14.0


def bars(rows: Sequence[Bar], title: str, *, most: float | None = None, aim_words: str = "", wide: bool = True) -> str:
    """Level bars one under another, each with an upright tick at its aim; "" without a bar above nothing.

    All bars share one scale, up to ``most`` or the largest value or aim; a bar beyond ``most`` ends in an open edge and
    its words tell the number. ``aim_words`` explain the tick.
    """
    shown = [row for row in rows if isfinite(row.value) and row.value >= 0]
    top = most or max([row.value for row in shown] + [row.aim for row in shown if row.aim], default=0.0)
    if not shown or top <= 0:
        return ""
    width = width_of(wide)
    room = width - 2 * EDGE
    parts, low = [], -4.0
    for words in svg.wrap(title, room):
        low += LINE
        parts.append(text(EDGE, low, words, "label strong"))
    for row in shown:
        low = _bar_words(parts, row, width, low + 8)
        share = min(row.value / top, 1.0)
        parts += [svg.rect("bar-room", EDGE, low + 5, room, BAR_TALL), svg.rect("bar", EDGE, low + 5, room * share,
                                                                               BAR_TALL)]
        if row.aim is not None and 0 < row.aim <= top:
            at = EDGE + room * row.aim / top
            parts.append(svg.line("bar-aim ink", (at, low + 2), (at, low + 8 + BAR_TALL)))
        low += BAR_TALL + 7
    if aim_words:
        parts.append(svg.line("bar-aim ink", (EDGE + 4, low + 7), (EDGE + 4, low + 25)))
        low += 3
        for words in svg.wrap(aim_words, room - 18):
            low += LINE
            parts.append(text(EDGE + 16, low, words))
    told = "; ".join(f"{row.label}: {row.words or units.number(row.value)}" for row in shown)
    return svg.drawing(_name(title, wide), width, low + 8, title, told + ".", parts)


def _bar_words(parts: list[str], row: Bar, width: float, low: float) -> float:
    """The label and the words of a bar, on one line where both fit; gives the lowest base line."""
    room = width - 2 * EDGE
    if svg.text_width(row.label) + svg.text_width(row.words) + 14 <= room:
        parts += [text(EDGE, low + 13, row.label), text(width - EDGE, low + 13, row.words, "label", "end")]
        return low + 13
    low -= 4
    for words in [*svg.wrap(row.label, room), *svg.wrap(row.words, room)]:
        low += LINE
        parts.append(text(EDGE, low, words))
    return low
