"""A plan is what somebody typed, kept as typed; reading it gives values, and a sentence for each fault."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import lru_cache
from typing import Any

from . import __version__, moments, units
from .data.versions import RENAMED
from .declare import Choice, Field, Row, Table, Value, When, holds
from .errors import UnreadableQuantity
from .topics import TOPICS

# What plan files and answers say they were made with.
MADE_WITH = f"Raftwright {__version__}"
LONGEST_TEXT = 300
# What is longer than this is no answer that somebody typed, and is not carried along.
LONGEST_KEPT = 2000
MOST_KEYS = 2000
YES, NO = ("yes", "y", "true", "on", "1"), ("no", "n", "false", "off", "0")
MOMENTS: dict[str, Callable[[str, str], Value]] = {"date": moments.read_date, "clock": moments.read_clock}

UNITS = Field(
    "units", "choice", "Units", default=("us", "us"),
    choices=(Choice("us", "US units"), Choice("metric", "Metric")),
    help="for bare numbers; you can always type another unit after one",
)

FIELDS: dict[str, Field] = {UNITS.key: UNITS}
TABLES: dict[str, Table] = {}
TOPIC_OF: dict[str, str] = {}
for _topic in TOPICS:
    for _field in _topic.FIELDS:
        FIELDS[_field.key] = _field
        TOPIC_OF[_field.key] = _topic.NAME
    for _table in _topic.TABLES:
        TABLES[_table.key] = _table
        TOPIC_OF[_table.key] = _topic.NAME


def _in_reading_order() -> tuple[Field, ...]:
    """The questions, each after those that decide whether it is asked at all."""
    found: dict[str, Field] = {}

    def take(field: Field) -> None:
        if field.key not in found:
            for key, _ in field.when:
                take(FIELDS[key])
            found[field.key] = field
    for field in FIELDS.values():
        take(field)
    return tuple(found.values())


READING_ORDER = _in_reading_order()


def _hang_on() -> dict[str, frozenset[str]]:
    """By question: the questions and tables that are read otherwise when its answer is another one, and so on."""
    direct: dict[str, set[str]] = {}
    parts: tuple[Field | Table, ...] = (*FIELDS.values(), *TABLES.values())
    for part in parts:
        for key in (*(key for key, _ in part.when), *(part.follows if isinstance(part, Field) else ())):
            direct.setdefault(key, set()).add(part.key)
    found = {}
    for key in direct:
        reached, coming = set(direct[key]), list(direct[key])
        for one in coming:
            coming += direct.get(one, set()) - reached
            reached |= direct.get(one, set())
        found[key] = frozenset(reached)
    return found


HANG_ON = _hang_on()
_PLACES: dict[str, int] = {key: place for place, key in enumerate([*(field.key for field in READING_ORDER), *TABLES])}


def _reading_place(key: str) -> tuple[int, int, int]:
    """Where a field or a cell comes when a plan is read."""
    cell = find_column(key)
    if cell is None:
        return _PLACES[key], 0, 0
    table, row, column = cell
    return _PLACES[table.key], row, table.columns.index(column)


def system_index(system: str) -> int:
    """Position of a system's text in a field's pair of defaults."""
    return 1 if system == "metric" else 0


def default_text(field: Field, system: str) -> str:
    """What an untouched field says in this system of units."""
    return field.default[system_index(system)]


def table_default(table: Table, row: int, column: Field, system: str) -> str:
    """What an untouched cell says; rows are counted from 1, and rows past the defaults are empty."""
    if row > len(table.rows):
        return ""
    cell = table.rows[row - 1].get(column.key, "")
    return cell if isinstance(cell, str) else cell[system_index(system)]


@lru_cache(maxsize=4096)
def _quantity(text: str, kind: str, system: str, unit: str) -> float:
    return units.parse(text, kind, system, unit)


# From here on a range is so wide that its other end says nothing to a reader.
WIDE = 100.0
# Kinds whose nothing is nothing: 0 C is a temperature like any other.
WITHOUT_NOTHING = ("temperature", "number")


def bounds_sentence(field: Field, system: str, value: float | None = None) -> str:
    """Say in the reader's units which values a field allows; for a ``value`` only what keeps that one out."""
    def say(bound: float, up: bool) -> str:
        return units.show_bound(bound, field.kind, system, field.us, field.metric, up)
    low, high = field.minimum, field.maximum
    if high is None and low is not None:
        return f"{say(low, True)} or more"
    if low is None and high is not None:
        return f"{say(high, False)} or less"
    assert low is not None and high is not None
    wide = low <= 0.0 or high / low >= WIDE
    if value is None or not wide or field.kind in WITHOUT_NOTHING:
        return f"between {say(low, True)} and {say(high, False)}"
    if value > high:
        return f"{say(high, False)} or less"
    if low > 0.0 >= value and field.kind != "whole":
        return "more than 0"
    return f"{say(low, True)} or more"


