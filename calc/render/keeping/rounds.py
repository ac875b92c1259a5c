"""The keeper's rounds as lists to tick or to print, and today as a sheet for the wall with blanks to write in."""

from __future__ import annotations

from collections.abc import Iterable
from html import escape

from ... import units
from ...keeping.acts import Act, day_words
from ...keeping.bath import Bath
from ...keeping.entries import unit_for
from ...keeping.routine import Checklist
from ...keeping.today import Day
from ..signs import sign

WALL_DAYS = 7


def checklist(found: Checklist) -> str:
    """One round."""
    rows = []
    for one in found.items:
        name = f"round-{found.code}-{one.key}"
        amount = f' <span class="act-amount">{escape(one.amount)}</span>' if one.amount else ""
        caution = (f'<p class="caution-line">{sign("danger")}<span>{escape(one.caution)}</span></p>' if one.caution
                   else "")
        source = f' <small class="source">{escape(one.source)}</small>' if one.source else ""
        noted = ' <small class="noted">goes into the log</small>' if one.log else ""
        rows.append(f'<li data-item="{one.key}"><input type="checkbox" class="tick" id="{name}"><div class="act">'
                    f'<p class="act-head"><label for="{name}">{escape(one.text)}</label>{amount}</p>{source}{noted}'
                    f'<small data-ticked></small>{caution}</div></li>')
    title = escape(found.title)
    # What is done each day stands open; the others are lines until they are wanted.
    return (f'<details class="round" id="round-{found.code}" data-round="{found.code}" data-lasts="{found.lasts}"'
            f'{" open" if found.code == "daily" else ""}><summary><h2>{title}</h2> <span>{escape(found.when)}</span>'
            f'</summary><ol class="todo">{"".join(rows)}</ol>'
            f'<p class="ways needs-script"><button type="button" data-print-round="{found.code}">Print this list'
            f'<span class="visually-hidden">: {title}</span></button> <button type="button" data-begin-again='
            f'"{found.code}" hidden>Take the ticks off<span class="visually-hidden">: {title}</span></button></p>'
            '</details>')


def checklists(found: Iterable[Checklist]) -> str:
    """All rounds."""
    return "".join(map(checklist, found))


BOX = '<span class="box" aria-hidden="true"></span>'


def _on_paper(act: Act) -> str:
    """One line of today to tick by pen, its pours below."""
    parts = [f"{BOX} <strong>{escape(act.title)}</strong> {escape(act.amount)}", escape(act.reason)]
    if act.caution:
        parts.append(f"<em>{escape(act.caution.lead)} {escape(act.caution.text)}</em>")
    if act.then:
        parts.append(f"{escape(act.then[0])} {escape(act.then[1])}")
    if len(act.pours) > 1:
        parts += [f"{BOX} {escape(one.clock)}: {escape(one.words)}, {escape(one.condition)}" for one in act.pours]
    return f"<li>{'<br>'.join(parts)}</li>"


def wall(day: Day, bath: Bath) -> str:
    """Today for the wall: lines with boxes to tick by pen, and blanks for the readings of a week."""
    lines = "".join(map(_on_paper, day.acts))
    heads, blanks = "", ""
    for gauge in day.gauges:
        field = bath.field(gauge.name)
        unit = units.written(unit_for(field, bath.system))
        band = (f"<br><small>{escape(bath.figure(gauge.name, gauge.band.low))} to "
                f"{escape(bath.figure(gauge.name, gauge.band.high))}</small>" if gauge.band else "")
        heads += f'<th scope="col">{escape(field.label)}{f", {escape(unit)}" if unit else ""}{band}</th>'
        blanks += '<td class="blank"></td>'
    rows = f'<tr><td class="blank"></td>{blanks}<td class="blank"></td></tr>' * WALL_DAYS
    return (f'<section class="wall"><h2>Today, {escape(day_words(day.now.date(), bath.system))}</h2>'
            f"<p><strong>{escape(day.lead)}</strong> {escape(day.text)}</p><ol>{lines}</ol>"
            f'<table><caption>Readings of a week, to be typed later</caption><thead><tr><th scope="col">When</th>'
            f'{heads}<th scope="col">Added, remark</th></tr></thead><tbody>{rows}</tbody></table></section>')
