"""The page a topic writes on while it is solved: answers in, results, cautions and cross-field faults out."""

from __future__ import annotations

from dataclasses import dataclass, field

from . import moments, units
from .declare import Result
from .errors import Unanswered
from .plan import Plan


@dataclass(frozen=True)
class Answer:
    """One result with its working: what it is, which relation made it, and from which numbers."""

    spec: Result
    value: object
    relation: object = None
    inputs: dict = field(default_factory=dict)
    note: str = ""
    source: str = ""


@dataclass(frozen=True)
class Caution:
    """A warning that belongs to what was planned; ``level`` is danger, warning or note."""

    code: str
    level: str
    text: str
    topic: str


LEVELS = ("danger", "warning", "note")
ABSENT = "not there"


def show_value(value, spec: Result, system: str) -> str:
    """One result's value as text, in the unit its declaration names."""
    if spec.kind == "rows":
        return f"{len(value):,}"
    if spec.kind == "text":
        return str(value)
    if spec.kind in ("count", "whole"):
        return f"{value:,.0f}"
    if spec.kind == "yesno":
        return "yes" if value else "no"
    if spec.kind == "date":
        return moments.show_date(value)
    if spec.kind == "clock":
        return moments.show_clock(value, system)
    return units.show(value, spec.kind, system, us=spec.us, metric=spec.metric, fraction=spec.fraction)


@dataclass
class Record:
    """What one step read and what came of it; it holds again as long as every reading would be the same."""

    system: str
    reads: dict[tuple[str, str], object] = field(default_factory=dict)
    answers: dict[str, Answer] = field(default_factory=dict)
    cautions: list[Caution] = field(default_factory=list)
    faults: dict[str, str] = field(default_factory=dict)
    lacks: tuple[str, ...] = ()
    limit: str = ""


class Sheet:
    """What the steps of a topic read from and write to; see ``calc.solve`` for the order they run in."""

    def __init__(self, plan: Plan, specs: dict[str, Result]):
        self.plan = plan
        self.system = plan.system
        self.faults = dict(plan.faults)
        self.answers: dict[str, Answer] = {}
        self.cautions: list[Caution] = []
        self.topic = ""
        self._specs = specs
        self._record: Record | None = None

    def __getitem__(self, key: str):
        value = self.optional(key)
        if value is None:
            raise Unanswered(key)
        return value

    def begin(self) -> Record:
        """Note from here on what a step reads and writes."""
        self._record = Record(self.system)
        return self._record

    def holds(self, record: Record) -> bool:
        """Whether a step that ran before would read the same again, and so come to the same."""
        return (record.system == self.system
                and all(self._look(*where) == found for where, found in record.reads.items()))

    def replay(self, record: Record) -> None:
        """Write again what a step wrote."""
        self.answers.update(record.answers)
        for one in record.cautions:
            self._keep_caution(one)
        for key, message in record.faults.items():
            self.faults.setdefault(key, message)

    def _look(self, how: str, key: str):
        if how == "result":
            found = self.answers.get(key)
            return ABSENT if found is None else (found.value,)
        if how == "rows":
            faulty = tuple(name for name in self.faults if name == key or name.startswith(key + "."))
            if faulty or key not in self.plan.rows:
                return faulty or ABSENT
            return [self.plan.rows[key]]
        if key in self.faults or key not in self.plan.values:
            return ABSENT
        return (self.plan.values[key],)

    def _read(self, how: str, key: str):
        found = self._look(how, key)
        if self._record is not None:
            self._record.reads[how, key] = found
        return found

    def optional(self, key: str):
        """An input's value, ``None`` if it was left open; raises Unanswered if it has a fault or is not asked."""
        found = self._read("input", key)
        if found is ABSENT:
            raise Unanswered(key)
        return found[0]

    def input_if_any(self, key: str):
        """An input's value; ``None`` if it was left open, has a fault or is not asked."""
        found = self._read("input", key)
        return None if found is ABSENT else found[0]

    def rows(self, key: str) -> list[dict]:
        """The rows of a table; raises Unanswered while any cell has a fault."""
        found = self._read("rows", key)
        if found is ABSENT:
            raise Unanswered(key)
        if isinstance(found, tuple):
            raise Unanswered(*found)
        return found[0]

    def result(self, key: str):
        """The value of an earlier result; raises Unanswered if it could not be worked out."""
        found = self._read("result", key)
        if found is ABSENT:
            raise Unanswered(key)
        return found[0]

    def result_if_any(self, key: str):
        """The value of an earlier result; ``None`` if it could not be worked out."""
        found = self._read("result", key)
        return None if found is ABSENT else found[0]

    def work(self, key: str, function, **arguments):
        """Compute a result by a relation and keep the numbers put in, for the reader's Working."""
        value = function(**arguments)
        self.put(key, value, relation=function, inputs=arguments)
        return value

    def put(self, key: str, value, relation=None, inputs=None, note: str = "", source: str = "") -> None:
        """Keep a result; ``note`` says in a sentence how it was found where no single relation gives it."""
        answer = Answer(self._specs[key], value, getattr(relation, "relation", None), dict(inputs or {}), note, source)
        self.answers[key] = answer
        if self._record is not None:
            self._record.answers[key] = answer

    def caution(self, code: str, level: str, text: str) -> None:
        """Add a warning; a code said twice is kept once."""
        if level not in LEVELS:
            raise ValueError(f"no such level: {level}")
        one = Caution(code, level, text, self.topic)
        if self._record is not None:
            self._record.cautions.append(one)
        self._keep_caution(one)

    def _keep_caution(self, one: Caution) -> None:
        if all(known.code != one.code for known in self.cautions):
            self.cautions.append(one)

    def fault(self, key: str, message: str) -> None:
        """Record what is wrong with one input in the light of others, and stop this step."""
        self.faults.setdefault(key, message)
        if self._record is not None:
            self._record.faults[key] = message
        raise Unanswered(key)

    def show(self, value, kind: str, us: str = "", metric: str = "", fraction: int = 0) -> str:
        """A value as text in the reader's units."""
        return units.show(value, kind, self.system, us=us, metric=metric, fraction=fraction)

    def shown(self, key: str) -> str:
        """A result as the reader sees it, in the unit its declaration names; raises Unanswered if there is none."""
        return show_value(self.result(key), self._specs[key], self.system)
