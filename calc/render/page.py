"""A design as HTML: the glance, each topic's answers with their working, the lists and the drawings."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from functools import partial
from html import escape
from zlib import crc32

from ..data.versions import VERSION
from ..declare import Topic
from ..plan import Plan
from ..sheet import Answer, Caution
from ..solve import RESULT_TOPIC, SPECS, Design, label_of, solve
from ..topics import TOPICS
from ..traced import Readings
from . import extras, form, formulas

# Names of the topics that a page shows; ``None`` for all.
Names = Collection[str] | None
Topics = tuple[Topic, ...]

LONGEST_IN_A_COLUMN = 150
LEVEL_WORDS = {"danger": "Danger", "warning": "Take care", "note": "Note"}


def digits(value: object) -> str:
    """A number put into a formula: six significant digits, and no more."""
    if isinstance(value, (int, float)) and not isinstance(value, bool):
        return f"{value:.6g}"
    return str(value)


def output(key: str, text: str) -> str:
    """A result as the page's contract has it."""
    return f'<output data-key="{escape(key)}">{escape(text)}</output>'


def working(answer: Answer, shown: str) -> str:
    """How a result was found: formula, the numbers put in, the answer, the source."""
    relation = answer.relation
    if relation is None:
        note = escape(answer.note or "Found by searching the possibilities.")
        source = f'<p class="source">{escape(answer.source)}</p>' if answer.source else ""
        return f'<p class="working-note">{note}</p>{source}'
    put_in = "".join(
        f"<li>{escape(relation.symbols[name].meaning)}: {digits(value)} {escape(relation.symbols[name].unit)}</li>"
        for name, value in answer.inputs.items() if name in relation.symbols)
    value = f"{digits(answer.value)} {relation.result.unit}" if isinstance(answer.value, (int, float)) else ""
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


def has_row(key: str, design: Design) -> bool:
    """Whether a result is shown as a row of its own."""
    answer = design.answers.get(key)
    return answer is not None and answer.value is not None and answer.spec.kind != "rows"


def shown_text(key: str, design: Design) -> str:
    """A result as the reader sees it."""
    return design.shown(key)


def workings(design: Design, names: Names = None) -> dict[str, str]:
    """The working of every row of these topics, by the name it is kept open by."""
    return {working_name(spec.key): working(design.answers[spec.key], shown_text(spec.key, design))
            for topic in chosen_topics(names) for spec in topic.RESULTS if has_row(spec.key, design)}


def result_row(key: str, design: Design, with_working: bool) -> str:
    """One answer; its working is folded beneath it, or left for later where only answers are wanted at once."""
    if not has_row(key, design):
        return ""
    spec, shown = SPECS[key], shown_text(key, design)
    how = working(design.answers[key], shown) if with_working else ""
    words = " in-words" if spec.kind == "text" else ""
    relation = design.answers[key].relation
    if relation is not None and len(relation.formula) > LONGEST_IN_A_COLUMN:
        # On paper such a formula takes the width of both columns.
        words += " wide"
    return (f'<div class="result{words}"><span class="result-label">{escape(spec.label)}</span> {output(key, shown)}'
            f'<details class="working" data-keep="{working_name(key)}"><summary>Working'
            '<span class="visually-hidden"> of '
            f"{escape(spec.label)}</span></summary><div data-working>{how}</div></details></div>")


def waiting_note(topic: Topic, design: Design) -> str:
    """What keeps a topic from answering, in words."""
    keys = [key for key in sorted(design.waiting.get(topic.NAME, ())) if not key.startswith("parts.")]
    root = [key for key in keys if key in design.accused] or keys
    notes = [f'<p class="limit">{escape(text)}</p>' for text in design.limits.get(topic.NAME, [])]
    if root and any(spec.key not in design.answers for spec in topic.RESULTS):
        names = ", ".join(dict.fromkeys(label_of(key) for key in root))
        notes.append(f'<p class="limit">Some answers wait for: {escape(names)}.</p>')
    return "".join(notes)


