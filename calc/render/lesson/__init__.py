"""A plan as a lesson: a worksheet in three levels, its answer key, and six activities with what the plan predicts."""

from __future__ import annotations

from ...plan import Plan
from ...solve import Design, solve
from . import activities, sheet
from .classes import LARGEST, SMALLEST, plan_of

EXAMPLE, OWN = "the built-in example, whose sizes are invented", "your own plan"


def parts(design: Design, whose: str) -> dict[str, str]:
    """The pieces of the page that follow the plan, HTML by name; ``whose`` says in words where the numbers are from."""
    numbered = sheet.problems_of(design)
    return {"worksheet": sheet.worksheet(design, numbered, whose), "key": sheet.answer_key(design, numbered),
            "activities": activities.html(design)}


def of_class(number: int, system: str) -> dict[str, str]:
    """The lesson with the numbers of a class: who types the same number gets the same lesson."""
    return parts(solve(Plan(plan_of(number, system))), f"class number {number}")


__all__ = ["EXAMPLE", "LARGEST", "OWN", "SMALLEST", "of_class", "parts", "plan_of"]
