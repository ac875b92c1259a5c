"""The solver without negative amounts, against the one of a general library."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import nnls as library

from calc.numeric import nnls

NEVER_WORSE = 1e-9


def check(columns, aims):
    amounts, left = nnls.solve(columns, aims)
    matrix = np.array(columns, dtype=float).T.reshape(len(aims), len(columns))
    _, expected = library(matrix, np.array(aims))
    assert min(amounts, default=0.0) >= 0.0
    # What it says is left is what is left.
    assert left == pytest.approx(np.linalg.norm(matrix @ np.array(amounts) - np.array(aims)), abs=NEVER_WORSE)
    assert left <= expected + NEVER_WORSE
    return amounts, left


NUMBERS = st.floats(-5.0, 5.0).map(lambda value: round(value, 3))


@st.composite
def problems(draw):
    rows, count = draw(st.integers(1, 10)), draw(st.integers(1, 12))
    columns = [draw(st.lists(NUMBERS, min_size=rows, max_size=rows)) for _ in range(count)]
    if count > 2 and draw(st.booleans()):
        # One column that the others make up: the answer is not unique.
        columns[-1] = [one + other for one, other in zip(columns[0], columns[1], strict=True)]
    return columns, draw(st.lists(NUMBERS, min_size=rows, max_size=rows))


@settings(max_examples=400, deadline=None)
@given(problems())
def test_it_is_never_worse_than_the_library(problem):
    check(*problem)


@pytest.mark.parametrize("seed", range(300))
def test_it_is_never_worse_on_columns_like_salts(seed):
    numbers = np.random.default_rng(seed)
    rows, count = numbers.integers(3, 13), numbers.integers(2, 16)
    matrix = numbers.random((rows, count)) * (numbers.random((rows, count)) < 0.3) * 10.0 ** numbers.integers(0, 4)
    check(matrix.T.tolist(), (numbers.random(rows) * 3 - 0.3).tolist())


def test_a_known_answer_with_one_bound_active():
    amounts, left = check([[1.0, 0.0], [0.0, 1.0]], [2.0, -3.0])
    assert amounts == pytest.approx([2.0, 0.0])
    assert left == pytest.approx(3.0)


def test_columns_of_nothing_and_aims_of_nothing_give_nothing():
    assert nnls.solve([[0.0, 0.0]], [1.0, 1.0]) == ([0.0], pytest.approx(math.sqrt(2)))
    assert nnls.solve([[1.0, 2.0]], [0.0, 0.0]) == ([0.0], 0.0)
    assert nnls.solve([], [3.0, 4.0]) == ([], pytest.approx(5.0))


def test_a_column_that_could_stand_in_is_named_and_no_other():
    problem = nnls.Problem([[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [1.0, 1.0, 0.0], [0.0, 0.0, -1.0]], [1.0, 2.0, 0.5])
    amounts, _ = problem.solve()
    unused = [place for place, amount in enumerate(amounts) if amount == 0.0]
    assert 3 in unused
    assert problem.others(amounts) == [place for place in unused if place != 3]


@settings(max_examples=200, deadline=None)
@given(problems(), st.data())
def test_one_more_column_never_leaves_more(problem, data):
    columns, aims = problem
    more = data.draw(st.lists(NUMBERS, min_size=len(aims), max_size=len(aims)))
    assert nnls.solve([*columns, more], aims)[1] <= nnls.solve(columns, aims)[1] + NEVER_WORSE
