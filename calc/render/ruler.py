"""A wooden ruler that holds what is needed against what is there: one look tells whether a number is large enough."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, floor, isfinite, log10

from .. import units
from . import svg
from .drawing import width_of
from .svg import text, text_width

RULE_TALL, LINE, TITLE, INSET = 26.0, 17.0, 14.0, 8.0
# Past this factor between the smallest and the largest mark equal steps are equal factors.
FAR_APART = 40.0
# A picture must follow a key: so many places are tried, then the words are listed below the rule.
MOST_TRIES = 600
BOLD = ("yours", "tight", "no")
# Steps of numbers, and how many small steps lie between two of them.
STEPS = ((1.0, 5), (2.0, 4), (5.0, 5), (10.0, 5))


@dataclass(frozen=True)
class Mark:
    """A pointer: its words (the number is added), its value in the ruler's unit, and how it is drawn.

    ``kind`` is "need" for what is wanted or given, "yours" for the reader's own, "tight" or "no" for the reader's own
    where it is not as it should be.
    """

    words: str
    value: float
    kind: str = "need"
    shown: str = ""

    @property
    def label(self) -> str:
        """Words and number as they are written over the rule."""
        return f"{self.words} {self.shown or units.number(self.value)}"


class _Scale:
    """Where a value lies along the rule."""

    def __init__(self, low: float, high: float, logarithmic: bool, left: float, right: float):
        self.low, self.high, self.logarithmic = low, high, logarithmic
        self.left, self.right = left, right

    def x(self, value: float) -> float:
        """The place of a value; beyond an end it is that end."""
        low, high = self.low, self.high
        if self.logarithmic:
            low, high, value = log10(low), log10(high), log10(max(value, self.low))
        share = (value - low) / (high - low)
        return self.left + min(max(share, 0.0), 1.0) * (self.right - self.left)


def wooden(name: str, title: str, unit: str, marks: Sequence[Mark], wide: bool, *,
           good: tuple[float | None, float | None] | None = None, least: float | None = 0.0) -> str:
    """Pointers over a rule, with its good stretch green, as SVG text; "" without a mark that can be shown.

    ``good`` is from where to where a number is as it should be (``None``: on to the end). The rule begins at ``least``
    (``None``: a little below the lowest mark). Where numbers lie very far apart, equal steps of it are equal factors.
    """
    unit = units.written(unit)
    shown = sorted((mark for mark in marks if isfinite(mark.value) and mark.value >= 0.0), key=lambda mark: mark.value)
    if not shown or shown[-1].value <= 0.0:
        return ""
    width = width_of(wide)
    # The end of the good stretch is worth seeing, unless it lies far beyond every mark.
    ends = [end for end in good or () if end is not None and end <= 2.0 * shown[-1].value]
    scale, ticks = _scaled([*(mark.value for mark in shown), *ends], least, INSET + 6.0, width - INSET - 14.0)
    parts = [text(0.0, 14.0, svg.shorten(f"{title}, {unit}" if unit else title, width), "label strong")]
    rows, below = _rows([(mark.label, scale.x(mark.value), text_width(mark.label)) for mark in shown], width)
    used = max((row for row, _ in rows), default=0) + 1
    top = TITLE + 8.0 + LINE * used + 6.0
    parts.append(svg.rect("wood", INSET, top, width - 2 * INSET, RULE_TALL))
    parts += _stretch(scale, good, top, width)
    parts.append(svg.rect("ink thin", INSET, top, width - 2 * INSET, RULE_TALL))
    parts += _ticks(scale, ticks, top, width)
    for mark, (row, at) in zip(shown, rows, strict=True):
        x, y = scale.x(mark.value), top - 6.0 - LINE * row
        kind = mark.kind if mark.kind in BOLD else "need"
        parts.append(svg.line(f"pointer {kind}", (x, y - 11.0 if at is not None else top - 8.0), (x, top + 5.0)))
        parts.append(svg.shape(f"head {kind}", (x - 4.5, top + 4.0), (x + 4.5, top + 4.0), (x, top + 12.0)))
        if at is not None:
            parts.append(text(at, y, mark.label, f"label {kind}"))
    bottom = top + RULE_TALL
    for mark in (shown if below else ()):
        bottom += LINE
        parts.append(text(INSET, bottom, svg.shorten(mark.label, width - 2 * INSET),
                          f"label {mark.kind if mark.kind in BOLD else 'need'}"))
    return svg.drawing(name, width, bottom + 6.0, title, _sentence(title, unit, shown, good, scale), parts)


def _sentence(title: str, unit: str, marks: Sequence[Mark], good: tuple[float | None, float | None] | None,
              scale: _Scale) -> str:
    """The whole ruler in one sentence."""
    said = f"{title}{f' in {unit}' if unit else ''}: {', '.join(mark.label for mark in marks)}"
    if good is not None:
        low, high = good
        ends = [f"{word} {units.number(end)}" for word, end in (("from", low), ("up to", high)) if end is not None]
        said += f"; good {' '.join(ends)}"
    if scale.logarithmic:
        said += "; each long mark is ten times the one before"
    return said + "."


def _scaled(values: Sequence[float], least: float | None, left: float, right: float) -> tuple[
        _Scale, list[tuple[float, int]]]:
    """The scale of the rule, and its marks as (value, how long: 2 with a number, 1 middling, 0 short)."""
    high = max(values) * 1.06
    low = least if least is not None else min(values) - 0.1 * (max(values) - min(values) or max(values))
    above = [value for value in values if value > 0.0]
    if low == 0.0 and max(above) / min(above) > FAR_APART and len(above) == len(values):
        first, last = floor(log10(min(above))), ceil(log10(max(above) * 1.0001))
        # Beyond nine decades only the ends are of interest; every so-manieth has a number.
        every = max(ceil((last - first) / 6), 1)
        ticks = [(10.0 ** decade * step, 2 if step == 1 and (decade - first) % every == 0 else 0)
                 for decade in range(first, last) for step in ((1, 2, 5) if every == 1 else (1,))]
        return _Scale(10.0 ** first, 10.0 ** last, True, left, right), ticks
    if high - low < 1e-12:
        high = low + max(abs(low), 1.0)
    most = max(int((right - left) / 60.0), 4)
    rough = (high - low) / most
    size = 10.0 ** floor(log10(rough))
    step, parts = next((size * one, parts) for one, parts in STEPS if size * one >= rough * (1 - 1e-9))
    small = step / parts
    first, last = floor(low / small + 1e-9), ceil(high / small - 1e-9)
    ticks = [(number * small, 2 if number % parts == 0 else 0) for number in range(first, last + 1)]
    return _Scale(first * small, last * small, False, left, right), ticks


def _stretch(scale: _Scale, good: tuple[float | None, float | None] | None, top: float, width: float) -> list[str]:
    """The green stretch of the rule."""
    if good is None:
        return []
    low, high = good
    left = INSET if low is None or low <= scale.low else scale.x(low)
    right = width - INSET if high is None or high >= scale.high else scale.x(high)
    return [svg.rect("good", left, top, right - left, RULE_TALL)] if right - left > 0.5 else []


def _ticks(scale: _Scale, ticks: Sequence[tuple[float, int]], top: float, width: float) -> list[str]:
    path, parts, free = [], [], 0.0
    for value, long in ticks:
        x = scale.x(value)
        path.append(f"M{svg.num(x)} {svg.num(top)}v{11 if long else 6}")
        if long:
            words = units.number(value, 4)
            half = text_width(words) / 2
            if x - half >= max(free, INSET + 1.0) and x + half <= width - INSET - 1.0:
                parts.append(text(x, top + RULE_TALL - 4.0, words, "label faded", "middle"))
                free = x + half + 4.0
    return [f'<path class="ink thin" d="{"".join(path)}"/>', *parts]


Row = tuple[int, float | None]


def _rows(marks: Sequence[tuple[str, float, float]], width: float) -> tuple[list[Row], bool]:
    """(row over the rule, left end of the words) of each mark, in few rows, and whether words go below the rule.

    No words touch other words or another mark's pointer. Where that cannot be done, no words are set over the rule
    and all are to be listed below it.
    """
    tries = [MOST_TRIES]
    for most in range(1, len(marks) + 1):
        found = _place(marks, width, most, [], tries)
        if found is not None:
            return found, False
    return [(0, None)] * len(marks), True


def _place(marks: Sequence[tuple[str, float, float]], width: float, most: int, done: list[Row],
           tries: list[int]) -> list[Row] | None:
    """Places of the marks not yet done, within ``most`` rows, by trying one after another; ``tries`` are left."""
    if len(done) == len(marks):
        return done
    _, x, long = marks[len(done)]
    for row in range(most):
        for at in (x + 5.0, x - 5.0 - long):
            if at < 0.0 or at + long > width:
                continue
            tries[0] -= 1
            if tries[0] < 0:
                return None
            if all(_apart((row, at, at + long, x), (other, left, left + marks[number][2], marks[number][1]))
                   for number, (other, left) in enumerate(done) if left is not None):
                found = _place(marks, width, most, [*done, (row, at)], tries)
                if found is not None:
                    return found
    return None


def _apart(one: tuple[int, float, float, float], other: tuple[int, float, float, float]) -> bool:
    """Whether two marks keep clear of each other: (row, left end, right end of the words, place of the pointer)."""
    row, left, right, x = one
    row2, left2, right2, x2 = other
    if row == row2 and left < right2 + 6.0 and left2 < right + 6.0:
        return False
    # A pointer runs from its own row down to the rule, through every row below.
    return not (row2 >= row and left - 3.0 < x2 < right + 3.0) and not (row >= row2 and left2 - 3.0 < x < right2 + 3.0)
