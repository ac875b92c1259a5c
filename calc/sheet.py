"""The page a topic writes on while it is solved: answers in, results, cautions and cross-field faults out."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Any, NoReturn

from .declare import STATES, Result, Row, Verdict
from .errors import OutOfRange, Pending, Told, Unanswered
from .plan import TOPIC_OF, Plan
from .relations.base import Arguments, Gives, Related, Relation
from .traced import ABSENT, Readings, Traced
from .typed import Typed


@dataclass(frozen=True)
class Answer:
    """One result with its working: what it is, which relation made it, and from which numbers."""

    spec: Result
    value: Any
    relation: Relation | None = None
    inputs: dict[str, object] = field(default_factory=dict)
    note: str = ""
    source: str = ""


@dataclass(frozen=True)
class Caution:
    """A warning that belongs to what was planned.

    ``level`` is danger (life, limb, flood, fire), warning (take care) or note. ``lead`` is the two to four words that
    it is known by, ``brief`` one short sentence for the place of the action, ``text`` the whole, for Safety and paper.
    ``standing`` marks what is true of every such bath, and grave: one line a step, however its numbers come out.
    """

    code: str
    level: str
    text: str
    topic: str
    lead: str = ""
    brief: str = ""
    standing: bool = False


LEVELS = ("danger", "warning", "note")


@dataclass(frozen=True)
class Given:
    """The verdict of one topic on this plan.

    ``state`` is one of ``calc.declare.STATES``; ``lead`` its bold words, ``text`` one or two sentences from the plan's
    own numbers, ``figure`` the short figure for a list of all ("20.6 of 8.8 L/min"), empty where there is none.
    """

    topic: str
    state: str
    lead: str
    text: str
    figure: str = ""


@dataclass
class Record:
    """What one step read and what came of it; it holds again as long as every reading would be the same."""

    reads: Readings = field(default_factory=dict)
    answers: dict[str, Answer] = field(default_factory=dict)
    cautions: list[Caution] = field(default_factory=list)
    verdicts: list[Given] = field(default_factory=list)
    faults: dict[str, str] = field(default_factory=dict)
    lacks: tuple[str, ...] = ()
    limit: str = ""


@dataclass(frozen=True)
class Written:
    """All that stands on a sheet, to be read and not to be changed.

    ``answers`` by result key; ``faults`` by input key; ``cautions`` gravest first; ``waiting`` and ``limits`` by topic:
    the keys it lacks, and what lies outside what can be worked out; ``verdicts`` by topic, the worst that was said.
    """

    answers: Mapping[str, Answer]
    faults: Mapping[str, str]
    cautions: tuple[Caution, ...]
    waiting: Mapping[str, frozenset[str]]
    limits: Mapping[str, tuple[str, ...]]
    verdicts: Mapping[str, Given]


class Sheet(Traced, Typed):
    """What the steps of a topic read from and write to; see ``calc.solve`` for the order they run in."""

    def __init__(self, plan: Plan, specs: Mapping[str, Result], given: Mapping[str, Answer] | None = None,
                 judged: Mapping[str, Verdict] | None = None, givers: Mapping[str, tuple[str, ...]] | None = None):
        super().__init__(plan.system, specs)
        self._plan = plan
        self._faults = dict(plan.faults)
        self._answers: dict[str, Answer] = dict(given or {})
        self._cautions: dict[str, Caution] = {}
        self._judged = judged
        self._verdicts: dict[str, Given] = {}
        self._waiting: dict[str, set[str]] = {}
        self._limits: dict[str, list[str]] = {}
        self._topic = ""
        self._record = Record()
        # Topics that were passed over, and which topics give a result; see ``pass_over``.
        self._passed: set[str] = set()
        self._givers = givers or {}

    # --- for calc.solve ----------------------------------------------------------------------------------------------

    def do(self, topic: str, step: Callable[[Sheet], None], before: Record | None = None) -> Record:
        """Take one step of a topic, or write again what it wrote ``before`` if it would read the same.

        Never raises on account of what was typed: what the step lacks, or cannot work out, is in the record.
        """
        if before is not None and self.same(before.reads):
            record = before
            self._replay(record)
        else:
            record = self._run(topic, step)
        if record.lacks:
            self._waiting.setdefault(topic, set()).update(record.lacks)
        if record.limit:
            self._limits.setdefault(topic, []).append(record.limit)
        return record

    def pass_over(self, topic: str) -> None:
        """Leave a topic out for now: whoever looks at what it gives, or may find fault with, raises Pending."""
        self._passed.add(topic)

    def written(self) -> Written:
        """All that was written so far."""
        return Written(
            MappingProxyType(self._answers), MappingProxyType(self._faults),
            tuple(sorted(self._cautions.values(), key=lambda one: LEVELS.index(one.level))),
            MappingProxyType({topic: frozenset(keys) for topic, keys in self._waiting.items()}),
            MappingProxyType({topic: tuple(texts) for topic, texts in self._limits.items()}),
            MappingProxyType(self._verdicts))

    def _run(self, topic: str, step: Callable[[Sheet], None]) -> Record:
        with self.noting() as reads:
            self._topic, self._record = topic, Record(reads)
            try:
                step(self)
            except Unanswered as lack:
                self._record.lacks = tuple(lack.keys)
            except OutOfRange as limit:
                self._record.limit = str(limit)
            except (OverflowError, ZeroDivisionError):
                # Sizes far outside the trade; bounds stop most of them, and the reader is told of the rest.
                self._record.limit = "These sizes are outside what can be worked out."
            return self._record

    def _replay(self, record: Record) -> None:
        self._answers.update(record.answers)
        for one in record.cautions:
            self._cautions.setdefault(one.code, one)
        for given in record.verdicts:
            self._keep(given)
        for key, message in record.faults.items():
            self._faults.setdefault(key, message)

    # --- what a step reads -------------------------------------------------------------------------------------------

    def _look(self, how: str, key: str) -> Any:
        if self._passed:
            for owner in self._givers.get(key, ()) if how == "result" else (TOPIC_OF.get(key, ""),):
                if owner in self._passed:
                    raise Pending(owner)
        if how == "result":
            answer = self._answers.get(key)
            return ABSENT if answer is None else answer.value
        if how == "input":
            return ABSENT if key in self._faults else self._plan.values.get(key, ABSENT)
        if how == "own":
            return self._plan.own(key)
        if how == "rows":
            # A tuple of the faulty cells in place of the list of rows.
            faulty = tuple(name for name in self._faults if name == key or name.startswith(key + "."))
            return faulty or self._plan.rows.get(key, ABSENT)
        return super()._look(how, key)

    def _input(self, key: str) -> Any:
        """An input's value, ``None`` if it was left open; raises Unanswered if it has a fault or is not asked."""
        found = self._read("input", key)
        if found is ABSENT:
            raise Unanswered(key)
        return found

    def guessed(self, key: str) -> bool:
        """Whether an input is as the plan began with it, and not the reader's own."""
        return not self._read("own", key)

    def rows(self, key: str) -> list[Row]:
        """The rows of a table; raises Unanswered while any cell has a fault."""
        found = self._read("rows", key)
        if found is ABSENT:
            raise Unanswered(key)
        if isinstance(found, tuple):
            raise Unanswered(*found)
        rows: list[Row] = found
        return rows

    def _result(self, key: str) -> Any:
        """The value of an earlier result; raises Unanswered if it could not be worked out."""
        found = self._read("result", key)
        if found is ABSENT:
            raise Unanswered(key)
        return found

    def shown(self, key: str) -> str:
        """A result or an input as the reader sees it, in its declared unit; raises Unanswered if there is none."""
        value = self._result(key) if key in self._specs else self._input(key)
        if value is None:
            raise Unanswered(key)
        return self.shown_as(key, value)

    # --- what a step writes ------------------------------------------------------------------------------------------

    def work(self, key: str, function: Related[Arguments, Gives], *args: Arguments.args,
             **arguments: Arguments.kwargs) -> Gives:
        """Compute a result by a relation and keep the numbers put in, for the reader's Working."""
        value = function(*args, **arguments)
        self.put(key, value, relation=function, inputs=arguments)
        return value

    def put(self, key: str, value: object, relation: Related[..., object] | None = None,
            inputs: Mapping[str, object] | None = None, note: str = "", source: str = "") -> None:
        """Keep a result; ``note`` says in a sentence how it was found where no single relation gives it."""
        said = None if relation is None else relation.relation
        answer = Answer(self._specs[key], value, said, dict(inputs or {}), note, source)
        self._answers[key] = self._record.answers[key] = answer
        # What a step wrote it need not look up again to be sure of.
        self._own.add(("result", key))

    def caution(self, code: str, level: str, text: str, lead: str = "", brief: str = "",
                standing: bool = False) -> None:
        """Add a warning; a code said twice is kept once. See ``Caution`` for what the words are for."""
        if level not in LEVELS:
            raise ValueError(f"no such level: {level}")
        one = Caution(code, level, text, self._topic, lead, brief, standing)
        self._record.cautions.append(one)
        self._cautions.setdefault(code, one)

    def verdict(self, state: str, text: str, figure: str = "", lead: str = "") -> None:
        """Say whether the topic's matter works; said twice, the worse state holds. See ``Given`` for the words.

        ``lead`` takes the place of the one declared for the state; a sheet that was given no declarations knows none.
        """
        if self._judged is not None:
            declared = self._judged.get(self._topic)
            if declared is None or state not in declared.leads:
                raise ValueError(f"the verdict of {self._topic} declares no lead for the state {state}")
            lead = lead or declared.leads[state]
        one = Given(self._topic, state, lead, text, figure)
        self._record.verdicts.append(one)
        self._keep(one)

    def _keep(self, one: Given) -> None:
        """Let a verdict stand for its topic, unless one that is as bad or worse does."""
        before = self._verdicts.get(one.topic)
        if before is None or STATES.index(one.state) < STATES.index(before.state):
            self._verdicts[one.topic] = one

    def fault(self, key: str, message: str, others: Mapping[str, str] | None = None) -> NoReturn:
        """Record what is wrong with one input in the light of others, and stop this step.

        ``others`` are inputs it may as well be the fault of, with the sentence to say there ("" for this one): where
        ``key`` was left at its default, the first of them that was typed is told instead.
        """
        if others:
            message = Told(message, getattr(message, "offers", ()), tuple(others.items()))
        self._faults.setdefault(key, message)
        self._record.faults[key] = message
        raise Unanswered(key)
