"""A change of units changes no bath: not its sizes, typed or guessed, and not its holes."""

from __future__ import annotations

import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc import api, switching
from calc.data import crops
from calc.plan import FIELDS, Plan
from calc.solve import solve

SAME = ("board.sites", "board.spacing_used", "water.bath_volume", "water.working_volume", "circulation.flow",
        "air.stones")


def switched(plan: dict[str, str], to: str) -> dict[str, str]:
    return json.loads(api.run(json.dumps({"op": "switch_system", "plan": plan, "to": to})))["plan"]


def holds(plan: dict[str, str], to: str) -> None:
    before, after = solve(Plan(plan)), solve(Plan(switched(plan, to)))
    assert before.value("board.sites")
    for key in SAME:
        assert after.value(key) == pytest.approx(before.value(key), rel=1e-6), key


@settings(max_examples=25)
@given(st.sampled_from([one.key for one in crops.CROPS if one.fitness.text not in ("no", "poor in a still raft")]),
       st.integers(30, 90), st.sampled_from(["box", "round"]), st.sampled_from(["us", "metric"]))
def test_holes_and_water_stay(crop, length, shape, system):
    plan = {"crops.rows.1.crop": crop, "bath.length": f"{length}" if system == "us" else f"{2.5 * length:g}",
            "bath.shape": shape, "bath.diameter": "30 in", "units": system}
    holds(plan, "metric" if system == "us" else "us")


def test_a_crop_alone_is_somebodys_own():
    for one in ("kale", "basil", "romaine"):
        holds({"crops.rows.1.crop": one}, "metric")


def test_there_and_back_the_plan_is_the_one_it_was():
    plan = {"bath.length": "61 in", "bath.shape": "tapered box"}
    back = switched(switched(plan, "metric"), "us")
    assert Plan(back).changed() == {**plan, "board.spacing": "8 in"}


def test_choices_alone_meet_the_round_guesses_of_the_other_system():
    assert switched({"bath.shape": "round"}, "metric") == {"bath.shape": "round", "units": "metric"}
    assert switched({}, "metric") == {"units": "metric"}


def test_what_is_of_the_place_follows_the_units():
    turned = switched({"bath.length": "61"}, "metric")
    assert turned["bath.width"] == "24 in" and turned["board.margin"] == "1 1/2 in"
    assert {FIELDS["energy.voltage"].kind, FIELDS["energy.breaker"].kind} <= set(switching.OF_THE_PLACE)
    assert not {"energy.voltage", "energy.breaker", "energy.currency", "energy.tariff"} & set(turned)
