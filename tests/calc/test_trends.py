"""What readings say: the robust slope against scipy, drifts between corrections, drinking, oxygen, what is due."""

from __future__ import annotations

import random
from datetime import datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import theilslopes

from calc import Plan
from calc.keeping import trends
from calc.keeping.bath import Bath
from calc.keeping.entries import many
from calc.numeric.theil_sen import slope

NOW = datetime(2026, 11, 25, 8, 0)
PLACE = Bath(Plan({"feed.way": "salts"}))


def log(*rows):
    """Entries from (days before now, typed texts[, kind])."""
    found, aside = many([{"at": (NOW - timedelta(days=days)).strftime("%Y-%m-%dT%H:%M"), "typed": typed,
                          "kind": kind[0] if kind else "reading"} for days, typed, *kind in rows])
    assert not aside
    return found


def close(value):
    return pytest.approx(value, rel=1e-9, abs=1e-12)


@given(st.lists(st.tuples(st.integers(0, 40), st.integers(-50, 50)), min_size=2, max_size=30,
                unique_by=lambda row: row[0]))
def test_the_slope_is_that_of_scipy(rows):
    xs, ys = zip(*rows, strict=True)
    assert slope(rows).slope == close(theilslopes(ys, xs, 0.9).slope)


@given(st.integers(0, 10_000))
def test_the_interval_is_that_of_scipy(seed):
    dice = random.Random(seed)
    rows = [(float(x), 0.3 * x + dice.gauss(0.0, 2.0)) for x in range(dice.randint(8, 25))]
    xs, ys = zip(*rows, strict=True)
    ours, theirs = slope(rows), theilslopes(ys, xs, 0.9)
    assert (ours.low, ours.high) == (close(theirs.low_slope), close(theirs.high_slope))


def test_a_wild_reading_moves_nothing_and_one_moment_has_no_slope():
    assert slope([(0, 1), (1, 2), (2, 3), (3, 4), (4, 100)]).slope == 1.0
    assert slope([(1, 1), (1, 5)]) is None and slope([]) is None


def test_only_pairs_of_one_stretch_count():
    rows = [(0, 5.8), (1, 5.9), (2, 6.0), (3, 5.8), (4, 5.9), (5, 6.0)]
    assert slope(rows, groups=[0, 0, 0, 1, 1, 1]).slope == close(0.1)
    assert slope(rows).slope < 0.05


def test_the_ph_climbs_between_pours_of_acid():
    rows = [(8 - day, {"ph": f"{5.8 + 0.1 * (day % 4):.1f}", **({"acid": "5 mL"} if day % 4 == 3 else {})})
            for day in range(8)]
    found = {one.code: one for one in trends.findings(PLACE, log(*rows), NOW)}
    assert found["drift-ph"].numbers["slope"] == pytest.approx(0.1)
    assert found["drift-ph"].text == "pH climbs by 0.1 a day between corrections. The plan says up 0.14 a day."


def test_a_steady_bath_is_called_steady_and_few_readings_tell_nothing():
    rows = [(day, {"ph": "5.9", "ec": "1.4"}) for day in (4, 3, 2, 1)]
    assert [one.text for one in trends.drifts(PLACE, log(*rows), NOW)] == ["pH holds steady.", "EC holds steady."]
    assert trends.findings(PLACE, log((1, {"ph": "5.9"})), NOW) == []


def test_readings_that_go_to_and_fro_are_not_called_steady():
    rows = [(5, {"ph": "5.6"}), (4, {"ph": "6.4"}), (3, {"ph": "5.8"}), (2, {"ph": "6.6"}), (1, {"ph": "6.1"})]
    assert [one.text for one in trends.drifts(PLACE, log(*rows), NOW)] == ["pH moves, with no clear way yet."]


def test_a_slip_that_was_kept_turns_no_trend():
    rows = [(4, {"ph": "5.9"}), (3, {"ph": "65"}), (2, {"ph": "64"}), (1, {"ph": "6.0"}), (0, {"ph": "5.9"})]
    assert trends.drifts(PLACE, log(*rows), NOW)[0].text == "pH holds steady."


def test_water_drunk_from_level_to_level_with_what_was_added_between():
    # 16 gal stand 10 in deep: from 10 in to 9 in with 2 gal poured is 1.6 + 2 gal in 4 days.
    rows = [(4, {"level": "10"}), (2, {"added": "2 gal"}), (0, {"level": "9", "added": "1.6 gal"})]
    used, days = trends.used_a_day(PLACE, log(*rows), NOW)
    assert days == 4.0 and used * 1000 / 3.785411784 == pytest.approx(0.9)