def read_cell(field: Field, text: str, system: str) -> Value:
    """Value of one answer; ``None`` when it may be and is empty.

    Raises UnreadableQuantity with a whole sentence that names the field and what is allowed.
    """
    text = text.strip()
    if len(text) > LONGEST_TEXT:
        raise UnreadableQuantity(f"{field.label}: shorten this to {LONGEST_TEXT} characters or fewer.")
    if not text:
        if field.optional:
            return None
        raise UnreadableQuantity(f"{field.label} is empty: enter {example(field, system)}.")
    if field.kind in ("choice", "yesno"):
        return _read_choice(field, text)
    if field.kind == "text":
        if any(ord(letter) < 32 for letter in text):
            raise UnreadableQuantity(f"{field.label} has a character that cannot be shown; type plain text.")
        return text
    unit = field.metric if system == "metric" else field.us
    try:
        if field.kind in MOMENTS:
            return MOMENTS[field.kind](text, system)
        value = _quantity(text, field.kind, system, unit)
    except UnreadableQuantity as error:
        raise UnreadableQuantity(f"{field.label} {error}".rstrip(".") + ".") from None
    low, high = field.minimum, field.maximum
    # A bound typed in another unit may differ in the last bit, and is still that bound.
    slack = 1e-9 * max(abs(low or 0.0), abs(high or 0.0), 1e-9)
    if (low is not None and value < low - slack) or (high is not None and value > high + slack):
        raise UnreadableQuantity(f"{field.label} must be {bounds_sentence(field, system, value)}."
                                 f"{_other_scale(field, text, system)}")
    return int(value) if field.kind == "whole" else value


def _other_scale(field: Field, text: str, system: str) -> str:
    """What to type where a temperature without a scale would be allowed on the other one; nothing elsewhere."""
    if field.kind != "temperature" or units.named(text, field.kind):
        return ""
    other, name = ("F", "Fahrenheit") if system == "metric" else ("C", "Celsius")
    value = _quantity(text, field.kind, system, other)
    assert field.minimum is not None and field.maximum is not None
    if not field.minimum <= value <= field.maximum:
        return ""
    return (f" If you mean {name}, type "
            f"{units.show(value, field.kind, system, other, other).replace('°', '')}.")


def example(field: Field, system: str) -> str:
    """An answer the reader could type, for messages."""
    if field.kind == "choice":
        return "one of: " + ", ".join(choice.label for choice in field.choices if not choice.retired)
    text = default_text(field, system)
    return f"a value, like {text}" if text else "a value"


def _read_choice(field: Field, text: str) -> Value:
    if field.kind == "yesno":
        if text.lower() in YES or text.lower() in NO:
            return text.lower() in YES
        raise UnreadableQuantity(f"{field.label} must be yes or no.")
    for choice in field.choices:
        if text.lower() in (choice.value.lower(), choice.label.lower()):
            return choice.value
    raise UnreadableQuantity(
        f"{field.label} must be one of: " + ", ".join(
            choice.value for choice in field.choices if choice.value and not choice.retired) + ".")


