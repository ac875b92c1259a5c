"""Water used: salts and water balance to the last milligram, and what must hold for any bath at all."""

import math
import re

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from calc.data import use as data
from calc.errors import OutOfRange
from calc.plan import Plan
from calc.relations import use as physics
from calc.render.extras import use as shown
from calc.solve import solve
from calc.topics import use

DAY = 86400.0
LEVELS, UPTAKES = st.floats(0.0, 5.0), st.floats(0.0, 5.0)


def plan(**given_text):
    return solve(Plan({"light.by": "lamp", **{key.replace("__", "."): text for key, text in given_text.items()}}))


@st.composite
def baths(draw):
    """Any bath that is topped up before it is empty."""
    volume = draw(st.floats(10.0, 10000.0))
    return use.Bath(volume_l=volume, drunk_l=volume * draw(st.floats(0.0, 0.9)), cycle_d=1.0,
                    nutrients=draw(LEVELS), source=draw(st.floats(0.0, 2.0)), feed=draw(LEVELS))


@pytest.mark.parametrize("start", [0.0, 0.1, 0.45, 0.5, 0.9, 3.0])
@pytest.mark.parametrize("drunk", [20.0, 200.0])
@pytest.mark.parametrize("uptake", [0.0, 0.3, 0.5, 1.4, 2.5])
@pytest.mark.parametrize("critical", [0.2, 0.5, 1.0])
def test_nutrients_follow_a_general_solver_of_differential_equations(start, drunk, uptake, critical):
    volume = 240.0
    found = solve_ivp(lambda w, m: [-uptake * min(1.0, m[0] / (volume - w) / critical)], (0.0, drunk),
                      [start * volume], rtol=1e-9, atol=1e-10, max_step=3.0)
    assert physics.nutrients_left(start, volume, drunk, uptake, critical) == pytest.approx(
        found.y[0, -1] / (volume - drunk), abs=2e-5)


def test_topped_up_every_day_it_comes_near_to_topping_up_all_along():
    volume, litres_a_day, uptake, source, feed = 240.0, 4.0, 1.4, 0.4, 1.0
    smooth = solve_ivp(lambda t, n: [litres_a_day / volume * (feed - uptake * min(1.0, n[0] / data.CRITICAL_MS_CM))],
                       (0.0, 28.0), [1.2], rtol=1e-9, atol=1e-11)
    rows = use.drifting(use.Bath(volume, litres_a_day, 1.0, 1.2, source, feed), uptake, 28)
    assert rows[-1]["feed_nutrients"] == pytest.approx(smooth.y[0, -1], rel=0.01)
    assert rows[-1]["feed"] - rows[-1]["feed_nutrients"] == pytest.approx(source * (1 + litres_a_day / volume * 28))


@settings(max_examples=200, deadline=None)
@given(baths(), st.floats(0.0, 5.0), st.integers(1, 28))
def test_salts_are_conserved(bath, uptake, cycles):
    rows = use.drifting(bath, uptake, cycles)
    brought = bath.source * (1 + cycles * bath.drunk_l / bath.volume_l)
    for way, feed in (("plain", 0.0), ("feed", bath.feed)):
        # All that the source water brought is still there.
        assert rows[-1][way] - rows[-1][way + "_nutrients"] == pytest.approx(brought, rel=1e-9, abs=1e-9)
        for before, after in zip(rows, rows[1:], strict=False):
            came = feed * bath.drunk_l / bath.volume_l
            taken = before[way + "_nutrients"] + came - after[way + "_nutrients"]
            # Plants take no more than their uptake, and never give back.
            assert -1e-9 <= taken <= uptake * bath.drunk_l / bath.volume_l + 1e-9
            assert after[way + "_nutrients"] >= -1e-12


@settings(max_examples=200, deadline=None)
@given(baths(), st.floats(0.0, 5.0), st.integers(1, 28))
def test_feed_stronger_than_uptake_never_lets_the_meter_fall(bath, uptake, cycles):
    stronger = use.Bath(bath.volume_l, bath.drunk_l, 1.0, bath.nutrients, bath.source, uptake + bath.feed)
    levels = [row["feed"] for row in use.drifting(stronger, uptake, cycles)]
    assert all(earlier <= later * (1 + 1e-9) + 1e-12 for earlier, later in zip(levels, levels[1:], strict=False))


