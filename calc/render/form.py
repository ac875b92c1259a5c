"""The questions as HTML, made from the fields' declarations; no question is written by hand anywhere else."""

from __future__ import annotations

from html import escape

from .. import units
from ..declare import Field, Over, Table, Topic, When
from ..plan import FIELDS, UNITS, system_index, table_default
from ..solve import Design

OPEN_ON_A_GUIDE = 4
# Where the page puts the number of a row that the reader adds.
ROW_TO_COME = "__ROW__"


def element_id(key: str) -> str:
    """An id for a key: dots are awkward in selectors."""
    return key.replace(".", "-")


def unit_words(field: Field) -> tuple[str, str]:
    """The unit a bare number takes, for both systems; empty for fields without one."""
    if field.kind not in units.KINDS or field.kind in ("whole", "money", "tariff"):
        return "", ""
    kind = units.KINDS[field.kind]
    return field.us or kind.us, field.metric or kind.metric


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


def _control(field: Field, name: str, text: str, defaults: tuple[str, str], system: str, described: str,
             labelled: str = "") -> str:
    default = defaults[system_index(system)]
    common = (f'name="{escape(name)}" id="f-{element_id(name)}" data-default="{escape(default)}" '
              f'data-default-us="{escape(defaults[0])}" '
              f'data-default-metric="{escape(defaults[1])}"{" data-transient" if field.transient else ""}'
              f"{_follows(field)}{labelled}{described}")
    if field.kind == "choice":
        options = "".join(
            f'<option value="{escape(choice.value)}"{" selected" if choice.value == text else ""}>'
            f"{escape(choice.label)}</option>" for choice in field.choices)
        return f"<select {common}>{options}</select>"
    if field.kind == "yesno":
        options = "".join(f'<option value="{value}"{" selected" if value == text else ""}>{value}</option>'
                          for value in ("yes", "no"))
        return f"<select {common}>{options}</select>"
    # Fractions and units are typed as text; a numeric keypad would lack the slash and the letters.
    mode = ' inputmode="numeric"' if field.kind == "whole" else ""
    return f'<input type="text" {common}{mode} value="{escape(text)}" autocomplete="off" spellcheck="false">'


def field_html(field: Field, design: Design) -> str:
    """One question with its hint, unit, reason and place for a fault."""
    name = element_id(field.key)
    text = design.plan.typed(field.key, design.plan.default_of(field))
    hint = field.help
    us, metric = unit_words(field)
    unit = ""
    if us or metric:
        unit = (f'<span class="unit-note"><span data-units="us"{_shown(design.system != "us")}>{escape(us)}</span>'
                f'<span data-units="metric"{_shown(design.system != "metric")}>{escape(metric)}</span></span>')
    fault = design.faults.get(field.key, "")
    why = f'<p class="why">Default: {escape(field.why)}</p>' if field.why else ""
    described = f' aria-describedby="h-{name} fault-{name}"' + (' aria-invalid="true"' if fault else "")
    return (f'<div class="field"{condition(field.when)}{_shown(not design.plan.asked(field))}>'
            f'<label for="f-{name}">{escape(field.label)}{" (may stay empty)" if field.optional else ""}</label>'
            f'<p class="hint" id="h-{name}">{escape(hint)}</p>'
            '<div class="control">'
            f"{_control(field, field.key, text, field.default, design.system, described)}{unit}</div>"
            f'<p class="fault" id="fault-{name}">{escape(fault)}</p>{why}</div>')


def _row_html(table: Table, number: int | None, design: Design) -> str:
    """One row of a table; without a number, the template for one more."""
    cells, place = [], ROW_TO_COME if number is None else number
    for column in table.columns:
        key = f"{table.key}.{place}.{column.key}"
        if number is None:
            defaults, text = ("", ""), ""
        else:
            defaults = (table_default(table, number, column, "us"), table_default(table, number, column, "metric"))
            text = design.plan.typed(key, defaults[system_index(design.system)])
        name = element_id(key)
        label = f' aria-label="{escape(column.label)}, row {place}"'
        described = f' aria-describedby="fault-{name}"'
        fault = "" if number is None else design.faults.get(key, "")
        cells.append(f'<td data-label="{escape(column.label)}">'
                     f"{_control(column, key, text, defaults, design.system, described, label)}"
                     f'<p class="fault" id="fault-{name}">{escape(fault)}</p></td>')
    return (f'<tr data-row="{place}">{"".join(cells)}<td><button type="button" data-action="remove-row" '
            f'aria-label="Remove row {place}">Remove</button></td></tr>')


