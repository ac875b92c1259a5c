"""Sums of air, overflows and power cuts inside topics, each beside arithmetic or what it must lie between."""

import pytest

from calc.plan import Plan
from calc.solve import solve
from tests.calc.whole import items, plan


def design(rows=None, **answers):
    return solve(Plan.from_mapping({"units": "metric", **{key.replace("__", "."): text
                                                          for key, text in answers.items()}, **(rows or {})}))


def test_air_that_holds_the_alarm_level_is_less_than_air_that_holds_more():
    found = design()
    # With all of the pumps' air the bath has over 7 mg/L and, for one bath in twenty, still over 4; so what holds 4 is
    # less than that, and more than the thirtieth part: oxygen comes in as the gap to 9 mg/L times the air.
    assert found.value("oxygen.bath") > 7.0 and found.value("oxygen.bath_low") > 4.0
    air = found.value("air.delivered")
    assert air / 30 < found.value("outage.air_to_hold") < found.value("outage.air_to_hold_high") < air
    row = next(row for row in found.value("outage.steps") if "battery" in str(row))
    assert found.shown("outage.air_to_hold") in str(row) and found.shown("outage.air_to_hold_high") in str(row)


def test_oxygen_of_a_hot_day_is_told_for_its_hottest_hour_and_not_for_the_water_as_typed():
    found = solve(Plan({"place.setting": "summer greenhouse", "bath.length": "8 ft", "bath.width": "4 ft"}))
    most, likely = found.value("oxygen.saturation_hottest"), found.value("oxygen.bath_hottest")
    assert found.value("water.temperature") < found.value("heat.low") < found.value("oxygen.hottest_used")
    # What is missing under the bubbles' limit goes as one over the air: 6 mg/L with the likely air, so with all of it
    # the limit less (limit - 6) times likely air over all. The limit is saturation at 0.4 of the stones' depth.
    limit = most * (1 + 0.4 * found.value("air.stone_depth") / 10.33)
    share = found.value("air.oxygen_likely") / found.value("air.delivered")
    assert likely == pytest.approx(limit - (limit - 6.0) * share, abs=0.05)
    assert found.value("oxygen.bath_hottest_low") < likely < most < found.value("oxygen.bath")
    shown = found.shown("oxygen.bath_hottest")
    said = found.verdicts["oxygen"]
    assert shown in said.text and said.figure == shown and found.shown("oxygen.bath") not in said.text


def test_a_turnover_is_limited_by_the_overflow_that_is_left_or_by_the_clogging_of_all():
    def most(drains, blockage):
        return design(circulation__drains=drains, circulation__blockage=blockage).value("circulation.most_turnover")
    clean = most("1", "0 %")
    # Two, one of them blocked outright: one is left. Two, 60 % clogged: 2 x 0.4 = 0.8 of one.
    assert most("2", "20 %") == pytest.approx(clean)
    assert most("2", "60 %") == pytest.approx(0.8 * clean)
    assert most("1", "20 %") == pytest.approx(0.8 * clean)
    assert most("3", "20 %") == pytest.approx(2 * clean)


def test_a_single_stone_needs_no_manifold_and_several_do():
    one, three = plan("us_tote"), design()
    assert one.value("air.stones") == 1 and "Air manifold" not in items(one)
    assert three.value("air.stones") == 3 and items(three)["Air manifold"]
    two = design(bath__length="60 cm", bath__width="60 cm", air__rule="own", air__own_rate="0.2 L/min/gal")
    assert ("Air manifold" in items(two)) == (two.value("air.stones") > 1)


