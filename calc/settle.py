"""Plans typed one after another: what is in sight is answered at once, the rest is worked out in short pieces of time.

Between two pieces the page can say that something else was typed; the new plan then takes the place of the old one.
"""

from __future__ import annotations

from collections.abc import Callable, Collection
from time import perf_counter
from typing import TypeVar

from .errors import Pending
from .plan import TOPIC_OF, Plan
from .solve import Design, Memory, Walk

# Short enough that a key typed meanwhile is not felt to wait, long enough that asking for the next costs little.
SLICE_SECONDS = 0.02

Made = TypeVar("Made")


class Settling:
    """The plan that somebody types on and on, what is known of it, and the way to the rest."""

    def __init__(self, memory: Memory | None = None, clock: Callable[[], float] = perf_counter) -> None:
        self.memory = memory or Memory()
        self._clock = clock
        self._read: Plan | None = None
        self._whole: Design | None = None
        self._walk: tuple[Plan, Walk] | None = None

    def read(self, given: object) -> Plan:
        """The plan of a mapping; only what is another text than the last time is read anew."""
        self._read = Plan.from_mapping(given, self._read)
        return self._read

    def whole(self, plan: Plan) -> Design:
        """All of a plan at once."""
        if self._whole is None or not _same(self._whole.plan, plan):
            self._end(plan, self.memory.solve(plan))
        assert self._whole is not None
        return self._whole

    def first(self, plan: Plan, topics: Collection[str], make: Callable[[Design], Made]) -> tuple[Design, Made]:
        """What ``make`` makes of a design of these topics, and of those that it cannot do without."""
        if self._whole is not None and _same(self._whole.plan, plan):
            return self._whole, make(self._whole)
        wanted = set(topics)
        while True:
            design = self.memory.some(plan, wanted)
            try:
                return design, make(design)
            except Pending as lack:
                wanted.add(lack.topic)

    def go_on(self, plan: Plan) -> Design | None:
        """Work on the rest of a plan for a short time; its whole design once there is nothing left to do."""
        if self._whole is not None and _same(self._whole.plan, plan):
            return self._whole
        if self._walk is None or not _same(self._walk[0], plan):
            self._walk = plan, Walk(self.memory, plan)
        walk, until = self._walk[1], self._clock() + SLICE_SECONDS
        while walk.on():
            if self._clock() >= until:
                return None
        return self._end(plan, walk.design())

    def _end(self, plan: Plan, design: Design) -> Design:
        self._whole, self._walk = design, None
        return design

    def faults(self, design: Design) -> dict[str, str]:
        """The faults of a design; of topics that it leaves out, those that the last whole plan had, as yet."""
        found = dict(design.faults)
        if design.passed and self._whole is not None:
            before = self._whole.plan
            for key, told in self._whole.faults.items():
                if (TOPIC_OF.get(key) in design.passed and key not in before.faults
                        and before.text.get(key) == design.plan.text.get(key)):
                    found.setdefault(key, told)
        return found


def _same(one: Plan, other: Plan) -> bool:
    return one is other or (one.text == other.text and one.faults == other.faults)