class Plan:
    """The text as typed, with the values read from it.

    ``text`` keeps every key and string given. Beside the answers, ``values`` has for a price per kWh the currency that
    was written with it (``.sign``) and whether it was confirmed (``.sure``); a row has the like for a price
    (``price_sign``). ``values`` holds what could be read (``None`` for an answer left open);
    ``faults`` maps a key to the sentence for the reader. Nothing raises.

    >>> from calc import Plan
    >>> plan = Plan.from_mapping({"units": "metric", "bath.length": "4 ft", "bath.width": 60})
    >>> plan.text
    {'units': 'metric', 'bath.length': '4 ft', 'bath.width': '60'}
    >>> plan.values["bath.length"], plan.values["bath.width"]  # in the base unit, m
    (1.2192, 0.6)
    >>> Plan.from_mapping({"bath.width": "-1 ft"}).faults["bath.width"]
    'Bath width must be more than 0.'
    """

    def __init__(self, text: dict[str, str], before: Plan | None = None):
        """Read all answers; with the plan ``before``, only those that it does not have read already."""
        self.text = text
        self.faults: dict[str, str] = {}
        self.values: dict[str, Value] = {}
        self.rows: dict[str, list[Row]] = {}
        self.system = "us"
        anew = None if before is None else _read_otherwise(before.text, text)
        if before is None or anew is None:
            self._read_all()
        else:
            self._read_again(before, anew)
        # What was found in reading, apart from what a mapping's form brings.
        self._found = dict(self.faults)

    def _read_all(self) -> None:
        self.system = str(self._read_field(UNITS) or "us")
        for field in READING_ORDER:
            if field is not UNITS and self.asked(field):
                self._read_field(field)
        for key, table in TABLES.items():
            if self.asked(table):
                self.rows[key] = self._read_table(table)

    def _read_again(self, before: Plan, anew: frozenset[str]) -> None:
        """Take over what stays, and read the questions and tables of ``anew``, each after those that decide on it."""
        self.system = before.system
        self.values, self.rows = dict(before.values), dict(before.rows)
        self.faults = {key: told for key, told in before._found.items()
                       if key not in anew and not any(key.startswith(f"{name}.") for name in anew if name in TABLES)}
        for key in sorted(anew, key=_PLACES.__getitem__):
            part = TABLES.get(key) or FIELDS[key]
            asked = self.asked(part)
            if isinstance(part, Table):
                self.rows.pop(key, None)
                if asked:
                    self.rows[key] = self._read_table(part)
            else:
                for name in (key, f"{key}.sign", f"{key}.sure"):
                    self.values.pop(name, None)
                if asked:
                    self._read_field(part)
        if len(self.faults) > 1:
            self.faults = {key: self.faults[key] for key in sorted(self.faults, key=_reading_place)}

    @classmethod
    def from_mapping(cls, given: object, before: Plan | None = None) -> Plan:
        """Read a mapping such as a JSON file holds: strings, numbers, yes/no, or a list of rows for a table.

        With the plan ``before``, what is typed as it was there is not read again; the plan is the same either way.
        """
        if not isinstance(given, dict):
            plan = cls({})
            plan.faults["plan"] = "A plan is a list of names and answers; this file holds something else."
            return plan
        text, faults = flatten(given)
        plan = cls(text, before)
        plan.faults.update(faults)
        return plan

    def asked(self, field: Field | Table) -> bool:
        """Whether this question applies, given the choices made."""
        return self.meets(field.when)

    def meets(self, when: When) -> bool:
        """Whether the answers given are those that a condition names."""
        return all(holds(allowed, self.values.get(key)) for key, allowed in when)

    def own(self, key: str) -> bool:
        """Whether the reader gave this answer, or any cell of this table, rather than leaving the default."""
        if key in FIELDS:
            return key in self.text and self.text[key].strip() != default_text(FIELDS[key], self.system)
        return any(other == key or other.startswith(f"{key}.") for other in self.text)

    def typed(self, key: str, default: str) -> str:
        """The text of one answer, or the default's where nothing was typed."""
        return self.text.get(key, default)

    def default_of(self, field: Field) -> str:
        """What this field says while nothing is typed into it, given what else was typed."""
        for key in field.follows:
            typed = self.text.get(key)
            if typed is not None and typed.strip() != default_text(FIELDS[key], self.system):
                return ""
        return default_text(field, self.system)

    def _read_field(self, field: Field) -> Value:
        try:
            value = read_cell(field, self.typed(field.key, self.default_of(field)), self.system)
        except UnreadableQuantity as error:
            self.faults[field.key] = str(error)
            return None
        self.values[field.key] = value
        if field.kind == "tariff":
            written = units.beside(self.typed(field.key, self.default_of(field)))
            self.values[f"{field.key}.sign"], self.values[f"{field.key}.sure"] = written.sign, written.sure
        return value

    def row_numbers(self, table: Table) -> list[int]:
        """Rows that the plan has: the default ones and those typed."""
        prefix = table.key + "."
        numbers = set(range(1, len(table.rows) + 1))
        for key in self.text:
            if key.startswith(prefix):
                number = key[len(prefix):].split(".")[0]
                if number.isascii() and number.isdigit() and len(number) < 6 and 1 <= int(number) <= table.max_rows:
                    numbers.add(int(number))
        return sorted(numbers)

    def _read_table(self, table: Table) -> list[Row]:
        found = []
        for number in self.row_numbers(table):
            cells = {column.key: self.typed(f"{table.key}.{number}.{column.key}",
                                            table_default(table, number, column, self.system))
                     for column in table.columns}
            if not cells[table.identity].strip():
                continue
            # A row that nobody touched is the example that the page came with.
            row: Row = {"example": number <= len(table.rows) and not any(
                cells[column.key].strip() != table_default(table, number, column, self.system).strip()
                for column in table.columns)}
            for column in table.columns:
                key = f"{table.key}.{number}.{column.key}"
                if column.kind == "money":
                    row[f"{column.key}_sign"] = units.beside(cells[column.key]).sign
                try:
                    row[column.key] = read_cell(column, cells[column.key], self.system)
                except UnreadableQuantity as error:
                    self.faults[key] = f"Row {number}: {error}"
            found.append(row)
        return found

    def lasting(self) -> dict[str, str]:
        """The text as typed without what is true of one day only: all that may be kept or handed on."""
        return lasting(self.text)

    def changed(self) -> dict[str, str]:
        """What lasts and differs from the defaults: all that a link has to carry."""
        kept = {}
        for key, text in self.lasting().items():
            if key in FIELDS:
                if text.strip() == self.default_of(FIELDS[key]):
                    continue
            else:
                column = find_column(key)
                if column and text.strip() == table_default(column[0], column[1], column[2], self.system):
                    continue
            kept[key] = text
        return kept


