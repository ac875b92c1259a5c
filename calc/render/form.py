"""The questions as HTML, made from the fields' declarations; no question is written by hand anywhere else."""

from __future__ import annotations

import json
import re
from html import escape

from ..declare import Choice, Field, Over, Table, Topic, When
from ..plan import FIELDS, TABLES, UNITS, system_index, table_default
from ..solve import Design
from ..steps import STEPS, Step
from ..topics import BY_NAME
from . import pictograms

# What HTML takes as a value without quotation marks.
_PLAIN_VALUE = re.compile(r"[A-Za-z0-9.%-]+")
# What a form says once for all its fields: nothing here is a word to be spelt, or kept from another site.
PLAIN = 'autocomplete="off" spellcheck="false" novalidate'
# Where the page puts the number of a row that the reader adds.
ROW_TO_COME = "__ROW__"
# With more columns than these beside its name a row folds them away.
SHORT_ROW = 2
# Longer words of a choice take a line of their own.
SHORT_CHOICE = 16


def element_id(key: str) -> str:
    """An id for a key: dots are awkward in selectors."""
    return key.replace(".", "-")


def condition(when: When) -> str:
    """The ``data-when`` attribute: the answers under which a question is asked."""
    if not when:
        return ""
    text = ";".join(f"{key}>{allowed.than}" if isinstance(allowed, Over) else f"{key}={'|'.join(allowed)}"
                    for key, allowed in when)
    return f' data-when="{escape(text)}"'


def _shown(hidden: bool) -> str:
    return " hidden" if hidden else ""


def _follows(field: Field) -> str:
    """The questions whose answer takes this one's default away."""
    return f' data-follows="{escape(" ".join(field.follows))}"' if field.follows else ""


def _control(field: Field, name: str, text: str, defaults: tuple[str, str], labelled: str = "") -> str:
    """An input or a choice. There are hundreds: a default is said only where it is not what is shown already."""
    own = f' data-default="{escape(defaults[0])}"' if text != defaults[0] else ""
    metric = f' data-default-metric="{escape(defaults[1])}"' if defaults[1] != defaults[0] else ""
    common = (f'name="{escape(name)}" id="f-{element_id(name)}"{own}{metric}'
              f'{" data-transient" if field.transient else ""}{_follows(field)}{labelled}')
    if field.kind in ("choice", "yesno"):
        offered = field.choices if field.kind == "choice" else (Choice("yes", "yes"), Choice("no", "no"))
        # A retired answer stays in the menu, out of sight, for the page to choose when an old plan has it.
        options = "".join(
            f'<option value="{escape(one.value)}"{" selected" if one.value == text else ""}'
            f'{" hidden" if one.retired else ""}>{escape(one.label)}</option>' for one in offered)
        return f"<select {common}>{options}</select>"
    # Fractions and units are typed as text; a numeric keypad would lack the slash and the letters.
    mode = ' inputmode="numeric"' if field.kind == "whole" else ""
    return f'<input {common}{mode} value="{escape(text)}">'


def _fault(key: str, design: Design) -> str:
    """The place where a fault is told, once there is one."""
    fault = design.faults.get(key, "")
    return f'<p class="fault" id="fault-{element_id(key)}">{escape(fault)}</p>' if fault else ""


def ask(field: Field, design: Design, picture: bool = False) -> str:
    """One question: where to measure, its label and hint, the answer with its unit."""
    name = element_id(field.key)
    text = design.plan.typed(field.key, design.plan.default_of(field))
    drawn = pictograms.of(field.key) if picture else ""
    guess = "" if design.plan.own(field.key) or not text else " data-guess"
    widest = max((len(choice.label) for choice in field.choices if not choice.retired), default=0)
    long = " long" if widest > SHORT_CHOICE else ""
    described = f' aria-describedby="h-{name}"' if field.help else ""
    hint = f'<span class="hint" id="h-{name}">{escape(field.help)}</span>' if field.help else ""
    optional = " (optional)" if field.optional else ""
    return (f'<div class="ask{long}"{guess} data-at="{escape(field.key)}"{condition(field.when)}'
            f"{_shown(not design.plan.asked(field))}>{drawn}"
            f'<p><label for="f-{name}">{escape(field.label)}{optional}</label>{hint}</p>'
            f"{_control(field, field.key, text, field.default, described)}{_fault(field.key, design)}</div>")


def units_choice(design: Design) -> str:
    """The choice of the system of units, for the bar above the sheets."""
    text = design.plan.typed(UNITS.key, design.plan.default_of(UNITS))
    return (f'<p class="units"><label for="f-{UNITS.key}">Units</label>'
            f"{_control(UNITS, UNITS.key, text, UNITS.default)}</p>")


# --- tables ----------------------------------------------------------------------------------------------------------


def _defaults(table: Table, number: int, column: Field) -> tuple[str, str]:
    return table_default(table, number, column, "us"), table_default(table, number, column, "metric")


def _cell(table: Table, column: Field, place: str) -> str:
    key = f"{table.key}.{place}.{column.key}"
    return (f'<p class="cell"><label for="f-{element_id(key)}">{escape(column.label)}</label>'
            f'{_control(column, key, "", ("", ""))}<span class="fault" id="fault-{element_id(key)}"></span></p>')


