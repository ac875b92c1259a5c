"""A year at a glance: a bar a week from the lowest to the highest reading, those that leave the green marked."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from html import escape

from ...figures import number
from ...keeping.bath import Bath
from ...keeping.entries import READING, Entry, values_of, within
from ...keeping.sanity import can_be
from .. import svg
from .strips import NAMES, hatch, shown_in, unit_words

WEEKS = 52
WIDTHS = {True: 760.0, False: 328.0}
LEFT, TITLE, TALL, BETWEEN, HEADS, AXIS = 44.0, 22.0, 34.0, 8.0, 40.0, 20.0
# So many weeks without a reading are a pause, hatched and named.
PAUSE = 2


@dataclass(frozen=True)
class Week:
    """One week: its Monday, and by quantity the lowest and the highest reading in the reader's unit."""

    monday: date
    ends: dict[str, tuple[float, float]]
    heads: int


def weeks(bath: Bath, entries: Sequence[Entry], now: datetime) -> list[Week]:
    """The last 52 weeks, the running one last."""
    this = now.date() - timedelta(days=now.weekday())
    first = this - timedelta(weeks=WEEKS - 1)
    # Lowest and highest are found in base units, and told in the reader's.
    ends: list[dict[str, tuple[float, float]]] = [{} for _ in range(WEEKS)]
    heads = [0] * WEEKS
    for entry in within(entries, now, 7.0 * WEEKS):
        place = (entry.moment.date() - first).days // 7
        if not 0 <= place < WEEKS:
            continue
        numbers = values_of(entry, bath.system).numbers
        if entry.kind == "harvested":
            heads[place] += round(numbers.get("count", 0.0))
        if entry.kind != READING:
            continue
        for name in NAMES:
            if name in numbers and can_be(name, numbers[name]):
                value = numbers[name]
                low, high = ends[place].get(name, (value, value))
                ends[place][name] = min(low, value), max(high, value)
    return [Week(first + timedelta(weeks=place), {
        name: (shown_in(bath, name, low), shown_in(bath, name, high)) for name, (low, high) in ends[place].items()},
        heads[place]) for place in range(WEEKS)]


def _pauses(found: Sequence[Week]) -> list[tuple[int, int]]:
    """Stretches of weeks without a reading between weeks that have one: (first, last)."""
    read = [place for place, week in enumerate(found) if week.ends]
    return [(a + 1, b - 1) for a, b in zip(read, read[1:], strict=False) if b - a > PAUSE]


def _band(bath: Bath, name: str) -> tuple[float, float] | None:
    band = bath.bands.get(name)
    return None if band is None else (shown_in(bath, name, band.low), shown_in(bath, name, band.high))


def leaves(bath: Bath, name: str, ends: tuple[float, float]) -> bool:
    """Whether a week's readings leave the band."""
    band = _band(bath, name)
    return band is not None and (ends[0] < band[0] - 1e-9 or ends[1] > band[1] + 1e-9)


