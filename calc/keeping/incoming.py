"""Reads a CSV: our own, a spreadsheet's version of it, or a logger's; what is unclear is asked, not guessed."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from statistics import median
from typing import Any

from .. import units
from ..cells import MARK, plain
from ..errors import UnreadableQuantity
from ..figures import number
from . import times
from .entries import METER_UNITS, OF_KIND, READING, Entry, NotUnderstood, from_json, new_id, read_number
from .sanity import LIKELY
from .sheets import COLUMNS, NUMBERS, entry_of

LONGEST, MOST_ROWS, MOST_TOLD = 20_000_000, 200_000, 200
SEPARATORS = (",", ";", "\t", "|")
SKIP, DATE, CLOCK = "skip", "date", "clock"
FIELDS = ("time", "temperature", "ec", "ph", "oxygen", "level", "added", "fertilizer", "acid", "remark")
_COMMA_NUMBER = re.compile(r"\s*[+-]?\d+,\d+\s*", re.ASCII)
_POINT_NUMBER = re.compile(r"\s*[+-]?\d*\.\d+\s*", re.ASCII)
_GROUPED = re.compile(r"\s*[+-]?[1-9]\d{0,2},\d{3}\s*", re.ASCII)
NONE = frozenset(("", "-", "--", "n/a", "na", "nan", "null", "none", "#n/a", "#value!", "---"))
# Words that column heads of meters and loggers use, the longer ones first; a unit in the head is read apart.
WORDS = (("timestamp", "time"), ("datetime", "time"), ("date time", "time"), ("date/time", "time"), ("date", DATE),
         ("time", CLOCK), ("water temp", "temperature"), ("temp", "temperature"), ("conductivity", "ec"),
         ("dissolved oxygen", "oxygen"), ("tds", "ec"), ("level", "level"), ("depth", "level"), ("top-up", "added"),
         ("added", "added"), ("remark", "remark"), ("note", "remark"), ("comment", "remark"), ("acid", "acid"),
         ("fertilizer", "fertilizer"), ("oxygen", "oxygen"), ("ppm", "ec"))
SHORT = {"ph": "ph", "ec": "ec", "do": "oxygen", "t": "temperature", "cond": "ec", "o2": "oxygen"}
UNIT_WORDS = (("ppm500", "ec", "ppm500"), ("ppm 500", "ec", "ppm500"), ("ppm640", "ec", "ppm640"),
              ("ppm 640", "ec", "ppm640"), ("ppm700", "ec", "ppm700"), ("ppm 700", "ec", "ppm700"),
              ("µs", "ec", "µS/cm"), ("μs", "ec", "µS/cm"), ("us/cm", "ec", "µS/cm"), ("ms/cm", "ec", "mS/cm"),
              ("ms", "ec", "mS/cm"), ("ds/m", "ec", "mS/cm"), ("°f", "temperature", "F"), ("(f)", "temperature", "F"),
              ("[f]", "temperature", "F"), ("deg f", "temperature", "F"), ("°c", "temperature", "C"),
              ("(c)", "temperature", "C"), ("[c]", "temperature", "C"), ("deg c", "temperature", "C"),
              ("(in)", "level", "in"), ("(cm)", "level", "cm"), ("(mm)", "level", "mm"), ("(gal)", "added", "gal"),
              ("(l)", "added", "L"), ("(ml)", "acid", "mL"))


@dataclass(frozen=True)
class Column:
    """One column of a file: its head, what it is taken for ("ph", "date", "skip"), in which unit, and some cells."""

    head: str
    field: str
    unit: str
    samples: tuple[str, ...] = ()


@dataclass(frozen=True)
class Question:
    """What a file does not say: ``id`` to answer it by, a sentence, (answer, words) to choose from, what is taken
    until then."""

    id: str
    words: str
    offers: tuple[tuple[str, str], ...]
    taken: str


@dataclass
class Incoming:
    """What a file holds: entries, its columns, questions, a sentence for each cell or row not understood, and rows of
    a newer version, set aside whole."""

    entries: list[Entry] = field(default_factory=list)
    columns: list[Column] = field(default_factory=list)
    questions: list[Question] = field(default_factory=list)
    told: list[str] = field(default_factory=list)
    aside: list[dict[str, Any]] = field(default_factory=list)
    rows: int = 0
    own: bool = False
    trouble: str = ""


def _separator(text: str) -> tuple[str, str]:
    """What parts the cells, and the text without a spreadsheet's line that says so."""
    first, _, rest = text.partition("\n")
    said = first.rstrip("\r").strip('"')
    if said.lower().startswith("sep=") and len(said) == 5:
        return said[4], rest
    bare = re.sub(r'"[^"]*"', "", first)
    return max(SEPARATORS, key=lambda one: (bare.count(one), -SEPARATORS.index(one))), text


