"""The border between page and Python: JSON in, JSON out, and a sentence for whatever is wrong."""

import csv
import io
import json
import re

import pytest
from hypothesis import given, strategies as st

from calc import api
from calc.plan import Plan
from calc.render import page
from calc.solve import SPECS, solve
from calc.topics import TOPICS, circulation


def ask(**request):
    return json.loads(api.run(json.dumps(request)))


def test_solve_answers_every_region_of_the_page():
    answer = ask(op="solve", plan={})
    drawn = re.findall(r'data-region="([^"]*)"', page.calculator())
    assert set(answer["regions"]) == set(answer["marks"]) == set(drawn) and len(drawn) == len(set(drawn))
    assert answer["faults"] == {} and answer["link"] == ""


def test_one_topic_can_be_asked_for_alone():
    regions = set(ask(op="solve", plan={}, topics=["air"])["regions"])
    assert regions == {"glance", "cautions", "air-notes", "air-picture", "air-rows"}


def test_a_fault_marks_only_what_hangs_on_it_as_old():
    assert ask(op="solve", plan={})["old"] == []
    old = ask(op="solve", plan={"board.pot": "wet"})["old"]
    assert "board-rows" in old and not {"water-rows", "circulation-rows"} & set(old)


def test_every_result_of_the_default_plan_is_an_output():
    html = "".join(ask(op="solve", plan={})["regions"].values())
    for key, answer in solve(Plan({})).answers.items():
        if SPECS[key].kind != "rows" and answer.value is not None:
            assert f'<output data-key="{key}">' in html, key


def test_what_was_typed_is_escaped_in_the_page():
    design = solve(Plan({"bath.length": "<script>alert(1)</script>", "circulation.pumps.1.name": "<b>x</b>"}))
    html = page.calculator(design=design)
    assert "<script" not in html and "<b>x</b>" not in html


def test_workings_left_out_are_the_same_ones_that_can_be_asked_for():
    whole = page.regions(solve(Plan({})))
    quick = ask(op="solve", plan={})["regions"]
    later = ask(op="workings", plan={})["workings"]
    assert sum(map(len, quick.values())) < 0.75 * sum(map(len, whole.values()))
    filled = "".join(quick[f"{topic.NAME}-rows"] for topic in TOPICS)
    for name, html in later.items():
        filled = filled.replace(f'<details class="working" data-keep="{name}">', f"@{name}@", 1)
        before, rest = filled.split(f"@{name}@")
        filled = (before + f'<details class="working" data-keep="{name}">'
                  + rest.replace("<div data-working></div>", f"<div data-working>{html}</div>", 1))
    assert filled == "".join(page.topic_rows(topic, solve(Plan({}))) for topic in TOPICS)


def test_the_pump_chart_meets_at_the_flow_and_head_of_the_rows():
    design = solve(Plan({}))
    assert "they meet at" in page.topic_answers(circulation, design)
    rows = design.value("circulation.curves")
    before = max(row["flow"] for row in rows if row["pump"] >= row["asked"])
    after = min(row["flow"] for row in rows if row["pump"] < row["asked"])
    assert before <= design.value("circulation.flow") <= after


def test_a_change_of_units_changes_no_size():
    typed = {"bath.length": "50", "bath.depth": "12½", "bath.width": "25 in", "board.pot": "3 5/8",
             "energy.tariff": "0.2"}
    turned = ask(op="switch_system", plan=typed, to="metric")
    assert turned["plan"]["bath.length"] == "50 in" and turned["plan"]["energy.tariff"] == "0.2"
    before, after = Plan(typed), Plan(turned["plan"])
    for key in typed:
        assert before.values[key] == pytest.approx(after.values[key])
    assert turned["plan"]["bath.depth"] == "12½ in" and turned["defaults"]["bath.depth"] == "30 cm"


def test_a_file_comes_back():
    typed = {"bath.length": "50 in", "parts.copies": "3"}
    text = ask(op="file_write", plan=typed)["text"]
    assert ask(op="file_read", text=text) == {"plan": typed, "notes": []}


@pytest.mark.parametrize("text", ["", "not json", "[1, 2]", "3", "[" * 100_000])
def test_a_file_that_is_no_plan_changes_nothing(text):
    answer = ask(op="file_read", text=text)
    assert answer["plan"] is None and "Nothing was changed" in answer["notes"][0]


def test_csv_cells_cannot_be_formulas():
    text = ask(op="csv", plan={"circulation.pump": "=cmd()", "bath.length": "-5 in"})["text"]
    assert "'=cmd()" in text and "'-5 in" in text


@pytest.mark.parametrize("text", ["", "null", "[]", "{}", '{"op": "rm"}', '{"op": "solve"}', "NaN"])
def test_an_odd_request_gets_a_sentence(text):
    answer = json.loads(api.run(text))
    assert answer.get("error") or answer.get("faults")


@given(st.dictionaries(st.text(max_size=30), st.one_of(st.text(max_size=40), st.floats(), st.lists(st.integers()),
                                                      st.none()), max_size=5))
def test_no_plan_makes_an_error(plan):
    assert "error" not in ask(op="solve", plan=plan)


def test_the_csv_has_every_table_of_the_page_in_the_readers_units():
    text = ask(op="csv", plan={})["text"]
    rows = list(csv.reader(io.StringIO(text)))
    tables = {(row[1], row[2]) for row in rows if row[0] == "heads"}
    assert {"feed", "schedule", "outage", "heat", "air", "oxygen"} <= {topic for topic, _ in tables}
    assert [row for row in rows if row[0] == "row" and (row[1], row[2]) not in tables] == []
    assert any(row[0] == "row" and row[1] == "feed" and row[4].endswith(" g") for row in rows)


def test_the_calendar_comes_as_text_or_as_nothing():
    assert ask(op="calendar", plan={})["text"].startswith("BEGIN:VCALENDAR\r\n")
    assert ask(op="calendar", plan={"schedule.start": "soon"})["text"] == ""
