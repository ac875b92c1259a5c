"""Aligned rulers: every quantity on its own scale, but green in the same place, so that one look takes in them all."""

from __future__ import annotations

import json
from html import escape
from math import ceil, floor, log10

from ... import units
from ...figures import number
from ...keeping.bath import Bath
from ...keeping.entries import METER_UNITS, unit_for
from ...keeping.today import Day, Gauge
from .. import svg
from . import marks

WIDTH, RULE, TOP, HEAD = 218.0, 24.0, 16.0, 5.0
# The long lines of a rule, above its numbers.
LONG = 9.0
# Green spans from the first to the second share of every rule.
GREEN = (0.34, 0.66)
SMALL = 13.0


def place(value: float, low: float, high: float) -> float:
    """Where a value lies along the rule in px; beyond an end it is that end."""
    share = GREEN[0] + (GREEN[1] - GREEN[0]) * (value - low) / (high - low)
    return min(max(share, 0.0), 1.0) * WIDTH


def _ends(low: float, high: float) -> tuple[float, float]:
    """The values at the two ends of the rule."""
    wide = (high - low) / (GREEN[1] - GREEN[0])
    start = low - GREEN[0] * wide
    return start, start + wide


def _step(wide: float) -> float:
    """A round step that leaves room for some six numbers."""
    rough = wide / 7.0
    size = 10.0 ** floor(log10(rough))
    return next(size * one for one in (1, 2, 2.5, 5, 10) if size * one >= rough * (1 - 1e-9))


def _ticks(low: float, high: float) -> list[str]:
    start, end = _ends(low, high)
    step = _step(end - start)
    small = step / 5.0
    path, words, free = [], [], 2.0
    for count in range(ceil(start / small - 1e-9), floor(end / small + 1e-9) + 1):
        value = count * small
        long = count % 5 == 0
        x = place(value, low, high)
        path.append(f"M{svg.num(x)} {svg.num(TOP)}v{svg.num(LONG) if long else 5}")
        said = number(value, 4)
        half = svg.text_width(said, SMALL) / 2
        if long and value >= 0.0 and x - half >= free and x + half <= WIDTH - 2:
            words.append(svg.text(x, TOP + RULE - 3.5, said, "label faded", "middle", SMALL))
            free = x + half + 3
    return [f'<path class="ink thin" d="{"".join(path)}"/>', *words]


def _pointer(x: float, kind: str) -> str:
    """The long arrow of now, whose head ends where the rule's numbers begin, or the short one of before."""
    if kind == "now":
        shape = (f'<path class="pointer yours" d="M0 0V{svg.num(TOP + LONG - 7)}"/>'
                 + svg.shape("head yours", (-HEAD, TOP + LONG - 9), (HEAD, TOP + LONG - 9), (0.0, TOP + LONG)))
    else:
        shape = svg.shape("head need", (-HEAD, TOP - 8), (HEAD, TOP - 8), (0.0, TOP))
    return f'<g data-pointer="{kind}" transform="translate({svg.num(x)} 0)">{shape}</g>'


def _units(bath: Bath, name: str, unit: str) -> str:
    """Each unit that a meter may show, as (factor, offset) to the unit of the rule, for a page that follows typing."""
    field = bath.field(name)
    if not unit:
        return json.dumps({"": [1.0, 0.0]})
    kind, rule = units.KINDS[field.kind], units.KINDS[field.kind].units[unit]
    return json.dumps({one: [round(kind.units[one].factor / rule.factor, 9),
                             round((kind.units[one].offset - rule.offset) / rule.factor, 9)]
                       for one in METER_UNITS.get(name, (unit,))}, ensure_ascii=False)


def ruler(bath: Bath, one: Gauge) -> str:
    """One rule as SVG; "" for a reading that has no band.

    ``data-low`` and ``data-high`` are the band's ends in the reader's unit and ``data-from``, ``data-to`` its place in
    px, so that a page can move the pointer ``data-pointer="now"`` with the typing; without a value it is hidden.
    ``data-units`` turns what a meter shows into the unit of the rule, ``data-unit``.
    """
    if one.band is None:
        return ""
    field = bath.field(one.name)
    unit = unit_for(field, bath.system)

    def shown(value: float) -> float:
        return units.convert(value, field.kind, unit) if unit else value
    low, high = shown(one.band.low), shown(one.band.high)
    parts = [svg.rect("wood", 0.5, TOP, WIDTH - 1, RULE),
             svg.rect("good", GREEN[0] * WIDTH, TOP, (GREEN[1] - GREEN[0]) * WIDTH, RULE),
             svg.rect("ink thin", 0.5, TOP, WIDTH - 1, RULE), *_ticks(low, high)]
    if one.before is not None:
        parts.append(_pointer(place(shown(one.before), low, high), "before"))
    parts.append(_pointer(place(shown(one.value), low, high), "now") if one.value is not None else
                 _pointer(0.0, "now").replace("<g ", '<g visibility="hidden" '))
    return (f'<svg xmlns="http://www.w3.org/2000/svg" class="aligned" viewBox="0 0 {svg.num(WIDTH)} '
            f'{svg.num(TOP + RULE + 1)}" width="{svg.num(WIDTH)}" height="{svg.num(TOP + RULE + 1)}" role="img" '
            f'data-low="{low:.6g}" data-high="{high:.6g}" data-from="{svg.num(GREEN[0] * WIDTH)}" '
            f'data-to="{svg.num(GREEN[1] * WIDTH)}" data-unit="{escape(unit)}" '
            f'data-units="{escape(_units(bath, one.name, unit))}" aria-label="{escape(sentence(bath, one))}">'
            f'{"".join(parts)}</svg>')


def sentence(bath: Bath, one: Gauge) -> str:
    """The rule in words: quantity, band, now, before."""
    field = bath.field(one.name)
    said = [field.label]
    if one.band is not None:
        said.append(f"band {bath.figure(one.name, one.band.low)} to {bath.show(one.name, one.band.high)}")
    said.append(f"now {bath.show(one.name, one.value)}" if one.value is not None else "not measured")
    if one.word:
        said.append(f"{one.distance} {marks.WORDS[one.word]}".strip())
    if one.before is not None:
        said.append(f"before {bath.show(one.name, one.before)}")
    return f"{said[0]}: {', '.join(said[1:])}."


def rulers(bath: Bath, day: Day) -> str:
    """All rules of a day, one under another, each with its name, its word and a place for its input."""
    rows = []
    for one in day.gauges:
        field = bath.field(one.name)
        unit = unit_for(field, bath.system)
        label = "Bath" if one.name == "level" and not bath.circulates else field.label
        sign = units.written(unit)
        head = escape(label) + (f" <small>{escape(sign)}</small>" if unit else "")
        rows.append(f'<div class="gauge" data-gauge="{one.name}"><p class="gauge-head"><strong>{head}</strong>'
                    f"{marks.said(one.word, one.distance)}</p>{ruler(bath, one)}"
                    f'<div class="gauge-input" data-input="{field.key}"></div></div>')
    note = ("Left of the green is low, right of it high. Long arrow: now. Short arrow: the reading before.")
    return f'<div class="gauges">{"".join(rows)}</div><p class="note">{note}</p>' if rows else ""
