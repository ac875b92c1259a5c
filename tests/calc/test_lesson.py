"""The lesson: each answer is the planner's, each sum comes to it, and each number of a sum stands on the sheet."""

from __future__ import annotations

import json
import re

import pytest

from calc import Plan, api, solve
from calc.figures import written_out
from calc.render import lesson
from calc.render.by_hand import SUMS, by_hand
from calc.render.lesson import activities, problems, sheet
from calc.render.lesson.classes import Draw

CLASSES = (1, 2, 7, 42, 365, 1234, 4821, 9999)
LEAST = 24
FROZEN_US = {
    "units": "us",
    "bath.length": "90 in",
    "bath.width": "30 in",
    "bath.water_depth": "6 in",
    "bath.depth": "8 in",
    "bath.tank_mass": "30 lb",
    "reservoir.known_volume": "32 gal",
    "reservoir.brim_volume": "42 gal",
    "circulation.turnover": "2 /h",
    "energy.tariff": "0.15",
    "energy.other_power": "15 W",
    "acidity.alkalinity": "140 mg/L",
    "feed.way": "salts",
    "feed.stock_strength": "100",
    "use.least": "40 %",
}
FROZEN_METRIC = {
    "units": "metric",
    "bath.length": "170 cm",
    "bath.width": "75 cm",
    "bath.water_depth": "23 cm",
    "bath.depth": "28 cm",
    "bath.tank_mass": "15 kg",
    "reservoir.known_volume": "70 L",
    "reservoir.brim_volume": "115 L",
    "circulation.turnover": "2 /h",
    "energy.tariff": "0.15",
    "energy.other_power": "15 W",
    "acidity.alkalinity": "140 mg/L",
    "feed.way": "salts",
    "feed.stock_strength": "100",
    "use.least": "40 %",
}
_NUMBER = re.compile(r"(?<![\w.])\d[\d,]*(?:\.\d+)?")


def designs() -> list:
    return [pytest.param(number, system, id=f"{number}-{system}") for number in CLASSES for system in ("us", "metric")]


def numbers(text: str) -> list[float]:
    found = [float(one.replace(",", "")) for one in _NUMBER.findall(text)]
    # "3/4 in" and "1 1/2 in" are numbers too, and so is a share in percent.
    found += [float(whole or 0) + float(top) / float(bottom)
              for whole, top, bottom in re.findall(r"(?:(\d+) )?(\d+)/(\d+)", text)]
    return found + [float(one) / 100.0 for one in re.findall(r"(\d+(?:\.\d+)?) %", text)]


def near(number: float, known: list[float]) -> bool:
    """Whether a number stands on the sheet, to the digits it was written with."""
    return any(abs(number - one) <= 6e-4 * abs(one) for one in known)


@pytest.mark.parametrize(("number", "system"), designs())
def test_a_class_can_solve_every_problem_from_what_stands_on_its_sheet(number, system):
    design = solve(Plan(lesson.plan_of(number, system)))
    assert not design.faults
    numbered = sheet.problems_of(design)
    assert len(numbered) >= LEAST
    known_so_far: list[float] = []
    for level in problems.LEVELS:
        helps = " ".join(level.helps(system))
        for problem in level.problems:
            if problem.key not in numbered:
                continue
            text = problems.text(problem, design, numbered)
            asked = numbers(text) + numbers(helps) + known_so_far + [100.0, 1.0]
            # A length in mm or in is a length in cm too.
            asked += [one / 10.0 for one in numbers(text)]
            for line in by_hand(problem.key, design).split("\n"):
                left, _, right = line.partition(": ")[2].partition(" = ")
                missing = [one for one in numbers(left.replace(" / ", " ; ")) if not near(one, asked)]
                assert missing == [], f"{problem.key}: {line} of {text}"
                # What a pocket calculator shows, before the answer is rounded, goes on to the next line and problem.
                whole = float(eval(left.replace(",", "").replace(" x ", " * "), {"__builtins__": {}}))  # noqa: S307
                asked += [*numbers(right), whole]
                known_so_far += [*numbers(right), whole]


@pytest.mark.parametrize(("number", "system"), designs())
def test_the_key_is_the_planners_own_answer_and_its_sum_ends_there(number, system):
    design = solve(Plan(lesson.plan_of(number, system)))
    numbered = sheet.problems_of(design)
    key = sheet.answer_key(design, numbered)
    for asked, place in numbered.items():
        lines = by_hand(asked, design).split("\n")
        # A yard of digits may be said in builders' sizes or with money's sign; the sum says it the same way.
        assert lines[-1].endswith(design.shown(asked)), asked
        assert f'<th scope="row">{place}</th>' in key
    assert key.count("<tr>") == len(numbered) + 1


def test_every_problem_asks_for_a_sum_that_is_known():
    keys = [problem.key for level in problems.LEVELS for problem in level.problems]
    assert len(keys) == len(set(keys)) and set(keys) <= set(SUMS)


@pytest.mark.parametrize("system", ["us", "metric"])
def test_every_problem_is_met_by_some_class(system):
    met = set()
    for number in CLASSES:
        met |= sheet.problems_of(solve(Plan(lesson.plan_of(number, system)))).keys()
    assert met == {problem.key for level in problems.LEVELS for problem in level.problems}


