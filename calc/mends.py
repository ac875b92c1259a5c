"""What a reader could change where a verdict is tight or fails: each change is tried by a real solve, then offered."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import islice

from .mending import OF_TOPIC, Candidate
from .plan import Plan
from .solve import Design, Memory
from .topics import TOPICS

MOST = 3
# Trials of one topic, and of one finder of it, so that no topic takes the time of all the others.
MOST_SOLVES, MOST_EACH = 12, 3
# Whether one verdict is worse than another: what fits, what needs an answer, what is tight, what does not work.
RANK = {"fits": 0, "open": 1, "tight": 2, "fails": 3}
BAD = ("tight", "fails")


@dataclass(frozen=True)
class Mend:
    """A change that was tried and does what it says.

    ``id`` tells it from the topic's others; ``act`` is what to do, as the words of a button; ``consequence`` what comes
    of it in the plan's own numbers; ``changes`` are keys of the plan and the text to type there.

    >>> from calc import Plan
    >>> from calc.mends import mends
    >>> plan = Plan({"circulation.hose_bore": "3/8 in", "circulation.pump": "Example W6"})
    >>> [mend.act for mend in mends(plan, "circulation")][0].startswith("Take")
    True
    """

    id: str
    topic: str
    act: str
    consequence: str
    changes: Mapping[str, str]


def mends(plan: Plan, topic: str, memory: Memory | None = None) -> tuple[Mend, ...]:
    """Up to three smallest changes that make a topic's verdict fit, the smallest first.

    Where none makes it fit, those that raise it from failing to tight. None makes another topic's verdict worse, brings
    a fault or a new danger. A plan with a faulty answer gets none, nor does a verdict that fits or waits for an answer.
    ``memory`` is one that solved this plan, or nearly this plan; it is not changed.
    """
    memory = memory.copy() if memory else Memory()
    before = memory.solve(plan)
    given = before.verdicts.get(topic)
    if before.faults or plan.faults or given is None or given.state not in BAD:
        return ()
    whole: list[Mend] = []
    partly: list[Mend] = []
    left = MOST_SOLVES
    tried: list[Mapping[str, str]] = []
    for finder in OF_TOPIC.get(topic, ()):
        for candidate, changed in islice(_new(finder(before), plan, tried), MOST_EACH):
            if not left or len(whole) == MOST:
                return tuple(whole or partly[:MOST])
            left -= 1
            after = memory.copy().solve(changed)
            state = _state(before, after, topic)
            if state == "fits":
                whole.append(_mend(candidate, before, after, topic))
                break
            if state == "tight" and given.state == "fails":
                partly.append(_mend(candidate, before, after, topic))
    return tuple(whole or partly[:MOST])


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


ALL = tuple(topic.NAME for topic in TOPICS)


def _new(candidates: Iterable[Candidate], plan: Plan,
         tried: list[Mapping[str, str]]) -> Iterator[tuple[Candidate, Plan]]:
    """Candidates that change something, were not tried yet, and can be read: each with its plan."""
    for one in candidates:
        same = all(plan.text.get(key, "").strip() == words for key, words in one.changes.items())
        if not one.changes or same or one.changes in tried:
            continue
        tried.append(one.changes)
        changed = Plan({**plan.text, **one.changes})
        if not changed.faults:
            yield one, changed


def _state(before: Design, after: Design, topic: str) -> str:
    """The topic's new verdict; empty where the change brings a fault, a danger, or a worse verdict elsewhere."""
    if after.faults or topic not in after.verdicts or _dangers(after) - _dangers(before):
        return ""
    for name, given in before.verdicts.items():
        now = after.verdicts.get(name)
        if name != topic and now is not None and now.state != given.state and (
                RANK[now.state] > RANK[given.state] or now.state == "open"):
            return ""
    fresh = [after.verdicts[name].state for name in after.verdicts.keys() - before.verdicts.keys()]
    return "" if any(state in ("fails", "open") for state in fresh) else after.verdicts[topic].state


def _dangers(design: Design) -> set[str]:
    return {one.code for one in design.cautions if one.level == "danger" and not one.standing}


def _mend(candidate: Candidate, before: Design, after: Design, topic: str) -> Mend:
    name = " ".join(f"{key}={words}" for key, words in sorted(candidate.changes.items()))
    return Mend(name, topic, candidate.act, _consequence(candidate, before, after, topic), dict(candidate.changes))


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
    if was and now and was != now:
        return f"{was} becomes {now}"
    return f"{lead[:1].lower()}{lead[1:]}" if lead else now


def _joined(was: str, now: str) -> str:
    """Two sizes with their unit said once, where it is the same: "6.2 to 4.4 ft/s"."""
    number, _, unit = was.rpartition(" ")
    return f"{number} to {now}" if number and now.endswith(f" {unit}") else f"{was} to {now}"
