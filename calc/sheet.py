"""The page a topic writes on while it is solved: answers in, results, cautions and cross-field faults out."""

from __future__ import annotations

from dataclasses import dataclass, field

from . import units
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

    def __getitem__(self, key: str):
        value = self.get(key)
        if value is None:
            raise Unanswered(key)
        return value

    def get(self, key: str):
        """An input's value, ``None`` if it was left open; raises Unanswered if it has a fault or is not asked."""
        if key in self.faults or key not in self.plan.values:
            raise Unanswered(key)
        return self.plan.values[key]

    def rows(self, key: str) -> list[dict]:
        """The rows of a table; raises Unanswered while any cell has a fault."""
        faulty = [name for name in self.faults if name == key or name.startswith(key + ".")]
        if faulty or key not in self.plan.rows:
            raise Unanswered(*(faulty or [key]))
        return self.plan.rows[key]

    def result(self, key: str):
        """The value of an earlier result; raises Unanswered if it could not be worked out."""
        if key not in self.answers:
            raise Unanswered(key)
        return self.answers[key].value

    def work(self, key: str, function, **arguments):
        """Compute a result by a relation and keep the numbers put in, for the reader's Working."""
        value = function(**arguments)
        self.put(key, value, relation=function, inputs=arguments)
        return value

    def put(self, key: str, value, relation=None, inputs=None, note: str = "", source: str = "") -> None:
        """Keep a result; ``note`` says in a sentence how it was found where no single relation gives it."""
        self.answers[key] = Answer(self._specs[key], value, getattr(relation, "relation", None), dict(inputs or {}),
                                   note, source)

    def caution(self, code: str, level: str, text: str) -> None:
        """Add a warning; a code said twice is kept once."""
        if level not in LEVELS:
            raise ValueError(f"no such level: {level}")
        if all(known.code != code for known in self.cautions):
            self.cautions.append(Caution(code, level, text, self.topic))

    def fault(self, key: str, message: str) -> None:
        """Record what is wrong with one input in the light of others, and stop this step."""
        self.faults.setdefault(key, message)
        raise Unanswered(key)

    def show(self, value, kind: str, us: str = "", metric: str = "", fraction: int = 0) -> str:
        """A value as text in the reader's units."""
        return units.show(value, kind, self.system, us=us, metric=metric, fraction=fraction)