def _template_row(table: Table) -> str:
    """A row as the page makes it, for rows that stand and for one more alike; what makes a row up comes first."""
    identity = next(column for column in table.columns if column.key == table.identity)
    others = [column for column in table.columns if column is not identity]
    rest = "".join(_cell(table, column, ROW_TO_COME) for column in others)
    if len(others) > SHORT_ROW:
        names = escape(", ".join(column.label[:1].lower() + column.label[1:] for column in others[:2]))
        rest = f'<details class="row-more"><summary>{names} and more</summary>{rest}</details>'
    return (f'<div class="row" data-row="{ROW_TO_COME}">{_cell(table, identity, ROW_TO_COME)}{rest}'
            f'<button type="button" data-action="remove-row" aria-label="Remove row {ROW_TO_COME}">Remove</button>'
            "</div>")


def _words_row(table: Table, number: int, design: Design) -> str:
    """A row in words, complete without scripts; they put its controls in, out of the template."""
    defaults = {column.key: _defaults(table, number, column) for column in table.columns}
    given = {key: texts[0] if texts[0] == texts[1] else list(texts) for key, texts in defaults.items() if any(texts)}
    words = []
    for column in table.columns:
        typed = design.plan.typed(f"{table.key}.{number}.{column.key}",
                                  defaults[column.key][system_index(design.system)])
        words.append(next((choice.label for choice in column.choices if choice.value == typed), typed))
    return (f'<div class="row" data-row="{number}" data-cells="{escape(json.dumps(given, ensure_ascii=False))}">'
            f'<p>{escape(", ".join(filter(None, words)))}</p></div>')


def table_html(table: Table, design: Design) -> str:
    """Rows that repeat, with a template for one more."""
    identity = next(column for column in table.columns if column.key == table.identity)

    def named(number: int) -> bool:
        default = table_default(table, number, identity, design.system)
        return bool(design.plan.typed(f"{table.key}.{number}.{identity.key}", default).strip())
    rows = "".join(_words_row(table, number, design) for number in design.plan.row_numbers(table) if named(number))
    return (f'<div class="field-table" data-table="{escape(table.key)}" data-identity="{escape(table.identity)}" '
            f'data-most="{table.max_rows}"{condition(table.when)}{_shown(not design.plan.asked(table))} '
            f'role="group" aria-labelledby="t-{element_id(table.key)}">'
            f'<p id="t-{element_id(table.key)}"><b>{escape(table.label)}</b> '
            f'<span class="hint">{escape(table.help)}</span></p><div data-rows>{rows}</div>{_fault(table.key, design)}'
            f'<button type="button" data-action="add-row">Add a row</button>'
            f"<template>{_template_row(table)}</template></div>")


# --- a step's questions ----------------------------------------------------------------------------------------------


def deciding(step: Step, design: Design) -> str:
    """The few questions that decide a step."""
    return "".join(deciding_one(key, design) for key in step.asks)


def deciding_one(key: str, design: Design) -> str:
    """One question or table that decides, by its key."""
    return ask(FIELDS[key], design, True) if key in FIELDS else table_html(TABLES[key], design)


def _rest(step: Step) -> list[tuple[Topic, list[Field], list[Table]]]:
    """The other questions of a step, by topic; what decides another step is asked there."""
    asked = {key for one in STEPS for key in one.asks}
    found = []
    for name in step.topics:
        topic = BY_NAME[name]
        fields = [field for field in topic.FIELDS if field.key not in asked]
        tables = [table for table in topic.TABLES if table.key not in asked]
        if fields or tables:
            found.append((topic, fields, tables))
    return found


def count_of_settings(step: Step, design: Design) -> int:
    """How many of the other questions of a step the plan asks."""
    return sum(sum(map(design.plan.asked, fields)) + sum(map(design.plan.asked, tables))
               for _, fields, tables in _rest(step))


def settings_in_brief(step: Step, design: Design) -> str:
    """All other questions of a step with their answers, in few bytes: what stands there until the rest comes."""
    return "".join(_brief(field, design) for _, fields, _ in _rest(step) for field in fields)


def _bare(text: str) -> str:
    """An attribute's value with as few marks as HTML allows."""
    return text if _PLAIN_VALUE.fullmatch(text) else f'"{escape(text)}"'


def _brief(field: Field, design: Design) -> str:
    """One question in brief; what the plan does not ask, and what may stay open and does, has its place and no words:
    the page's script keeps it there until the whole question comes. A key needs no quotation marks."""
    text = design.plan.typed(field.key, design.plan.default_of(field))
    value = f" value={_bare(text)}" if text else ""
    if not design.plan.asked(field) or (field.optional and not text):
        return f"<input hidden name={field.key}{value}>"
    shown = next((choice.label for choice in field.choices if choice.value == text), "")
    control = (f'<select name={field.key}><option value={_bare(text)}>{escape(shown)}</option></select>'
               if field.choices else f"<input name={field.key}{value}>")
    return f"<label>{escape(field.label)} {control}</label>"


def settings(step: Step, design: Design) -> str:
    """All other questions of a step, by topic."""
    parts = []
    for topic, fields, tables in _rest(step):
        when = getattr(topic, "WHEN", ())
        absent = "" if design.plan.meets(when) else " hidden"
        # Every length has a picture of where to measure it.
        inside = "".join(ask(field, design, field.kind == "length") for field in fields)
        parts.append(f'<fieldset class="settings" id="ask-{topic.NAME}"{condition(when)}{absent}>'
                     f"<legend>{escape(topic.TITLE)}</legend>"
                     + (f'<div class="asks">{inside}</div>' if inside else "")
                     + "".join(table_html(table, design) for table in tables) + "</fieldset>")
    return "".join(parts)