class Shelf:
    """Pieces of HTML made for the last design, each with what it was made from, so that only changed ones are made."""

    def __init__(self) -> None:
        self._kept: dict[str, tuple[Readings, str]] = {}

    def take(self, name: str, design: Design, make: Callable[[Design], str]) -> str:
        """The piece as kept, if all that ``make`` looked at in the design is as it was; ``make`` keeps to its name."""
        kept = self._kept.get(name)
        if kept is not None and design.same(kept[0]):
            return kept[1]
        with design.noting() as seen:
            html = make(design)
        self._kept[name] = (seen, html)
        return html


def topic_notes(topic: Topic, design: Design) -> str:
    """What keeps a topic from answering, and the cautions that belong to it; dangers stand at the top of the page."""
    mine = "".join(caution_html(one) for one in design.cautions if one.topic == topic.NAME and one.level != "danger")
    return waiting_note(topic, design) + mine


def topic_picture(topic: Topic, design: Design) -> str:
    """A topic's drawings and tables."""
    extra = extras.OF_TOPIC.get(topic.NAME)
    return extra(design) if extra else ""


def topic_rows(topic: Topic, design: Design, with_workings: bool = True) -> str:
    """A topic's answers, one a row."""
    return "".join(result_row(spec.key, design, with_workings) for spec in topic.RESULTS)


def region(name: str, html: str, kind: str = "") -> str:
    """A place of the page that follows the plan."""
    return f'<div data-region="{name}"{f" class={chr(34)}{kind}{chr(34)}" if kind else ""}>{html}</div>'


def topic_answers(topic: Topic, design: Design) -> str:
    """All results of a topic, with its cautions, tables and drawings."""
    return (region(f"{topic.NAME}-notes", topic_notes(topic, design))
            + region(f"{topic.NAME}-picture", topic_picture(topic, design))
            + region(f"{topic.NAME}-rows", topic_rows(topic, design), "results"))


def parts(design: Design, names: Names = None, shelf: Shelf | None = None,
          have: Mapping[str, str] | None = None) -> tuple[dict[str, str], dict[str, str]]:
    """The smallest pieces of the page that follow the plan: HTML by region name, and a mark of each piece.

    Pieces whose mark is the one in ``have`` (a mapping of name to mark) are left out. The mark of a topic's rows tells
    which rows there are, not what they say: ``texts`` does that in a few bytes. Workings are two thirds of the HTML and
    mostly folded away: the page asks for ``workings`` when the typing pauses.
    """
    shelf = shelf or Shelf()
    have = have or {}
    topics = chosen_topics(names)
    html = {"glance": glance(design, topics), "cautions": cautions(design, None if not names else topics)}
    marks = {}
    for topic in topics:
        html[f"{topic.NAME}-notes"] = topic_notes(topic, design)
        html[f"{topic.NAME}-picture"] = shelf.take(topic.NAME, design, partial(topic_picture, topic))
        rows = f"{topic.NAME}-rows"
        marks[rows] = _mark(" ".join(spec.key for spec in topic.RESULTS if has_row(spec.key, design)))
        if have.get(rows) != marks[rows]:
            html[rows] = topic_rows(topic, design, False)
    for name, text in html.items():
        marks.setdefault(name, _mark(text))
    return {name: text for name, text in html.items() if have.get(name) != marks[name]}, marks


def texts(design: Design, names: Names = None) -> dict[str, str]:
    """What every row of these topics says, by result key."""
    return {spec.key: shown_text(spec.key, design) for topic in chosen_topics(names) for spec in topic.RESULTS
            if has_row(spec.key, design)}


def _mark(text: str) -> str:
    return f"{crc32(text.encode('utf-8')):08x}"


GLANCE = (
    ("water.working_volume", "Water"), ("air.target", "Air to blow"), ("circulation.pump_name", "Water pump"),
    ("board.sites", "Sites"), ("energy.cost_per_year", "Power a year"),
)


GLANCE_RAFT_AFTER = "water.working_volume"
_TOPIC_BY_NAME = {topic.NAME: topic for topic in TOPICS}


