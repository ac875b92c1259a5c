"""At the very bounds of what may be typed a reader meets numbers that people can read, and pumps that they can buy."""

import random
import re
from html import unescape

import pytest

from calc.plan import FIELDS, TABLES, Plan
from calc.render import page
from calc.solve import solve
from calc.steps import STEPS
from calc.units import KINDS, convert

PARTS, PLANS = 6, 12
EXPONENT = re.compile(r"\d[eE][+-]?\d")
NOUGHTS = re.compile(r"(?<![\d,.])0\.00000+\d")
NUMBER = re.compile(r"\d[\d,]*(?:\.\d+)?")
MOST_DIGITS = 9
MARKUP = re.compile(r"<(script|style|title|desc)\b.*?</\1>|<[^>]*>", re.DOTALL)


def unreadable(text):
    """What in a text no reader should meet, or ""."""
    for wrong in (EXPONENT, NOUGHTS):
        if found := wrong.search(text):
            return text[max(found.start() - 60, 0):found.end() + 30]
    for found in NUMBER.finditer(text):
        if sum(letter.isdigit() for letter in found.group()) > MOST_DIGITS:
            return text[max(found.start() - 60, 0):found.end() + 30]
    return ""


def at_bounds(field, dice):
    """One of the ends of what a field allows, or something between, as text in the unit of scripts."""
    if field.kind == "choice":
        return dice.choice(field.choices).value
    if field.kind == "yesno":
        return dice.choice(["yes", "no"])
    if field.minimum is None or field.maximum is None:
        return ""
    low, high = field.minimum, field.maximum
    value = dice.choice([low, high, high, low + (high - low) * 10.0 ** dice.uniform(-6.0, 0.0)])
    if field.kind == "whole":
        return str(round(value))
    # As short as anybody types: what is refused is shown as it was typed.
    unit = KINDS[field.kind].script
    return f"{convert(value, field.kind, unit):.6f}".rstrip("0").rstrip(".") + f" {unit}"


def any_plan(dice):
    """A plan with a few or with many of its answers at their bounds."""
    share = dice.choice([0.05, 0.15, 0.4])
    typed = {"units": dice.choice(["us", "metric"])}
    for key, field in FIELDS.items():
        if dice.random() < share:
            typed[key] = at_bounds(field, dice)
    for key, table in TABLES.items():
        for column in table.columns:
            if dice.random() < share and column.kind not in ("text", "choice"):
                typed[f"{key}.1.{column.key}"] = at_bounds(column, dice)
    return {key: text for key, text in typed.items() if text or FIELDS.get(key) is None}


def texts_of(design):
    """All that a solution says to its reader: answers, notes, warnings, verdicts, refusals, and the page made of it."""
    for key, answer in design.answers.items():
        yield key, f"{design.shown(key)}\n{answer.note}"
    for one in design.cautions:
        yield one.code, f"{one.lead}\n{one.brief}\n{one.text}"
    for topic, given in design.verdicts.items():
        yield topic, f"{given.lead}\n{given.text}\n{given.figure}"
    yield from design.faults.items()
    for topic, sentences in design.limits.items():
        yield topic, "\n".join(sentences)
    for step in STEPS:
        for name, html in page.of_step(design, step, tables=True).items():
            yield f"{step.name} {name}", unescape(MARKUP.sub("\n", html))


@pytest.mark.parametrize("part", range(PARTS))
def test_no_number_is_unreadable_at_any_bound(part):
    dice = random.Random(900 + part)
    for _ in range(PLANS):
        typed = any_plan(dice)
        found = {where: wrong for where, text in texts_of(solve(Plan(typed))) if (wrong := unreadable(text))}
        assert not found, (found, typed)


def test_no_invented_pump_is_named_where_something_is_said_or_bought():
    dice = random.Random(77)
    for _ in range(PLANS):
        found = solve(Plan(any_plan(dice)))
        assert not [where for where, text in texts_of(found) if re.search(r"Example [AW]\d(?! \(invented\))", text)]
        assert "Example" not in str(found.value("parts.shopping"))


@pytest.mark.parametrize("text", ["1e+03 mg/L", "0.00000000399 L", "28,553,727,591,696 lamps", "12.0000000001 in"])
def test_what_was_once_shown_is_told_as_unreadable(text):
    assert unreadable(text)
