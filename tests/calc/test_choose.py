"""No set of pumps chosen is ever beaten by trying every set."""

from itertools import pairwise, product
from math import ceil

from hypothesis import given, settings
from hypothesis import strategies as st

from calc.numeric import choose
from calc.numeric.choose import MOST_NODES, MOST_OF_LARGEST, choose_pumps

flow = st.one_of(st.integers(1, 12).map(float), st.floats(0.5, 12.0))
cost = st.one_of(st.integers(0, 15).map(float), st.floats(0.0, 15.0))
pump_list = st.lists(st.tuples(flow, cost), min_size=1, max_size=4)


def every_set(flows, costs, target, floor):
    """Least cost over all counts that could matter."""
    largest = max(flows)
    most = [ceil(max(target, floor + largest) / one) + 1 for one in flows]
    best = None
    for counts in product(*(range(count + 1) for count in most)):
        total = sum(n * f for n, f in zip(counts, flows, strict=False))
        if total < target * (1 - 1e-9) or not any(counts):
            continue
        if floor and total - max(f for n, f in zip(counts, flows, strict=False) if n) < floor * (1 - 1e-9):
            continue
        spent = sum(n * c for n, c in zip(counts, costs, strict=False))
        best = spent if best is None else min(best, spent)
    return best


@settings(max_examples=150, deadline=None)
@given(pump_list, st.floats(0.1, 9.0), st.one_of(st.just(0.0), st.floats(0.1, 6.0)))
def test_never_beaten_by_exhaustive_search(rows, target, floor):
    flows, costs = (tuple(column) for column in zip(*rows, strict=False))
    found = choose_pumps(flows, costs, target, floor)
    known = every_set(flows, costs, target, floor)
    assert found.proved
    assert abs(found.cost - known) <= 1e-6 * max(1.0, known)
    assert found.flow >= target * (1 - 2e-9)
    if floor:
        assert found.flow - max(f for n, f in zip(found.counts, flows, strict=False) if n) >= floor * (1 - 1e-6)
    assert abs(found.flow - sum(n * f for n, f in zip(found.counts, flows, strict=False))) < 1e-9


def test_greedy_would_be_wrong():
    # The best watts per litre is the 7, but 7 + 7 costs more than 5 + 5 for a need of ten.
    assert choose_pumps((7.0, 5.0), (7.0, 5.5), 10.0).counts == (0, 2)


def test_equal_cost_takes_fewer_pumps():
    assert choose_pumps((5.0, 10.0), (4.0, 8.0), 20.0).counts == (0, 2)


def test_with_the_largest_dead_the_floor_still_holds():
    plain = choose_pumps((10.0, 4.0), (10.0, 5.0), 10.0)
    safe = choose_pumps((10.0, 4.0), (10.0, 5.0), 10.0, 6.0)
    assert plain.counts == (1, 0)
    # One 10 leaves nothing; 4 + 4 + 4 leaves 8 and costs less than 10 + 4 + 4 or 10 + 10.
    assert safe.counts == (0, 3)


def test_huge_targets_and_empty_lists_are_refused_not_searched():
    assert choose_pumps((1.0, 2.0), (1.0, 2.0), 2.0 * MOST_OF_LARGEST * 1.01) is None
    assert choose_pumps((1e-9,), (1.0,), 1e9) is None
    assert choose_pumps((), (), 1.0) is None
    assert choose_pumps((0.0,), (1.0,), 1.0) is None


def test_more_air_is_never_cheaper():
    flows, costs = (3.1, 7.9, 15.2, 40.7), (3.0, 6.0, 11.0, 26.0)
    paid = [choose_pumps(flows, costs, target / 3).cost for target in range(1, 600)]
    assert all(later >= earlier - 1e-9 for earlier, later in pairwise(paid))


def test_a_list_of_equal_worth_ends_and_tells_its_bound(monkeypatch):
    followed = []
    # Each branch that is followed asks once how many of a pump could be of use.
    monkeypatch.setattr(choose, "ceil", lambda value: followed.append(value) or ceil(value))
    flows = tuple(1.0 + 0.61803398875 * n % 1 + n * 0.1371 for n in range(20))
    choose_pumps.cache_clear()
    found = choose_pumps(flows, flows, 100.0)
    assert 0 < len(followed) <= MOST_NODES
    assert not found.proved
    assert found.flow >= 100.0 * (1 - 2e-9)
    assert found.bound <= found.cost <= 100.0 * 1.01
