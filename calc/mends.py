"""What a reader could change where a verdict is tight or fails: each change is tried by a real solve, then offered."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import islice

from .mending import OF_TOPIC, Candidate
from .plan import Plan
from .solve import Design, Memory
from .topics import TOPICS
from .units import written

MOST = 3
# Trials of one topic, of changes alone before two together, and of one finder, so that none takes the others' time.
MOST_SOLVES, MOST_ALONE, MOST_EACH = 12, 9, 3
# Which of two verdicts is the worse: what nobody can tell is worse than what is tight.
RANK = {"fits": 0, "tight": 1, "open": 2, "fails": 3}
BAD = ("tight", "fails")


@dataclass(frozen=True)
class Mend:
    """A change that was tried and does what it says.

    ``id`` tells it from the topic's others; ``act`` is what to do, as the words of a button; ``consequence`` what comes
    of it in the plan's own numbers; ``changes`` are keys of the plan and the text to type there.

    >>> from calc import Plan
    >>> from calc.mends import mends
    >>> mend = mends(Plan({"bath.fill": "floor"}), "water")[0]
    >>> mend.act, mend.changes
    ('Fill over the rim', {'bath.fill': 'rim'})
    >>> mend.consequence.startswith("what runs back falls from ")
    True
    """

    id: str
    topic: str
    act: str
    consequence: str
    changes: Mapping[str, str]


def mends(plan: Plan, topic: str, memory: Memory | None = None) -> tuple[Mend, ...]:
    """Up to three smallest changes that make a topic's verdict fit, the smallest first.

    Where no change alone does, two together that do; where none makes it fit, those that raise it from failing to
    tight. None makes another topic's verdict worse, brings a fault or a new danger. A plan with a faulty answer gets
    none, nor does a verdict that fits or waits for an answer. ``memory`` is one that solved this plan, or nearly this
    plan; it is not changed.
    """
    memory = memory.copy() if memory else Memory()
    before = memory.solve(plan)
    given = before.verdicts.get(topic)
    if before.faults or plan.faults or given is None or given.state not in BAD:
        return ()
    search = _Search(plan, topic, before, memory)
    search.go(before, {}, "", MOST_ALONE)
    half = search.half
    if not search.whole and half is not None:
        alone = tuple(search.partly)
        search.go(half.after, half.candidate.changes, half.candidate.act, MOST_SOLVES)
        # Two changes that come no further than one alone are one too many.
        return tuple(search.whole or alone or search.partly)[:MOST]
    return tuple(search.whole or search.partly)[:MOST]


@dataclass(frozen=True)
class _Half:
    """A change that mends a part: what is left of the topic's troubles, and the design that it makes."""

    left: tuple[int, int, bool]
    candidate: Candidate
    after: Design


class _Search:
    """The trials for one topic: what was tried, what fits, what only helps, and the best that mends a part."""

    def __init__(self, plan: Plan, topic: str, before: Design, memory: Memory):
        self.plan, self.topic, self.before, self.memory = plan, topic, before, memory
        self.solved = 0
        self.tried: list[Mapping[str, str]] = []
        self.whole: list[Mend] = []
        self.partly: list[Mend] = []
        self.half: _Half | None = None

    def go(self, design: Design, with_changes: Mapping[str, str], with_act: str, most: int) -> None:
        """Try what the finders see in a design, each together with changes made already, up to ``most`` solves."""
        for finder in OF_TOPIC.get(self.topic, ()):
            helped = len(self.partly)
            for candidate in islice(self._new(finder(design), with_changes, with_act), MOST_EACH):
                if self.solved >= most or len(self.whole) >= MOST:
                    return
                if self._fits(candidate, len(self.partly) > helped):
                    break

    def _new(self, candidates: Iterable[Candidate], with_changes: Mapping[str, str],
             with_act: str) -> Iterator[Candidate]:
        """Candidates that change something, were not tried yet, and can be read."""
        for one in candidates:
            changes = {**with_changes, **one.changes}
            idle = all(self.plan.text.get(key, "").strip() == words for key, words in one.changes.items())
            # What holds a mend within it is larger than it need be; two together may hold one that only helps.
            smaller = self.whole if with_changes else [*self.whole, *self.partly]
            larger = any(mend.changes.items() <= changes.items() for mend in smaller)
            if idle or larger or changes in self.tried or with_changes.keys() & one.changes.keys():
                continue
            self.tried.append(changes)
            act = f"{with_act}, and {one.act[:1].lower()}{one.act[1:]}" if with_act else one.act
            if not Plan({**self.plan.text, **changes}).faults:
                # Two changes that mend two things: what the second does to its number is not what both do.
                yield Candidate(changes, act, () if with_changes else one.about)

    def _left(self, design: Design) -> tuple[int, int, bool]:
        """How bad the verdict is, how many things of the topic ask for care, and whether the first is as it was."""
        given = design.verdicts[self.topic]
        cautions = sum(one.topic == self.topic and one.level != "note" and not one.standing for one in design.cautions)
        return RANK[given.state], cautions, given.lead == self.before.verdicts[self.topic].lead

    def _fits(self, candidate: Candidate, helped: bool) -> bool:
        """Try one by a solve and tell whether the verdict then fits; ``helped`` where a smaller one like it helps."""
        self.solved += 1
        after = self.memory.copy().solve(Plan({**self.plan.text, **candidate.changes}))
        state = _state(self.before, after, self.topic)
        if state == "fits":
            self.whole.append(_mend(candidate, self.before, after, self.topic))
        elif state == "tight" and self.before.verdicts[self.topic].state == "fails" and not helped:
            self.partly.append(_mend(candidate, self.before, after, self.topic))
        if not state:
            return False
        left = self._left(after)
        if left < (self.half.left if self.half else self._left(self.before)):
            self.half = _Half(left, candidate, after)
        return state == "fits"