def _rows(text: str) -> tuple[list[list[str]], str]:
    separator, text = _separator(text)
    rows = csv.reader(io.StringIO(text, newline=""), delimiter=separator)
    return [[plain(cell) for cell in row] for row in rows if any(cell.strip() for cell in row)], separator


def _guess(head: str, system: str) -> tuple[str, str]:
    """What a column's head says it is: (field, unit)."""
    low = " ".join(head.lower().replace("_", " ").split())
    found = next((name for word, name in WORDS if word in low), "")
    bare = re.split(r"[ (\[,]", low)[0]
    found = SHORT.get(bare, found)
    unit = next((unit for word, name, unit in UNIT_WORDS if word in low and name == (found or name)), "")
    if not found and unit:
        found = next(name for word, name, there in UNIT_WORDS if word in low and there == unit)
    return found or SKIP, unit or _usual(found, system)


def _usual(name: str, system: str) -> str:
    choices = METER_UNITS.get(name, ())
    metric = {"temperature": "C", "level": "cm", "added": "L", "mass": "g"}
    return "" if not choices else metric.get(name, choices[0]) if system == "metric" else choices[0]


def _columns(heads: Sequence[str], rows: Sequence[Sequence[str]], mapping: Mapping[str, Any] | None,
             system: str) -> list[Column]:
    found = []
    for place, head in enumerate(heads):
        samples = tuple(row[place] for row in rows[:50] if place < len(row) and row[place].strip())[:3]
        name, unit = _guess(head, system)
        chosen = (mapping or {}).get(head)
        if isinstance(chosen, str):
            name, _, unit = chosen.partition(":")
        known = name in (*FIELDS, DATE, CLOCK)
        found.append(Column(head, name if known else SKIP, unit if known else "", samples))
    # A time of day alone is the whole moment where there is no column of dates.
    if not any(one.field == DATE for one in found):
        found = [Column(one.head, "time" if one.field == CLOCK else one.field, one.unit, one.samples) for one in found]
    elif not any(one.field == CLOCK for one in found):
        found = [Column(one.head, "time" if one.field == DATE else one.field, one.unit, one.samples) for one in found]
    return found


def _decimal_commas(cells: Iterable[str]) -> tuple[bool, str]:
    """Whether commas are decimal points in these cells; and a cell that does not say, where none does."""
    grouped = ""
    for cell in cells:
        if _POINT_NUMBER.fullmatch(cell):
            return False, ""
        if _COMMA_NUMBER.fullmatch(cell):
            if not _GROUPED.fullmatch(cell):
                return True, ""
            grouped = cell.strip()
    return bool(grouped), grouped


def _order(moments: Iterable[str], system: str) -> tuple[str, str]:
    """Which number is the month in these texts; and one that does not say, where none does."""
    unclear, possible = "", set(times.ORDERS)
    for text in moments:
        try:
            written = times.read(text)
        except UnreadableQuantity:
            continue
        if written.unclear:
            unclear = unclear or text.strip()
        elif len(written.days) == 1:
            possible &= set(written.days)
    if len(possible) == 1:
        return possible.pop(), ""
    return times.order_of(system), unclear


def _question_of_dates(text: str, taken: str) -> Question:
    days = times.read(text).days
    offers = tuple((order, f"{days[order]:%B} {days[order].day}") for order in (taken, *times.ORDERS)
                   if order in days)
    return Question("order", f"{text} means", tuple(dict.fromkeys(offers)), taken)


def _said(row: int, words: str) -> str:
    return f"Row {row}: {words}"


