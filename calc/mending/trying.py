"""What a mend is made of: a change worth trying, how its consequence is said, and text as a reader would type it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from math import ceil, floor, log10
from typing import TYPE_CHECKING

from .. import units
from ..declare import Field, Row, Table
from ..plan import FIELDS, TABLES, find_column

if TYPE_CHECKING:
    from ..solve import Design

# Steps that a reader would measure or buy in, by unit; for all others two significant digits.
STEPS = {"in": 0.25, "cm": 0.5, "mm": 1.0, "%": 1.0, "F": 1.0, "C": 0.5, "h": 0.5, "d": 1.0, "/h": 0.1, "": 1.0}
HAIR = 1e-9


@dataclass(frozen=True)
class Said:
    """How a change of one number is told: "the water slows from 6.2 to 4.4 ft/s"."""

    key: str
    noun: str
    falls: str = "falls"
    rises: str = "rises"


@dataclass(frozen=True)
class Candidate:
    """A change worth trying.

    ``changes`` are keys of the plan with the text to type there; ``act`` is what to do, as the words of a button;
    ``about`` are the numbers that may tell what comes of it: the first that changes is told.
    """

    changes: Mapping[str, str]
    act: str
    about: tuple[Said, ...] = ()


Finder = Callable[["Design"], Iterable[Candidate]]


def unit_of(design: Design, key: str) -> str:
    """The unit in which a bare number typed there is read."""
    field = _field(key)
    kind = units.KINDS[field.kind]
    return (field.metric or kind.metric) if design.system == "metric" else (field.us or kind.us)


def typed(design: Design, key: str, value: float, up: bool = True, step: float = 0.0) -> str:
    """A value in base units as text for one answer, in its own unit, rounded ``up`` or down to what one measures.

    ``step`` is in that unit; 0 takes the usual one.
    """
    unit, kind = unit_of(design, key), _field(key).kind
    amount = units.convert(value, kind, unit)
    step = step or _step(unit, amount)
    count = ceil(amount / step - HAIR) if up else floor(amount / step + HAIR)
    amount = count * step
    if unit == "in":
        return f"{units.builders(amount, 16)} in"
    text = f"{amount:.6f}".rstrip("0").rstrip(".")
    return f"{text} {unit}".strip()


def _step(unit: str, amount: float) -> float:
    if unit == "mm" and abs(amount) >= 50.0:
        return 5.0
    if unit == "cm" and abs(amount) >= 20.0:
        return 1.0
    if unit in STEPS:
        return STEPS[unit]
    return float(10.0 ** (floor(log10(abs(amount))) - 1)) if amount else 1.0


def _field(key: str) -> Field:
    cell = find_column(key)
    return cell[2] if cell else FIELDS[key]


def number(design: Design, key: str) -> float | None:
    """A result or an input as a number; ``None`` where there is none."""
    value = design.value(key)
    return float(value) if isinstance(value, (int, float)) and not isinstance(value, bool) else None


def text(design: Design, key: str) -> str:
    """A choice or a text; empty where there is none."""
    value = design.value(key)
    return value if isinstance(value, str) else ""


def known(design: Design, *keys: str) -> tuple[float, ...] | None:
    """Several numbers, or ``None`` as soon as one of them is missing."""
    found = [number(design, key) for key in keys]
    return tuple(one for one in found if one is not None) if None not in found else None


def said(design: Design, *codes: str) -> bool:
    """Whether the plan brings one of these cautions."""
    return any(one.code in codes for one in design.cautions)


def result_rows(design: Design, key: str) -> list[Row]:
    """The rows of a result; none where it could not be worked out."""
    rows = design.value(key)
    return rows if isinstance(rows, list) else []


def set_to(design: Design, key: str, choice: str, act: str, *about: Said) -> Iterable[Candidate]:
    """One candidate that makes a choice, where the question is asked and the choice is another."""
    if key in design.plan.values and design.plan.values[key] != choice:
        yield Candidate({key: choice}, act, about)


def scaled(design: Design, key: str, factors: Iterable[float], act: str, *about: Said,
           step: float = 0.0) -> Iterable[Candidate]:
    """Candidates that make one number larger or smaller by each factor; ``{}`` in ``act`` is the text typed."""
    value, field = design.plan.values.get(key), FIELDS[key]
    if not isinstance(value, (int, float)) or isinstance(value, bool):
        return
    for factor in factors:
        wanted = value * factor
        if (field.minimum is None or wanted >= field.minimum) and (field.maximum is None or wanted <= field.maximum):
            words = typed(design, key, wanted, factor > 1.0, step)
            yield Candidate({key: words}, act.format(words), about)


def free_row(design: Design, table: Table) -> int | None:
    """The number of a row that the plan does not have; ``None`` where the table is full."""
    number_of = max(design.plan.row_numbers(table), default=0) + 1
    return number_of if number_of <= table.max_rows else None


def new_row(design: Design, key: str, cells: Mapping[str, str]) -> dict[str, str]:
    """The changes that put a row into a table; none where it is full."""
    row = free_row(design, TABLES[key])
    return {} if row is None else {f"{key}.{row}.{column}": words for column, words in cells.items()}