def mends_of(plan: Plan, topics: Iterable[str], memory: Memory | None = None) -> dict[str, tuple[Mend, ...]]:
    """The mends of several topics, of those that have any."""
    memory = memory or Memory()
    memory.solve(plan)
    found = {topic: mends(plan, topic, memory) for topic in topics}
    return {topic: some for topic, some in found.items() if some}


def as_json(found: Mapping[str, tuple[Mend, ...]]) -> dict[str, list[dict[str, object]]]:
    """Mends as plain data."""
    return {topic: [{"id": one.id, "act": one.act, "consequence": one.consequence, "changes": dict(one.changes)}
                    for one in some] for topic, some in found.items()}


ALL = tuple(topic.NAME for topic in TOPICS if topic.VERDICT)


def _state(before: Design, after: Design, topic: str) -> str:
    """The topic's new verdict; empty where the change brings a fault, a danger, or a worse verdict elsewhere."""
    if after.faults or topic not in after.verdicts or _dangers(after) - _dangers(before):
        return ""
    for name, given in before.verdicts.items():
        now = after.verdicts.get(name)
        if name != topic and now is not None and RANK[now.state] > RANK[given.state]:
            return ""
    fresh = [after.verdicts[name].state for name in after.verdicts.keys() - before.verdicts.keys()]
    return "" if "fails" in fresh else after.verdicts[topic].state


def _dangers(design: Design) -> set[str]:
    return {one.code for one in design.cautions if one.level == "danger" and not one.standing}


def _mend(candidate: Candidate, before: Design, after: Design, topic: str) -> Mend:
    name = " ".join(f"{key}={words}" for key, words in sorted(candidate.changes.items()))
    said = _consequence(candidate, before, after, topic)
    return Mend(name, topic, written(candidate.act), said, dict(candidate.changes))


def _consequence(candidate: Candidate, before: Design, after: Design, topic: str) -> str:
    """The first of the numbers told that the reader sees change; else the verdict's own figure, before and after."""
    for said in candidate.about:
        old, new = before.value(said.key), after.value(said.key)
        was, now = before.shown(said.key), after.shown(said.key)
        if now and was and was != now and isinstance(old, (int, float)) and isinstance(new, (int, float)):
            return f"{said.noun} {said.falls if new < old else said.rises} from {_joined(was, now)}"
        if now and not was:
            return f"{said.noun}: {now}"
    was, now = (design.verdicts[topic].figure for design in (before, after))
    lead = after.verdicts[topic].lead.rstrip(".")
    if was and now and was != now and (candidate.about or after.verdicts[topic].state != "fits"):
        return f"{was} becomes {now}"
    return f"{lead[:1].lower()}{lead[1:]}" if lead else now


def _joined(was: str, now: str) -> str:
    """Two sizes with their unit said once, where it is the same: "6.2 to 4.4 ft/s"."""
    number, _, unit = was.rpartition(" ")
    return f"{number} to {now}" if number and now.endswith(f" {unit}") else f"{was} to {now}"