def read(text: str, system: str = "us", answers: Mapping[str, str] | None = None,
         mapping: Mapping[str, Any] | None = None, taken: Iterable[str] = ()) -> Incoming:
    """What a file of lines holds. Never raises: what cannot be read is told.

    ``answers`` are those to the questions of an earlier reading; ``mapping`` says by column head what it is
    ("temperature:F", "date", "skip"). ``taken`` are names of entries that are there already.
    """
    found, given = Incoming(), answers or {}
    text = text.removeprefix(MARK)
    if len(text) > LONGEST:
        found.trouble = "This file is larger than any log; nothing was read from it."
        return found
    if text.startswith("PK\x03\x04"):
        found.trouble = ("This is a spreadsheet's own file: save the sheet as CSV there, and bring that in. Nothing "
                         "was read from it.")
        return found
    if "\0" in text or text.startswith("%PDF"):
        found.trouble = "This file is not a table: it holds no plain text. Nothing was read from it."
        return found
    try:
        rows, separator = _rows(text)
    except csv.Error:
        found.trouble = "This file is not a table: a cell in it is broken or too long. Nothing was read from it."
        return found
    if len(rows) < 2:
        found.trouble = "This file has no rows under a line of column names. Nothing was read from it."
        return found
    heads, rows = [head.strip() for head in rows[0]], rows[1:MOST_ROWS + 1]
    found.rows = len(rows)
    if {"kind", "at", "id"} <= set(heads) and set(heads) <= set(COLUMNS):
        found.own = True
        lines = [dict(zip(heads, row, strict=False)) for row in rows]
        _own(found, lines if separator == "," else _without_commas(found, lines, given), system, given, taken)
    else:
        found.columns = _columns(heads, rows, mapping, system)
        _foreign(found, rows, system, given, taken, set(mapping or ()))
    if len(found.told) > MOST_TOLD:
        found.told[MOST_TOLD:] = [f"and {len(found.told) - MOST_TOLD} more rows like these"]
    return found


def _ask_order(found: Incoming, moments: Iterable[str], system: str, given: Mapping[str, str]) -> str:
    order, unclear = _order(moments, system)
    if given.get("order") in times.ORDERS:
        order = given["order"]
    if unclear:
        found.questions.append(_question_of_dates(unclear, order))
    return order


def _ask_commas(found: Incoming, cells: Iterable[str], given: Mapping[str, str]) -> bool:
    commas, unclear = _decimal_commas(cells)
    if unclear:
        commas = given.get("comma", "decimal") == "decimal"
        found.questions.append(Question("comma", f"{unclear} means", (
            ("decimal", unclear.replace(",", ".")), ("thousands", unclear.replace(",", ""))),
            "decimal" if commas else "thousands"))
    return commas


def _without_commas(found: Incoming, lines: list[dict[str, str]], given: Mapping[str, str]) -> list[dict[str, str]]:
    """Our own lines as a spreadsheet of another language writes them: with decimal commas."""
    commas = _ask_commas(found, (one.get(name, "") for one in lines for name in NUMBERS), given)
    return [{name: cell.replace(",", ".") if commas and name in NUMBERS and _COMMA_NUMBER.fullmatch(cell) else cell
             for name, cell in one.items()} for one in lines]


def _own(found: Incoming, lines: Sequence[Mapping[str, str]], system: str, given: Mapping[str, str],
         taken: Iterable[str]) -> None:
    """Lines that this program wrote, perhaps through a spreadsheet that changed its dates."""
    order = _ask_order(found, (one.get("at", "") for one in lines), system, given)
    known = set(taken)
    for line, cells in enumerate(lines, 2):
        try:
            entry = entry_of(cells, known, order)
        except NotUnderstood as error:
            found.told.append(_said(line, str(error)))
            if error.newer:
                found.aside.append(dict(cells))
            continue
        known.add(entry.id)
        found.entries.append(entry)


def _names_unit(column: Column) -> bool:
    """Whether a column's head says in which unit it is."""
    low = " ".join(column.head.lower().replace("_", " ").split())
    return any(word in low for word, name, _ in UNIT_WORDS if name == column.field)


