"""A guide's own calculator: a verdict, the few questions of its text, two to four answers, and the way to the step."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from html import escape

from ..data.versions import VERSION
from ..solve import RESULT_TOPIC, SPECS, Design
from ..steps import OF_TOPIC, STEPS, Key
from ..topics import BY_NAME
from . import answers, form, signs, verdicts
from .sheets import region

MOST_ASKS, MOST_KEYS = 5, 4
_FRONT: dict[str, Key] = {key.result: key for step in reversed(STEPS) for key in step.keys}


def asks_of(names: Collection[str]) -> list[str]:
    """The questions that decide these topics, in the order of the steps."""
    own = {field.key for name in names for field in BY_NAME[name].FIELDS}
    own |= {table.key for name in names for table in BY_NAME[name].TABLES}
    return [key for step in STEPS for key in step.asks if key in own][:MOST_ASKS]


def answers_of(names: Collection[str]) -> list[str]:
    """The answers in front that belong to these topics."""
    return [result for result in dict.fromkeys(key.result for step in STEPS for key in step.keys)
            if RESULT_TOPIC[result] in names][:MOST_KEYS]


def calculator(names: Sequence[str], design: Design, root: str, asks: Sequence[str] = (),
               shown: Sequence[str] = ()) -> str:
    """The calculator of a guide about these topics; ``root`` is the way from its page to the top."""
    step = OF_TOPIC[names[0]]
    results = list(shown) or answers_of(names)
    asked = "".join(form.deciding_one(key, design) for key in asks or asks_of(names))
    made = pieces(names, results, design)
    said = "".join(region(f"verdict-{name}", made[f"verdict-{name}"], kind="verdicts") for name in names)
    return (f'{signs.symbols()}<form class="calculator" id="calculator" data-plan="{VERSION}" '
            f'data-topics="{" ".join(names)}" data-answers="{" ".join(results)}" {form.PLAIN}>'
            f'<h2>{escape(BY_NAME[names[0]].TITLE)} in your bath <small data-plan-name></small></h2>{said}'
            f'<fieldset class="deciding"><legend class="visually-hidden">Questions</legend>{asked}</fieldset>'
            f'{region("keys-guide", made["keys-guide"], "dl", "keys")}'
            '<p class="action-status" id="action-status" role="status"></p>'
            f'<p class="to-step"><a href="{root}plan/index.html#step={step.name}">Open step {STEPS.index(step) + 1} of '
            f'your plan, {escape(step.title)}</a></p></form>'
            f'<a class="guide-bar" href="#calculator">{region("bar-guide", made["bar-guide"], "span", "line")}</a>')


def pieces(names: Sequence[str], results: Sequence[str], design: Design) -> dict[str, str]:
    """What follows the plan in a guide's calculator, by region."""
    found = {f"verdict-{name}": _verdict(name, design) for name in names}
    keys = [_FRONT.get(key) or Key(key, SPECS[key].label) for key in results if key in SPECS]
    found["keys-guide"] = "".join(answers.front(key, design) for key in keys)
    found["bar-guide"] = _bar(names[0], design)
    return found


def _verdict(name: str, design: Design) -> str:
    """The verdict of one topic, where the plan has it."""
    said = design.verdict(name)
    return verdicts.verdict(said) if said is not None else ""


def _bar(name: str, design: Design) -> str:
    """The one line that sticks at the bottom of a phone: this bath's figure and verdict."""
    said = design.verdict(name)
    if said is None:
        return ""
    return (f"<span>Your bath: {escape(said.figure)}</span>"
            f'<span class="word {said.state}">{signs.sign(said.state)}<span>{signs.WORDS[said.state]}</span></span>')
