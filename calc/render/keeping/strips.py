"""Two weeks of readings as strips, one a quantity: band across, dots outside it filled, the newest the largest."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from html import escape

from ... import units
from ...figures import number
from ...keeping.acts import day_words
from ...keeping.bath import Bath
from ...keeping.entries import READING, Entry, in_order, unit_for, values_of
from ...keeping.sanity import can_be
from .. import svg

NAMES = ("ph", "ec", "temperature", "oxygen")
WINDOW_D = 14
# A pause longer than this breaks the line, and is hatched and named.
GAP = timedelta(hours=44)
WIDTHS = {True: 560.0, False: 328.0}
LEFT, RIGHT, TITLE, TALL, BETWEEN, AXIS, LANE = 44.0, 8.0, 22.0, 52.0, 10.0, 22.0, 16.0
MOST_NOTES = 6


@dataclass(frozen=True)
class Series:
    """The values of one quantity in the reader's unit, oldest first, with its band."""

    name: str
    points: tuple[tuple[datetime, float], ...]
    low: float | None
    high: float | None
    # How many more are left out, since water cannot show them.
    odd: int = 0


def start_of(now: datetime) -> datetime:
    """The first midnight of the two weeks that end now."""
    return (now - timedelta(days=WINDOW_D - 1)).replace(hour=0, minute=0)


def shown_in(bath: Bath, name: str, value: float) -> float:
    """A value in the reader's unit."""
    one = bath.field(name)
    unit = unit_for(one, bath.system)
    return units.convert(value, one.kind, unit) if unit else value


def unit_words(bath: Bath, name: str) -> str:
    """The unit behind a quantity's name: ", °F"."""
    one = bath.field(name)
    unit = unit_for(one, bath.system)
    return f", {units.written(unit)}" if unit else ""


def series(bath: Bath, entries: Iterable[Entry], start: datetime, end: datetime) -> list[Series]:
    """What was read between two moments, of each quantity that has a value there."""
    found: dict[str, list[tuple[datetime, float]]] = {}
    odd: dict[str, list[tuple[datetime, float]]] = {}
    for entry in in_order(entries):
        if entry.kind == READING and start <= entry.moment <= end:
            for name, value in values_of(entry, bath.system).numbers.items():
                if name in NAMES:
                    kept = found if can_be(name, value) else odd
                    kept.setdefault(name, []).append((entry.moment, shown_in(bath, name, value)))
    made = []
    for name in NAMES:
        if name not in found and name in odd:
            # Nothing else was read: then it is shown as it stands.
            found[name] = odd.pop(name)
        if name in found:
            band = bath.bands.get(name)
            low, high = (None, None) if band is None else (shown_in(bath, name, band.low),
                                                           shown_in(bath, name, band.high))
            made.append(Series(name, tuple(found[name]), low, high, len(odd.get(name, ()))))
    return made


def reach(one: Series) -> tuple[float, float]:
    """From where to where the strip goes: its band and its values, with a margin."""
    values = [value for _, value in one.points] + [end for end in (one.low, one.high) if end is not None]
    low, high = min(values), max(values)
    pad = 0.16 * (high - low) or max(abs(high) * 0.05, 0.1)
    return low - pad, high + pad


def hatch(name: str) -> str:
    """The pattern for a time without readings."""
    return (f'<defs><pattern id="{name}" width="6" height="6" patternUnits="userSpaceOnUse" '
            'patternTransform="rotate(-45)"><path class="hatch" d="M0 3h6"/></pattern></defs>')


def gaps(moments: Sequence[datetime], longest: timedelta) -> list[tuple[datetime, datetime]]:
    """The stretches between neighbors that lie further apart than ``longest``."""
    ordered = sorted(moments)
    return [(a, b) for a, b in zip(ordered, ordered[1:], strict=False) if b - a > longest]


