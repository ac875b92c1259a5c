"""Plans beside one another: which questions they answer differently, and what that does to the answers.

All of it is said against the first plan and in its units, so that two numbers of a line can be told apart at a glance.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import isclose, isfinite, log
from typing import Any

from . import overview
from .data.fittings import HOSE_SPEED_M_S
from .declare import STATES, Field, Table
from .plan import FIELDS, TABLES, Plan
from .solve import CURRENCY, Design
from .steps import STEPS

LETTERS = "ABCD"
MOST = len(LETTERS)
# A difference that nobody could measure.
SAME = 0.005
# So many questions a sentence can tell; more make it another bath.
MOST_TOLD = 3
NOT_ASKED, LEFT_OPEN, NOTHING_SAID = "not asked", "left open", "–"


@dataclass(frozen=True)
class Asked:
    """A question that is not answered alike: what each plan says, and whether that is another answer than the first's.

    ``key`` is the question's, or the cell's of a table; ``hint`` says where it is measured.
    """

    key: str
    label: str
    hint: str
    shown: tuple[str, ...]
    other: tuple[bool, ...]


@dataclass(frozen=True)
class Change:
    """One answer beside the first plan's: ``state`` is "better", "worse", "same", "other" (neither) or "open"."""

    state: str
    words: str


@dataclass(frozen=True)
class Outcome:
    """One answer of all plans: values in base units (``None`` where there is none), as shown, and beside the first's.

    ``limits`` are what each plan is held to, to be drawn as a mark; ``note`` says what the number and the mark are.
    """

    key: str
    label: str
    note: str
    values: tuple[float | None, ...]
    shown: tuple[str, ...]
    limits: tuple[float | None, ...]
    changes: tuple[Change, ...]


@dataclass(frozen=True)
class _Measure:
    """An answer worth a line: ``good`` is +1 where more is better and -1 where less is; the words for less and more."""

    key: str
    label: str
    note: str
    good: int
    words: tuple[str, str] = ("less", "more")
    limit: str = ""


MEASURES = (
    _Measure("circulation.velocity", "Speed in the hose", "usual up to {limit}: the mark", -1, ("slower", "faster")),
    _Measure("air.delivered", "Air at the stones", "wanted {limit} or more: the mark", 1, limit="air.target"),
    _Measure("oxygen.bath_hottest", "Oxygen, hottest hour", "aim {limit} or more: the mark", 1, limit="oxygen.target"),
    _Measure("schedule.heads_per_week", "Heads a week", "once it runs", 1, ("fewer", "more")),
    _Measure("energy.power", "Electric power", "all that is always on", -1),
    _Measure("energy.all_cost_per_year", "Electricity cost a year", "pumps, lamps, heat and cold", -1),
    _Measure("parts.cost_per_head", "Cost of a head", "of what is priced", -1),
    _Measure("outage.plan_for", "A power cut to plan for", "until the oxygen runs short", 1, ("shorter", "longer")),
)
# What decides a step of the planner, tables by the beginning of their cells.
DECIDING = tuple(dict.fromkeys(key for step in STEPS for key in step.asks))


# --- what was asked --------------------------------------------------------------------------------------------------


def differences(designs: Sequence[Design]) -> list[Asked]:
    """The questions that the plans answer differently: first those that decide a step, then the others, as asked."""
    found = []
    for key, field in FIELDS.items():
        if field.transient or key == "units":
            continue
        other = tuple(_other(designs, at, field) for at in range(len(designs)))
        if any(other):
            shown = tuple(_shown(designs, at, key, _answer(design, field)) for at, design in enumerate(designs))
            if len(set(shown)) > 1:
                found.append(Asked(key, field.label, field.help, shown, other))
    for table in TABLES.values():
        found += _cells(designs, table)
    return sorted(found, key=lambda one: not one.key.startswith(DECIDING))


def count_asked(designs: Sequence[Design]) -> int:
    """How many questions any of the plans is asked, a table's being one."""
    parts: list[Field | Table] = [field for key, field in FIELDS.items() if key != "units" and not field.transient]
    return sum(any(design.plan.asked(part) for design in designs) for part in (*parts, *TABLES.values()))


def agreements(designs: Sequence[Design]) -> list[tuple[str, str]]:
    """The questions that all plans answer alike, each with that answer."""
    found = []
    for key, field in FIELDS.items():
        first = _answer(designs[0], field)
        if field.transient or key == "units" or first == NOT_ASKED:
            continue
        if not any(_other(designs, at, field) for at in range(len(designs))):
            found.append((field.label, _shown(designs, 0, key, first)))
    return found