@settings(max_examples=200, deadline=None)
@given(baths(), UPTAKES, UPTAKES, st.integers(1, 28))
def test_hungrier_plants_and_plain_water_never_leave_more(bath, one, other, cycles):
    less, more = sorted((one, other))
    mild, hungry = (use.drifting(bath, uptake, cycles)[-1] for uptake in (less, more))
    assert hungry["feed"] <= mild["feed"] * (1 + 1e-9) + 1e-12
    assert mild["plain"] <= mild["feed"] * (1 + 1e-9) + 1e-12


def test_the_top_up_that_holds_nutrients_holds_them():
    bath = use.Bath(240.0, 30.0, 7.0, 1.4, 0.3, 1.4)
    rows = use.drifting(bath, 1.4, 8)
    assert [row["feed_nutrients"] for row in rows] == pytest.approx([1.4] * 9)
    assert rows[-1]["feed"] > rows[0]["feed"]


@given(st.floats(1.0, 1e5), st.floats(1.0, 1e5), st.floats(0.0, 0.95), st.floats(0.01, 1e4))
def test_days_to_top_up_grow_with_the_reservoir(one, other, least, use_l):
    small, large = sorted((one, other))
    assert physics.days_to_low(small, least, use_l) <= physics.days_to_low(large, least, use_l)


@given(st.floats(0.01, 1e4), st.floats(0.1, 365.0), st.floats(0.0, 0.95))
def test_a_reservoir_for_a_holiday_lasts_just_that_long(use_l, days, least):
    reservoir = physics.reservoir_for_days(use_l, days, least)
    assert physics.days_to_low(reservoir, least, use_l) == pytest.approx(days, rel=1e-9)


@given(st.floats(10.0, 1e4), st.floats(0.1, 100.0), st.floats(0.0, 60.0), st.floats(61.0, 500.0), st.floats(0.0, 60.0),
       st.floats(0.0, 20.0))
def test_salt_reaches_its_limit_on_the_day_that_is_told(volume, use_l, start, limit, incoming, uptake):
    days = physics.days_to_salt(volume, use_l, start, limit, incoming, uptake)
    # A trace so thin that a lifetime of the sun would not gather it never gathers.
    assume(incoming <= uptake or incoming - uptake > 1e-300)
    if incoming <= uptake:
        assert days == math.inf
        # None to drain where nothing gathers.
        assert physics.bleed_share(incoming, uptake, limit) == 0.0
    else:
        assert volume * start + use_l * days * (incoming - uptake) == pytest.approx(volume * limit, rel=1e-9)


@given(st.floats(0.0, 60.0), st.floats(0.0, 60.0), st.floats(61.0, 500.0))
def test_the_drain_that_is_told_holds_the_salt_at_its_limit(incoming, uptake, limit):
    drained = physics.bleed_share(incoming, uptake, limit)
    if incoming > uptake:
        # A litre drunk: what comes in with it and with what is drained, against what is taken and drained.
        assert incoming * (1 + drained) == pytest.approx(uptake + drained * limit, rel=1e-9)


def test_salt_there_already_needs_no_wait():
    assert physics.days_to_salt(100.0, 3.0, 70.0, 70.0, 0.0, 5.0) == 0.0


@pytest.mark.parametrize("wrong", [
    lambda: physics.water_from_light(1.0, 0.6, 41.0), lambda: physics.water_from_light(-1.0, 0.6, 20.0),
    lambda: physics.water_from_light(10.0, 2.1, 20.0), lambda: physics.water_from_mass(0.15, 20.0, 0.0),
    lambda: physics.days_to_low(60.0, 0.3, 0.0), lambda: physics.days_to_low(60.0, 0.96, 1.0),
    lambda: physics.reservoir_for_days(-1.0, 14.0, 0.3), lambda: physics.days_to_salt(0.0, 3.0, 20.0, 70.0, 20.0, 5.0),
    lambda: physics.bleed_share(70.0, 5.0, 70.0), lambda: physics.nutrients_left(1.0, 100.0, 100.0, 1.0, 0.5),
    lambda: physics.nutrients_left(1.0, 100.0, 10.0, 1.0, 0.0), lambda: physics.water_from_light(1.0, 0.6, math.nan),
])
def test_outside_its_range_a_relation_says_so(wrong):
    with pytest.raises(OutOfRange, match="[a-z] .*\\.$"):
        wrong()


