"""A plan in the other system of units: no size changes that was typed, and in somebody's own plan none that was
guessed."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from math import isclose

from . import moments, units
from .declare import Field
from .errors import UnreadableQuantity
from .plan import FIELDS, UNITS, Plan, default_text, find_column, read_cell
from .solve import Design

MONEY = "energy.currency"
# Kinds of what belongs to the place: they follow the system of units whoever owns the rest.
OF_THE_PLACE = ("voltage", "current")


def field_of(key: str) -> Field | None:
    """The question, or the column, that a key of the plan answers; ``None`` for one that nothing asks."""
    found = find_column(key)
    return FIELDS.get(key) or (found[2] if found else None)


def _is_size(field: Field | None) -> bool:
    """Whether an answer is of a kind whose bare number takes a unit from the system of units."""
    return field is not None and field.kind in units.KINDS and field.kind not in ("whole", "money", "tariff")


def _guesses(plan: Plan, solved: Callable[[Plan], Design]) -> dict[str, str]:
    """The guesses that stand for another size in the other system, with their units: they stay as they are once
    something about the bath is the reader's own, or a change of units would change its holes.

    Mains and money are of the place, not of the bath. A plan whose choices alone are its own meets the round guesses
    of the other system.
    """
    if not any(_is_size(field_of(key)) or find_column(key) for key in plan.lasting()):
        return {}
    other = "us" if plan.system == "metric" else "metric"
    found = {}
    for key, field in FIELDS.items():
        if key in plan.text or not _is_size(field) or field.kind in OF_THE_PLACE or field.transient:
            continue
        standing = plan.default_of(field)
        if standing and plan.asked(field) and not _same_size(field, plan.values.get(key), other):
            found[key] = standing
    if "board.spacing" not in plan.text:
        design = solved(plan)
        if design.value("crops.spacing") is not None:
            found["board.spacing"] = design.shown("crops.spacing")
    return found


def _same_size(field: Field, value: object, other: str) -> bool:
    try:
        there = read_cell(field, default_text(field, other), other)
    except UnreadableQuantity:
        return False
    return isinstance(value, float) and isinstance(there, float) and isclose(value, there, rel_tol=1e-9)


def switched(plan: Plan, to: str, solved: Callable[[Plan], Design]) -> dict[str, str]:
    """The plan's text with units written onto bare numbers, for the system "us" or "metric"; ``solved`` works out a
    plan, and is asked only where a guess hangs on its answers."""
    text = {}
    for key, typed in plan.text.items():
        field = field_of(key)
        text[key] = typed
        if field is not None and field.kind == "date" and isinstance(day := plan.values.get(key), date):
            # Which number is the month depends on the units.
            text[key] = moments.show_date(day)
        if field is None or not _is_size(field):
            continue
        kind = units.KINDS[field.kind]
        unit = (field.metric or kind.metric) if plan.system == "metric" else (field.us or kind.us)
        if unit and typed.strip() and _reads_the_same(typed, unit, field, plan.system):
            text[key] = f"{typed.strip()} {unit}"
    typed_money = any(getattr(field_of(key), "kind", "") in ("money", "tariff") and typed.strip()
                      for key, typed in text.items())
    if typed_money and MONEY not in text:
        # An amount that was typed stays in the currency it was typed in.
        text[MONEY] = default_text(FIELDS[MONEY], plan.system)
    if to != plan.system:
        text = {**_guesses(plan, solved), **text}
    text[UNITS.key] = to
    return text


def _reads_the_same(typed: str, unit: str, field: Field, system: str) -> bool:
    own = field.metric if system == "metric" else field.us
    try:
        return units.parse(typed, field.kind, system, own) == units.parse(f"{typed} {unit}", field.kind, system, own)
    except ValueError:
        return False
