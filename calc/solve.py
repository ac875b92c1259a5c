"""Plan to design: runs every topic's steps in the trade's natural order; what a fault does not touch still answers."""

from __future__ import annotations

from . import moments, units
from .declare import Result
from .errors import OutOfRange, Unanswered
from .plan import FIELDS, MADE_WITH, Plan, find_column
from .sheet import LEVELS, Answer, Caution, Record, Sheet, show_value
from .topics import TOPICS

SPECS: dict[str, Result] = {spec.key: spec for topic in TOPICS for spec in topic.RESULTS}
RESULT_TOPIC: dict[str, str] = {spec.key: topic.NAME for topic in TOPICS for spec in topic.RESULTS}


class Design:
    """A solved plan. ``answers`` by result key; ``faults`` by input key; ``waiting`` by topic: inputs it lacks.

    ``cautions`` are the warnings, the gravest first; ``limits`` says by topic what lies outside a relation's range.

    >>> from calc import Plan, solve
    >>> design = solve(Plan.from_mapping({"bath.length": "5 gal"}))
    >>> design.faults
    {'bath.length': 'Bath length is a volume in “gal”; give a length, like 48 in, 4 ft or 120 cm.'}
    >>> design.value("water.bath_volume") is None and "bath.length" in design.waiting["water"]
    True
    """

    def __init__(self, plan: Plan, sheet: Sheet, waiting: dict[str, set[str]], limits: dict[str, list[str]]):
        self.plan = plan
        self.system = plan.system
        self.answers: dict[str, Answer] = sheet.answers
        self.faults: dict[str, str] = sheet.faults
        self.cautions: list[Caution] = sorted(sheet.cautions, key=lambda one: LEVELS.index(one.level))
        self.waiting = waiting
        self.limits = limits
        self._seen: dict[tuple[str, str], object] | None = None

    def tracing(self, action) -> tuple[object, dict[tuple[str, str], object]]:
        """What ``action`` gives for this design, and all that it looked at: ``same`` tells whether it still holds."""
        self._seen = {}
        try:
            return action(self), self._seen
        finally:
            self._seen = None

    def same(self, seen: dict[tuple[str, str], object]) -> bool:
        """Whether all that was looked at is still so."""
        return all(self._look(*where) == found for where, found in seen.items())

    def _look(self, how: str, key: str):
        if how == "rows":
            return self.plan.rows.get(key, [])
        if key in self.answers:
            return self.answers[key].value
        return None if key in self.faults else self.plan.values.get(key)

    def _read(self, how: str, key: str):
        found = self._look(how, key)
        if self._seen is not None:
            self._seen[how, key] = found
        return found

    def value(self, key: str):
        """The value of a result or an input, or ``None``."""
        return self._read("value", key)

    def rows(self, key: str) -> list[dict]:
        """The rows of a table that was typed."""
        return self._read("rows", key)

    def show(self, value, kind: str, us: str = "", metric: str = "", fraction: int = 0) -> str:
        """A value as text in the reader's units."""
        return units.show(value, kind, self.system, us=us, metric=metric, fraction=fraction)

    def shown(self, key: str) -> str:
        """A result as the reader sees it, or an empty text."""
        answer = self.answers.get(key)
        if self._read("value", key) is None or answer is None:
            return ""
        return show_value(answer.value, answer.spec, self.system)


class Memory:
    """What each step came to the last time, so that an answer typed runs only the steps that it touches."""

    def __init__(self):
        self.records: dict[object, Record] = {}


def solve(plan: Plan, memory: Memory | None = None) -> Design:
    """Work out all that the plan allows. Never raises on account of what was typed.

    With a ``memory`` a step whose readings are as they were is not run again; the design is the same either way.

    >>> from calc import Plan, solve
    >>> design = solve(Plan.from_mapping({"bath.length": "48 in", "bath.width": "2 ft", "bath.water_depth": "10 in"}))
    >>> design.shown("water.bath_volume")
    '49.9 gal'
    >>> round(design.value("water.bath_volume"), 4)  # in the base unit, m3
    0.1888
    >>> design.answers["water.bath_volume"].relation.name
    'geometry.box_volume'
    """
    sheet = Sheet(plan, SPECS)
    records = memory.records if memory is not None else {}
    waiting: dict[str, set[str]] = {}
    limits: dict[str, list[str]] = {}
    for topic in TOPICS:
        if not plan.meets(getattr(topic, "WHEN", ())):
            continue
        sheet.topic = topic.NAME
        for step in topic.STEPS:
            record = records.get(step)
            if record is not None and sheet.holds(record):
                sheet.replay(record)
            else:
                record = records[step] = _run(step, sheet)
            if record.lacks:
                waiting.setdefault(topic.NAME, set()).update(record.lacks)
            if record.limit:
                limits.setdefault(topic.NAME, []).append(record.limit)
    return Design(plan, sheet, waiting, limits)


def _run(step, sheet: Sheet) -> Record:
    record = sheet.begin()
    try:
        step(sheet)
    except Unanswered as lack:
        record.lacks = tuple(lack.keys)
    except OutOfRange as limit:
        record.limit = str(limit)
    except (OverflowError, ZeroDivisionError):
        # Sizes far outside the trade; bounds stop most of them, and the reader is told of the rest.
        record.limit = "These sizes are outside what can be worked out."
    return record


def as_json(design: Design) -> dict:
    """The design as plain data: the contract of the command line."""
    results = {}
    for key, answer in design.answers.items():
        kind = answer.spec.kind
        value = answer.value
        unit = ""
        if kind == "date":
            value = moments.show_date(value)
        if kind in units.KINDS and value is not None and kind != "whole":
            unit = units.KINDS[kind].script
            value = units.convert(value, kind, unit)
        relation = answer.relation
        results[key] = {
            "value": value, "unit": unit, "text": design.shown(key), "label": answer.spec.label,
            "relation": relation.name if relation else "",
            "source": relation.source if relation else answer.source,
            "status": relation.status if relation else "",
            "inputs": answer.inputs, "note": answer.note,
        }
    return {
        "made_with": MADE_WITH,
        "plan": design.plan.text,
        "results": results,
        "faults": [{"field": key, "typed": design.plan.text.get(key, ""), "message": text}
                   for key, text in design.faults.items()],
        "cautions": [{"code": one.code, "level": one.level, "topic": one.topic, "text": one.text}
                     for one in design.cautions],
        "limits": [text for texts in design.limits.values() for text in texts],
        "waiting": {topic: sorted(keys) for topic, keys in design.waiting.items()},
    }


def label_of(key: str) -> str:
    """The reader's name of an input or result key."""
    if key in FIELDS:
        return FIELDS[key].label
    cell = find_column(key)
    if cell is not None:
        table, row, column = cell
        return f"{table.label}, row {row}: {column.label}"
    return SPECS[key].label if key in SPECS else key
