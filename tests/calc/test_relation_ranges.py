"""Where each relation ends: at its limit it answers, a hair beyond it says which quantity was out of range.

The table is kept by hand beside the code, so that a limit that moves is seen: what the docstrings and the published
ranges say, such as 0 to 40 C for water, 1 for a share, 3 to 10 for the pH of phosphate.
"""

import csv
from pathlib import Path

import pytest

from calc.errors import OutOfRange
from calc.relations import RELATIONS
from tests import references

with open(Path(__file__).resolve().parents[1] / "fixtures" / "ranges.csv", newline="", encoding="utf-8") as file:
    LIMITS = list(csv.DictReader(file))
# The first outside check of each relation is where all its other arguments stand.
USUAL = {row["relation"]: row["inputs"] for row in reversed(references.rows())}
INSIDE = {"at least": True, "at most": True, "above": False, "below": False}
DOWN = {"at least", "above"}


def refusal(relation, **changes):
    """What the relation says against these arguments; empty where it answers."""
    try:
        RELATIONS[relation].function(**{**USUAL[relation], **changes})
    except OutOfRange as refused:
        return str(refused)
    return ""


def test_most_relations_have_limits_in_the_table():
    assert len({row["relation"] for row in LIMITS}) > 0.9 * len(RELATIONS) and len(LIMITS) > 550


@pytest.mark.parametrize("name", sorted({row["relation"] for row in LIMITS}))
def test_a_relation_ends_where_the_table_says(name):
    for row in (row for row in LIMITS if row["relation"] == name):
        limit = float(row["value"])
        hair = max(abs(limit) * 1e-8, 1e-8) * (-1 if row["bound"] in DOWN else 1)
        at = refusal(name, **{row["argument"]: limit})
        assert at == "" if INSIDE[row["bound"]] else at.startswith(row["quantity"]), (row, at)
        assert refusal(name, **{row["argument"]: limit + hair}).startswith(row["quantity"]), row
        assert refusal(name, **{row["argument"]: limit - (hair if limit else 1e-3 * hair)}) == "", row