def _other(designs: Sequence[Design], at: int, field: Field) -> bool:
    """Whether a plan answers a question otherwise than the first; guesses of two systems of units are one guess."""
    first, plan = designs[0].plan, designs[at].plan
    if first.asked(field) and plan.asked(field) and not first.own(field.key) and not plan.own(field.key):
        return first.default_of(field) != plan.default_of(field) and first.system == plan.system
    return not _alike(_answer(designs[0], field), _answer(designs[at], field))


def _answer(design: Design, field: Field) -> Any:
    """What a plan says to a question; a text in brackets where it cannot be read."""
    plan: Plan = design.plan
    if not plan.asked(field):
        return NOT_ASKED
    if field.key in plan.faults:
        return f"({plan.typed(field.key, plan.default_of(field))[:40]})"
    return plan.values.get(field.key)


def _alike(one: Any, other: Any) -> bool:
    numbers = [isinstance(value, (int, float)) and not isinstance(value, bool) for value in (one, other)]
    return isclose(one, other, rel_tol=1e-6, abs_tol=1e-12) if all(numbers) else bool(one == other)


def _shown(designs: Sequence[Design], at: int, key: str, value: Any) -> str:
    """An answer in the first plan's units; money in its own plan's, for amounts of two currencies do not compare."""
    if value is None:
        return LEFT_OPEN
    if isinstance(value, str) and (value == NOT_ASKED or value.startswith("(")):
        return value
    field = FIELDS[key]
    if field.kind == "choice":
        return next((choice.label for choice in field.choices if choice.value == value), str(value))
    reader = designs[at] if field.kind in ("money", "tariff") else designs[0]
    return reader.shown_as(key, value) or NOTHING_SAID


def _cells(designs: Sequence[Design], table: Table) -> list[Asked]:
    """The cells of a table that are not alike, row beside row."""
    rows = [design.plan.rows.get(table.key, []) if design.plan.asked(table) else [] for design in designs]
    found = []
    for number in range(max(map(len, rows))):
        for column in table.columns:
            answers = [one[number].get(column.key) if number < len(one) else NOT_ASKED for one in rows]
            if all(_alike(answers[0], one) for one in answers[1:]):
                continue
            if column.key != table.identity and NOT_ASKED in answers:
                # A row that a plan does not have is told once, by its name.
                continue
            key = f"{table.key}.{number + 1}.{column.key}"
            shown = tuple(_cell(designs, key, column, value) for value in answers)
            found.append(Asked(key, f"{table.label}, row {number + 1}: {column.label}", "", shown,
                               tuple(not _alike(answers[0], one) for one in answers)))
    return found


def _cell(designs: Sequence[Design], key: str, column: Field, value: Any) -> str:
    if value is None or value == NOT_ASKED:
        return NOTHING_SAID
    if column.kind == "choice":
        return next((choice.label for choice in column.choices if choice.value == value), str(value))
    return designs[0].shown_as(key, value) or NOTHING_SAID


# --- what it does ----------------------------------------------------------------------------------------------------


def outcomes(designs: Sequence[Design]) -> list[Outcome]:
    """The answers worth a line that any of the plans has, each better or worse than the first plan's."""
    found = []
    for measure in MEASURES:
        values = tuple(_number(design.value(measure.key)) for design in designs)
        if all(value is None for value in values):
            continue
        limits = tuple(_limit(design, measure) for design in designs)
        shown = tuple(NOTHING_SAID if value is None else _reader(designs, at, measure).shown_as(measure.key, value)
                      for at, value in enumerate(values))
        note = _note(designs[0], measure, limits)
        changes = tuple(_change(designs, measure, values, at) for at in range(len(designs)))
        found.append(Outcome(measure.key, measure.label, note, values, shown, limits, changes))
    return found


def _note(first: Design, measure: _Measure, limits: Sequence[float | None]) -> str:
    """What the number and its mark are; where each plan has a mark of its own, without a number."""
    found = {first.shown_as(measure.key, limit) for limit in limits if limit is not None}
    if "{limit}" not in measure.note:
        return measure.note
    if len(found) > 1:
        return "wanted is the mark"
    return measure.note.format(limit=found.pop()) if found else ""


def _number(value: object) -> float | None:
    good = isinstance(value, (int, float)) and not isinstance(value, bool) and isfinite(value)
    return float(value) if good and isinstance(value, (int, float)) else None


def _limit(design: Design, measure: _Measure) -> float | None:
    if measure.key == "circulation.velocity":
        return HOSE_SPEED_M_S if design.value(measure.key) is not None else None
    return _number(design.value(measure.limit)) if measure.limit else None


def _is_money(measure: _Measure) -> bool:
    return measure.key.startswith(("energy.all_cost", "parts.cost"))


def _reader(designs: Sequence[Design], at: int, measure: _Measure) -> Design:
    """Whose units a value is said in: the first plan's, and its own where it is money."""
    return designs[at] if _is_money(measure) else designs[0]


