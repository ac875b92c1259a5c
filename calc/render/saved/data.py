"""Plain data for other programs: the plan as it is kept, all results as scripts get them, the dates for a phone."""

from __future__ import annotations

import json

from ...data.versions import VERSION
from ...plan import MADE_WITH, Plan
from ...solve import as_json
from .. import calendar
from ..paper import leaf


def kept(plan: Plan, name: str = "") -> str:
    """A plan as a file that every version of today and later reads; ``name`` is the reader's own, "" for none."""
    document: dict[str, object] = {"plan": plan.lasting(), "version": VERSION, "made_with": MADE_WITH}
    if name:
        document["name"] = name
    return json.dumps(document, indent=1, ensure_ascii=False) + "\n"


def plan(paper: leaf.Paper) -> str:
    """``plan.json``."""
    return kept(paper.design.plan, paper.own_name)


def results(paper: leaf.Paper) -> str:
    """``results.json``: letter by letter what the command ``solve`` prints."""
    found = {**as_json(paper.design), "notes": list(paper.notes)}
    return json.dumps(found, indent=1, ensure_ascii=False, allow_nan=False) + "\n"


def dates(paper: leaf.Paper) -> str:
    """``calendar.ics``; ValueError with a sentence where nothing is sown."""
    text = calendar.write(paper.design, paper.own_name)
    if not text:
        raise ValueError("This plan has no day of sowing or harvest yet, so there is no calendar.ics of it.")
    return text