@pytest.mark.parametrize("drains", ["1", "2"])
def test_more_water_than_the_largest_pipe_takes_offers_fewer_turnovers(drains):
    found = design(bath__length="20 m", bath__width="3 m", circulation__turnover="2 /h", circulation__drains=drains,
                   circulation__pumps=[{"name": "Farm pump", "shutoff_head": "8 m", "top_flow": "90000 L/h",
                                        "power": "900 W", "price": "400"}])
    words = found.value("circulation.overflow_words")
    ends = "takes a turnover of" if drains == "1" else "take a turnover of"
    assert f"Or pump less: {drains} of" in words and f"in each bath {ends}" in words


def poured(found) -> str:
    return next(row["buys"] for row in found.value("outage.steps") if "pour water back" in row["step"])


@pytest.mark.parametrize("length", ["120 cm", "8 m", "60 m"])
def test_pouring_back_brings_in_what_is_breathed_over_what_the_surface_gives(length):
    found = design(bath__length=length)
    known = found.answers["outage.pour"].inputs
    # The weir formula for rivers (from memory, as its page says), clean water falling freely by 0.3 m.
    ratio = 1 + 0.38 * 1.8 * 0.3 * (1 - 0.11 * 0.3) * (1 + 0.046 * found.value("oxygen.hottest_used"))
    gap = known["saturation_mg_l"] - 4.0
    liters = (known["demand_mg_h"] - known["surface_l_h"] * gap) / ((1 - 1 / ratio) * gap)
    assert found.value("outage.pour") * 3.6e6 == pytest.approx(liters, rel=0.005)
    minutes = 2.0 / liters * 60.0
    often = (f"a jug of 2 L about every {minutes:.0f} minutes" if length == "120 cm" else
             f"about {1 / minutes:.0f} jugs of 2 L a minute")
    assert often in poured(found)


def test_air_that_moves_the_hottest_hour_is_settled_with_it():
    free = design()
    # The hottest hour it settled on, typed, asks for the same air and gives the same hottest hour.
    typed = design(oxygen__hottest=f"{free.value('heat.high')!r} C")
    assert free.value("oxygen.hottest_used") == pytest.approx(free.value("heat.high"), abs=0.05)
    assert typed.value("air.target") == pytest.approx(free.value("air.target"), rel=0.01)
    assert typed.value("heat.high") == pytest.approx(free.value("heat.high"), abs=0.05)


@pytest.mark.parametrize(("floor", "length", "apart", "crowded"), [
    ("0.018 m2", 1.2, 0.12, False), ("0.011 m2", 1.2, 0.10, False), ("0.01 m2", 1.18, 1.18 / 12, True)])
def test_stones_that_stand_closer_than_a_hand_are_told(floor, length, apart, crowded):
    # A row of stones on 1.2 m: ten of them stand 12 cm apart, twelve 10 cm; twelve on 1.18 m stand 9.8 cm apart.
    found = solve(Plan({"units": "metric", "air.stone_area": floor, "bath.length": f"{length} m"}))
    assert found.value("air.stone_spacing") == pytest.approx(apart)
    assert ("air-stones-crowded" in [one.code for one in found.cautions]) is crowded


def test_a_backup_pushes_its_own_little_air_through_thin_hoses():
    found = solve(Plan({"bath.length": "8 ft", "bath.width": "4 ft", "air.hose_length": "60 ft",
                        "air.hose_bore": "1/8 in"}))
    flow = found.value("outage.air_to_hold") * 1.5
    # Each of the stones' hoses takes its part, so slowly that it flows in layers: 128 mu L Q over pi d4 (Poiseuille),
    # air of 20 C having 1.82e-5 Pa s; with 8 in of water and 1 kPa for the wet stone; a tenth of the power is air.
    friction = 128 * 1.82e-5 * 18.288 * flow / found.value("air.stones") / (3.14159265 * 0.003175**4)
    push = 998.2 * 9.80665 * found.value("air.stone_depth") + 1000 + friction
    assert found.value("outage.power") == pytest.approx(max(4.0, flow * push / 0.1), rel=0.02)
    assert found.value("outage.power") < 12.0 and "outage-heavy-current" not in {one.code for one in found.cautions}
