"""Verdicts and cautions as HTML: a sign, a word and a sentence of the plan's own numbers."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from html import escape

from ..declare import Topic
from ..sheet import Caution, Given
from ..solve import Design
from ..steps import OF_TOPIC, Step
from ..topics import BY_NAME
from .signs import SPOKEN, sign

IN_SIGHT = 2
WORST_FIRST = ("fails", "tight", "open", "fits")
LEVEL_WORDS = {"danger": "Danger", "warning": "Take care", "note": "Note"}


def topics_of(step: Step, design: Design) -> list[Topic]:
    """The topics of a step that this plan has."""
    return [BY_NAME[name] for name in step.topics if design.has(name)]


def given(step: Step, design: Design) -> list[Given]:
    """The verdicts of a step, the worst first."""
    said = [one for topic in topics_of(step, design) if (one := design.verdict(topic.NAME)) is not None]
    return sorted(said, key=lambda one: WORST_FIRST.index(one.state))


def verdict(one: Given, at_work: Collection[str] = ()) -> str:
    """One verdict, with a place for what would mend it; a topic ``at_work`` is being worked out anew."""
    busy = ' aria-busy="true"' if one.topic in at_work else ""
    return (f'<div class="verdict" data-verdict="{escape(one.topic)}"{busy} data-state="{one.state}">{sign(one.state)}'
            f'<div><p><span class="visually-hidden">{SPOKEN[one.state]}: </span><strong class="{one.state}">'
            f"{escape(one.lead)}</strong> {escape(one.text)}</p>"
            f'<div class="mends" data-mends="{escape(one.topic)}"></div></div></div>')


def triggered(design: Design, names: Iterable[str]) -> list[Caution]:
    """The dangers that this plan brings about itself, of these topics."""
    return [one for name in names for one in design.cautions_of(name) if one.level == "danger" and not one.standing]


def danger(one: Caution) -> str:
    """A danger has a line of its own, and is never folded."""
    return (f'<div class="verdict" data-caution="{escape(one.code)}">{sign("danger")}<div><p>'
            f'<strong class="danger">Danger: {escape(one.lead)}.</strong> {escape(one.brief)}</p></div></div>')


@dataclass(frozen=True)
class Said:
    """What one topic says for itself: its verdict, and the dangers that the plan brings about there."""

    verdict: Given | None
    dangers: tuple[Caution, ...]


def said_of(topic: Topic, design: Design) -> Said:
    """What a topic says; raises Pending where the design leaves it out for now."""
    return Said(design.verdict(topic.NAME), tuple(triggered(design, (topic.NAME,))))


def of_step(step: Step, design: Design) -> str:
    """The verdicts of a step: dangers, the two worst, the others folded."""
    return together(step, [said_of(topic, design) for topic in topics_of(step, design)])


def together(step: Step, parts: Iterable[Said], at_work: Collection[str] = ()) -> str:
    """The same from what each topic says; those ``at_work`` say what they said before, and are marked so."""
    parts = list(parts)
    said = sorted((one.verdict for one in parts if one.verdict is not None),
                  key=lambda one: WORST_FIRST.index(one.state))
    dangers = [one for part in parts for one in part.dangers]
    html = "".join(danger(one) for one in dangers) + "".join(verdict(one, at_work) for one in said[:IN_SIGHT])
    rest = said[IN_SIGHT:]
    if not rest:
        return html
    words = "; ".join(escape(one.lead.rstrip(".")) for one in rest)
    return (f'{html}<details class="fold small" data-keep="verdicts-{step.name}"><summary><strong>{len(rest)} more'
            f"</strong> <small>{words}</small></summary>{''.join(verdict(one, at_work) for one in rest)}</details>")


def standing(step: Step, design: Design, root: str) -> str:
    """The standing caution of a step, in one line, with the way to the whole of it."""
    found = {one.code: one for one in design.cautions}
    one = next((found[code] for code in step.standing if code in found), None)
    if one is None:
        return ""
    return (f'<p class="caution-line" data-caution="{escape(one.code)}">{sign("danger")}'
            f'<span><strong>{escape(one.lead)}:</strong> {escape(one.brief)} '
            f'<a href="{root}safety/index.html#{escape(one.code)}">In full on Safety</a></span></p>')


def in_full(one: Caution) -> str:
    """A caution in full, its level in words, not only in colour."""
    return f'<p class="caution {one.level}"><strong>{LEVEL_WORDS[one.level]}:</strong> {escape(one.text)}</p>'


def others(topic: Topic, design: Design) -> str:
    """The cautions of a topic that no line on the sheet has: for the fold of all figures."""
    return "".join(in_full(one) for one in design.cautions_of(topic.NAME)
                   if one.level != "danger" or one.standing)


def dangers(design: Design) -> str:
    """What this plan triggers, counted once, with the way to each; nothing where there is none."""
    found = triggered(design, OF_TOPIC)
    if not found:
        return ""
    words = "1 danger" if len(found) == 1 else f"{len(found)} dangers"
    items = "".join(f'<li><a href="#step={OF_TOPIC[one.topic].name}">{escape(one.lead)}</a>: {escape(one.brief)}</li>'
                    for one in found)
    return (f'<details class="dangers" data-keep="dangers"><summary>{sign("danger")}<span>{words} in this plan</span>'
            f"</summary><ul>{items}</ul></details>")
