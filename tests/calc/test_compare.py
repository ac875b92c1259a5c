"""Plans side by side: what differs is found, what it does is weighed the right way, what was typed is never HTML."""

from __future__ import annotations

import json
import re

import pytest

from calc import Plan, api, compare, solve
from calc.render import sidebyside
from tests.calc import whole


def solved(**answers):
    return solve(Plan({key.replace("__", "."): text for key, text in answers.items()}))


def told(designs):
    return {one.key: one.shown for one in compare.differences(designs)}


def outcome(designs, key):
    return next(one for one in compare.outcomes(designs) if one.key == key)


def test_the_same_size_in_other_words_is_no_difference():
    assert told([solved(bath__length="48 in"), solved(bath__length="4 ft")]) == {}
    assert told([solved(), solved(bath__length="48 in")]) == {}
    # 50 in are 1.27 m exactly.
    assert told([solved(bath__length="50 in"), solved(bath__length="1.27 m")]) == {}


def test_guesses_of_two_systems_are_one_guess():
    assert told([whole.plan("us_tote"), whole.plan("us_tote_in_metric")]) == {}


def test_differences_are_said_in_the_first_plans_units():
    found = told([solved(bath__length="50 in"), solved(bath__length="1 m", units="metric")])
    assert found["bath.length"] == ("50 in", "39 3/8 in")


def test_what_is_not_asked_or_left_open_or_unreadable_is_said_so():
    found = told([solved(), solved(water__scheme="aerated", bath__length="5 gal", circulation__turnover="")])
    assert found["circulation.lift"] == ("30 in", "not asked")
    assert found["bath.length"] == ("48 in", "(5 gal)")
    assert told([solved(), solved(circulation__turnover="4")])["circulation.turnover"] == ("left open", "4 /h")


def test_a_choice_is_said_in_its_label_and_a_row_of_a_table_once():
    found = told([solved(), solved(bath__shape="round")])
    assert found["bath.shape"][1].startswith("Round")
    found = told([solved(), solve(Plan({"crops.rows.2.crop": "basil", "crops.rows.2.share": "30 %"}))])
    assert [key for key in found if key.startswith("crops.rows.2")] == ["crops.rows.2.crop"]


def test_what_decides_comes_first():
    keys = list(told([whole.plan("us_tote"), whole.plan("four_baths")]))
    deciding = [key.startswith(compare.DECIDING) for key in keys]
    assert deciding == sorted(deciding, reverse=True) and True in deciding and False in deciding


def test_agreeing_and_differing_questions_are_all_that_are_asked():
    designs = [solved(), solved(bath__length="60 in", air__depth="8 in")]
    fields = [one for one in compare.differences(designs) if one.key in compare.FIELDS]
    tables = sum(designs[0].plan.asked(table) for table in compare.TABLES.values())
    assert len(compare.agreements(designs)) + len(fields) + tables == compare.count_asked(designs)


WAYS = {  # what is typed into the second plan, and how each answer stands beside the first's
    "longer": ({"bath.length": "96 in"}, {"schedule.heads_per_week": "better"}),
    "dearer": ({"energy.tariff": "0.34"}, {"energy.all_cost_per_year": "worse", "parts.cost_per_head": "worse",
                                            "energy.power": "same"}),
    "faster": ({"circulation.turnover": "4"}, {"circulation.velocity": "worse", "energy.power": "worse"}),
    "wider": ({"circulation.hose_bore": "1 in"}, {"circulation.velocity": "better"}),
    "colder": ({"place.setting": "cool basement", "water.temperature": "55 F"}, {"oxygen.bath_hottest": "better"}),
}


@pytest.mark.parametrize("way", WAYS)
def test_better_and_worse_have_the_right_way_round(way):
    typed, expected = WAYS[way]
    designs = [solved(), solve(Plan(typed))]
    for key, state in expected.items():
        one = outcome(designs, key)
        assert one.changes[1].state == state, (one.shown, one.changes)
        assert one.changes[0].words == ""
        if state != "same":
            assert one.changes[1].words.startswith(f"{state}: ")
        back = outcome(designs[::-1], key).changes[1].state
        assert {state, back} in ({"better", "worse"}, {"same"})


def test_the_difference_is_the_difference():
    # 0.34 - 0.17 $ a kWh on 113.88 kWh is $19.36.
    one = outcome([solved(), solved(energy__tariff="0.34")], "energy.all_cost_per_year")
    assert one.changes[1].words == "worse: $19.36 more"
    assert one.values[1] == pytest.approx(2 * one.values[0])


def test_two_currencies_are_not_compared():
    euros = solve(Plan({"energy.currency": "€", "energy.tariff": "0.34"}))
    one = outcome([solved(), euros], "energy.all_cost_per_year")
    assert one.changes[1] == compare.Change("other", "another currency")
    assert one.shown[1].startswith("€")


def test_limits_are_drawn_and_named():
    one = outcome([solved(), solved(bath__length="60 in")], "oxygen.bath_hottest")
    assert one.limits == (6.0, 6.0)
    assert one.note == "aim 6 mg/L or more: the mark"


def test_dangers_decide_how_a_plan_stands():
    worse = whole.plan("four_baths")
    assert compare.standing([solved(), worse], 1) == compare.Change("worse", "worse")
    assert compare.standing([worse, solved()], 1) == compare.Change("better", "better")
    assert compare.standing([worse, worse], 1).state == "same"


