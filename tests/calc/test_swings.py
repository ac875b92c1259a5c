"""Ends of products and sums against plain random draws."""

from math import exp, log
from random import Random

import pytest

from calc.numeric.swings import of_product, of_sum
from calc.plan import Plan
from calc.solve import solve

U_95 = 1.6448536


def percentile(values, share):
    return sorted(values)[int(len(values) * share)]


def test_a_products_ends_are_the_percentiles_of_random_draws():
    random = Random(3)
    drawn = [exp(random.gauss(0, log(1.5) / U_95)) * exp(random.gauss(0, log(3.0) / U_95)) for _ in range(20_000)]
    assert of_product([1.5, 3.0]) == pytest.approx(percentile(drawn, 0.95), rel=0.05)
    assert of_product([1 / 1.5, 1 / 3.0]) == pytest.approx(percentile(drawn, 0.05), rel=0.05)
    # By hand: e to the root of 0.405 squared and 1.099 squared is 3.226; both at once would be 4.5.
    assert of_product([1.5, 3.0]) == pytest.approx(3.226, abs=1e-3)


def test_a_sums_ends_are_the_percentiles_of_random_draws():
    random = Random(4)
    drawn = [random.gauss(0, 3 / U_95) + random.gauss(0, 4 / U_95) for _ in range(20_000)]
    assert of_sum([3.0, 4.0]) == 5.0 == pytest.approx(percentile(drawn, 0.95), rel=0.05)
    assert of_sum([-3.0, -4.0]) == -5.0


def test_the_water_use_has_such_ends():
    found = solve(Plan({"light.by": "none", "light.sun": "map", "oxygen.plants": "10"}))
    low, likely, high = (found.value(f"use.by_mass{end}") for end in ("_low", "", "_high"))
    assert low < likely < high
    assert "One bath in twenty" in found.answers["use.by_mass_low"].note
    assert "at once" in found.answers["use.by_mass_high"].note
