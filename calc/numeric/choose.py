"""Which pumps to buy, and how many of each: the cheapest set that is enough, proved, not guessed."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from math import ceil, inf

MOST_OF_LARGEST = 60
MOST_NODES = 20_000
# A float sum may fall a hair short of the flow it stands for; pumps are not known to a billionth.
SLACK = 1e-9


@dataclass(frozen=True)
class Chosen:
    """A set of pumps: ``counts`` in the order of the list given, with what they deliver and cost together.

    ``proved`` says that no other set is cheaper; otherwise none costs less than ``bound``.
    """

    counts: tuple[int, ...]
    flow: float
    cost: float
    proved: bool
    bound: float


@lru_cache(maxsize=512)
def choose_pumps(flows: tuple[float, ...], costs: tuple[float, ...], target: float,
                 floor_without_largest: float = 0.0) -> Chosen | None:
    """The cheapest counts of pumps whose flows add up to ``target`` or more.

    ``flows`` (m3/s delivered by one) and ``costs`` (of one: watts or money, 0 or more) go together; a flow of 0 is
    never chosen. With ``floor_without_largest`` above zero, the set must still deliver that much when its largest
    pump stops. Among equal costs, fewer pumps. ``None`` when the list is empty or when it would take more than 60 of
    its largest pump. Branch and bound: a branch is left only when its lower bound is not under the best set known.
    """
    usable = [index for index, flow in enumerate(flows) if flow > 0.0]
    if not usable:
        return None
    largest = max(flows[index] for index in usable)
    need = max(target, floor_without_largest + largest if floor_without_largest > 0.0 else 0.0)
    if need > MOST_OF_LARGEST * largest:
        return None
    kept = _undominated(usable, flows, costs)
    # A breath of cost per pump makes equal costs fall to fewer pumps.
    breath = 1e-9 * (max(costs[index] for index in kept) or 1.0)
    least, best = inf, dict.fromkeys(kept, 0)
    proved, bound = True, inf
    if floor_without_largest > 0.0:
        # Once for each pump that may be the largest of the set; a set found that lacks it needs less, so it holds.
        goals = [(place, max(target, floor_without_largest + flows[index])) for place, index in enumerate(kept)]
    else:
        goals = [(len(kept) - 1, target)]
    for place, goal in goals:
        part = kept[: place + 1]
        found = _cover([flows[i] for i in part], [costs[i] + breath for i in part], goal, least)
        proved = proved and found.proved
        bound = min(bound, found.bound)
        if found.counts is not None:
            least, best = found.cost, dict(zip(part, found.counts, strict=False))
    counts = tuple(best.get(index, 0) for index in range(len(flows)))
    cost = sum(count * costs[index] for index, count in enumerate(counts))
    return Chosen(counts, sum(count * flows[index] for index, count in enumerate(counts)), cost, proved,
                  cost if proved else min(bound, cost))


@dataclass
class _Cover:
    """The best found under a ceiling: ``counts`` is ``None`` where nothing was cheaper than the ceiling."""

    cost: float
    counts: list[int] | None
    proved: bool
    bound: float


def _undominated(usable: list[int], flows: tuple[float, ...], costs: tuple[float, ...]) -> list[int]:
    """Leave out each pump that another matches or beats in both flow and cost; in order of rising flow.

    Putting the better pump in a worse one's place never lowers the total, nor the total without the largest.
    """
    kept: list[int] = []
    cheapest = inf
    for index in sorted(usable, key=lambda i: (-flows[i], costs[i], i)):
        if costs[index] < cheapest:
            kept.append(index)
            cheapest = costs[index]
    return kept[::-1]


def _cover(flows: list[float], costs: list[float], goal: float, ceiling: float) -> _Cover:
    """Cheapest counts with total flow of at least ``goal`` and cost under ``ceiling``."""
    goal *= 1.0 - SLACK
    order = sorted(range(len(flows)), key=lambda i: (costs[i] / flows[i], -flows[i]))
    flow = [flows[i] for i in order]
    cost = [costs[i] for i in order]
    rate = [one_cost / one_flow for one_cost, one_flow in zip(cost, flow, strict=False)]
    size = len(order)
    counts = [0] * size
    found = _Cover(ceiling, None, True, ceiling)
    nodes = 0
    seen: dict[tuple[int, int], float] = {}
    grain = goal * SLACK or 1.0

    def visit(place: int, rest: float, spent: float) -> None:
        nonlocal nodes
        if rest <= 0.0:
            if spent < found.cost:
                found.cost, found.counts = spent, counts.copy()
            return
        nodes += 1
        if place == size or nodes > MOST_NODES or spent + rest * rate[place] >= found.cost:
            return
        # Two ways to the same flow so far lead on alike; only the cheaper needs following.
        key = (place, round(rest / grain))
        if seen.get(key, inf) <= spent:
            return
        seen[key] = spent
        most = ceil(rest / flow[place])
        following = rate[place + 1] if place + 1 < size else inf
        for count in range(most, -1, -1):
            left = rest - count * flow[place]
            paid = spent + count * cost[place]
            # Fewer of this pump leave more to dearer ones: the bound only grows from here.
            if left > 0.0 and paid + left * following >= found.cost:
                break
            counts[place] = count
            visit(place + 1, left, paid)
        counts[place] = 0

    visit(0, goal, 0.0)
    found.proved = nodes <= MOST_NODES
    found.bound = found.cost if found.proved else goal * rate[0]
    found.counts = None if found.counts is None else _back(found.counts, order)
    return found


def _back(counts: list[int], order: list[int]) -> list[int]:
    """Counts in the caller's order."""
    found = [0] * len(order)
    for place, index in enumerate(order):
        found[index] = counts[place]
    return found