class _Strips:
    """The drawing under way: where a moment lies across, and what has been drawn."""

    def __init__(self, bath: Bath, now: datetime, wide: bool):
        self.bath, self.end, self.width = bath, now, WIDTHS[wide]
        self.start = start_of(now)
        self.low = 0.0
        self.parts: list[str] = []

    def x(self, at: datetime) -> float:
        """Where a moment lies across."""
        share = (at - self.start).total_seconds() / max((self.end - self.start).total_seconds(), 1.0)
        return LEFT + share * (self.width - LEFT - RIGHT)

    def strip(self, one: Series, blank: Sequence[tuple[datetime, datetime]], named: bool) -> None:
        """One quantity: its title and newest value, its band, its line and dots."""
        field = self.bath.field(one.name)
        top, bottom = self.low + TITLE, self.low + TITLE + TALL
        least, most = reach(one)

        def y(value: float) -> float:
            return bottom - (value - least) / (most - least) * TALL
        last = one.points[-1][1]
        out = _outside(one, last)
        tail = f", {out}" if out else ", in its band" if one.low is not None else ""
        self.parts.append(svg.text(0, self.low + 13, f"{field.label}{unit_words(self.bath, one.name)}", "label strong"))
        self.parts.append(svg.text(self.width - RIGHT, self.low + 13, f"{number(last, 3)}{tail}",
                                   "label out" if out else "label", "end"))
        if one.low is not None and one.high is not None:
            self.parts.append(svg.rect("good", LEFT, y(one.high), self.width - LEFT - RIGHT, y(one.low) - y(one.high)))
            for value in (one.low, one.high):
                self.parts.append(svg.text(LEFT - 6, y(value) + 4, number(value, 3), "label faded", "end", 14))
        for start, end in blank:
            x1, x2 = self.x(start + GAP / 4), self.x(end - GAP / 4)
            self.parts.append(f'<rect class="blank" fill="url(#strips-hatch)" x="{svg.num(x1)}" y="{svg.num(top)}" '
                              f'width="{svg.num(max(x2 - x1, 0.0))}" height="{svg.num(TALL)}"/>')
            if named and x2 - x1 > svg.text_width("none", 14) + 6:
                self.parts.append(svg.text((x1 + x2) / 2, (top + bottom) / 2 + 4, "none", "label faded", "middle", 14))
        self._line(one, y)
        self.parts.append(svg.line("ink", (LEFT, top), (LEFT, bottom), (self.width - RIGHT, bottom)))
        self.low = bottom + BETWEEN

    def _line(self, one: Series, y: Callable[[float], float]) -> None:
        piece: list[tuple[float, float]] = []
        pieces = [piece]
        for place, (at, value) in enumerate(one.points):
            if place and at - one.points[place - 1][0] > GAP:
                piece = []
                pieces.append(piece)
            piece.append((self.x(at), y(value)))
        self.parts += [svg.line("ink", *piece) for piece in pieces if len(piece) > 1]
        for place, (at, value) in enumerate(one.points):
            newest = place == len(one.points) - 1
            kind = "dot newest" if newest else "dot out" if _outside(one, value) else "dot"
            self.parts.append(svg.circle(kind, self.x(at), y(value), 4.0 if newest else 3.0))

    def days(self) -> None:
        """The days along the foot, as many as fit."""
        every = 2 if self.width > 400 else 4
        day = self.start
        while day <= self.end:
            x = self.x(day + timedelta(hours=12))
            if x <= self.width - RIGHT:
                self.parts.append(svg.line("ink thin", (x, self.low - BETWEEN), (x, self.low - BETWEEN + 4)))
                if (self.end.date() - day.date()).days % every == 0:
                    self.parts.append(svg.text(x, self.low + 8, str(day.day), "label faded", "middle", 14))
            day += timedelta(days=1)
        self.low += AXIS

    def notes(self, found: Sequence[tuple[datetime, str]]) -> None:
        """Arrows for what was poured, the words beside each line in as many lanes as they need.

        From right to left, so that a line ends above the words of those to its left.
        """
        lanes: list[list[tuple[float, float]]] = []
        said: list[str] = []
        for at, words in reversed(found):
            x, wide = self.x(at), svg.text_width(words, 13) + 4
            turned = x + wide > self.width
            start, end = (x - wide, x) if turned else (x, x + wide)
            lane = next((place for place, taken in enumerate(lanes)
                         if all(end + 6 < left or start > right + 6 for left, right in taken)), len(lanes))
            if lane == len(lanes):
                lanes.append([])
            lanes[lane].append((start, end))
            y = self.low + LANE * lane
            self.parts.append(svg.line("ink thin", (x, self.low - 8), (x, y + 11)))
            self.parts.append(svg.shape("head need", (x - 4, self.low - 6), (x + 4, self.low - 6), (x, self.low - 12)))
            said.append(svg.text(x - 4 if turned else x + 4, y + 11, words, "label halo", "end" if turned else "start",
                                 13))
        # Words come last, on a ground of their own: where no room is left, a line ends at them and goes on below.
        self.parts += said
        self.low += LANE * len(lanes)


