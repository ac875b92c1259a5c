"""Values of a running bath beside arithmetic: bits, power cuts in the log, bottles of ice, drift of EC, plain data."""

import json
from collections import Counter
from datetime import datetime, timedelta

import pytest

from calc import Plan, api, solve
from calc.keeping import acts, comfort, invented, refit, routine
from calc.keeping.bath import Bath
from calc.keeping.entries import many
from calc.keeping.trouble import weigh
from calc.keeping.trouble.from_log import told

NOW = datetime(2026, 11, 25, 8, 0)


def noted(kind, hours, **typed):
    return {"at": (NOW - timedelta(hours=hours)).strftime("%Y-%m-%dT%H:%M"), "kind": kind, "typed": typed}


def test_an_answer_that_cannot_be_leaves_nothing_open():
    assert weigh._open([0.0, 0.0]) == 0.0 and weigh._open([]) == 0.0 == weigh.bits({"a": 1.0, "b": 0.0})
    # Two causes alike: one bit, for an answer that comes half the time.
    assert weigh._open([0.25, 0.25]) == pytest.approx(0.5)


@pytest.mark.parametrize("entry, there", [
    (noted("failed", 2, what="power cut"), True), (noted("failed", 2, what="air pump"), False),
    (noted("failed", 2000, what="power cut"), False), (noted("checked", 2, what="power meter"), False)])
def test_a_power_cut_in_the_log_is_a_sign_for_some_days(entry, there):
    entries, aside = many([entry])
    assert not aside and ("power" in told(Bath(Plan({})), entries, NOW).present) is there


def test_a_line_as_plain_data_keeps_its_words_apart():
    one = acts.act_json(acts.Act("cool", "Float bottles", "It is warm.", "3 bottles", acts.Caution("Unplug", "first."),
                                 ("Then measure", "in three hours.")))
    assert (one["number"], one["unit"], one["pours"]) == ("3", "bottles", [])
    assert one["then"] == {"lead": "Then measure", "text": "in three hours."}
    assert one["caution"]["lead"] == "Unplug" and one["caution"]["text"] == "first."


def test_the_plans_drift_of_ec_is_from_one_top_up_to_the_next():
    design = solve(Plan({}))
    first, second = design.value("use.drift")[:2]
    assert second["day"] > 0
    assert refit.model(design, "ec") == pytest.approx((second["plain_before"] - first["plain"]) / second["day"])


def test_a_band_says_which_crops_it_suits():
    assert Bath(Plan({})).bands["ph"].why == "what suits " + solve(Plan({})).value("crops.names")


@pytest.mark.parametrize("length, above, bottles", [("100 cm", 0.5, "1 bottle"), ("150 cm", 1.0, "2 bottles"),
                                                    ("120 cm", 1.0, "2 bottles")])
def test_bottles_cool_to_half_a_degree_under_the_band(length, above, bottles):
    # 210 L by 1.0 K at 4.186 kJ/kg K are 879 kJ, 285 L by 1.5 K 1,790, 240 L by 1.5 K 1,507; a bottle of 2 L from
    # -18 C takes up 954 to 958 kJ: 0.92, 1.87 and 1.57 of them.
    place = Bath(Plan({"units": "metric", "bath.length": length}))
    assert comfort.cool(place, place.bands["temperature"].high + above).amount == bottles


def test_the_invented_days_keep_to_their_rounds():
    entries = invented.entries(NOW)
    kinds = Counter((entry.kind, entry.text("what")) for entry in entries)
    # Sixty days less three away: once a week each, on the second, fifth and sixth day, cut off at the ends.
    assert [kinds[kind] for kind in (("reading", ""), ("cleaned", "strainer"), ("planted", "Leaf lettuce"),
                                     ("harvested", "Leaf lettuce"))] == [57, 7, 8, 7]
    assert all(("time" in entry.typed) is (entry.kind == "reading") for entry in entries)
    # No more oxygen than what the warmth leaves: 8.1 mg/L at 67 F, 0.11 less for each degree.
    told = [entry.typed for entry in entries if "oxygen" in entry.typed]
    assert told and all(float(one["oxygen"]) <= 8.1 - 0.11 * (float(one["temperature"]) - 0.5 - 67.0) + 0.05
                        for one in told)


def test_bottles_for_a_heat_wave_take_two_degrees_off():
    # 240 L by 2 K at 4.186 kJ/kg K are 2,009 kJ; two liters of ice melt with 668.
    items = [item for item in routine.heat_wave(Bath(Plan({"units": "metric"}))).items if "bottles" in item.text]
    assert [(item.text.split(";")[0], item.amount) for item in items] == [("Freeze closed bottles of 2 L", "4 bottles")]


@pytest.mark.parametrize("oxygen, odd", [("15", True), ("8", False)])
def test_more_oxygen_than_water_holds_is_asked_about(oxygen, odd):
    # 9.1 mg/L at 20 C, and no bath holds 15.
    asked = json.loads(api.run(json.dumps({
        "op": "reading_ask", "plan": {"units": "metric"}, "entries": [], "now": "2026-11-25T08:00", "units": {},
        "typed": {"temperature": "20", "oxygen": oxygen}})))
    assert ("oxygen" in asked["asked"]) is odd