@pytest.mark.parametrize(("typed", "said"), [
    ({}, "Answers every question as A does."),
    ({"circulation.turnover": "4"}, "Is A with turnover wanted 4 /h: "),
    ({"bath.length": "60 in"}, "Is A with bath length 60 in instead of 48 in: "),
    ({"units": "metric"}, "Answers every question as A does.")])
def test_a_plan_beside_its_copy_is_told_in_one_sentence(typed, said):
    sentence = compare.sentence([solved(), solve(Plan(typed))], 1)
    assert sentence.startswith(said)
    assert sentence.endswith(".") and sentence.count(": ") <= 1


def test_another_bath_says_how_far_apart_it_is_and_that_dangers_come():
    sentence = compare.sentence([whole.plan("us_tote"), whole.plan("four_baths")], 1)
    assert re.match(r"Is another bath, \d+ answers apart: ", sentence)
    assert "2 dangers come" in sentence


def test_one_danger_comes_and_goes():
    plans = [whole.plan("us_tote"), whole.plan("cold_cellar")]
    assert "one danger comes" in compare.sentence(plans, 1)
    assert "one danger goes" in compare.sentence(plans[::-1], 1)


def test_the_sheet_draws_to_one_scale_and_bars_from_nothing():
    longer = sidebyside.Beside("B", "", solved(bath__length="96 in"))
    html = sidebyside.sheet([sidebyside.Beside("A", "", solved()), longer])
    shares = [float(one) for one in re.findall(r'<svg width="([\d.]+)%" xmlns', html)]
    boxes = [float(one) for one in re.findall(r'viewBox="0 0 ([\d.]+) [\d.]+" role="img"', html)]
    assert shares[0] / shares[1] == pytest.approx(boxes[0] / boxes[1], rel=0.01)
    bars = re.search(r'data-outcome="schedule.heads_per_week".*?</tr>', html)[0]
    widths = [float(one) for one in re.findall(r'class="solid"[^>]*width="([\d.]+)%"', bars)]
    one = outcome([solved(), solved(bath__length="96 in")], "schedule.heads_per_week")
    assert widths[0] / widths[1] == pytest.approx(one.values[0] / one.values[1], rel=0.01)
    assert html.count("</svg>") == html.count("<svg ")


def test_nothing_a_reader_typed_becomes_html():
    name = '<img src=x onerror="1">'
    bad = solve(Plan({"crops.rows.1.crop": name, "bath.length": name}))
    html = sidebyside.sheet([sidebyside.Beside(name, name, solved(), name), sidebyside.Beside(name, name, bad)])
    assert "<img" not in html and 'onerror="' not in html


def test_many_answers_fold_and_few_do_not():
    two = [sidebyside.Beside("A", "", whole.plan("us_tote")), sidebyside.Beside("B", "", whole.plan("four_baths"))]
    html = sidebyside.sheet(two)
    first, _, folded = html.partition('class="fold more-answers"')
    assert first.count("data-asked=") == sidebyside.MOST_ROWS
    assert folded.count("data-asked=") == len(told([one.design for one in two])) - sidebyside.MOST_ROWS
    few = sidebyside.sheet([two[0], two[0]])
    assert "more-answers" not in few and "All questions are answered alike." in few


def test_the_page_asks_for_two_to_four_plans():
    def ask(plans):
        return json.loads(api.run(json.dumps({"op": "side_by_side", "plans": plans})))
    one = {"name": "A", "plan": {"bath.length": "60 in"}, "version": 2}
    assert ask([one])["error"] == "Choose two to four plans."
    assert ask(None)["error"] and ask([1, 2])["error"]
    assert ask([one, {"plan": {"units": "metric"}}])["system"] == "us"
    assert ask([one] * 6)["html"].count('<th scope="col">') == 4


def test_as_json_is_plain_data():
    found = compare.as_json([solved(), solved(bath__length="60 in")])
    assert json.loads(json.dumps(found, allow_nan=False)) == found
    assert found["differences"][0]["key"] == "bath.length" and len(found["sentences"]) == 1


def test_the_command_line_tells_plans_apart(tmp_path, capsys):
    from calc import command_line
    wider = tmp_path / "wider.json"
    wider.write_text('{"circulation.hose_bore": "1 in"}', encoding="utf-8")
    assert command_line.main(["compare", "#start=2&bath.length=48+in", str(wider)]) == 0
    answer = json.loads(capsys.readouterr().out)
    assert [one["key"] for one in answer["differences"]] == ["circulation.hose_bore"]
    assert answer["sentences"][0].startswith("Is A with hose bore 1 in instead of 3/4 in: ")
    velocity = next(one for one in answer["outcomes"] if one["key"] == "circulation.velocity")
    assert velocity["changes"][1]["state"] == "better" and answer["notes"] == []


@pytest.mark.parametrize("arguments", [["a"], ["a"] * 5])
def test_two_to_four_plans_are_compared(arguments, capsys):
    from calc import command_line
    assert command_line.main(["compare", *arguments]) == 2
    assert "two to four" in capsys.readouterr().err


def test_a_plan_that_cannot_be_read_is_told(capsys):
    from calc import command_line
    assert command_line.main(["compare", "#start=2&bath.length=48+in", "/no/such/plan.json"]) == 2
    assert "PLAN cannot be read" in capsys.readouterr().err
