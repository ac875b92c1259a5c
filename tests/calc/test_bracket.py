"""The bracket search, against a general library and where a secant alone would creep."""

import pytest
from scipy.optimize import brentq

from calc.numeric.bracket import narrow

FUNCTIONS = [lambda x: 2.0 - x, lambda x: 1.0 - x**7, lambda x: 0.3 - x**0.2, lambda x: 1e-9 - x,
             lambda x: 1.0 if x < 0.7 else -1.0]


@pytest.mark.parametrize("function", FUNCTIONS)
def test_the_zero_is_between_ends_that_meet(function):
    low, high = narrow(function, 0.0, 10.0, function(0.0), function(10.0), 1e-12)
    assert high - low <= 1e-12 * high or high == pytest.approx(low, rel=1e-15)
    assert function(low) >= 0.0 >= function(high)
    assert high == pytest.approx(brentq(function, 0.0, 10.0, xtol=1e-15), rel=1e-9, abs=1e-14)


def test_it_takes_far_fewer_looks_than_halving():
    looks = []
    narrow(lambda x: looks.append(x) or 2.0 - x, 0.0, 10.0, 2.0, -8.0, 1e-12)
    assert len(looks) < 10


def test_close_enough_is_both_ends():
    low, high = narrow(lambda x: 2.0 - x, 0.0, 10.0, 2.0, -8.0, 1e-12, enough=0.1)
    assert low == high and abs(2.0 - low) <= 0.1