def _read_otherwise(before: dict[str, str], now: dict[str, str]) -> frozenset[str] | None:
    """The questions and tables to be read again for these texts; ``None`` for all of them."""
    found: set[str] = set()
    for key in before.keys() | now.keys():
        if before.get(key) == now.get(key):
            continue
        if key == UNITS.key:
            return None
        names = [key] if key in FIELDS else [name for name in TABLES if key.startswith(f"{name}.")]
        for name in names:
            found |= {name} | HANG_ON.get(name, frozenset())
    return frozenset(found)


def is_transient(key: str) -> bool:
    """Whether an answer is of one day only, and so in no link, file or saved plan."""
    return key in FIELDS and FIELDS[key].transient


def lasting(text: dict[str, str]) -> dict[str, str]:
    """Plan text without the answers of one day; the one place that leaves them out."""
    return {key: typed for key, typed in text.items() if not is_transient(key)}


def renamed(key: str) -> str:
    """Today's key for one that a plan may have been written with: of a field, a table, or a table's cell."""
    if key in RENAMED or not RENAMED:
        return RENAMED.get(key, key)
    table, dot, cell = key.rpartition(".")
    table, second, row = table.rpartition(".")
    return f"{RENAMED[table]}{second}{row}{dot}{cell}" if table in RENAMED else key


