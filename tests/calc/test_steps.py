"""The steps of the planner group every topic once, and name only what is declared."""

from __future__ import annotations

import re

import pytest

from calc import Plan, solve
from calc.plan import FIELDS, TABLES
from calc.render import answers, sheets, verdicts
from calc.solve import RESULT_TOPIC, SPECS
from calc.steps import STEPS
from calc.topics import TOPICS


def test_every_topic_is_in_one_step():
    grouped = [topic for step in STEPS for topic in step.topics]
    assert sorted(grouped) == sorted(topic.NAME for topic in TOPICS)
    assert [step.name for step in STEPS] == ["tank", "raft", "air", "nutrients", "light", "running", "shop"]


@pytest.mark.parametrize("step", STEPS, ids=lambda step: step.name)
def test_a_step_names_what_is_declared(step):
    assert set(step.asks) <= set(FIELDS) | set(TABLES)
    # One that stands in another's place is not one more.
    assert 3 <= len([key for key in step.keys if not key.unless]) <= 6
    for key in step.keys:
        assert key.result in SPECS and SPECS[key.result].kind != "rows"
        for used in re.findall(r"\{([a-z0-9_.]+)\}", key.note):
            assert used in SPECS or used in FIELDS, used


def test_every_question_is_asked_once():
    design = solve(Plan({}))
    for step in STEPS:
        html = form_of(step, design)
        names = re.findall(r'<(?:input|select) name="([^"]+)"', html)
        assert len(names) == len(set(names))
    everything = "".join(form_of(step, design) for step in STEPS)
    for key in FIELDS:
        if key != "units":
            assert everything.count(f'name="{key}"') == 1, key


def form_of(step, design):
    from calc.render import form
    return form.deciding(step, design) + form.settings(step, design)


@pytest.mark.parametrize("scheme", ["circulating", "aerated", "still"])
def test_no_answer_in_front_waits_in_a_whole_plan(scheme):
    design = solve(Plan({"water.scheme": scheme}))
    for step in STEPS:
        html = sheets.keys(step, design)
        assert answers.DASH + "</output>" not in html, step.name
        assert html.count('class="key"') >= 2, step.name


def test_a_faulty_size_leaves_a_dash_and_nothing_else():
    design = solve(Plan({"bath.length": "5 gal"}))
    html = sheets.keys(STEPS[0], design)
    assert f'<output data-key="water.bath_volume">{answers.DASH}</output>' in html
    assert "nan" not in html.lower()


def test_two_verdicts_are_in_sight_and_dangers_never_folded():
    design = solve(Plan({}))
    for step in STEPS:
        html = verdicts.of_step(step, design)
        in_sight = html.split("<details")[0]
        said = verdicts.given(step, design)
        assert html.count("data-verdict=") == len(said)
        assert in_sight.count("data-verdict=") == min(len(said), verdicts.IN_SIGHT)
        assert html.count("data-caution=") == in_sight.count("data-caution=")


def test_the_answers_in_front_belong_to_topics_that_a_plan_may_lack():
    # A bath without pumped water has no circulation, so its flow is not even a dash.
    design = solve(Plan({"water.scheme": "still"}))
    assert RESULT_TOPIC["circulation.flow"] == "circulation" and not design.has("circulation")
    air = next(step for step in STEPS if step.name == "air")
    assert "circulation.flow" not in sheets.keys(air, design)


def test_a_number_is_large_and_its_unit_small():
    assert answers.large("82.7 gal") == "<b>82.7</b> <i>gal</i>"
    assert answers.large("1 7/8 in") == "<b>1 7/8</b> <i>in</i>"
    assert answers.large("$1,234") == "<b>$1,234</b>"
    assert answers.large("likely <rises>") == '<span class="in-words">likely &lt;rises&gt;</span>'


def test_what_is_for_all_baths_says_so():
    one, four, tubs = (sheets.keys(STEPS[0], solve(Plan(plan))) for plan in (
        {}, {"bath.count": "4"}, {"bath.count": "4", "water.scheme": "aerated"}))
    assert "bath 49.9 gal, reservoir 16 gal" in one and "all 4" not in one
    assert "all 4 baths and the reservoir, 16 gal" in four and "from all 4 baths; there is room for" in four
    assert "all 4 baths<" in tubs


@pytest.mark.parametrize("rule", ["optimum", "floor"])
def test_a_rule_of_practice_stands_in_no_headline(rule):
    design = solve(Plan({"air.rule": rule, "crops.rows.1.crop": "celery"}))
    told, need = design.verdict("air"), design.shown("air.oxygen_need")
    assert told.figure == design.shown("air.delivered")
    assert f"by the rule you chose; the roots need {need}" in told.text
    assert f"{need} needed, with margin" in sheets.keys(STEPS[2], design)
    assert design.shown("air.target") not in sheets.keys(STEPS[2], design) + sheets.summary(STEPS[2], design)


@pytest.mark.parametrize("plan", [{"water.scheme": "still"}, {"water.scheme": "still", "feed.way": "salts"},
                                  {"water.scheme": "still", "bath.count": "2", "feed.way": "powders"}])
def test_a_still_vessel_is_told_of_nothing_that_it_lacks(plan):
    from calc.render import page
    pieces = page.everything(solve(Plan(plan)))
    said = " ".join(re.sub(r"<[^>]+>", " ", html) for name, html in pieces.items()
                    if not name.startswith(("figures-", "standing-")))
    assert not re.findall(r"[^.]*\b(?:pumps?|return|reservoir|overflow|stones?)\b[^.]*", said, re.IGNORECASE)
