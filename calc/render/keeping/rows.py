"""The log as a list: readings and events, the newest first, with the days that have none."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from html import escape

from ... import moments
from ...figures import number
from ...keeping.acts import day_words
from ...keeping.bath import Bath
from ...keeping.entries import KINDS, OF_KIND, READING, Entry, in_order, unit_for, values_of
from . import marks
from .strips import shown_in, unit_words

LABELS = {one.value: one.label for one in KINDS}
POURED = ("added", "fertilizer", "acid")


def _with_unit(bath: Bath, entry: Entry, name: str) -> str:
    """What was typed, with the unit that it took."""
    one, text = OF_KIND[entry.kind][name], entry.text(name).strip()
    unit = entry.units.get(name) or unit_for(one, bath.system)
    return f"{text} {unit}" if unit and text.replace(".", "").replace(",", "").isdigit() else text


def _words(bath: Bath, entry: Entry) -> str:
    """What was added, done and remarked."""
    names = POURED if entry.kind == READING else ("count", "what", "mass")
    parts = [f"{OF_KIND[entry.kind][name].label.lower()} {_with_unit(bath, entry, name)}" if entry.kind == READING
             else _with_unit(bath, entry, name) for name in names if entry.text(name).strip()]
    return "; ".join([*parts, *filter(None, [entry.text("remark").strip()])])


def _faults(bath: Bath, entry: Entry) -> str:
    """A sentence for each number that was kept as typed and cannot be read."""
    return "".join(f'<span class="fault">{escape(one)}</span>' for one in values_of(entry, bath.system).faults.values())


def _when(bath: Bath, entry: Entry, newest: date) -> str:
    clock = moments.show_clock(entry.moment.hour + entry.moment.minute / 60.0, bath.system)
    day = escape(day_words(entry.moment.date(), bath.system, newest))
    return (f'<th scope="row"><button type="button" class="quiet" data-edit="{escape(entry.id)}">'
            f"{day}</button> <small>{escape(clock)}</small></th>")


def _reading(bath: Bath, entry: Entry, newest: date) -> str:
    values = values_of(entry, bath.system)
    cells = ""
    for name in ("temperature", "ec", "ph", "oxygen"):
        value, band = values.get(name), bath.bands.get(name)
        if value is None:
            text = escape(entry.text(name).strip())
            cells += f'<td class="unread">{text}</td>' if text else "<td>–</td>"
            continue
        word = band.word(value) if band else "in"
        sign = (f'{marks.mark(word)}<span class="visually-hidden">{marks.WORDS[word]}: </span>' if word != "in" else "")
        shown = number(shown_in(bath, name, value), 3)
        cells += f'<td class="{"out" if word != "in" else ""}">{sign}{shown}</td>'
    return (f'<tr data-reading="{escape(entry.id)}">{_when(bath, entry, newest)}{cells}<td class="words">'
            f"{escape(_words(bath, entry))}{_faults(bath, entry)}</td></tr>")


def _event(bath: Bath, entry: Entry, newest: date) -> str:
    words = _words(bath, entry)
    return (f'<tr data-event="{escape(entry.id)}">{_when(bath, entry, newest)}<td colspan="5">'
            f"{escape(LABELS[entry.kind])}{escape(f': {words}') if words else ''}{_faults(bath, entry)}</td></tr>")


def table(bath: Bath, entries: Sequence[Entry], most: int) -> tuple[str, int]:
    """The newest ``most`` entries as rows, and how many there are before them; "" without any."""
    ordered = in_order(entries)[::-1]
    rows: list[str] = []
    # Days of another year than the newest entry's say which.
    newest = ordered[0].moment.date() if ordered else date.min
    for place, entry in enumerate(ordered[:most]):
        if place:
            gap = (ordered[place - 1].moment.date() - entry.moment.date()).days
            if gap > 1:
                first = entry.moment.date() + timedelta(days=1)
                last = ordered[place - 1].moment.date() - timedelta(days=1)
                span = " to ".join(day_words(day, bath.system, newest) for day in dict.fromkeys((first, last)))
                rows.append(f'<tr class="blank"><td colspan="6">{escape(span)}: no reading</td></tr>')
        rows.append((_reading if entry.kind == READING else _event)(bath, entry, newest))
    if not rows:
        return "", 0
    heads = "".join(f'<th scope="col">{escape(bath.field(name).label)}<br>'
                    f"{escape(unit_words(bath, name).removeprefix(', '))}</th>"
                    for name in ("temperature", "ec", "ph", "oxygen"))
    return (f'<table class="log"><thead><tr><th scope="col">When</th>{heads}<th scope="col">Added, remark</th></tr>'
            f"</thead><tbody>{''.join(rows)}</tbody></table>"), max(len(ordered) - most, 0)