def glance_of(design: Design) -> list[tuple[str, str]]:
    """The answers at a glance that this kind of bath has."""
    return [(key, title) for key, title in GLANCE
            if design.plan.meets(getattr(_TOPIC_BY_NAME[RESULT_TOPIC[key]], "WHEN", ()))]


def gravest(design: Design, topics: Topics | None = None) -> Caution | None:
    """The caution at the top: of a guide, its topics' first danger; of the planner, mains power by water."""
    names = {topic.NAME for topic in topics or TOPICS}
    dangers = [one for one in design.cautions if one.level == "danger" and one.topic in names]
    return next((one for one in dangers if one.code == "mains"), next(iter(dangers), None))


def glance(design: Design, topics: Topics | None = None) -> str:
    """The answer in one look: the few numbers, and the gravest caution."""
    items = []
    for key, title in glance_of(design):
        shown = design.shown(key)
        note = ""
        if key == "energy.cost_per_year" and shown:
            together = design.value("energy.all_cost_per_year")
            if together is not None and together > design.value(key):
                note = f" <small>and {escape(design.money(together))} all together</small>"
        items.append(f'<div class="glance-item"><dt>{title}</dt><dd>{escape(shown) or "waiting"}{note}</dd></div>')
        if key == GLANCE_RAFT_AFTER:
            raft = escape(board_words(design)) or "waiting"
            items.append(f'<div class="glance-item"><dt>Raft</dt><dd>{raft}</dd></div>')
    faults = ""
    if design.faults:
        words = "1 answer needs" if len(design.faults) == 1 else f"{len(design.faults)} answers need"
        faults = f'<p class="limit">{words} another look; what does not depend on it is still worked out.</p>'
    one = gravest(design, topics)
    caution = caution_html(one) if one else ""
    return f'<dl class="glance-list">{"".join(items)}</dl>{faults}{caution}'


def board_words(design: Design) -> str:
    """The boards to cut, in a phrase."""
    count, long, wide = (design.value(key) for key in ("board.count", "board.length", "board.width"))
    if not count or long is None or wide is None:
        return ""
    across = design.shown("board.diameter")
    if across:
        parted = "" if count == 1 else f" in {count} boards"
        return f"1 disc{parted}, {across.replace(' ', chr(160))} across"
    # A size is not to break inside its fraction.
    size = " x ".join(design.shown(f"board.{side}").replace(" ", "\u00a0") for side in ("length", "width"))
    return f"{count} board{'' if count == 1 else 's'}, {size}"


def caution_html(one: Caution) -> str:
    """A caution with its level in words, not only in colour."""
    return f'<p class="caution {one.level}"><strong>{LEVEL_WORDS[one.level]}:</strong> {escape(one.text)}</p>'


def cautions(design: Design, topics: Topics | None = None) -> str:
    """The dangers of the topics shown, beside the gravest caution that the glance has; the others are counted."""
    names = {topic.NAME for topic in topics or TOPICS}
    shown = [one for one in design.cautions if one.topic in names]
    grave = gravest(design, topics)
    dangers = [caution_html(one) for one in shown if one.level == "danger" and one is not grave]
    others = sum(one.level != "danger" and one is not grave for one in shown)
    words = "1 caution stands" if others == 1 else f"{others} cautions stand"
    rest = f"<p>{words} beside the answers below.</p>" if others else ""
    return f'<h2 class="visually-hidden">Cautions</h2>{"".join(dangers)}{rest}' if dangers or rest else ""


def chosen_topics(names: Names) -> Topics:
    """Topics by name, in the natural order; all of them for ``None``."""
    return TOPICS if not names else tuple(topic for topic in TOPICS if topic.NAME in names)


def regions(design: Design, names: Names = None) -> dict[str, str]:
    """HTML of every part of the page that follows the plan, workings and all: what the build prints."""
    topics = chosen_topics(names)
    found = {"glance": glance(design, topics), "cautions": cautions(design, None if not names else topics)}
    for topic in topics:
        found[f"topic-{topic.NAME}"] = topic_answers(topic, design)
    return found