def test_water_drunk_from_top_up_to_top_up_where_no_level_was_read():
    rows = [(6, {"added": "9 gal"}), (3, {"added": "1.5 gal"}), (0, {"added": "1.5 gal"})]
    used, days = trends.used_a_day(PLACE, log(*rows), NOW)
    assert days == 6.0 and used * 1000 / 3.785411784 == pytest.approx(0.5)
    assert trends.used_a_day(PLACE, log((0, {"added": "1 gal"})), NOW) is None
    changed = log(*rows[:2], (1, {}, "changed"), rows[2])
    assert trends.used_a_day(PLACE, changed, NOW) is None


def test_an_exchange_is_a_correction_and_nothing_drunk():
    rows = [(6, {"ec": "1.4"}), (5, {"ec": "1.5"}), (4, {"ec": "1.6"}), (3.5, {"code": "thin"}, "done"),
            (3, {"ec": "1.2"}), (2, {"ec": "1.3"}), (1, {"ec": "1.4"})]
    found = trends.trend(trends.points(log(*rows), "ec", NOW, "us"))
    assert found.slope == pytest.approx(0.1) and trends.used_a_day(PLACE, log(*rows), NOW) is None


def test_a_thirsty_bath_offers_a_change_of_the_plan_that_was_tried():
    rows = [(6, {"added": "1 gal"}), (3, {"added": "1.5 gal"}), (0, {"added": "1.5 gal"})]
    found = next(one for one in trends.findings(PLACE, log(*rows), NOW) if one.code == "water")
    # 0.5 gal a day beside the plan's 0.386, of which plants drink 0.357.
    assert found.text == "1.3 times as much water goes as the plan says: 0.5 gal a day, where it says 0.386 gal."
    assert found.act == "Use 0.5 gal a day in the plan" and found.changes["use.basis"] == "own"
    after = Bath(Plan({**PLACE.plan.text, **found.changes}))
    assert after.number("use.gone") * 1000 / 3.785411784 == pytest.approx(0.5, rel=0.005)
    assert found.consequence == f"top up within {after.design.shown('use.days_to_top_up')} in place of 29 d"


def test_drinking_as_planned_asks_for_no_change():
    rows = [(6, {"added": "1 gal"}), (0, {"added": "2.1 gal"})]
    found = next(one for one in trends.findings(PLACE, log(*rows), NOW) if one.code == "water")
    assert found.text == "0.35 gal of water goes in a day, as the plan says." and not found.changes


OVAL = {"feed.way": "salts", "place.setting": "summer greenhouse", "bath.shape": "oval", "bath.length": "6 ft",
        "bath.width": "3 ft"}


@pytest.mark.parametrize("plan", [{"feed.way": "salts"}, OVAL, {**OVAL, "water.scheme": "aerated"}])
def test_a_log_made_from_the_plan_is_as_the_plan_says(plan):
    place = Bath(Plan(plan))
    mark, gone = place.mark, place.number("use.gone")
    per_m = place.water_at(mark) / mark
    # Straight walls: the level falls by the same each day, and four days' worth is poured on each fourth.
    rows = [(8 - day, {"level": f"{(mark - gone * (day % 4) / per_m) * 100:.4f} cm"}) for day in range(9)]
    for _, typed in rows[3::4]:
        typed["added"] = f"{gone * 4e3:.5f} L"
    found = next(one for one in trends.findings(place, log(*rows), NOW) if one.code == "water")
    assert found.numbers["ratio"] == pytest.approx(1.0, rel=1e-3), found.text
    assert found.text.endswith("of water goes in a day, as the plan says.") and not found.changes
    soon = next(one for one in trends.due(place, log(*rows), NOW) if one.code == "top-up")
    assert soon.why == "by the water that goes"
    # Without any log of what goes, the same day is told by the plan.
    alone = next(one for one in trends.due(place, log(rows[-1]), NOW) if one.code == "top-up")
    assert abs(alone.at - soon.at) < timedelta(hours=1) and alone.why == "by what the plan says"


def test_a_slip_that_was_kept_is_no_water_gone():
    rows = [(4, {"level": "10"}), (0, {"level": "9"})]
    clean = trends.used_a_day(PLACE, log(*rows), NOW)
    assert clean[0] * 1000 / 3.785411784 == pytest.approx(0.4)
    for slip in ((5, {"level": "82"}), (0, {"level": "1e9"}), (2, {"added": "1e6 gal"}), (5, {"level": "-4"})):
        assert trends.used_a_day(PLACE, log(*sorted([*rows, slip], key=lambda row: -row[0])), NOW) == clean


def test_oxygen_beside_what_the_water_holds():
    found = trends.findings(PLACE, log((0, {"oxygen": "6.9", "temperature": "74"})), NOW)[-1]
    # 8.43 mg/L at 74 F, 300 ft up and 1.5 mS/cm.
    assert found.text.startswith("Oxygen of 6.9 mg/L is 82 % of what water of 74 °F holds.")
    wrong = trends.findings(PLACE, log((0, {"oxygen": "12", "temperature": "74"})), NOW)[-1]
    assert "check the meter" in wrong.text