class _Year:
    def __init__(self, bath: Bath, found: Sequence[Week], wide: bool):
        self.bath, self.found, self.width = bath, found, WIDTHS[wide]
        self.each = (self.width - LEFT) / WEEKS
        self.low = 0.0
        self.parts: list[str] = [hatch("year-hatch")]

    def x(self, place: int) -> float:
        """The left end of a week."""
        return LEFT + place * self.each

    def strip(self, name: str, named: bool) -> None:
        """One quantity through the year."""
        shown = [week.ends[name] for week in self.found if name in week.ends]
        if not shown:
            return
        top, bottom = self.low + TITLE, self.low + TITLE + TALL
        band = _band(self.bath, name)
        values = [end for ends in shown for end in ends] + list(band or ())
        least, most = min(values), max(values)
        pad = 0.12 * (most - least) or 0.1
        least, most = least - pad, most + pad

        def y(value: float) -> float:
            return bottom - (value - least) / (most - least) * TALL
        self.parts.append(svg.text(0, self.low + 13, f"{self.bath.field(name).label}{unit_words(self.bath, name)}",
                                   "label strong"))
        if band is not None:
            self.parts.append(svg.rect("good", LEFT, y(band[1]), self.width - LEFT, y(band[0]) - y(band[1])))
            for value in band:
                self.parts.append(svg.text(LEFT - 6, y(value) + 4, number(value, 3), "label faded", "end", 14))
        for first, last in _pauses(self.found):
            self.parts.append(f'<rect class="blank" fill="url(#year-hatch)" x="{svg.num(self.x(first))}" '
                              f'y="{svg.num(top)}" width="{svg.num(self.x(last + 1) - self.x(first))}" '
                              f'height="{svg.num(TALL)}"/>')
            if named and self.x(last + 1) - self.x(first) > svg.text_width("none", 14) + 4:
                self.parts.append(svg.text((self.x(first) + self.x(last + 1)) / 2, (top + bottom) / 2 + 4, "none",
                                           "label faded", "middle", 14))
        for place, week in enumerate(self.found):
            if name in week.ends:
                low, high = week.ends[name]
                tall = max(y(low) - y(high), 3.0)
                self.parts.append(svg.rect("week out" if leaves(self.bath, name, (low, high)) else "week",
                                           self.x(place) + self.each * 0.2, (y(low) + y(high) - tall) / 2,
                                           self.each * 0.6, tall))
        self.parts.append(svg.line("ink", (LEFT, bottom), (self.width, bottom)))
        self.low = bottom + BETWEEN

    def heads(self) -> None:
        """Heads cut, by week."""
        most = max(week.heads for week in self.found)
        if not most:
            return
        self.parts.append(svg.text(0, self.low + 13, "Heads cut", "label strong"))
        bottom = self.low + TITLE + HEADS
        for place, week in enumerate(self.found):
            if week.heads:
                tall = (HEADS - 16) * week.heads / most
                self.parts.append(svg.rect("heads", self.x(place) + self.each * 0.2, bottom - tall, self.each * 0.6,
                                           tall))
                if self.each > 8:
                    self.parts.append(svg.text(self.x(place) + self.each / 2, bottom - tall - 3, str(week.heads),
                                               "label", "middle", 14))
        self.parts.append(svg.line("ink", (LEFT, bottom), (self.width, bottom)))
        self.low = bottom + BETWEEN

    def months(self) -> None:
        """The months along the foot."""
        free = 0.0
        for place, week in enumerate(self.found):
            if place == 0 or week.monday.month != self.found[place - 1].monday.month:
                words = f"{week.monday:%b}"
                x = self.x(place)
                self.parts.append(svg.line("ink thin", (x, self.low - BETWEEN), (x, self.low - BETWEEN + 4)))
                if x >= free and x + svg.text_width(words, 14) <= self.width:
                    self.parts.append(svg.text(x, self.low + 8, words, "label faded", size=14))
                    free = x + svg.text_width(words, 14) + 6
        self.low += AXIS


def picture(bath: Bath, found: Sequence[Week], wide: bool) -> str:
    """The year as SVG; "" without a reading or a harvest in it."""
    if not any(week.ends or week.heads for week in found):
        return ""
    made = _Year(bath, found, wide)
    for place, name in enumerate(NAMES):
        made.strip(name, place == 0)
    made.heads()
    made.months()
    return svg.drawing("year" if wide else "year-narrow", made.width, made.low, "A year at a glance",
                       sentence(bath, found), made.parts)


def sentence(bath: Bath, found: Sequence[Week]) -> str:
    """The year in words: weeks outside the bands, and heads cut."""
    parts = []
    for name in NAMES:
        out = sum(name in week.ends and leaves(bath, name, week.ends[name]) for week in found)
        if out:
            label = {"temperature": "Water", "ph": "pH", "ec": "EC"}.get(name, bath.field(name).label)
            parts.append(f"{label} left its band in {out} {'week' if out == 1 else 'weeks'}")
    heads = sum(week.heads for week in found)
    if heads:
        parts.append(f"{heads} {'head' if heads == 1 else 'heads'} cut")
    if not parts:
        return "Every week stayed in its band." if any(week.ends for week in found) else "No reading in this year."
    return ". ".join(parts) + "."


def table(bath: Bath, found: Sequence[Week]) -> str:
    """The same as a table, the newest week first."""
    heads = "".join(f'<th scope="col">{escape(bath.field(name).label)}{escape(unit_words(bath, name))}</th>'
                    for name in NAMES)
    rows = []
    for week in reversed(found):
        if not (week.ends or week.heads):
            continue
        cells = "".join(f"<td>{number(week.ends[name][0], 3)} to {number(week.ends[name][1], 3)}</td>"
                        if name in week.ends else "<td>–</td>" for name in NAMES)
        rows.append(f'<tr><th scope="row">Week of {week.monday.isoformat()}</th>{cells}'
                    f"<td>{week.heads or '–'}</td></tr>")
    return (f'<table class="readings"><caption>A year at a glance: lowest to highest of each week</caption><thead><tr>'
            f'<th scope="col">Week</th>{heads}<th scope="col">Heads cut</th></tr></thead><tbody>{"".join(rows)}</tbody>'
            "</table>") if rows else ""
