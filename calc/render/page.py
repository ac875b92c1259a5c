"""What crosses to the page: the pieces of HTML that follow the plan, by the name of their place, only those changed.

A sheet in sight is made first and by itself; what belongs to the plan as a whole, and to sheets out of sight, comes
after it. The build prints the same pieces from the same functions.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from functools import partial
from typing import Any, TypeVar
from zlib import crc32

from ..errors import Pending
from ..solve import Design
from ..steps import BY_NAME, STEPS, Key, Step
from ..topics import BY_NAME as TOPIC_BY_NAME
from ..traced import Readings
from . import answers, extras, lists, sheets, verdicts

Pieces = dict[str, str]
Made = TypeVar("Made")


class Shelf:
    """Pieces made for the last design, each with what it was made from, so that only changed ones are made."""

    def __init__(self) -> None:
        self._kept: dict[str, tuple[Readings, Any]] = {}

    def take(self, name: str, design: Design, make: Callable[[Design], Made]) -> Made:
        """The piece as kept, if all that ``make`` looked at in the design is as it was; ``make`` keeps to its name.

        Raises Pending where it hangs on a topic that the design leaves out for now.
        """
        kept = self._kept.get(name)
        if kept is not None and design.same(kept[0]):
            known: Made = kept[1]
            return known
        with design.noting() as seen:
            made = make(design)
        self._kept[name] = (seen, made)
        return made

    def last(self, name: str) -> Any:
        """The piece as it was made the last time; ``None`` where it never was."""
        kept = self._kept.get(name)
        return None if kept is None else kept[1]


def of_step(design: Design, step: Step, wide: bool = True, tables: bool = False, shelf: Shelf | None = None) -> Pieces:
    """The pieces of one sheet; its tables only where their fold is open.

    Of a design that leaves topics out for now: those that can be made. A single answer that cannot stays as it was,
    and so does a drawing, which is left out here. Raises Pending where there is no earlier one.
    """
    shelf, name = shelf or Shelf(), step.name
    found = {f"verdicts-{name}": _verdicts(step, design, shelf),
             f"keys-{name}": "".join(_front(key, design, shelf) for key in step.keys)}
    # A piece that depends on the width is kept under a name of its own.
    later = {f"picture-{name}": (f"picture-{name} {wide}", partial(_picture, step, wide))}
    if name in lists.OF_STEP:
        later[f"list-of-{name}"] = (f"list-of-{name}", partial(lists.OF_STEP[name]))
    if tables:
        later[f"tables-{name}"] = (f"tables-{name}", partial(_tables, step))
    for place, (kept, make) in later.items():
        try:
            found[place] = shelf.take(kept, design, make)
        except Pending:
            if shelf.last(kept) is None:
                raise
    return found


def _verdicts(step: Step, design: Design, shelf: Shelf) -> str:
    """The verdicts of a step; those of a topic that is left out for now as they were, marked as at work."""
    parts, at_work = [], set()
    for topic in verdicts.topics_of(step, design):
        name = f"said {topic.NAME}"
        try:
            parts.append(shelf.take(name, design, partial(verdicts.said_of, topic)))
        except Pending:
            before: verdicts.Said | None = shelf.last(name)
            if before is None or not step.quick:
                raise
            parts.append(before)
            at_work.add(topic.NAME)
    return verdicts.together(step, parts, at_work)


def _front(key: Key, design: Design, shelf: Shelf) -> str:
    """One answer in front; as it was where it hangs on a topic that is left out for now."""
    name = f"front {key.result} {key.label}"
    try:
        return shelf.take(name, design, partial(answers.front, key))
    except Pending:
        before: str | None = shelf.last(name)
        if before is None:
            raise
        return before


def _picture(step: Step, wide: bool, design: Design) -> str:
    return sheets.picture(step, design, wide)


def _standing(step: Step, design: Design) -> str:
    return verdicts.standing(step, design, sheets.ROOT)


def _count(step: Step, design: Design) -> str:
    return str(sheets.count_of_figures(step, design))


def _tables(step: Step, design: Design) -> str:
    """The tables and charts of a step's topics, and the cautions that have no line of their own."""
    return "".join(verdicts.others(topic, design) + (extras.OF_TOPIC[topic.NAME](design)
                                                     if topic.NAME in extras.OF_TOPIC else "")
                   for topic in verdicts.topics_of(step, design))


