"""Sums of bottles, trace stocks and readings of today inside topics, each beside arithmetic."""

import psychrolib
import pytest

from calc.plan import Plan
from calc.solve import solve

SALTS = {"feed.way": "salts", "units": "metric"}


def design(**answers):
    return solve(Plan.from_mapping({**SALTS, **{key.replace("__", "."): text for key, text in answers.items()}}))


def test_phosphate_goes_with_what_the_meter_shows_above_plain_water():
    def at(ec):
        return design(today__ph="6.9", today__ec=ec).value("today.phosphate")
    full = design(today__ph="6.9").value("today.phosphate")
    recipe_ec = design().value("feed.ec")
    # A straight line through two readings meets the recipe's own phosphate at the recipe's own EC.
    slope = (at("1.2") - at("0.8")) / 0.4
    assert at("1.2") + slope * (recipe_ec - 1.2) == pytest.approx(full, rel=0.01)
    # Plain water has none; more than twice the recipe is not believed.
    assert at("0.05") == 0.0 and at("0.1") == 0.0
    assert at("3") == at("3.5") == pytest.approx(2 * full)


@pytest.mark.parametrize("answers, some", [
    (dict(today__ph="11"), True), (dict(today__ph="6.9", today__ec="1500"), True),
    (dict(today__ph="6.9", acidity__strength_percent=""), True), (dict(today__ph="2"), False)])
def test_a_doubtful_reading_allows_some_acid_only_where_it_says_that_the_ph_is_high(answers, some):
    assert (design(**answers).value("today.ceiling") > 0.0) is some


def test_weighed_traces_say_how_far_they_are_off():
    rows = design(feed__scale="0.01 g").value("feed.micro_stock")
    assert rows
    for row in rows:
        # In steps of ten milligrams, to the nearest: five off at most.
        assert abs(row["weighed"] - row["mass"]) <= 5.001e-6
        assert row["weighed"] * 1e5 == pytest.approx(round(row["weighed"] * 1e5), abs=1e-6)
        assert row["off"] == pytest.approx((row["weighed"] - row["mass"]) / row["mass"], abs=1e-9)


def test_what_a_bottle_holds_is_its_grams_a_liter_times_its_liters():
    found = design(feed__stock_volume="2 L", feed__stock_strength="100")
    rows = [row for row in found.value("feed.concentrates") if row["mass"] is not None]
    assert {row["bottle"] for row in rows} == {"A", "B"}
    for row in rows:
        assert row["mass"] * 1000 == pytest.approx(row["g_l"] * 2)
        assert row["share"] == pytest.approx(row["g_l"] / row["limit_g_l"])
    # One liter of feed takes a hundredth of a liter of each: 10 mL.
    assert found.value("feed.concentrate_dose") == 10
    assert found.value("feed.concentrate_each") == pytest.approx(found.value("feed.batch") / 100)


@pytest.mark.parametrize("strength", ["100", "370", "400"])
def test_a_bottle_is_full_where_its_salts_together_take_most_of_what_dissolves(strength):
    # At 370 bottle A has 0.79 of it and B less; at 400 A has 0.86, and B 0.76.
    found = design(feed__stock_strength=strength, feed__target="sonneveld_cucumber")
    for bottle in ("A", "B"):
        together = sum(row["share"] for row in found.value("feed.concentrates") if row["bottle"] == bottle)
        assert (f"feed-full-{bottle}" in {one.code for one in found.cautions}) == (together > 0.8), together


def test_evaporation_alone_cools_air_above_freezing_and_nothing_is_said_in_frost():
    mild = design(place__setting="own", place__air_high="20 C", place__air_low="16 C", place__humidity="50 %",
                  place__floor_temperature="16 C")
    # Air half saturated at the mean of 18 C, warmed to 20 C: the library says some 13 C.
    psychrolib.SetUnitSystem(psychrolib.SI)
    humid = 0.5 * psychrolib.GetSatVapPres(18.0) / psychrolib.GetSatVapPres(20.0)
    expected = psychrolib.GetTWetBulbFromRelHum(20.0, humid, mild.value("place.air_pressure"))
    assert 12.5 < expected < 13.5 and mild.value("heat.wet_bulb") == pytest.approx(expected, abs=0.1)
    frost = design(place__setting="own", place__air_high="0.5 C", place__air_low="-3 C", place__humidity="50 %",
                   place__floor_temperature="2 C")
    assert frost.value("heat.warmest_air") == pytest.approx(0.5) and frost.value("heat.wet_bulb") is None


