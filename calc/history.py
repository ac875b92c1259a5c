"""Plans made before keep their meaning: reads a plan of any version as one of today."""

from __future__ import annotations

import json
from functools import cache
from typing import Any

from .data.versions import MEANT, VERSION
from .declare import Field, Table
from .errors import UnreadableQuantity
from .plan import (
    FIELDS,
    TABLES,
    UNITS,
    Plan,
    default_text,
    find_column,
    read_cell,
    renamed,
    system_index,
    table_default,
)

MOST_SENTENCES = 6
Defaults = dict[str, tuple[str, str]]


def _cells(table: Table) -> list[tuple[int, Field]]:
    return [(row, column) for row in range(1, len(table.rows) + 1) for column in table.columns]


def todays_defaults() -> Defaults:
    """Every answer that today's links leave out, as (US, metric) text, cells of tables among them."""
    found = {key: field.default for key, field in FIELDS.items()}
    for key, table in TABLES.items():
        for row, column in _cells(table):
            found[f"{key}.{row}.{column.key}"] = (table_default(table, row, column, "us"),
                                                  table_default(table, row, column, "metric"))
    return found


def frozen_module(version: int) -> str:
    """The text of a module that keeps today's defaults for ever as those of a version."""
    def quoted(text: str) -> str:
        return json.dumps(text, ensure_ascii=False)
    lines = [f'"""What version {version} of a plan meant by each answer left out, as (US, metric). Frozen: no line '
             'of it is ever edited."""', "", "DEFAULTS: dict[str, tuple[str, str]] = {"]
    lines += [f"    {quoted(key)}: ({', '.join(map(quoted, texts))})," for key, texts in todays_defaults().items()]
    lines += ["}", "", "# The columns of each table.", "COLUMNS: dict[str, str] = {"]
    lines += [f"    {quoted(key)}: {quoted(' '.join(column.key for column in table.columns))},"
              for key, table in TABLES.items()]
    return "\n".join([*lines, "}"]) + "\n"


@cache
def frozen(version: int) -> tuple[Defaults, dict[str, tuple[str, ...]]]:
    """What a plan of an earlier version meant by the answers it left out, and its tables' columns; by today's keys."""
    from .data import version_1
    module = {1: version_1}[version]
    defaults = {renamed(key): texts for key, texts in module.DEFAULTS.items()}
    return {**defaults, **MEANT.get(version, {})}, {
        renamed(key): tuple(names.split()) for key, names in module.COLUMNS.items()}


def default_now(key: str, system: str) -> str | None:
    """What today's plan means by leaving an answer out; ``None`` for a key that nothing asks."""
    if key in FIELDS:
        return default_text(FIELDS[key], system)
    cell = find_column(key)
    return table_default(*cell, system) if cell else None


def _system(given: dict[str, Any]) -> str:
    try:
        return str(read_cell(UNITS, str(given.get(UNITS.key, UNITS.default[0])), "us"))
    except UnreadableQuantity:
        return "us"


def _filled(given: dict[str, Any]) -> tuple[str, ...]:
    """Tables that a list of rows fills as a whole, so that no default row is left: the beginnings of their cells."""
    lists = [key for key, value in given.items() if isinstance(value, (list, tuple, dict))]
    tables = [key for key in lists if key in TABLES]
    tables += [field.in_table[0] for key in lists if (field := FIELDS.get(key)) is not None and field.in_table]
    return tuple(f"{key}." for key in tables)


def _with_new_names(given: dict[str, Any]) -> dict[str, Any]:
    """The same answers by today's keys; where old and new name are both there, the new one counts."""
    found = {str(key): value for key, value in given.items() if renamed(str(key)) == str(key)}
    for key, value in given.items():
        found.setdefault(renamed(str(key)), value)
    return found


def as_today(given: dict[str, Any], version: int) -> dict[str, Any]:
    """A plan of some version as one of today: what it left out is written down where today's default is another.

    ``given`` is plan text, or a mapping as ``Plan.from_mapping`` takes it. A plan of today's version or a later one
    comes back with new names for old keys and nothing else changed.
    """
    plan = _with_new_names(given)
    if version >= VERSION:
        return plan
    system, filled = _system(plan), _filled(plan)
    before, columns = frozen(version)
    then = {key: texts[system_index(system)] for key, texts in before.items()}
    for key, names in columns.items():
        # In a default row that came later, the version before had nothing.
        table = TABLES.get(key)
        for row, column in _cells(table) if table else ():
            if column.key in names:
                then.setdefault(f"{key}.{row}.{column.key}", "")
    for key, text in then.items():
        now = default_now(key, system)
        if now is not None and now != text and not key.startswith(filled):
            plan.setdefault(key, text)
    return plan


def version_of(given: object) -> tuple[int, list[str]]:
    """The version that a plan declares and a sentence where it is not one of ours; without one it is today's."""
    if given is None:
        return VERSION, []
    text = str(int(given)) if isinstance(given, float) and given.is_integer() else str(given)
    if isinstance(given, bool) or not (text.isascii() and text.isdigit()) or not text.strip("0"):
        return VERSION, ["The version of this plan cannot be read; it was read as one of today."]
    if len(text) > 6 or int(text) > VERSION:
        return int(text[:6]), ["This plan was made by a newer version of this page. What is understood here was read; "
                               "some answers may be missing."]
    return int(text), []


def is_newer(given: dict[str, Any]) -> bool:
    """Whether a file's JSON holds a plan of a version after today's, which may say more than is understood here."""
    return isinstance(given.get("plan"), dict) and version_of(given.get("version"))[0] > VERSION


def read_document(given: dict[str, Any]) -> tuple[dict[str, Any], list[str]]:
    """What a file's JSON holds: the answers as of today, and sentences for the reader.

    A bare list of answers, as scripts write it, means what it says today; ``{"plan": ..., "version": 1}`` is a plan
    of that version.
    """
    if not isinstance(given.get("plan"), dict):
        return as_today(given, VERSION), []
    version, notes = version_of(given.get("version"))
    return as_today(given["plan"], version), notes


def first_of(sentences: list[str]) -> list[str]:
    """The first few of many sentences, and how many more there are: none is dropped in silence."""
    more = len(sentences) - MOST_SENTENCES
    if more <= 0:
        return sentences
    return [*sentences[:MOST_SENTENCES], f"And {more} more like {'this' if more == 1 else 'these'}."]


def plan_of(given: object) -> tuple[Plan, list[str]]:
    """The plan in what a script or a file holds, of whatever version, and sentences for the reader."""
    if not isinstance(given, dict):
        return Plan.from_mapping(given), []
    answers, notes = read_document(given)
    return Plan.from_mapping(answers), notes


if __name__ == "__main__":
    print(frozen_module(VERSION), end="")