def of_plan(design: Design, shelf: Shelf | None = None) -> Pieces:
    """The pieces that follow the plan as a whole: dangers, list of steps, bars, counts."""
    shelf = shelf or Shelf()
    found = {"dangers": shelf.take("dangers", design, verdicts.dangers)}
    for step in STEPS:
        found[f"list-{step.name}"] = shelf.take(f"list-{step.name}", design, partial(sheets.summary, step))
        found[f"bar-{step.name}"] = shelf.take(f"bar-{step.name}", design, partial(sheets.bar, step))
        found[f"standing-{step.name}"] = shelf.take(f"standing-{step.name}", design, partial(_standing, step))
        found[f"count-{step.name}"] = shelf.take(f"count-{step.name}", design, partial(_count, step))
    return found


def everything(design: Design, shelf: Shelf | None = None) -> Pieces:
    """All pieces of all sheets, their rows with workings and their tables: what could be on paper."""
    shelf = shelf or Shelf()
    found = of_plan(design, shelf)
    for step in STEPS:
        found |= of_step(design, step, True, True, shelf)
        for topic in verdicts.topics_of(step, design):
            found[f"notes-{topic.NAME}"] = answers.waiting_note(topic, design)
            found[f"figures-{topic.NAME}"] = answers.rows(topic, design, True)
    return found


def rows(design: Design, step: Step, have: Mapping[str, str]) -> tuple[Pieces, dict[str, str]]:
    """The dense rows of a step, and marks of them; a mark tells which rows there are, not what they say."""
    html, marks = {}, {}
    for name in step.topics:
        topic = TOPIC_BY_NAME[name]
        present = design.has(name)
        notes, place = f"notes-{name}", f"figures-{name}"
        note = answers.waiting_note(topic, design) if present else ""
        keys = [spec.key for spec in topic.RESULTS if present and answers.has_row(spec.key, design)]
        marks[notes], marks[place] = _mark(note), _mark(" ".join(keys))
        if have.get(place) != marks[place]:
            html[place] = answers.rows(topic, design) if present else ""
        if have.get(notes) != marks[notes]:
            html[notes] = note
    return html, marks


def changed(pieces: Pieces, have: Mapping[str, str]) -> tuple[Pieces, dict[str, str]]:
    """The pieces whose mark is another than the page has, and the marks of all."""
    marks = {name: _mark(html) for name, html in pieces.items()}
    return {name: html for name, html in pieces.items() if have.get(name) != marks[name]}, marks


def lost(design: Design, pieces: Pieces) -> list[str]:
    """Drawings that a fault holds back: the page keeps the last good one there, marked as old."""
    return [name for name, html in pieces.items() if name.startswith("picture-") and not html] if design.faults else []


def texts(design: Design) -> dict[str, str]:
    """What every answer says, by result key."""
    return {key: design.shown(key) for key in design.answers if answers.has_row(key, design)}


class Texts:
    """What every answer said when the page was last told, so that it is told only of those that changed."""

    def __init__(self) -> None:
        self._said: dict[str, str] = {}
        self._mark = ""

    def changed(self, said: dict[str, str], has: str) -> tuple[dict[str, str], str]:
        """The texts that a page lacks whose last ones had the mark ``has``; and the mark of these."""
        known = self._said if has and has == self._mark else {}
        lacks = {key: text for key, text in said.items() if known.get(key) != text}
        if lacks or not self._mark:
            self._said, self._mark = said, _mark("\n".join(f"{key} {text}" for key, text in said.items()))
        return lacks, self._mark


def workings(design: Design, keys: Collection[str] | None = None) -> dict[str, str]:
    """The working of these results, or of all, by the name it is kept open by."""
    wanted = design.answers if keys is None else keys
    return {answers.working_name(key): answers.working_of(key, design) for key in wanted
            if answers.has_row(key, design)}


def _mark(text: str) -> str:
    return f"{crc32(text.encode('utf-8')):08x}"


def step_named(name: object) -> Step:
    """A step by its name in addresses; the first one for any other text."""
    return BY_NAME.get(str(name), STEPS[0])
