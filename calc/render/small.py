"""A guide's own calculator: a verdict, the few questions of its text, two to four answers, and the way to the step."""

from __future__ import annotations

from collections.abc import Collection
from html import escape

from ..data.versions import VERSION
from ..plan import FIELDS
from ..solve import RESULT_TOPIC, Design
from ..steps import OF_TOPIC, STEPS, Key
from ..topics import BY_NAME
from . import answers, form, signs, verdicts
from .sheets import region

MOST_ASKS, MOST_KEYS = 5, 4


def asks_of(names: Collection[str]) -> list[str]:
    """The questions that decide these topics, in the order of the steps."""
    found = [key for step in STEPS for key in step.asks if key in FIELDS and key.split(".")[0] in _prefixes(names)]
    return found[:MOST_ASKS]


def _prefixes(names: Collection[str]) -> set[str]:
    return {field.key.split(".")[0] for name in names for field in BY_NAME[name].FIELDS}


def keys_of(names: Collection[str]) -> list[Key]:
    """The answers in front that belong to these topics."""
    found = {key.result: key for step in STEPS for key in step.keys if RESULT_TOPIC[key.result] in names}
    return list(found.values())[:MOST_KEYS]


def calculator(names: Collection[str], design: Design, root: str) -> str:
    """The calculator of a guide about these topics; ``root`` is the way from its page to the top."""
    step = OF_TOPIC[next(iter(names))]
    asked = "".join(form.ask(FIELDS[key], design, True) for key in asks_of(names))
    said = "".join(region(f"verdict-{name}", one_verdict(name, design), kind="verdicts") for name in names)
    shown = "".join(answers.front(key, design) for key in keys_of(names))
    return (f'{signs.symbols()}<form class="calculator" data-plan="{VERSION}" data-topics="{" ".join(names)}" novalidate>'
            f'<h2>{escape(BY_NAME[next(iter(names))].TITLE)} in your bath <small data-plan-name></small></h2>{said}'
            f'<fieldset class="deciding"><legend class="visually-hidden">Questions</legend>{asked}</fieldset>'
            f'{region("keys-guide", shown, "dl", "keys")}'
            '<p class="action-status" id="action-status" role="status"></p>'
            f'<p class="to-step"><a href="{root}plan/index.html#step={step.name}">Open step {STEPS.index(step) + 1} of your '
            f"plan, {escape(step.title)}</a></p></form>")


def one_verdict(name: str, design: Design) -> str:
    """The verdict of one topic, where the plan has it."""
    said = design.verdict(name)
    return verdicts.verdict(said) if said is not None else ""


def pieces(names: Collection[str], design: Design) -> dict[str, str]:
    """What follows the plan in a guide's calculator, by region."""
    found = {f"verdict-{name}": one_verdict(name, design) for name in names}
    found["keys-guide"] = "".join(answers.front(key, design) for key in keys_of(names))
    return found
