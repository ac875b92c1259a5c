"""The border between page and Python: JSON in, JSON out, and a sentence for whatever is wrong."""

import csv
import io
import json
import random
import re

import pytest
from hypothesis import given, strategies as st

from calc import api, settle
from calc.plan import Plan
from calc.render import answers, page, sheets
from calc.solve import SPECS, solve
from calc.steps import BY_NAME, STEPS
from calc.topics import TOPICS


def ask(**request):
    return json.loads(api.run(json.dumps(request)))


def settled(**request):
    """The last of the answers of ``rest``, asked again until all is worked out."""
    while True:
        answer = ask(op="rest", **request)
        if answer["done"]:
            return answer
        assert answer == {"done": False}


def regions_of(html):
    return re.findall(r'data-region="([^"]*)"', html)


def test_the_page_is_answered_region_by_region_and_every_region_is_on_the_page():
    drawn = regions_of(sheets.planner(solve(Plan({}))))
    assert len(drawn) == len(set(drawn))
    found = set()
    for step in STEPS:
        answer = ask(op="solve", plan={}, step=step.name)
        assert answer["faults"] == {} and set(answer["regions"]) == set(answer["marks"])
        rest = settled(plan={}, step=step.name, open=[f"figures-{step.name}"])
        assert rest["faults"] == {} and rest["link"] == "" and set(rest["regions"]) == set(rest["marks"])
        assert rest["marks"] | answer["marks"] == rest["marks"]
        found |= set(answer["regions"]) | set(rest["regions"])
    assert found == set(drawn)


def test_what_the_page_has_is_not_sent_again():
    opened = dict(step="air", open=["figures-air"])
    first = ask(op="solve", plan={}, step="air")
    again = ask(op="solve", plan={}, step="air", have=first["marks"])
    assert again["regions"] == {} and again["marks"] == first["marks"]
    rest = settled(plan={}, **opened)
    last = settled(plan={}, have=rest["marks"], said=rest["said"], **opened)
    assert last["regions"] == {} and last["texts"] == {} and last["said"] == rest["said"]
    other = ask(op="solve", plan={"bath.length": "60 in"}, step="air", have=first["marks"])
    assert "keys-air" in other["regions"] and "standing-air" not in other["regions"]
    later = settled(plan={"bath.length": "60 in"}, have=rest["marks"], said=rest["said"], **opened)
    assert "water.bath_volume" in later["texts"] and "water.water_depth" not in later["texts"]
    assert len(later["texts"]) < len(rest["texts"])
    # A page that was told by another Python is told all.
    assert settled(plan={"bath.length": "60 in"}, said="0", **opened)["texts"].keys() >= rest["texts"].keys()


def test_a_page_typed_on_gets_what_one_asked_afresh_gets(monkeypatch):
    # Every operation takes a single step, as on a machine that could do no more in the time.
    monkeypatch.setattr(settle, "SLICE_SECONDS", 0.0)
    monkeypatch.setattr(api, "_SETTLING", settle.Settling())
    dice = random.Random(3)
    have, said, texts, shown, plan = {}, "", {}, {}, {}
    edits = [("bath.length", "60 in"), ("air.stone_height", "2 in"), ("bath.depth", "x"), ("bath.depth", "14 in"),
             ("energy.tariff", "0.4"), ("units", "metric"), ("water.scheme", "reservoir"), ("feed.way", "salts"),
             ("crops.rows.1.crop", "basil"), ("light.have", "no"), ("bath.width", ""), ("bath.width", "30 in")]
    for number, (key, text) in enumerate(edits):
        plan = {**plan, key: text}
        step = dice.choice(STEPS).name
        answers_so_far = [ask(op="solve", plan=plan, step=step, have=have)]
        for _ in range(200):
            answers_so_far.append(ask(op="rest", plan=plan, step=step, have=have, said=said))
            # Every third plan is left while it is being worked out.
            if answers_so_far[-1]["done"] or (number % 3 == 0 and len(answers_so_far) > 3):
                break
        for answer in answers_so_far:
            shown.update(answer.get("regions", {}))
            have.update(answer.get("marks", {}))
        if not answers_so_far[-1]["done"]:
            continue
        texts.update(answers_so_far[-1]["texts"])
        said = answers_so_far[-1]["said"]
        fresh = solve(Plan(plan))
        whole = page.of_plan(fresh) | page.of_step(fresh, BY_NAME[step])
        assert {name: shown[name] for name in whole} == whole, plan
        assert page.texts(fresh).items() <= texts.items()
        assert answers_so_far[-1]["faults"] == dict(fresh.faults)


@pytest.mark.parametrize(("step", "key", "text", "waits"), [
    ("air", "circulation.lift", "41 in", ("air", "oxygen")), ("light", "place.air_high", "91 F", ("heat",))])