def test_the_three_ways_are_all_told_whichever_is_planned_with():
    for basis in ("highest", "practice", "mass", "light", "own"):
        found = plan(use__basis=basis)
        rows = found.value("use.ways")
        assert len(rows) == 3 and all(0 < row["low"] <= row["likely"] <= row["high"] for row in rows)
        assert all(len(row["source"]) > 10 for row in rows)
    highest = plan().value("use.per_day")
    assert highest == max(row["likely"] for row in rows)
    assert plan(use__basis="light").value("use.per_day") == pytest.approx(plan().value("use.by_light"))


def test_what_was_measured_is_taken():
    found = plan(units="metric", use__basis="own", use__litres_per_plant="100 mL", oxygen__plants="20",
                 reservoir__known_volume="60 L", use__least="50 %")
    assert found.value("use.per_day") * 1000 == pytest.approx(2.0)
    assert found.value("use.days_to_top_up") / DAY == pytest.approx(15.0)


def test_both_systems_of_units_agree_on_the_same_bath():
    same = {"oxygen__plants": "20", "use__basis": "own", "use__litres_per_plant": "150 mL", "bath__length": "120 cm",
            "bath__width": "60 cm", "bath__depth": "30 cm", "bath__water_depth": "25 cm",
            "reservoir__known_volume": "60 L", "reservoir__water_depth": "25 cm", "use__sodium": "20 mg/L"}
    us, metric = (plan(units=system, **same) for system in ("us", "metric"))
    for key in ("use.days_to_top_up", "use.holiday_ec", "use.ec_feed", "use.sodium_after", "use.replace_after"):
        assert us.value(key) == pytest.approx(metric.value(key), rel=1e-9), key
    assert "gal" in us.shown("use.per_day") and "L" in metric.shown("use.per_day")


def test_no_plants_drink_nothing_and_nothing_is_worked_out_from_it():
    found = plan(oxygen__plants="0")
    assert found.value("use.per_day") == 0.0 and found.value("use.per_plant") is None
    assert found.value("use.days_to_top_up") is None and "oxygen.plants" in found.waiting["use"]
    assert found.value("use.replace_after") == 56 * DAY and found.value("use.replace_reason") == "The calendar"


def test_salty_water_is_replaced_earlier_and_warned_of():
    found = plan(use__sodium="60 mg/L")
    assert "use-sodium" in {one.code for one in found.cautions}
    assert found.value("use.sodium_after") < plan(use__sodium="20 mg/L").value("use.sodium_after")
    hopeless = plan(use__sodium="80 mg/L")
    assert hopeless.value("use.replace_after") == 0.0 and hopeless.value("use.replace_reason") == "Sodium"
    assert hopeless.value("use.bleed") is None
    clean = plan(use__sodium="0", use__chloride="0")
    assert clean.value("use.sodium_after") is None and clean.value("use.bleed") == 0.0


def test_source_water_stronger_than_the_aim_is_told_beside_its_field():
    found = plan(use__source_ec="2 mS/cm", use__sodium="20 mg/L")
    assert found.faults["use.source_ec"].startswith("EC of the source water leaves no room for nutrients")
    assert found.value("use.per_day") > 0 and found.value("use.sodium_after") > 0


def test_a_thirsty_raft_on_a_small_reservoir_is_warned_of():
    found = plan(oxygen__plants="400", reservoir__known_volume="20 L")
    assert "use-thirsty" in {one.code for one in found.cautions}
    away = plan(use__holiday="100 d")
    assert {"use-away", "use-no-room"} <= {one.code for one in away.cautions}
    assert any("EC to tell" in text for text in plan(use__holiday="200 d").limits["use"])


@pytest.mark.parametrize("own", ["190 mL", "230 mL", "300 mL", "400 mL", "2 L"])
def test_caution_and_verdict_say_the_same_whole_days(own):
    found = plan(use__basis="own", use__litres_per_plant=own, use__holiday="30 d")
    days = re.search(r"that is (\d+ days?), and", found.verdicts["use"].text)[1]
    said = next(one for one in found.cautions if one.code == "use-away")
    assert f"Water lasts {days}, and you plan to be away 30 days" in said.text and days in said.brief
    assert int(days.split()[0]) <= found.value("use.days_to_top_up") / 86400 + 1e-9


