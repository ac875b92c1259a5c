"""What to answer next where a topic could give no verdict: the one sentence a reader is owed instead of silence."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

from .plan import FIELDS, TABLES, find_column
from .sheet import Written

ORDER = {key: place for place, key in enumerate([*FIELDS, *TABLES])}


def sentence(topic: str, written: Written, topic_of: Mapping[str, str], label_of: Callable[[str], str]) -> str:
    """Why a topic has no verdict: a fault, a limit, a topic it stands on that does not work, an answer left open.

    ``topic_of`` says which topic gives a result, ``label_of`` how the reader knows a key.
    """
    lacking = list(_lacking(topic, written, topic_of))
    for key in lacking:
        if key in written.faults:
            return str(written.faults[key])
    for name in [topic, *(topic_of[key] for key in lacking if key in topic_of)]:
        if written.limits.get(name):
            return written.limits[name][0]
    for name in (topic_of[key] for key in lacking if key in topic_of):
        # What that topic said of itself is what stands in the way here too.
        said = written.verdicts.get(name)
        if said is not None and said.state in ("fails", "open"):
            return said.text
    for key in lacking:
        if key not in topic_of:
            return f"Answer “{label_of(key)}” first."
    if lacking:
        return f"It needs {_small(label_of(lacking[0]))}, which these answers do not give."
    return "These answers do not settle it."


def _small(label: str) -> str:
    """A label within a sentence; what is written in capitals stays so."""
    return label[:1].lower() + label[1:] if label[1:2].islower() else label


def _lacking(topic: str, written: Written, topic_of: Mapping[str, str]) -> Iterator[str]:
    """Keys that a topic waits for, then those that the topics of these results wait for, each once."""
    seen, topics, coming = {topic}, [topic], set()
    for name in topics:
        for key in sorted(written.waiting.get(name, ()), key=_place):
            if key in coming:
                continue
            coming.add(key)
            yield key
            other = topic_of.get(key)
            if other is not None and other not in seen:
                seen.add(other)
                topics.append(other)


def _place(key: str) -> tuple[int, str]:
    """Where a question stands among all, a cell with its table; results after all questions."""
    cell = find_column(key)
    return ORDER.get(cell[0].key if cell else key, len(ORDER)), key
