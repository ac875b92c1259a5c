"""Every topic of a plan says once whether its matter works, for every plan, in words made of the plan's own numbers."""

import csv
import io
import random
import re
from dataclasses import replace

import pytest

from calc.declare import STATES
from calc.errors import Unanswered
from calc.plan import Plan
from calc.render import page, table
from calc.sheet import Sheet
from calc.solve import SPECS, VERDICTS, Memory, as_json, solve, topics_of
from tests.calc.test_memory import edit

# Words that a sentence for a reader must never hold: no number, nothing found, a number in powers of ten.
BROKEN = re.compile(r"\bnan\b|\bNone\b|\binf\b|\d[eE][+-]?\d|\bTrue\b|\bFalse\b|[{}]|  ")


def judged(plan):
    """The topics of a plan that must say how their matter stands."""
    return [topic.NAME for topic in topics_of(plan) if topic.NAME != "place"]


def is_whole(design):
    """Whether each topic has one verdict in sound words; raises AssertionError with the first that is not."""
    assert list(design.verdicts) == judged(design.plan), design.plan.text
    for name, one in design.verdicts.items():
        assert one.topic == name and one.state in VERDICTS[name].leads, (design.plan.text, one)
        for words in (one.text, one.lead):
            assert words.strip() == words and words[-1:] in ".?!)", (design.plan.text, one)
        assert not BROKEN.search(f"{one.lead} {one.text} {one.figure}"), (design.plan.text, one)


@pytest.mark.parametrize("part", range(6))
def test_every_topic_has_one_verdict_for_any_plan(part):
    dice, memory = random.Random(500 + part), Memory()
    for _ in range(40):
        typed = dict(edit(dice) for _ in range(dice.randint(0, 6)))
        is_whole(memory.solve(Plan(typed)))


@pytest.mark.parametrize("scheme, missing", [
    ("circulating", set()), ("aerated", {"circulation"}), ("still", {"circulation", "air", "outage"})])
def test_nothing_is_said_of_what_the_kind_of_bath_lacks(scheme, missing):
    design = solve(Plan({"water.scheme": scheme}))
    assert set(design.verdicts) == set(VERDICTS) - missing
    is_whole(design)


@pytest.mark.parametrize("topic", VERDICTS)
def test_what_is_at_fault_is_named_wherever_it_leaves_a_topic_open(topic):
    given = solve(Plan({"bath.length": "5 gal"})).verdict(topic)
    assert given is not None and given.text
    if topic in ("water", "circulation", "air", "oxygen"):
        assert given.state == "open" and given.text.startswith("Bath length is a volume")


# --- saying one ------------------------------------------------------------------------------------------------------

def said(*verdicts, before=None):
    """What stands after a step of the topic "energy" said these verdicts, and the step's record."""
    sheet = Sheet(Plan({}), SPECS, judged={"energy": replace(VERDICTS["energy"], leads=dict.fromkeys(STATES, "Lead."))})

    def step(one):
        for state, text in verdicts:
            one.verdict(state, text)
    record = sheet.do("energy", step, before)
    return sheet.written().verdicts.get("energy"), record


@pytest.mark.parametrize("first", STATES)
@pytest.mark.parametrize("second", STATES)
def test_of_two_the_worse_holds(first, second):
    found, record = said((first, "One."), (second, "Two."))
    worse = min(first, second, key=STATES.index)
    assert (found.state, found.text) == (worse, "One." if worse == first else "Two.")
    replayed, same = said(before=record)
    assert replayed == found and same is record


def test_a_state_without_a_lead_and_a_topic_without_a_verdict_are_refused():
    def step(sheet):
        sheet.verdict("splendid", "It is.")
    for judged_by in ({}, VERDICTS):
        with pytest.raises(ValueError, match="declares no lead for the state splendid"):
            Sheet(Plan({}), SPECS, judged=judged_by).do("energy", step)


def test_a_lead_of_its_own_takes_the_place_of_the_declared_one():
    sheet = Sheet(Plan({}), SPECS, judged=VERDICTS)

    def step(one):
        one.verdict("open", "It is.", figure="3 W", lead="Hm.")
        raise Unanswered("energy.tariff")
    sheet.do("energy", step)
    one = sheet.written().verdicts["energy"]
    assert (one.lead, one.figure, one.state) == ("Hm.", "3 W", "open")


# --- where it is read ------------------------------------------------------------------------------------------------

def test_verdicts_are_in_the_json_and_in_the_csv():
    design = solve(Plan({}))
    told = as_json(design)["verdicts"]
    assert [one["topic"] for one in told] == list(design.verdicts)
    assert all(set(one) == {"topic", "state", "lead", "text", "figure"} for one in told)
    rows = [row for row in csv.reader(io.StringIO(table.write(design))) if row[0] == "verdict"]
    # What is true of today alone is in no file.
    assert [row[1:4] for row in rows] == [[one["topic"], one["state"], one["text"]] for one in told
                                          if one["topic"] != "today"]


def test_a_picture_that_looks_at_a_verdict_is_drawn_again_when_it_changes():
    shelf, looks = page.Shelf(), []

    def look(design):
        looks.append(design)
        return str(design.verdict("water"))
    one, same, other = (solve(Plan(typed)) for typed in ({}, {"energy.tariff": "0.3"}, {"bath.length": "x"}))
    assert one.verdict("water") == same.verdict("water") != other.verdict("water")
    for design in (one, same, other):
        assert shelf.take("a", design, look) == str(design.verdict("water"))
    assert looks == [one, other]
    assert one.verdict("place") is None and one.verdict("no such") is None
