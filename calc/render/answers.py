"""Answers as HTML: the few that a step shows large, and all of them in dense rows that open to their working."""

from __future__ import annotations

import re
from html import escape

from .. import units
from ..declare import Topic
from ..figures import scientific
from ..sheet import Answer
from ..solve import RESULT_TOPIC, SPECS, Design, label_of
from ..steps import Key
from . import formulas

DASH = "–"
# A number as it is shown, fractions and currency signs with it, before its unit.
_NUMBER = re.compile(r"(?P<number>[^\w\s]?\d[\d.,]*(?:[ -]\d+/\d+|/\d+)?)(?: (?P<unit>.{1,14}))?$")
_PLACE = re.compile(r"\{([a-z0-9_.]+)\}")


def digits(value: object) -> str:
    """A number put into a formula: six significant digits, and no more."""
    if isinstance(value, (int, float)) and not isinstance(value, bool):
        return scientific(value)
    return str(value)


def output(key: str, html: str) -> str:
    """A result as the page's contract has it."""
    return f'<output data-key="{escape(key)}">{html}</output>'


# --- the working of a result -----------------------------------------------------------------------------------------


def _by_hand(key: str, design: Design) -> str:
    """The sum that one does with a pocket calculator, each line an element of its own."""
    # Loaded with the first working that is opened: who opens none does not wait for it.
    from .by_hand import by_hand
    lines = by_hand(key, design).splitlines()
    return ('<p class="by-hand"><b>By hand</b>' + "".join(f"<span>{escape(line)}</span>" for line in lines) + "</p>"
            if lines else "")


def working(answer: Answer, shown: str) -> str:
    """How a result was found: formula, the numbers put in, the answer, the source."""
    relation = answer.relation
    if relation is None:
        note = escape(answer.note or "Found by searching the possibilities.")
        source = f'<p class="source">{escape(answer.source)}</p>' if answer.source else ""
        return f'<p class="working-note">{note}</p>{source}'
    known = [(relation.symbols[name], value) for name, value in answer.inputs.items() if name in relation.symbols]
    put_in = "".join(f"<li>{escape(symbol.meaning)}: {digits(value)} {escape(units.written(symbol.unit))}</li>"
                     for symbol, value in known)
    unit = units.written(relation.result.unit)
    value = f"{digits(answer.value)} {unit}" if isinstance(answer.value, (int, float)) else ""
    return (f'<div class="formula" tabindex="0" role="group" aria-label="Formula">'
            f'{formulas.formula(relation)}</div><ul class="put-in">{put_in}</ul>'
            f'<p class="result-si">{escape(relation.result.meaning)}: {escape(value)}, shown as {escape(shown)}</p>'
            f'<p class="source">Holds for: {escape(relation.valid)}. Source: {escape(relation.source)} '
            f"({escape(relation.status)}).</p>"
            + (f'<p class="working-note">{escape(answer.note)}</p>' if answer.note else "")
            + (f'<p class="source">The numbers put in: {escape(answer.source)}.</p>' if answer.source else ""))


def working_name(key: str) -> str:
    """The name a working is kept open by."""
    return f"w-{key}"


def working_of(key: str, design: Design) -> str:
    """The working of one result, first by hand; "" where the plan has no such answer."""
    return _by_hand(key, design) + working(design.answers[key], design.shown(key)) if has_row(key, design) else ""


# --- dense rows ------------------------------------------------------------------------------------------------------


def has_row(key: str, design: Design) -> bool:
    """Whether a result is shown as a row of its own."""
    return key in SPECS and SPECS[key].kind != "rows" and design.result(key) is not None


def row(key: str, design: Design, how: str | None = None) -> str:
    """One answer that opens to its working, which is left for later unless it is given."""
    if not has_row(key, design):
        return ""
    spec = SPECS[key]
    words = " words" if spec.kind == "text" else ""
    head = f"<span>{escape(spec.label)}</span> {output(key, escape(design.shown(key)))}"
    return (f'<details class="result{words}" data-keep="{working_name(key)}"><summary>{head}</summary>'
            f"<div data-working>{how or ''}</div></details>")


def plain_row(key: str, design: Design) -> str:
    """One answer as the build prints it: it cannot open until Python can say how it was found."""
    if not has_row(key, design):
        return ""
    return f"<p>{escape(SPECS[key].label)} {output(key, escape(design.shown(key)))}</p>"


def rows(topic: Topic, design: Design, with_workings: bool = False) -> str:
    """A topic's answers, one a row."""
    return "".join(row(spec.key, design, working_of(spec.key, design) if with_workings else None)
                   for spec in topic.RESULTS)


def waiting_note(topic: Topic, design: Design) -> str:
    """What keeps a topic from answering, in words."""
    keys = [key for key in sorted(design.waiting.get(topic.NAME, ())) if not key.startswith("parts.")]
    root = [key for key in keys if key in design.accused] or keys
    notes = [f'<p class="limit">{escape(text)}</p>' for text in design.limits.get(topic.NAME, [])]
    if root and any(spec.key not in design.answers for spec in topic.RESULTS):
        names = ", ".join(dict.fromkeys(label_of(key) for key in root))
        notes.append(f'<p class="limit">Some answers wait for: {escape(names)}.</p>')
    return "".join(notes)


# --- answers in front ------------------------------------------------------------------------------------------------


def filled(template: str, design: Design) -> str:
    """A note with the plan's own numbers in it; "" where one of them has no answer."""
    shown = {key: design.shown(key) for key in _PLACE.findall(template)}
    return "" if "" in shown.values() else _PLACE.sub(lambda found: shown[found[1]], template)


def large(shown: str) -> str:
    """A shown result as HTML: its number large, its unit small; words stay words."""
    found = _NUMBER.match(shown)
    if found is None:
        return f'<span class="in-words">{escape(shown)}</span>'
    unit = found["unit"]
    return f'<b>{escape(found["number"])}</b>' + (f" <i>{escape(unit)}</i>" if unit else "")


def _note(key: Key, design: Design) -> str:
    """What stands under an answer: where there are several baths, whether it is for all of them."""
    baths = design.value("bath.count") if key.several else 1
    if not isinstance(baths, int) or baths < 2:
        return filled(key.note, design)
    return next((words for one in key.several if (words := filled(one, design))), "")


def front(key: Key, design: Design) -> str:
    """One answer in front, or a dash while it waits; nothing where the plan does not have it at all."""
    topic = RESULT_TOPIC[key.result]
    shown = design.shown(key.result)
    if not shown and not (design.has(topic) and design.waits(topic)):
        return ""
    if not key.nought and design.value(key.result) == 0:
        return ""
    if key.unless and design.value(key.unless) is not None:
        return ""
    note = _note(key, design) if shown else "waits for an answer"
    words = large(shown) if shown else DASH
    old = "" if shown else " data-old"
    return (f'<div class="key"{old}><dt>{escape(key.label)}</dt><dd>{output(key.result, words)}</dd>'
            f'<dd class="key-note">{escape(note)}</dd></div>')