def test_more_than_heat_allows_is_told():
    codes = {one.code for one in plan(light__have="1", oxygen__plants="18").cautions}
    assert "use-above-heat" in codes
    assert "use-above-heat" not in {one.code for one in plan(light__have="20").cautions}


def test_without_plants_or_light_the_rest_still_answers():
    found = plan(light__target="200")
    assert found.value("use.by_light") is None and found.value("use.by_mass") > 0
    assert len(found.value("use.ways")) == 2
    broken = plan(bath__length="nonsense")
    assert broken.value("use.per_day") is None and broken.waiting["use"]


def test_the_picture_and_tables_are_there_and_gone_without_numbers():
    page = shown.extra(plan())
    assert page.count("<svg") == 2 and "Heat balance" in page and "Top-up: before" in page
    assert shown.extra(plan(bath__length="nonsense")) == ""
    assert "<svg" not in shown.extra(plan(use__source_ec="2 mS/cm"))


@settings(max_examples=60, deadline=None)
@given(st.fixed_dictionaries({
    "use.basis": st.sampled_from(["highest", "practice", "mass", "light", "own"]),
    "use.litres_per_plant": st.sampled_from(["0 mL", "50 L"]), "use.fresh_mass": st.sampled_from(["", "1 g", "20 kg"]),
    "use.days": st.sampled_from(["1 d", "400 d"]), "use.cover": st.sampled_from(["1 %", "100 %"]),
    "use.least": st.sampled_from(["0 %", "95 %"]), "use.holiday": st.sampled_from(["0 d", "365 d"]),
    "use.target_ec": st.sampled_from(["", "0.1", "10"]), "use.source_ec": st.sampled_from(["0", "5"]),
    "use.topup_strength": st.sampled_from(["0 %", "200 %"]), "use.uptake": st.sampled_from(["0", "6"]),
    "use.sodium": st.sampled_from(["0", "2000"]), "use.salt_uptake": st.sampled_from(["0", "200"]),
    "use.sodium_limit": st.sampled_from(["1", "5000"]), "use.volumes": st.sampled_from(["0.1", "1000"]),
    "use.calendar": st.sampled_from(["1 d", "3650 d"]), "oxygen.plants": st.sampled_from(["", "0", "1", "100000"]),
    "reservoir.known_volume": st.sampled_from(["0.1 L", "60 L", "1000 m3"]),
    "units": st.sampled_from(["us", "metric"]),
}))
def test_extreme_answers_give_finite_numbers_or_a_sentence(text):
    found = solve(Plan(text))
    for key, answer in found.answers.items():
        if key.startswith("use.") and isinstance(answer.value, (int, float)):
            assert math.isfinite(answer.value) and answer.value >= 0, key
            assert "nan" not in found.shown(key)
    for row in found.value("use.drift") or []:
        assert all(math.isfinite(value) and value >= 0 for value in row.values())
    shown.extra(found)


def test_the_worked_case_of_the_guide_is_what_is_worked_out():
    found = plan(units="metric", oxygen__plants="24", reservoir__known_volume="60 L", bath__shape="known volume",
                 bath__known_volume="190 L", use__source_ec="0.4 mS/cm", use__sodium="20 mg/L",
                 use__chloride="30 mg/L", use__target_ec="1.6 mS/cm", use__basis="own",
                 use__litres_per_plant="175 mL")
    shown_texts = {key: found.shown("use." + key) for key in (
        "per_day", "days_to_top_up", "holiday_reservoir", "ec_feed", "ec_plain", "nutrients_plain", "sodium_after",
        "replace_after")}
    assert shown_texts == {
        "per_day": "4.2 L", "days_to_top_up": "10 d", "holiday_reservoir": "84 L", "ec_feed": "1.64 mS/cm",
        "ec_plain": "1.13 mS/cm", "nutrients_plain": "0.541 mS/cm", "sodium_after": "198 d", "replace_after": "56 d"}


def test_the_source_water_is_the_feed_s_unless_said_otherwise():
    found = plan(feed__water_ec="0.35 mS/cm", feed__water_na="30 mg/L", feed__water_cl="40 mg/L")
    typed = plan(use__source_ec="0.35 mS/cm", use__sodium="30 mg/L", use__chloride="40 mg/L",
                 use__target_ec=found.shown("feed.ec"))
    for key in ("sodium_after", "chloride_after", "bleed"):
        assert found.value(f"use.{key}") == pytest.approx(typed.value(f"use.{key}")), key