def test_the_same_number_gives_the_same_lesson_and_another_one_another():
    assert lesson.of_class(7, "us") == lesson.of_class(7, "us")
    assert lesson.plan_of(7, "us") != lesson.plan_of(8, "us")
    # Frozen: a number written on a board last year is the same lesson this year.
    assert lesson.plan_of(4821, "us") == FROZEN_US
    assert lesson.plan_of(4821, "metric") == FROZEN_METRIC


def test_draws_follow_the_published_generator():
    # First two outputs of SplitMix64 from 1234567, as printed with many of its ports (from memory).
    draw = Draw(1234567)
    assert [draw._next(), draw._next()] == [6457827717110365317, 3203168211198807973]
    assert {Draw(number).pick((1, 2, 3)) for number in range(40)} == {1, 2, 3}


def test_a_plan_of_ones_own_leaves_out_what_it_has_no_numbers_for():
    still = solve(Plan({"water.scheme": "still"}))
    numbered = sheet.problems_of(still)
    assert "circulation.target_flow" not in numbered and "water.bath_volume" in numbered
    html = lesson.parts(still, lesson.OWN)
    assert "Numbers: your own plan." in html["worksheet"]
    assert "no number for it" in html["activities"]


def test_several_baths_are_told_and_one_is_not():
    problem = next(one for one in problems.LEVELS[0].problems if one.key == "water.working_volume")
    two = solve(Plan({"bath.count": "2"}))
    assert "There are 2 baths." in problems.text(problem, two, {})
    assert "baths." not in problems.text(problem, solve(Plan({})), {})
    # Without the problem before it, its number is given.
    assert "(49.87 gal)" in problems.text(problem, two, {})
    assert "(your answer to problem 1)" in problems.text(problem, two, {"water.bath_volume": 1})


def test_a_lifted_hose_meets_the_plan_at_its_own_lift():
    design = solve(Plan({}))
    curves, lift = design.value("circulation.curves"), design.value("circulation.lift")
    assert activities.flow_at(lift, curves) == pytest.approx(design.value("circulation.flow"), rel=0.01)
    # Nothing comes where the lift is all that the pump can do.
    assert activities.flow_at(curves[0]["pump"] * 1.01, curves) is None
    higher = solve(Plan({"circulation.lift": "36 in", "circulation.pump": "Example W2"}))
    assert activities.flow_at(36 * 0.0254, curves) == pytest.approx(higher.value("circulation.flow"), rel=0.02)


def test_the_weights_are_what_the_raft_carries():
    # Load that sinks it, 7.256 lb on a square foot, on 7.752 square feet: 56.25 lb.
    rows = dict(activities.ACTIVITIES[5].predicts(solve(Plan({}))))
    assert rows["Weights on the bare raft until it is just awash"] == "56.2 lb"


def test_the_seconds_are_a_gallon_over_the_flow():
    rows = dict(activities.ACTIVITIES[1].predicts(solve(Plan({}))))
    # 132.1 gal in 3,600 s: one in 27.25 s.
    assert rows == {"Flow": "132 gph", "Seconds for 1 gal": "27 s"}


def test_a_level_says_what_it_takes_in_the_readers_units():
    us, metric = (lesson.of_class(7, system)["worksheet"] for system in ("us", "metric"))
    assert "231 cubic inches" in us and "cubic centimeters" not in us
    assert "1,000 cubic centimeters" in metric and "cubic inches" not in metric


def ask(**question):
    return json.loads(api.run(json.dumps({"op": "lesson", **question})))


def test_the_page_may_ask_for_a_class_or_for_a_plan():
    assert ask(**{"class": 7, "units": "metric"})["parts"] == lesson.of_class(7, "metric")
    own = ask(plan={"bath.length": "60 in"}, version=2)["parts"]["worksheet"]
    assert "60 in long" in own and "your own plan" in own
    assert "the built-in example" in ask(plan={}, version=2)["parts"]["worksheet"]


@pytest.mark.parametrize("number", [0, 10_000, "7", 1.5, None])
def test_a_class_number_out_of_range_is_told(number):
    assert ask(**{"class": number})["error"] == "A class number is a whole number from 1 to 9,999."


def test_four_digits_are_given_to_carry_on_with():
    design = solve(Plan({}))
    assert problems.precise("water.bath_volume", design) == f"{written_out(11520 / 231, 4)} gal"
    assert problems.precise("circulation.pump_name", design) == design.shown("circulation.pump_name")


def test_every_answer_has_its_unit_also_that_of_a_ppm_meter():
    design = solve(Plan({}))
    numbered = sheet.problems_of(design)
    html = sheet.worksheet(design, numbered, "these")
    asked = re.findall(r'Answer: <span class="blank"></span> ?(.*?)</p></li>', html)
    assert len(asked) == len(numbered) and all(asked) and asked.count("ppm") == 2
    assert f">{design.shown('feed.ppm500')} ppm<" in sheet.answer_key(design, numbered)