def table_html(table: Table, design: Design) -> str:
    """Rows that repeat, with a template for one more."""
    heads = []
    for column in table.columns:
        us, metric = unit_words(column)
        unit = (f' <span class="unit-note"><span data-units="us"{_shown(design.system != "us")}>{escape(us)}</span>'
                f'<span data-units="metric"{_shown(design.system != "metric")}>{escape(metric)}</span></span>'
                if us or metric else "")
        heads.append(f'<th scope="col">{escape(column.label)}{unit}</th>')
    identity = next(column for column in table.columns if column.key == table.identity)

    def named(number: int) -> bool:
        default = table_default(table, number, identity, design.system)
        return bool(design.plan.typed(f"{table.key}.{number}.{identity.key}", default).strip())
    rows = "".join(_row_html(table, number, design) for number in design.plan.row_numbers(table) if named(number))
    return (f'<div class="field-table" data-table="{escape(table.key)}" data-identity="{escape(table.identity)}" '
            f'data-most="{table.max_rows}"{condition(table.when)}{_shown(not design.plan.asked(table))}>'
            f'<div class="table-scroll" tabindex="0" role="region" aria-label="{escape(table.label)}">'
            f'<table class="rows"><caption>{escape(table.label)}</caption>'
            f'<thead><tr>{"".join(heads)}<th scope="col"><span class="visually-hidden">Remove</span></th></tr></thead>'
            f"<tbody>{rows}</tbody></table></div>"
            f'<p class="hint">{escape(table.help)}</p><p class="why">Default: {escape(table.why)}</p>'
            f'<p class="fault" id="fault-{element_id(table.key)}">{escape(design.faults.get(table.key, ""))}</p>'
            f'<button type="button" data-action="add-row">Add a row</button>'
            f"<template>{_row_html(table, None, design)}</template></div>")


def topic_questions(topic: Topic, design: Design, some_open: bool = False) -> str:
    """A topic's questions: the essential ones open, the others folded away but one step off.

    ``some_open`` leaves the first few open where a topic has none that is essential: a guide is about them.
    """
    shown = [field for field in topic.FIELDS if field.essential or field.transient]
    if some_open and not shown:
        shown = [field for field in topic.FIELDS if design.plan.asked(field)][:OPEN_ON_A_GUIDE]
    rest = [field for field in topic.FIELDS if field not in shown]
    tables = "".join(table_html(table, design) for table in topic.TABLES)
    if not topic.FIELDS:
        # A topic that asks one table only has nothing to hide it behind.
        return _fieldset(topic, tables) if tables else ""
    more = "".join(field_html(field, design) for field in rest) + tables
    count = len(rest) + len(topic.TABLES)
    words = f"{count}{' more' if shown else ''} question{'' if count == 1 else 's'}"
    ending = "with its default" if count == 1 else "each with a default"
    folded = (f'<details class="more" data-keep="more-{topic.NAME}"><summary>{words}, {ending}</summary>{more}'
              "</details>") if more else ""
    return _fieldset(topic, "".join(field_html(field, design) for field in shown) + folded)


def _fieldset(topic: Topic, inside: str) -> str:
    return (f'<fieldset class="topic-questions questions" id="ask-{topic.NAME}">'
            f'<legend class="visually-hidden">Questions: {escape(topic.TITLE)}</legend>{inside}</fieldset>'
            if inside else "")


def essentials_of_others(topics: tuple[Topic, ...], chosen: tuple[Topic, ...], design: Design) -> str:
    """The essential questions of topics that a single guide does not show: its answers still stand on them."""
    fields = [field for topic in topics if topic not in chosen for field in topic.FIELDS if field.essential]
    if not fields:
        return ""
    return ('<details class="more questions" data-keep="more-others"><summary>The bath these answers are for'
            f'</summary>{"".join(field_html(field, design) for field in fields)}</details>')


def units_html(design: Design) -> str:
    """The choice of the system of units."""
    return field_html(FIELDS[UNITS.key], design)
