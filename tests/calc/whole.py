"""What the tests of whole plans share: the plans by name, handbook units, and results held beside numbers."""

import json
from functools import lru_cache
from pathlib import Path

import pytest

from calc.plan import Plan
from calc.solve import solve

PLANS = Path(__file__).resolve().parents[1] / "plans"
GALLON_IN3, INCH, FOOT, POUND, OUNCE = 231.0, 0.0254, 0.3048, 0.45359237, 0.45359237 / 16
GALLON = GALLON_IN3 * INCH**3
LITRE = 1e-3
# Kell 1975 for pure water, in kg/m3, as printed in handbooks' tables of water.
WATER_20_C, WATER_10_C, WATER_25_C, WATER_28_C = 998.207, 999.702, 997.048, 996.236
G = 9.80665


def typed(name):
    return json.loads((PLANS / f"{name}.json").read_text(encoding="utf-8"))["plan"]


@lru_cache(maxsize=64)
def plan(name):
    return solve(Plan.from_mapping(typed(name)))


def changed(name, **answers):
    return solve(Plan.from_mapping({**typed(name), **{key.replace("__", "."): text for key, text in answers.items()}}))


def codes(design):
    return {one.code for one in design.cautions}


def levels(design):
    return {one.code: one.level for one in design.cautions}


def check(design, **expected):
    """Each result beside its number; a pair is (number, relative tolerance)."""
    for key, value in expected.items():
        number, tolerance = value if isinstance(value, tuple) else (value, 1e-6)
        got = design.value(key.replace("__", "."))
        assert got == pytest.approx(number, rel=tolerance), f"{key}: {got} is not {number}"


def items(design, key="parts.shopping"):
    return {row["item"]: row for row in design.value(key)}