@lru_cache(maxsize=4096)
def find_column(key: str) -> tuple[Table, int, Field] | None:
    """The table, row number and column of a cell's key, or ``None``."""
    for table in TABLES.values():
        if key.startswith(table.key + "."):
            parts = key[len(table.key) + 1:].split(".")
            if len(parts) == 2 and parts[0].isascii() and parts[0].isdigit() and len(parts[0]) < 6:
                for column in table.columns:
                    if column.key == parts[1] and 1 <= int(parts[0]) <= table.max_rows:
                        return table, int(parts[0]), column
    return None


def flatten(given: dict[Any, Any]) -> tuple[dict[str, str], dict[str, str]]:
    """Turn a mapping into plan text, and a sentence for each thing that is no answer."""
    text: dict[str, str] = {}
    faults: dict[str, str] = {}
    for key, value in list(given.items())[:MOST_KEYS]:
        key = whole_characters(str(key))
        place = FIELDS[key].in_table if key in FIELDS else None
        if place and isinstance(value, (list, tuple, dict)):
            table, choice = place
            text[key] = choice
            _flatten_rows(TABLES[table], _as_rows(TABLES[table], value), text, faults)
        elif key in TABLES and isinstance(value, (list, tuple)):
            _flatten_rows(TABLES[key], value, text, faults)
        else:
            _keep(key, value, text, faults)
        if key not in FIELDS and key not in TABLES and find_column(key) is None:
            faults[key[:80]] = f"{key[:40]} is not a question that this version asks; it was left aside."
    if len(given) > MOST_KEYS:
        faults["plan"] = f"The plan has more than {MOST_KEYS} answers; the rest was left aside."
    return text, faults


def whole_characters(text: str) -> str:
    """The text with a mark in place of every half of a character (a lone surrogate), which nothing can carry on."""
    return text if text.isascii() else text.encode("utf-16", "surrogatepass").decode("utf-16", "replace")


def _keep(key: str, value: object, text: dict[str, str], faults: dict[str, str]) -> bool:
    """Take one answer as typed; what is none is told and left out."""
    name = _name_of(key)
    if isinstance(value, bool):
        text[key] = "yes" if value else "no"
    elif not isinstance(value, (str, int, float)):
        faults[key[:80]] = f"{name} holds a list or a group where one answer belongs; it was left out."
        return False
    elif len(str(value)) > LONGEST_KEPT:
        faults[key[:80]] = f"{name} is {len(str(value)):,} characters long, more than any answer; it was left out."
        return False
    else:
        text[key] = whole_characters(str(value))
        if text[key] != str(value):
            faults[key[:80]] = f"{name} has half a character in it, shown as �; type it anew."
    return True


def _name_of(key: str) -> str:
    """What the reader knows an answer by."""
    cell = find_column(key)
    if cell:
        return f"{cell[0].label}, row {cell[1]}: {cell[2].label}"
    return FIELDS[key].label if key in FIELDS else key[:40]


def _as_rows(table: Table, given: Sequence[object] | dict[Any, Any]) -> Sequence[object]:
    """Rows as given; a mapping of name to amount becomes rows of the table's first two columns."""
    if not isinstance(given, dict):
        return given
    name, amount = (column.key for column in table.columns[:2])
    return [{name: key, amount: value} for key, value in given.items()]


def _flatten_rows(table: Table, rows: Sequence[object], text: dict[str, str], faults: dict[str, str]) -> None:
    if len(rows) > table.max_rows:
        faults[table.key] = f"{table.label} takes {table.max_rows} rows at most; the rest was left aside."
    rows = list(rows)[: table.max_rows]
    for number in range(1, max(len(rows), len(table.rows)) + 1):
        row = rows[number - 1] if number <= len(rows) else {}
        if isinstance(row, str):
            # A bare name says enough where the other columns may stay empty.
            row = {table.identity: row}
        if not isinstance(row, dict):
            faults[table.key] = f"{table.label}: each row is a group of named cells."
            row = {}
        for column in table.columns:
            value = row.get(column.key, "")
            key = f"{table.key}.{number}.{column.key}"
            if not _keep(key, "" if value is None else value, text, faults):
                text[key] = ""
        if row and not str(row.get(table.identity, "")).strip():
            text[f"{table.key}.{number}.{table.identity}"] = f"row {number}"