def _change(designs: Sequence[Design], measure: _Measure, values: Sequence[float | None], at: int) -> Change:
    first, value = values[0], values[at]
    if at == 0:
        return Change("same", "")
    if first is None or value is None:
        return Change("open", "no answer to compare")
    if _is_money(measure) and designs[0].value(CURRENCY) != designs[at].value(CURRENCY):
        return Change("other", "another currency")
    if abs(value - first) <= SAME * max(abs(first), abs(value)):
        return Change("same", "the same")
    state = "better" if (value - first) * measure.good > 0 else "worse"
    amount = designs[0].shown_as(measure.key, abs(value - first))
    return Change(state, f"{state}: {amount} {measure.words[value > first]}")


def standing(designs: Sequence[Design], at: int) -> Change:
    """How a plan's worst verdict and its dangers stand beside the first plan's."""
    here, first = (_rank(designs[number]) for number in (at, 0))
    if at == 0:
        return Change("same", "")
    if here == first:
        return Change("same", "the same")
    state = "better" if here > first else "worse"
    return Change(state, state)


def _rank(design: Design) -> tuple[int, ...]:
    """Where a plan stands, to be compared: the higher the better, dangers first."""
    said = [one.state for name, one in design.verdicts.items() if name not in (overview.OF_ONE_DAY, overview.PRICES)]
    return (-_dangers(design), *(-said.count(state) for state in STATES if state != "fits"))


def _dangers(design: Design) -> int:
    return sum(one.level == "danger" and not one.standing for one in design.cautions)


# --- in one sentence -------------------------------------------------------------------------------------------------


def sentence(designs: Sequence[Design], at: int) -> str:
    """What makes a plan another than the first, and what comes of it, in one sentence that follows the plan's letter.

    >>> from calc import Plan, solve
    >>> first, wider = (solve(Plan({"circulation.hose_bore": bore})) for bore in ("1/2 in", "3/4 in"))
    >>> sentence([first, wider], 1).split(":")[0]
    'Is A with hose bore 3/4 in instead of 1/2 in'
    """
    pair = [designs[0], designs[at]]
    changed = [one for one in differences(pair) if one.other[1]]
    if not changed:
        return "Answers every question as A does."
    if len(changed) <= MOST_TOLD:
        told = [_told(one) for one in changed]
        what = f"Is A with {_and(told)}"
    else:
        what = f"Is another bath, {len(changed)} answers apart"
    effects = _effects(pair)
    return f"{what}: {_and(effects)}." if effects else f"{what}; no answer of these lines moves."


def _told(one: Asked) -> str:
    before, now = one.shown
    if before in (LEFT_OPEN, NOT_ASKED, NOTHING_SAID):
        return f"{_lower(one.label)} {now}"
    return f"{_lower(one.label)} {now} instead of {before}"


def _lower(label: str) -> str:
    """A label inside a sentence; what is written in capitals anyway stays so."""
    return label if label[:2].isupper() or label.startswith("pH") else label[:1].lower() + label[1:]


def _and(parts: Sequence[str]) -> str:
    if len(parts) == 1:
        return parts[0]
    return ", ".join(parts[:-1]) + (", and " if len(parts) > 2 else " and ") + parts[-1]


def _effects(pair: Sequence[Design]) -> list[str]:
    """The two answers that move most, and dangers that come or go."""
    moved = []
    for one in outcomes(pair):
        first, value = one.values
        if one.changes[1].state not in ("better", "worse") or first is None or value is None:
            continue
        size = abs(log(value / first)) if first > 0 and value > 0 else 9.0
        way = "rises" if value > first else "falls"
        moved.append((size, f"{_lower(one.label)} {way} from {one.shown[0]} to {one.shown[1]}"))
    moved.sort(key=lambda one: -one[0])
    found = [words for _, words in moved[:2]]
    more = _dangers(pair[1]) - _dangers(pair[0])
    if more:
        many = "one danger" if abs(more) == 1 else f"{abs(more)} dangers"
        found.append(f"{many} {'come' if more > 0 else 'go'}{'s' if abs(more) == 1 else ''}".replace("gos", "goes"))
    return found


def as_json(designs: Sequence[Design]) -> dict[str, Any]:
    """The whole comparison as plain data; values are in base units."""
    return {
        "sentences": [sentence(designs, at) for at in range(1, len(designs))],
        "asked": count_asked(designs),
        "differences": [{"key": one.key, "label": one.label, "shown": list(one.shown), "other": list(one.other)}
                        for one in differences(designs)],
        "standings": [{"said": [vars(said) for said in overview.standings(design)],
                       "change": vars(standing(designs, at))} for at, design in enumerate(designs)],
        "outcomes": [{"key": one.key, "label": one.label, "values": list(one.values), "shown": list(one.shown),
                      "limits": list(one.limits), "changes": [vars(change) for change in one.changes]}
                     for one in outcomes(designs)]}