def _in_its_unit(found: Incoming, column: Column, texts: Iterable[str], given: Mapping[str, str],
                 system: str) -> Column:
    """The column in a unit that its figures can be in; asked where no bath reads so in the one that was taken."""
    figures = []
    for text in texts:
        try:
            figures.append(read_number(OF_KIND[READING][column.field], text, column.unit, system))
        except UnreadableQuantity:
            continue
    if not figures or _names_unit(column):
        return column
    low, high = LIKELY[column.field]
    kind = units.KINDS[OF_KIND[READING][column.field].kind].units
    amount = (median(figures) - kind[column.unit].offset) / kind[column.unit].factor
    fits = [unit for unit in METER_UNITS[column.field]
            if low <= amount * kind[unit].factor + kind[unit].offset <= high]
    if not fits or column.unit in fits:
        return column
    if "ppm" in column.head.lower() or "tds" in column.head.lower():
        fits.sort(key=lambda unit: not unit.startswith("ppm"))
    chosen = given.get(f"unit:{column.head}", fits[0])
    offers = tuple((unit, units.written(unit)) for unit in (*fits, column.unit))
    found.questions.append(Question(f"unit:{column.head}", f"{column.head}, about {number(amount, 3)}, is in", offers,
                                    chosen))
    return replace(column, unit=chosen if chosen in dict(offers) else fits[0])


def _foreign(found: Incoming, rows: Sequence[Sequence[str]], system: str, given: Mapping[str, str],
             taken: Iterable[str], mapped: Collection[str] = ()) -> None:
    """Lines of a logger or of a sheet kept by hand: readings alone. ``mapped`` are heads whose unit was chosen."""
    places: dict[str, list[int]] = {}
    for place, column in enumerate(found.columns):
        if column.field != SKIP:
            places.setdefault(column.field, []).append(place)
    if not ("time" in places or DATE in places):
        found.trouble = "No column of this file is a date and time. Say which one is, and it can be read."
        return

    def cell(row: Sequence[str], place: int) -> str:
        return row[place] if place < len(row) else ""

    def moment(row: Sequence[str]) -> str:
        return " ".join(filter(None, (cell(row, place).strip() for name in ("time", DATE, CLOCK)
                                      for place in places.get(name, ()))))
    numbers = [(place, column) for place, column in enumerate(found.columns)
               if column.field in FIELDS and column.field not in ("time", "remark")]
    order = _ask_order(found, map(moment, rows), system, given)
    commas = _ask_commas(found, (cell(row, place) for row in rows for place, _ in numbers), given)

    def figure(text: str) -> str:
        return text.replace(",", "." if commas else "") if _COMMA_NUMBER.fullmatch(text) else text
    for nth, (place, column) in enumerate(numbers):
        if column.field in ("temperature", "ec") and column.head not in mapped:
            numbers[nth] = place, _in_its_unit(found, column, (figure(cell(row, place).strip()) for row in rows), given,
                                              system)
            found.columns[place] = numbers[nth][1]
    zones: set[str] = set()
    known = set(taken)
    for line, row in enumerate(rows, 2):
        typed, taken_units = {}, {}
        if any(one.strip() for one in row[len(found.columns):]):
            found.told.append(_said(line, "it has more cells than the line of names, perhaps by a comma within a "
                                    "number. The row is left out."))
            continue
        for place, column in numbers:
            text = figure(cell(row, place).strip())
            if text.lower() in NONE:
                continue
            one = OF_KIND[READING][column.field]
            try:
                read_number(one, text, column.unit, system)
            except UnreadableQuantity:
                found.told.append(_said(line, f"“{text[:40]}” is no {one.label}. It comes in as not measured."))
                continue
            typed[column.field] = text
            if column.unit:
                taken_units[column.field] = column.unit
        remarks = [cell(row, place).strip() for place in places.get("remark", ())]
        if any(remarks):
            typed["remark"] = "; ".join(filter(None, remarks))
        if not typed:
            found.told.append(_said(line, "it holds no value that is read here."))
            continue
        at = moment(row)
        try:
            written = times.read(at)
            entry = from_json({"at": at, "typed": {"time": at, **typed}, "units": taken_units}, known, order)
        except (UnreadableQuantity, NotUnderstood):
            found.told.append(_said(line, f"“{at[:40]}” is no date and time. The row is left out."))
            continue
        zones.add(written.zone)
        entry = _named(entry, known)
        known.add(entry.id)
        found.entries.append(entry)
    if zones - {""}:
        found.told.append(f"Times in this file carry a zone ({', '.join(sorted(zones - {''}))}). They are kept as "
                          "written, without moving the clock.")


def _named(entry: Entry, known: Iterable[str]) -> Entry:
    return Entry(new_id(entry.at, entry.kind, known), entry.kind, entry.at, entry.typed, entry.units)