def test_what_is_due_next():
    rows = [(6, {"level": "10", "ph": "5.6"}), (4, {"ph": "5.8"}), (2, {"ph": "6.0"}), (0, {"level": "9", "ph": "6.2"})]
    found = {one.code: one for one in trends.due(PLACE, log(*rows), NOW)}
    # 1.6 gal in 6 days; from 9 in to 8.6 in are 0.64 gal: 2.4 days. pH climbs 0.1 a day: 3 days to 6.5.
    assert (found["top-up"].at - NOW).total_seconds() / 86400 == pytest.approx(2.4)
    assert (found["ph"].at - NOW).total_seconds() / 86400 == pytest.approx(3.0)
    assert [one["words"] for one in trends.due_json(found.values(), "us")] == ["Fri, Nov 27", "Sat, Nov 28"]
    planned = trends.due(PLACE, log((0, {"level": "9"})), NOW)
    assert planned[0].why == "by what the plan says"


THIRSTY = Bath(Plan({"feed.way": "salts", "use.basis": "own", "use.litres_per_plant": "600 mL"}))


def salt_balance(taken: float, start: float, days: range, place: Bath) -> list:
    """Readings of the EC by salt in and out: what is left of it over what is left of the water."""
    litres, drunk = place.working * 1000.0, place.number("use.per_day") * 1000.0
    return [(days[-1] - day, {"ec": f"{(start * litres - taken * drunk * day) / (litres - drunk * day):.4f}"})
            for day in days]


@pytest.mark.parametrize("taken", [2.3, 0.5])
def test_a_drift_of_the_ec_finds_what_plants_take_again(taken):
    found = trends.findings(THIRSTY, log(*salt_balance(taken, 1.5, range(11), THIRSTY)), NOW)[0]
    said = float(found.changes["use.uptake"].split()[0])
    # The plan's cycle is shorter than these ten days without a top-up, so it is not the same to the last digit.
    assert found.code == "drift-ec" and said == pytest.approx(taken, abs=0.12)
    assert found.act == f"Use {said:g} mS/cm taken with each liter in the plan"
    # The first fill is at source + full; 90 % of that full strength is topped up until now.
    source = THIRSTY.number("use.hold_ec") - 1.4
    full = (THIRSTY.number("use.topup_ec") - source) / 0.9
    strength = found.changes["use.topup_strength"]
    assert float(strength.split()[0]) / 100 == pytest.approx(said / full, abs=0.026), "in steps of five of a hundred"
    assert found.consequence == f"top up at {strength} of full strength"
    after = Bath(Plan({**THIRSTY.plan.text, **found.changes}))
    assert after.number("use.topup_ec") == pytest.approx(after.number("use.hold_ec"), abs=0.04)


def test_a_drift_of_the_ec_that_no_plant_makes_and_one_as_planned_change_nothing():
    leak = trends.findings(THIRSTY, log(*salt_balance(5.0, 1.5, range(11), THIRSTY)), NOW)[0]
    assert "falls" in leak.text and not leak.changes
    planned = trends.findings(THIRSTY, log(*salt_balance(1.4, 1.5, range(11), THIRSTY)), NOW)[0]
    assert not planned.changes


def test_a_faster_climb_of_the_ph_is_nitrogen_eaten_and_counts_the_acid_anew():
    rows = [(3 - day, {"ph": f"{5.6 + 0.3 * day:.1f}"}) for day in range(4)]
    found = next(one for one in trends.findings(PLACE, log(*rows), NOW) if one.code == "drift-ph")
    assert found.act == "Use 75 mg of nitrogen a plant a day in the plan"
    assert found.changes == {"acidity.nitrogen_uptake": "75 mg"}
    after = Bath(Plan({**PLACE.plan.text, **found.changes}))
    rows = after.design.result("acidity.drift")
    assert rows[1]["ph"] - after.number("acidity.target_ph") == pytest.approx(0.3, abs=0.02)
    # 3.4 mL of 10 % phosphoric acid a day before, 8.7 after.
    assert found.consequence == "acid for a week: 61.1 mL in place of 23.8 mL"
    assert rows[1]["volume"] * 7e6 == pytest.approx(61.1, abs=0.05)
    slow = [(10 - day, {"ph": f"{5.6 + 0.05 * day:.2f}"}) for day in range(11)]
    found = next(one for one in trends.findings(PLACE, log(*slow), NOW) if one.code == "drift-ph")
    assert not found.changes, "less than the tap water alone brings: no nitrogen explains that"


def test_drinking_is_put_right_before_the_drift_that_follows_from_it():
    rows = salt_balance(2.3, 1.5, range(11), THIRSTY)
    rows = [(days, {**typed, **({"added": "5 gal"} if days in (9, 0) else {})}) for days, typed in rows]
    found = {one.code: one for one in trends.findings(THIRSTY, log(*rows), NOW)}
    assert found["water"].changes and not found["drift-ec"].changes