def stale(design: Design) -> list[str]:
    """Regions whose answer a fault holds back: the page keeps the last good one there, marked as old."""
    if not design.faults:
        return []
    held = [topic.NAME for topic in TOPICS
            if any(key in design.accused or (key in SPECS and key not in design.answers)
                   for key in design.waiting.get(topic.NAME, ()))]
    found = [name for topic in held for name in (f"{topic}-rows", f"{topic}-picture")]
    if any(key not in design.answers for key, _ in glance_of(design)):
        found.append("glance")
    return found


def topic_block(topic: Topic, design: Design, made: dict[str, str], some_open: bool) -> str:
    """One topic: its questions beside its answers."""
    questions = form.topic_questions(topic, design, some_open)
    alone = "" if questions else " alone"
    when = getattr(topic, "WHEN", ())
    absent = "" if design.plan.meets(when) else " hidden"
    return (f'<section class="topic{alone}" id="topic-{topic.NAME}" aria-labelledby="title-{topic.NAME}"'
            f'{form.condition(when)}{absent}>'
            f'<h2 id="title-{topic.NAME}">{escape(topic.TITLE)}</h2><p class="question">{escape(topic.QUESTION)}</p>'
            f'{questions}<div class="topic-answers" id="answer-{topic.NAME}">{made[f"topic-{topic.NAME}"]}'
            f'{CALENDAR if topic.NAME == "schedule" else ""}</div></section>')


def topic_list(topics: Topics) -> str:
    """Ways to every topic, on a page that has many."""
    if len(topics) < 4:
        return ""
    items = "".join(f'<li><a href="#topic-{topic.NAME}">{escape(topic.TITLE)}</a></li>' for topic in topics)
    return f'<nav class="topic-list" aria-label="Topics on this page"><ul>{items}</ul></nav>'


def calculator(names: Names = None, design: Design | None = None) -> str:
    """Questions and answers as one block; the build calls this, so a page is complete before any script runs."""
    design = design or solve(Plan({}))
    topics = chosen_topics(names)
    made = regions(design, names)
    others = form.essentials_of_others(TOPICS, topics, design) if names else ""
    wanted = " ".join(topic.NAME for topic in topics) if names else ""
    return (f'<form class="calculator" data-plan="{VERSION}" data-topics="{wanted}" novalidate>'
            '<section class="glance" aria-label="The answer at a glance">'
            f'{region("glance", made["glance"])}</section>'
            f'<div class="bar questions">{form.units_html(design)}{"" if names else ACTIONS}</div>'
            f'<section class="cautions" aria-label="Cautions">{region("cautions", made["cautions"])}</section>'
            f'{topic_list(topics)}{others}{"".join(topic_block(topic, design, made, bool(names)) for topic in topics)}'
            # A guide's few questions come first; the planner is long, so its buttons stand where they are seen.
            + (f'<div class="bar questions alone">{ACTIONS}</div>' if names else "") + "</form>")


CALENDAR = ('<p class="actions"><button type="button" data-action="calendar">Calendar for my phone (iCalendar)</button>'
            "</p>")
ACTIONS = (
    '<div class="actions"><button type="button" data-action="copy-link">Copy link</button>'
    '<button type="button" data-action="square-code">Link as a square code</button>'
    '<button type="button" data-action="save-local">Save on this machine</button>'
    '<button type="button" data-action="save-file">Save as a file</button>'
    '<button type="button" data-action="open-file">Open a file</button>'
    '<button type="button" data-action="csv">Table (CSV)</button>'
    '<button type="button" data-action="print">Print</button>'
    '<button type="button" data-action="print-workings">Print with workings</button>'
    '<button type="button" data-action="reset">Start again</button></div>'
    '<p class="hosted" data-hosted hidden><label for="hosted-address">Address of the copy on the web that links should '
    'open on, if there is one</label><input type="url" id="hosted-address" placeholder="https://" autocomplete="url">'
    "</p>"
    '<p class="action-status" id="action-status" role="status"></p>'
)