def _outside(one: Series, value: float) -> str:
    """How far a value lies outside its band: "0.2 high"; "" inside."""
    for beyond, word in (((value - one.high) if one.high is not None else 0.0, "high"),
                         ((one.low - value) if one.low is not None else 0.0, "low")):
        if beyond > 1e-9:
            return f"{number(round(beyond, 2), 2)} {word}"
    return ""


def poured(bath: Bath, entries: Iterable[Entry], start: datetime, end: datetime) -> list[tuple[datetime, str]]:
    """What was poured or done to the water, in a few words each."""
    found = []
    for entry in in_order(entries):
        if not start <= entry.moment <= end:
            continue
        if entry.kind == "changed":
            found.append((entry.moment, "solution changed"))
        for name, words in (("acid", "acid"), ("added", "topped up")) if entry.kind == READING else ():
            if name in values_of(entry, bath.system).numbers:
                text = entry.text(name).strip()
                unit = entry.units.get(name) or unit_for(bath.field(name), bath.system)
                named = units.named(text, bath.field(name).kind)
                found.append((entry.moment, f"{words} {text}{'' if named else f' {unit}'}"))
    return found[-MOST_NOTES:]


def picture(bath: Bath, entries: Sequence[Entry], now: datetime, wide: bool) -> str:
    """The strips as SVG; "" where the two weeks hold no reading."""
    made = _Strips(bath, now, wide)
    found = series(bath, entries, made.start, made.end)
    if not found:
        return ""
    made.parts.append(hatch("strips-hatch"))
    moments = [at for one in found for at, _ in one.points]
    blank = gaps(moments, GAP)
    for place, one in enumerate(found):
        made.strip(one, blank, place == 0)
    made.days()
    made.notes(poured(bath, entries, made.start, made.end))
    return svg.drawing("strips" if wide else "strips-narrow", made.width, made.low + 4, "Two weeks of readings",
                       sentence(bath, found), made.parts)


def sentence(bath: Bath, found: Sequence[Series]) -> str:
    """The strips in words."""
    parts = []
    for one in found:
        values = [value for _, value in one.points]
        out = sum(bool(_outside(one, value)) for value in values)
        now = _outside(one, values[-1])
        many = f"{one.odd} {'value' if one.odd == 1 else 'values'}"
        left = f"; left out, since no water shows it: {many}" if one.odd else ""
        label, unit = bath.field(one.name).label, unit_words(bath, one.name).replace(", ", " ")
        banded = one.low is not None or one.high is not None
        if len(values) == 1:
            inside = ", in its band" if banded else ""
            parts.append(f"{label} {number(values[0], 3)}{unit}{f', {now}' if now else inside}{left}")
            continue
        inside = "; always in its band" if banded else ""
        outside = f"; outside its band {out} of {len(values)} times" if out else inside
        low, high, last = (number(value, 3) for value in (min(values), max(values), values[-1]))
        span = f"{low}{unit} each time" if low == high else f"from {low} to {high}{unit}, now {last}"
        parts.append(f"{label} {span}{f', {now}' if now else ''}{outside}{left}")
    return ". ".join(parts) + "." if parts else "No reading in these two weeks."


def table(bath: Bath, entries: Sequence[Entry], now: datetime) -> str:
    """The same as a table."""
    start = start_of(now)
    heads = "".join(f'<th scope="col">{escape(bath.field(name).label)}{escape(unit_words(bath, name))}</th>'
                    for name in NAMES)
    rows = []
    for entry in reversed(in_order(entries)):
        if entry.kind != READING or not start <= entry.moment <= now:
            continue
        numbers = values_of(entry, bath.system).numbers
        cells = "".join(f"<td>{number(shown_in(bath, name, numbers[name]), 3) if name in numbers else '–'}</td>"
                        for name in NAMES)
        rows.append(f'<tr><th scope="row">{escape(day_words(entry.moment.date(), bath.system))}, '
                    f"{entry.moment:%H:%M}</th>{cells}</tr>")
    return (f'<table class="readings"><caption>Two weeks of readings</caption><thead><tr><th scope="col">When</th>'
            f"{heads}</tr></thead><tbody>{''.join(rows)}</tbody></table>") if rows else ""
