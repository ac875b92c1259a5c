"""Plan to design: runs every topic's steps in the trade's natural order; what a fault does not touch still answers."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import replace
from types import MappingProxyType
from typing import Any

from . import currencies, moments, units, unsaid
from .declare import Result, Row, Topic, Verdict
from .errors import Pending
from .plan import FIELDS, MADE_WITH, TABLES, Plan, find_column
from .sheet import Answer, Caution, Given, Record, Sheet, Written
from .topics import BY_NAME as TOPIC_BY_NAME
from .topics import TOPICS
from .traced import Traced

Step = Callable[[Sheet], None]
SPECS: dict[str, Result] = {spec.key: spec for topic in TOPICS for spec in topic.RESULTS}
CURRENCY = "energy.money"
RESULT_TOPIC: dict[str, str] = {spec.key: topic.NAME for topic in TOPICS for spec in topic.RESULTS}
# Whose steps give a result: now and then another topic's than the one it is shown with, or either of two.
GIVERS: dict[str, tuple[str, ...]] = {
    **{key: (topic,) for key, topic in RESULT_TOPIC.items()}, "oxygen.hottest_used": ("air", "oxygen"),
    "acidity.drift": ("use",), "acidity.drift_kind": ("use",), "acidity.topup_charge": ("use",)}
VERDICTS: dict[str, Verdict] = {topic.NAME: topic.VERDICT for topic in TOPICS if topic.VERDICT is not None}


class Design(Traced):
    """A solved plan, to be read and not to be changed.

    Pictures read single values and rows. Whoever reads ``answers`` or another whole has looked at all of it.

    >>> from calc import Plan, solve
    >>> design = solve(Plan.from_mapping({"bath.length": "5 gal"}))
    >>> design.faults["bath.length"]
    'Bath length is a volume in “gal”; give a length, like 48 in, 4 ft or 120 cm.'
    >>> design.value("water.bath_volume") is None and "bath.length" in design.waiting["water"]
    True
    """

    def __init__(self, plan: Plan, written: Written, passed: frozenset[str] = frozenset()):
        super().__init__(plan.system, SPECS)
        self._plan = plan
        self._written = written
        # Topics that were left out for now: whoever looks at one raises Pending.
        self._passed = passed
        self._placed = MappingProxyType(dict(placed(plan, key, text) for key, text in written.faults.items()))

    def _look(self, how: str, key: str) -> Any:
        if self._passed:
            self._refuse_passed(how, key)
        if how == "value":
            answer = self._written.answers.get(key)
            if answer is not None:
                return answer.value
            return None if key in self._written.faults else self._plan.values.get(key)
        if how == "result":
            answer = self._written.answers.get(key)
            return None if answer is None else answer.value
        if how == "rows":
            return self._plan.rows.get(key, [])
        if how == "verdict":
            return self._written.verdicts.get(key)
        if how == "has":
            return self._plan.meets(getattr(TOPIC_BY_NAME[key], "WHEN", ()))
        if how == "waits":
            return self._written.waiting.get(key, frozenset())
        if how == "cautions":
            return tuple(one for one in self._written.cautions if one.topic == key)
        if how == "whole":
            own = {"plan": self._plan, "faults": self._placed, "accused": self._written.faults}
            return own[key] if key in own else getattr(self._written, key)
        return super()._look(how, key)

    def _refuse_passed(self, how: str, key: str) -> None:
        """Raise Pending for what belongs to a topic that was left out for now, or to all of them."""
        if how in ("value", "result"):
            topics = GIVERS.get(key, ())
        elif how == "whole":
            # The faults are those known so far.
            topics = () if key in ("plan", "faults") else (min(self._passed),)
        else:
            topics = () if how == "has" else (key,)
        for topic in topics:
            if topic in self._passed:
                raise Pending(topic)

    @property
    def passed(self) -> frozenset[str]:
        """The topics that were left out for now."""
        return self._passed

    @property
    def plan(self) -> Plan:
        """The plan that was solved."""
        plan: Plan = self._read("whole", "plan")
        return plan

    @property
    def answers(self) -> Mapping[str, Answer]:
        """All answers, by result key."""
        answers: Mapping[str, Answer] = self._read("whole", "answers")
        return answers

    @property
    def faults(self) -> Mapping[str, str]:
        """A sentence for each input that needs another look, by the key of the answer that the reader typed."""
        faults: Mapping[str, str] = self._read("whole", "faults")
        return faults

    @property
    def accused(self) -> Mapping[str, str]:
        """The same by the key of the input that a step cannot use: mostly the same one."""
        accused: Mapping[str, str] = self._read("whole", "accused")
        return accused

    @property
    def cautions(self) -> tuple[Caution, ...]:
        """All warnings, the gravest first."""
        cautions: tuple[Caution, ...] = self._read("whole", "cautions")
        return cautions

    @property
    def waiting(self) -> Mapping[str, frozenset[str]]:
        """By topic: the keys of inputs and results that it lacks."""
        waiting: Mapping[str, frozenset[str]] = self._read("whole", "waiting")
        return waiting

    @property
    def limits(self) -> Mapping[str, tuple[str, ...]]:
        """By topic: what lies outside what can be worked out, in sentences."""
        limits: Mapping[str, tuple[str, ...]] = self._read("whole", "limits")
        return limits

    @property
    def verdicts(self) -> Mapping[str, Given]:
        """The verdict of every topic that this plan has, in the order of the topics; the place has none."""
        verdicts: Mapping[str, Given] = self._read("whole", "verdicts")
        return verdicts

    def verdict(self, topic: str) -> Given | None:
        """The verdict of one topic; ``None`` for one that this plan does not have."""
        found: Given | None = self._read("verdict", topic)
        return found

    def has(self, topic: str) -> bool:
        """Whether this plan has a topic: a bath without pumped water has no circulation."""
        found: bool = self._read("has", topic)
        return found

    def waits(self, topic: str) -> frozenset[str]:
        """The keys of inputs and results that one topic lacks."""
        found: frozenset[str] = self._read("waits", topic)
        return found

    def cautions_of(self, topic: str) -> tuple[Caution, ...]:
        """The warnings of one topic, the gravest first."""
        found: tuple[Caution, ...] = self._read("cautions", topic)
        return found

    def value(self, key: str) -> Any:
        """The value of a result or an input, or ``None``."""
        return self._read("value", key)

    def result(self, key: str) -> Any:
        """The value of a result, or ``None``; of an input of the same name nothing."""
        return self._read("result", key)

    def rows(self, key: str) -> list[Row]:
        """The rows of a table that was typed."""
        rows: list[Row] = self._read("rows", key)
        return rows

    def money(self, value: float) -> str:
        """A cost with the currency of the plan."""
        return currencies.amount(value, str(self.value(CURRENCY) or ""), 0 if abs(value) >= 100 else 2)

    def shown(self, key: str) -> str:
        """A result or an input as the reader sees it, in its declared unit; an empty text if there is none."""
        value = self.value(key)
        return "" if value is None else self.shown_as(key, value)

    def shown_as(self, key: str, value: Any) -> str:
        """Another value, as text in the unit, or the currency, that a result, an input or a cell is declared in."""
        return self.money(value) if self._declared(key).kind == "money" else super().shown_as(key, value)


def placed(plan: Plan, key: str, sentence: str) -> tuple[str, str]:
    """Where a fault between answers is told: beside the first of them that was typed, if this one was not."""
    if not plan.own(key):
        for other, words in getattr(sentence, "others", ()):
            if plan.own(other):
                return other, words or f"{label_of(other)} does not go with another answer. {sentence}"
    return key, sentence


class Memory:
    """What each step came to the last time, so that an answer typed runs only the steps that it touches."""

    def __init__(self) -> None:
        self._records: dict[Step, Record] = {}
        self._needs: dict[Step, frozenset[str]] = {}
        self._ran: list[Step] = []

    def copy(self) -> Memory:
        """Another memory that starts from the same plan; what it solves leaves this one as it is."""
        other = Memory()
        other._records, other._needs = dict(self._records), dict(self._needs)
        return other

    @property
    def ran(self) -> tuple[Step, ...]:
        """The steps that the last plan made run; all others held."""
        return tuple(self._ran)

    def solve(self, plan: Plan) -> Design:
        """The design of a plan, the same as solved afresh."""
        walk = Walk(self, plan)
        while walk.on():
            pass
        return walk.design()

    def some(self, plan: Plan, topics: Collection[str]) -> Design:
        """A design of these topics, and of those that they stand on; whoever looks at another one raises Pending.

        What it says of them is what the whole design will say, unless a topic left out newly finds fault with an answer
        that belongs to another topic.
        """
        wanted = set(topics)
        while True:
            walk = Walk(self, plan, self._with_needs(wanted))
            try:
                while walk.on():
                    pass
                return walk.design()
            except Pending as lack:
                wanted.add(lack.topic)

    def _with_needs(self, topics: Collection[str]) -> set[str]:
        """These topics and all that they stood on the last time."""
        found, coming = set(topics), list(topics)
        for name in coming:
            for step in TOPIC_BY_NAME[name].STEPS:
                for other in self._needs.get(step, ()):
                    if other not in found:
                        found.add(other)
                        coming.append(other)
        return found

    def keep(self, step: Step, record: Record) -> None:
        """Remember what a step came to."""
        self._records[step] = record
        self._needs[step] = frozenset(
            giver for how, key in record.reads if how == "result" for giver in GIVERS[key])
        self._ran.append(step)

    def before(self, step: Step) -> Record | None:
        """What a step came to the last time."""
        return self._records.get(step)

    def begin(self) -> None:
        """Count anew which steps a plan makes run."""
        self._ran = []


class Walk:
    """One way through the steps of a plan in their natural order; it can rest after any step that had to run.

    A walk of ``only`` some topics passes over the others.
    """

    def __init__(self, memory: Memory, plan: Plan, only: Collection[str] | None = None):
        self._memory = memory
        self._plan = plan
        self._only = only
        self._sheet = Sheet(plan, SPECS, judged=VERDICTS, givers=GIVERS)
        self._topics = topics_of(plan)
        self._passed: set[str] = set()
        self._way = self._steps()
        memory.begin()

    def _steps(self) -> Iterator[None]:
        for topic in self._topics:
            if self._only is not None and topic.NAME not in self._only:
                self._passed.add(topic.NAME)
                self._sheet.pass_over(topic.NAME)
                continue
            for step in topic.STEPS:
                before = self._memory.before(step)
                record = self._sheet.do(topic.NAME, step, before)
                if record is not before:
                    self._memory.keep(step, record)
                    yield

    def on(self) -> bool:
        """Go on to the end of the next step that has to run; ``False`` once all is done."""
        return next(self._way, self) is not self

    def design(self) -> Design:
        """What is known; all of it once the walk has come to its end."""
        written = self._sheet.written()
        judged = [topic.NAME for topic in self._topics if topic.NAME in VERDICTS and topic.NAME not in self._passed]
        return Design(self._plan, replace(written, verdicts=MappingProxyType({
            name: written.verdicts.get(name) or _unsaid(name, written) for name in judged})), frozenset(self._passed))


def topics_of(plan: Plan) -> tuple[Topic, ...]:
    """The topics that a plan has: none that its kind of bath lacks."""
    return tuple(topic for topic in TOPICS if plan.meets(getattr(topic, "WHEN", ())))


def _unsaid(name: str, written: Written) -> Given:
    """The verdict of a topic whose steps came to none: open, with what is to be answered."""
    return Given(name, "open", VERDICTS[name].leads["open"], unsaid.sentence(name, written, RESULT_TOPIC, label_of))


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
    return (memory or Memory()).solve(plan)


# Two machines' own exponentials and logarithms differ in the last bits, and a difference of two near figures makes more
# of it; so many digits they have in common, and no figure here is known to half as many.
DIGITS = 8


def in_common(value: Any) -> Any:
    """Plain data with every number that has a fraction at ``DIGITS`` significant digits.

    >>> in_common({"flow": 0.000123456789123, "rows": [2, 12345678.9]})
    {'flow': 0.00012345679, 'rows': [2, 12345679.0]}
    """
    if isinstance(value, float):
        return float(f"{value:.{DIGITS - 1}e}")
    if isinstance(value, dict):
        return {key: in_common(one) for key, one in value.items()}
    return [in_common(one) for one in value] if isinstance(value, (list, tuple)) else value


def as_json(design: Design) -> dict[str, Any]:
    """The design as plain data: the contract of the command line. Numbers have ``DIGITS`` significant digits."""
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
        if kind == "money":
            unit = design.value(CURRENCY) or ""
        relation = answer.relation
        results[key] = {
            "value": in_common(value), "unit": unit, "text": design.shown(key), "label": answer.spec.label,
            "relation": relation.name if relation else "",
            "source": "; ".join(filter(None, (answer.source, relation.source if relation else ""))),
            "status": relation.status if relation else "",
            "inputs": in_common(answer.inputs), "note": answer.note,
        }
    return {
        "made_with": MADE_WITH,
        "plan": design.plan.text,
        "results": results,
        "faults": [{"field": key, "typed": design.plan.text.get(key, ""), "message": text}
                   for key, text in design.faults.items()],
        "cautions": [{"code": one.code, "level": one.level, "topic": one.topic, "text": one.text, "lead": one.lead,
                      "brief": one.brief, "standing": one.standing} for one in design.cautions],
        "verdicts": [{"topic": one.topic, "state": one.state, "lead": one.lead, "text": one.text,
                      "figure": one.figure} for one in design.verdicts.values()],
        "limits": [text for texts in design.limits.values() for text in texts],
        "waiting": {topic: sorted(keys) for topic, keys in design.waiting.items()},
    }


def label_of(key: str) -> str:
    """The reader's name of an input or result key."""
    if key in FIELDS:
        return FIELDS[key].label
    if key in TABLES:
        return TABLES[key].label
    cell = find_column(key)
    if cell is not None:
        table, row, column = cell
        return f"{table.label}, row {row}: {column.label}"
    return SPECS[key].label if key in SPECS else key
