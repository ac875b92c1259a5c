"""How a topic declares what it asks and what it answers: the one place form, link, check, CSV and tests read from."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from typing import TYPE_CHECKING, Any, Protocol

from .errors import Incomplete

if TYPE_CHECKING:
    from .sheet import Sheet

# What one answer was read as: a number in base units, a choice or text, yes or no, a date; None where it was left open.
Value = float | str | bool | date | None
# Cells by column. What a cell holds is said by its column's kind, so one type for all of them is not to be had.
Row = dict[str, Any]


@dataclass(frozen=True)
class Over:
    """A condition on a number: a question is asked only where that answer is larger than ``than``."""

    than: int


# Conditions under which a question is asked: key of another one, and the choices it may have or what it must exceed.
When = tuple[tuple[str, "tuple[str, ...] | Over"], ...]


def holds(allowed: tuple[str, ...] | Over, value: Any) -> bool:
    """Whether an answer is among the choices allowed, or exceeds what it must; one left open or faulty does neither."""
    if isinstance(allowed, Over):
        return isinstance(value, (int, float)) and value > allowed.than
    return value in allowed


@dataclass(frozen=True)
class Choice:
    """One allowed answer of a choice field: the ``value`` kept in the plan and the words shown.

    A ``retired`` one is still read from plans that name it, and offered to nobody else.
    """

    value: str
    label: str
    help: str = ""
    retired: bool = False


@dataclass(frozen=True)
class Field:
    """One question.

    ``kind`` is a quantity kind of ``calc.units`` ("length", "volume", ...), or "choice", "text", "whole", "yesno",
    "date" or "clock" (an hour of the day).
    ``default`` is the text a reader could have typed, one for each system of units: (US customary, metric);
    an empty default means the field may be left empty. ``minimum`` and ``maximum`` are inclusive, in the kind's
    base unit. ``us`` and ``metric`` name the unit that a bare number takes. ``when`` maps another key to the choices,
    or to the number to be exceeded, for which this question is asked at all. ``why`` says where the default comes from.
    ``essential`` marks the few questions a newcomer must answer. ``in_table`` is (table key, choice): a script may give
    rows in place of this choice, which fills that table and makes that choice. ``follows`` names questions whose
    default this one's belongs to: once one of them is answered, this one is left open instead, for an example's size
    says nothing of the reader's own vessel. ``transient`` marks what is true of one day only, such as a meter's
    reading: it is worked with, and in no link, file or saved plan.
    """

    key: str
    kind: str
    label: str
    default: tuple[str, str] = ("", "")
    minimum: float | None = None
    maximum: float | None = None
    us: str = ""
    metric: str = ""
    choices: tuple[Choice, ...] = ()
    help: str = ""
    why: str = ""
    when: When = ()
    essential: bool = False
    optional: bool = False
    in_table: tuple[str, str] | None = None
    follows: tuple[str, ...] = ()
    transient: bool = False


@dataclass(frozen=True)
class Table:
    """Rows that repeat (pumps). A cell's plan key is ``<key>.<row number from 1>.<column>``.

    ``columns`` are fields whose ``key`` is the bare column name; ``rows`` are the default rows as text.
    ``identity`` is the column without which a row counts as empty.
    """

    key: str
    label: str
    columns: tuple[Field, ...]
    rows: tuple[dict[str, str], ...] = ()
    identity: str = "name"
    max_rows: int = 20
    help: str = ""
    why: str = ""
    when: When = ()


@dataclass(frozen=True)
class Result:
    """One answer a topic can give. ``kind`` as for a field, or "text", "count" or "rows" (a list of mappings).

    ``us`` and ``metric`` name the unit it is shown in; ``fraction`` asks for builders' fractions in inches, as the
    denominator (16 or 8).
    """

    key: str
    kind: str
    label: str
    us: str = ""
    metric: str = ""
    fraction: int = 0
    help: str = ""


# How a topic's matter stands, the worst first.
STATES = ("fails", "tight", "open", "fits")


@dataclass(frozen=True)
class Verdict:
    """How a topic says whether its matter works, before any figure.

    ``subject`` is the short word it is known by in a list ("Air"). ``leads`` are the bold words for each state that it
    can reach ("Enough air."): "fits", "tight", "fails" (does not work), and "open" (needs an answer), which every topic
    can reach, for any answer can be at fault.
    """

    subject: str
    leads: Mapping[str, str]


def only_when(when: When, fields: Iterable[Field]) -> tuple[Field, ...]:
    """The same questions, asked under these conditions besides their own."""
    return tuple(replace(field, when=when + field.when) for field in fields)


class Topic(Protocol):
    """What a module of ``calc.topics`` has: its name in keys, title and question for the reader, and what it declares.

    ``STEPS`` run in their order; each reads from the sheet and writes on it. ``VERDICT`` is how it says whether its
    matter works; only the place, which cannot fail, has ``None``.
    """

    @property
    def NAME(self) -> str: ...
    @property
    def TITLE(self) -> str: ...
    @property
    def QUESTION(self) -> str: ...
    @property
    def FIELDS(self) -> tuple[Field, ...]: ...
    @property
    def TABLES(self) -> tuple[Table, ...]: ...
    @property
    def RESULTS(self) -> tuple[Result, ...]: ...
    @property
    def STEPS(self) -> tuple[Callable[[Sheet], None], ...]: ...
    @property
    def VERDICT(self) -> Verdict | None: ...


# What to write where a module lacks it.
_TOPIC_NEEDS = {"NAME": 'NAME = "light", the first part of its keys', "TITLE": 'TITLE = "Light"',
                "QUESTION": 'QUESTION = "...", the question it answers', "FIELDS": "FIELDS = (), or its questions",
                "TABLES": "TABLES = (), or its tables", "RESULTS": "RESULTS = (), or its answers",
                "STEPS": "STEPS, its functions in the order they run",
                "VERDICT": 'VERDICT = Verdict("Light", {"fits": "Enough light.", "open": "Light needs an answer."}), a '
                           'lead for each state that its steps can say with sheet.verdict'}
# Topics that say what is so, and nothing that could fail.
UNJUDGED = ("place",)


def check_topic(module: object) -> None:
    """Raise Incomplete where a module of ``calc.topics`` lacks what the protocol ``Topic`` asks for."""
    lacks = [what for name, what in _TOPIC_NEEDS.items() if not hasattr(module, name)]
    if lacks:
        name = getattr(module, "__name__", str(module))
        raise Incomplete(f"The topic {name} lacks a part. Add to its file: {'; '.join(lacks)}.")
    _check_verdict(str(vars(module)["NAME"]), vars(module)["VERDICT"])


def _check_verdict(name: str, verdict: Verdict | None) -> None:
    """Raise Incomplete where the verdict of a topic has a state that is not known, or no words for one it reaches."""
    if verdict is None:
        if name not in UNJUDGED:
            raise Incomplete(f"The topic {name} has no verdict. Write {_TOPIC_NEEDS['VERDICT']}.")
        return
    unknown = [state for state in verdict.leads if state not in STATES]
    if unknown:
        raise Incomplete(f"The verdict of the topic {name} has a state {unknown[0]!r}; the states are "
                         f"{', '.join(STATES)}.")
    silent = [state for state in ("open", *verdict.leads) if not verdict.leads.get(state, "").strip()]
    if silent or not verdict.subject.strip():
        what = f'a lead for "{silent[0]}"' if silent else "a subject"
        raise Incomplete(f"The verdict of the topic {name} lacks {what}: write a few bold words to it.")