def test_a_weak_feed_is_mended_by_so_much_more_of_its_bottles():
    # Feed at 40 % adds some 0.6 mS/cm and not some 1.4, so the same 0.3 missing are 2.5 times as large a share of it.
    weak, full = (design(feed__strength=share, feed__meter_reading="0.3", feed__wanted_ec="0.6")
                  for share in ("40 %", "100 %"))
    assert weak.faults == {} and weak.value("feed.ec") < 1.0
    assert weak.value("feed.correct_each") / full.value("feed.correct_each") == pytest.approx(2.5, rel=0.03)


def test_the_ph_is_said_to_rise_again_only_where_acid_was_poured():
    def told(**answers):
        return "acidity-rebound" in {one.code for one in design(acidity__alkalinity="150", **answers).cautions}
    assert told(acidity__start_ph="7.8", acidity__target_ph="5.8")
    none = design(acidity__alkalinity="150", acidity__start_ph="5.8", acidity__target_ph="5.8")
    assert none.value("acidity.volume") == 0.0 and none.value("acidity.rebound_ph") > 8.0
    assert not told(acidity__start_ph="5.8", acidity__target_ph="5.8")


def test_traces_are_topped_up_from_the_stock_though_one_of_them_is_not_wanted():
    wanted = dict(N=150, P=30, K=200, Ca=120, Mg=40, S=50, Fe=2, B=0.3, Mn=0.5, Zn=0.1, Cu=0.05)
    found = design(feed__target="own", today__ec="0.8", today__volume="100 L", feed__own_target=[
        {"element": element, "amount": f"{amount} mg/L"} for element, amount in wanted.items()])
    # No molybdenum is asked for, so no molybdate is in the stock; the other four are.
    assert len(found.value("feed.micro_stock")) == 4
    assert "Trace-element stock" in [row["what"] for row in found.value("today.salts")]


def test_bottles_make_up_the_missing_part_of_what_a_full_dose_adds():
    def a_and_b(now, aim, **more):
        found = design(**{"feed__way": "bottles", **more}, today__ec=now, today__ec_target=aim)
        return found.value("today.bottle_a"), found.value("today.bottle_b")
    first, second = a_and_b("1.0", "1.2")
    assert first == second > 0.0
    assert a_and_b("0.9", "1.3")[0] == pytest.approx(2 * first)
    # At half strength a full dose adds half as much to the EC, and what is missing takes as many milliliters.
    assert a_and_b("1.0", "1.2", feed__strength="50 %")[0] == pytest.approx(first, rel=0.06)
    # 2 mL of each a liter are a full dose; half the dose leaves half of what it adds, but for the acid of a first fill
    # and ions that get in each other's way: some percent.
    full, half = (design(feed__way="bottles", feed__strength=text) for text in ("100 %", "50 %"))
    adds = 2 * (full.value("feed.ec") - half.value("feed.ec"))
    liters = full.value("water.working_volume") * 1000
    assert first * 1e6 == pytest.approx(2.0 * liters * 0.2 / adds, rel=0.06)


def test_salts_make_up_the_missing_part_and_the_traces_come_from_their_stock():
    found = design(today__ec="1.0", today__ec_target="1.2")
    known = found.answers["today.bottle_a"].inputs
    share = 0.2 / known["full_ms_cm"]
    # A stock of 1 in 100 takes 10 mL a liter; one of 1 in 10,000 takes 0.1 mL.
    assert found.value("today.bottle_a") * 1e6 == pytest.approx(10.0 * known["volume_l"] * share)
    *salts, iron, traces = found.value("today.salts")
    assert traces["volume"] * 1e6 == pytest.approx(0.1 * known["volume_l"] * share) and traces["mass"] is None
    assert all(row["volume"] is None and row["mass"] > 0.0 for row in [*salts, iron])
    twice = design(today__ec="0.9", today__ec_target="1.3").value("today.salts")
    for row, more in zip(found.value("today.salts"), twice, strict=True):
        assert more["mass" if row["mass"] else "volume"] == pytest.approx(2 * (row["mass"] or row["volume"]))


def test_the_first_pour_upward_counts_on_a_tenth_of_the_phosphate_at_most():
    # From 5.0 a quarter of the dose would be safe with all of the recipe's phosphate in the water. If plants have
    # eaten nine tenths of it, that quarter overshoots 5.5; further down or nearer the aim the quarter is the less.
    def share(ph):
        found = design(today__ph=ph, today__ec="1.4 mS/cm")
        return found.value("today.first_pour") / found.value("today.base")
    assert share("5.0") == pytest.approx(0.228, abs=0.002)
    assert share("4.2") == share("5.4") == 0.25