def test_what_is_quick_comes_first_and_the_rest_of_the_sheet_after_it(monkeypatch, step, key, text, waits):
    monkeypatch.setattr(api, "_SETTLING", settle.Settling())
    monkeypatch.setattr(api, "_SHELF", page.Shelf())
    settled(plan={}, step=step)
    first = ask(op="solve", plan={key: text}, step=step, quick=True)
    assert first["more"] is True
    said = first["regions"][f"verdicts-{step}"]
    for topic in BY_NAME[step].topics:
        assert (f'data-verdict="{topic}" aria-busy="true"' in said) == (topic in waits)
    whole = ask(op="solve", plan={key: text}, step=step)
    assert "more" not in whole and "aria-busy" not in whole["regions"][f"verdicts-{step}"]
    fresh = page.of_step(solve(Plan({key: text})), BY_NAME[step])
    assert whole["regions"][f"verdicts-{step}"] == fresh[f"verdicts-{step}"]
    # Nothing is said to be at work where all of the sheet is there at once.
    assert "more" not in ask(op="solve", plan={}, step="tank", quick=True)


def test_what_a_quick_topic_says_is_new_while_the_others_are_at_work(monkeypatch):
    monkeypatch.setattr(api, "_SETTLING", settle.Settling())
    monkeypatch.setattr(api, "_SHELF", page.Shelf())
    before, after = {"light.by": "lamp", "light.sun": "none"}, {"light.by": "lamp", "light.sun": "none",
                                                                 "light.hours": "9 h"}
    settled(plan=before, step="light")
    said = ask(op="solve", plan=after, step="light", quick=True)["regions"]["verdicts-light"]
    old, new = (solve(Plan(plan)).verdict("light").text for plan in (before, after))
    assert old != new
    assert new in said and old not in said
    assert 'data-verdict="heat" aria-busy="true"' in said and 'data-verdict="light" data-state' in said


def test_a_guide_asks_for_its_topics_alone():
    answer = ask(op="solve", plan={}, topics=["air"], answers=["air.target", "air.stones"],
                 living=["air.target", 'water.working_volume["gal"] * 28'])
    assert set(answer["regions"]) == {"verdict-air", "keys-guide", "bar-guide"}
    design = solve(Plan({}))
    assert answer["living"]["air.target"] == design.shown("air.target")
    # 48 x 24 x 10 in are 11,520 / 231 = 49.87 gal, 16 more stand in the reservoir: 65.87 x 28 = 1,844.
    assert answer["living"]['water.working_volume["gal"] * 28'] == "1,844"


def test_a_fault_marks_only_the_drawing_that_hangs_on_it_as_old():
    assert ask(op="solve", plan={}, step="tank")["old"] == []
    assert ask(op="solve", plan={"bath.length": "wet"}, step="tank")["old"] == ["picture-tank"]
    assert ask(op="solve", plan={"bath.length": "wet"}, step="air")["faults"]


def test_every_result_of_the_default_plan_is_an_output():
    html = "".join(page.everything(solve(Plan({}))).values())
    texts = settled(plan={})["texts"]
    for key, answer in solve(Plan({})).answers.items():
        if SPECS[key].kind != "rows" and answer.value is not None:
            assert f'<output data-key="{key}">' in html and texts[key], key


def test_what_was_typed_is_escaped_in_the_page():
    design = solve(Plan({"bath.length": "<script>alert(1)</script>", "circulation.pumps.1.name": "<b>x</b>"}))
    html = sheets.planner(design) + "".join(page.everything(design).values())
    html += "".join(text for step in sheets.to_come(design).values() for text in step.values())
    assert "<script" not in html and "<b>x</b>" not in html


def test_workings_come_for_the_rows_that_are_open():
    design = solve(Plan({}))
    one = ask(op="workings", plan={}, keys=["water.bath_volume", "no.such"])["workings"]
    assert list(one) == ["w-water.bath_volume"]
    assert one["w-water.bath_volume"] == answers.working_of("water.bath_volume", design)
    whole = ask(op="workings", plan={})["workings"]
    rows = "".join(answers.rows(topic, design, True) for topic in TOPICS)
    assert len(whole) == rows.count("<div data-working>") > 200 and all(html in rows for html in whole.values())


def test_the_pump_chart_meets_at_the_flow_and_head_of_the_rows():
    design = solve(Plan({}))
    assert "they meet at" in "".join(page.everything(design).values())
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


def test_brackets_inside_of_an_answer_are_no_nesting():
    typed = {"parts.name": "x"} | {"bath.length": "[" * 30 + '\\"' + "{" * 30}
    answer = ask(op="file_read", text=json.dumps({"plan": typed, "version": 2}))
    assert answer["plan"]["bath.length"] == typed["bath.length"]


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
    text = ask(op="csv", plan={"feed.way": "salts"})["text"]
    rows = list(csv.reader(io.StringIO(text)))
    tables = {(row[1], row[2]) for row in rows if row[0] == "heads"}
    assert {"feed", "schedule", "outage", "heat", "air", "oxygen"} <= {topic for topic, _ in tables}
    assert [row for row in rows if row[0] == "row" and (row[1], row[2]) not in tables] == []
    assert any(row[0] == "row" and row[1] == "feed" and row[4].endswith(" g") for row in rows)


def test_the_calendar_comes_as_text_or_as_nothing():
    assert ask(op="calendar", plan={})["text"].startswith("BEGIN:VCALENDAR\r\n")
    assert ask(op="calendar", plan={"schedule.start": "soon"})["text"] == ""
