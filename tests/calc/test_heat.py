"""Temperature: the day against an outside solver, its energy, and what must hold for any bath in any weather."""

from dataclasses import replace
from math import isfinite
from pathlib import Path

import psychrolib
import pytest
from hypothesis import example, given, reject, settings
from hypothesis import strategies as st
from iapws import IAPWS95
from scipy.integrate import solve_ivp

from calc.models import water_day
from calc.data import weather
from calc.errors import OutOfRange
from calc.plan import FIELDS, Plan
from calc.relations import heat as physics
from calc.relations import water as water_physics
from calc.render.extras import heat as extra
from calc.solve import solve

psychrolib.SetUnitSystem(psychrolib.SI)
# What is printed: a tenth of a degree Fahrenheit or Celsius, whichever is finer.
PRINTED_K = 0.1 / 1.8
# Where nothing is exchanged, rounding is all there is.
NOTHING_J = 1.0
ROOT = Path(__file__).resolve().parents[2]
SETTINGS = sorted(weather.BY_KEY)
SOME = water_day.Place(
    baths=1, bath_m3=0.18, reservoir_m3=0.06, surface_m2=0.72, open_share=0.05, perimeter_m=3.6, depth_m=0.25,
    footprint_m2=0.72, on_legs=True, reservoir_depth_m=0.25, reservoir_open_m2=0.0, reservoir_stands="beside",
    foam_r=1.4, wall_r=0.0, reservoir_r=0.0, exchange_w_k=200.0, pump_w=10.0, air_pump_w=2.0, air_kg_s=1e-4,
    air_bath_share=0.75, high_c=30.0, low_c=18.0, high_hour=15.0, low_hour=5.0, vapour_pa=1500.0, pressure_pa=101325.0,
    air_speed_m_s=0.05, sun_w_m2=300.0, floor_c=20.0, heat_j_m3k=4.18e6)


# The walls of a test that adds foam get this much more at most, m2K/W.
MOST_ADDED_R = 5.0
# Pumps may warm the water above the air by this much at most, K.
MOST_BY_PUMPS_K = 30.0


@st.composite
def places(draw, **fixed):
    """Any bath of the trade in any weather it may be planned for."""
    low, swing = draw(st.floats(5.0, 30.0)), draw(st.floats(0.0, 18.0))
    surface = draw(st.floats(0.1, 20.0))
    depth = draw(st.floats(0.08, 0.6))
    volume = surface * depth
    low_hour = draw(st.floats(0.0, 23.0))
    pressure = draw(st.floats(70000.0, 105000.0))
    foam_r, wall_r = draw(st.floats(0.1, 5.0)), draw(st.floats(0.0, 5.0))
    # A plan whose pumps cook a few liters behind thick foam rightly gets no answer (19 W in 47 L behind 10 m2K/W of
    # it), so what the pumps give stays within what raft and walls let out, with 0.2 m2K/W for the air about them.
    leak_w_k = surface / (foam_r + 0.2) + 4.2 * surface**0.5 * depth / (wall_r + MOST_ADDED_R + 0.2)
    most_w = min(30.0, 0.5 * MOST_BY_PUMPS_K * leak_w_k)
    found = water_day.Place(
        baths=draw(st.integers(1, 4)), bath_m3=volume, reservoir_m3=draw(st.floats(0.1, 1.0)) * volume,
        # Half of the water at least lies under the raft.
        surface_m2=surface, open_share=draw(st.floats(0.0, 0.5)), perimeter_m=4.2 * surface**0.5, depth_m=depth,
        footprint_m2=surface, on_legs=draw(st.booleans()), reservoir_depth_m=draw(st.floats(0.1, 1.0)),
        reservoir_open_m2=draw(st.floats(0.0, 0.5)),
        reservoir_stands=draw(st.sampled_from(["beside", "shaded", "buried", "indoors"])),
        foam_r=foam_r, wall_r=wall_r, reservoir_r=draw(st.floats(0.0, 5.0)),
        exchange_w_k=draw(st.floats(20.0, 5000.0)), pump_w=draw(st.floats(0.0, most_w)),
        air_pump_w=draw(st.floats(0.0, most_w)), air_kg_s=draw(st.floats(0.0, 0.01)),
        air_bath_share=draw(st.floats(0.2, 1.0)), high_c=low + swing, low_c=low,
        high_hour=(low_hour + draw(st.floats(6.0, 18.0))) % 24.0, low_hour=low_hour,
        vapour_pa=draw(st.floats(0.2, 1.0)) * physics.saturation_pressure(low), pressure_pa=pressure,
        air_speed_m_s=draw(st.sampled_from([0.05, 0.5])), sun_w_m2=draw(st.floats(0.0, 900.0)),
        floor_c=draw(st.floats(5.0, 30.0)), heat_j_m3k=4.18e6)
    return replace(found, **fixed)


def bare(place):
    """The same bath with nothing that warms it but the air about it, which stays as it is."""
    return replace(place, high_c=place.low_c, sun_w_m2=0.0, pump_w=0.0, air_pump_w=0.0, floor_c=place.low_c,
                   reservoir_stands="beside")


@settings(max_examples=200)
@given(places())
def test_energy_balances_over_the_day(place):
    total = water_day.totals(place, water_day.simulate(place))
    exchanged = sum(map(abs, total.values()))
    assert abs(sum(total.values())) <= 1e-6 * exchanged + NOTHING_J


@settings(max_examples=150)
@given(places())
def test_energy_balances_step_by_step_in_each_body_of_water(place):
    day = water_day.simulate(place)
    steps = len(day.bath)
    waters = (day.bath, day.reservoir)
    exchanged = sum(sum(map(abs, water_day.streams(box, t, now, place).values()))
                    for box, values in zip(day.boxes, waters, strict=True)
                    for t, now in zip(values, day.forcing, strict=True)) * water_day.DAY_S / steps
    for box, own, other in zip(day.boxes, waters, reversed(waters), strict=True):
        into = [sum(water_day.streams(box, own[n], day.forcing[n], place).values())
                + place.exchange_w_k * (other[n] - own[n]) for n in range(steps)]
        for n in range(steps):
            stored = box.heat_j_k * (own[(n + 1) % steps] - own[n])
            came = 0.5 * (into[n] + into[(n + 1) % steps]) * water_day.DAY_S / steps
            assert abs(stored - came) <= 1e-6 * exchanged + NOTHING_J


# Wide shallow water in full sun, as a night drew it: samples of the hour missed some of the sun.
SUNNY = replace(SOME, bath_m3=0.1875, reservoir_m3=0.0205078125, surface_m2=1.0, open_share=0.5, perimeter_m=4.2,
                depth_m=0.1875, footprint_m2=1.0, on_legs=False, reservoir_depth_m=1.0, foam_r=1.0, wall_r=1.0,
                exchange_w_k=20.0, pump_w=0.0, air_pump_w=0.0, air_kg_s=0.0, air_bath_share=1.0, high_c=5.0, low_c=5.0,
                high_hour=6.0, low_hour=0.0, vapour_pa=872.0, pressure_pa=70000.0, sun_w_m2=900.0, floor_c=5.0)


@settings(max_examples=150)
@given(places())
@example(SUNNY)
@example(replace(SUNNY, depth_m=0.08, bath_m3=0.08, open_share=0.2))
def test_half_the_step_moves_no_printed_digit(place):
    day, fine = water_day.simulate(place), water_day.simulate(place, 2 * water_day.STEPS_A_DAY)
    for one, other in ((day.bath, fine.bath), (day.reservoir, fine.reservoir)):
        for sign in (1.0, -1.0):
            assert abs(water_day.peak(one, sign)[1] - water_day.peak(other, sign)[1]) <= PRINTED_K


def followed(place, days, step_s=120.0):
    """Bath and reservoir on the last of several days, followed by a general solver that knows nothing of cycles."""
    pair = water_day.boxes(place)

    def change(time, water):
        hour = time / 3600.0 % 24.0
        air = water_day.air_at(hour, place.high_c, place.low_c, place.high_hour, place.low_hour)
        now = (air, min(place.vapour_pa, physics.saturation_pressure(air)), water_day.sun_at(hour, place.sun_w_m2), 0.0,
               0.0)
        passed = place.exchange_w_k * (water[1] - water[0])
        return [(sum(water_day.streams(box, t, now, place).values()) + sign * passed) / box.heat_j_k
                for box, t, sign in zip(pair, water, (1, -1), strict=True)]

    times = [86400.0 * (days - 1) + step_s * n for n in range(int(86400 / step_s) + 1)]
    found = solve_ivp(change, (0.0, 86400.0 * days), [20.0, 20.0], method="LSODA", t_eval=times, rtol=1e-8, atol=1e-8,
                      max_step=1800.0)
    return found.y


@pytest.mark.parametrize("change", [
    {}, {"sun_w_m2": 0.0}, {"reservoir_stands": "buried", "floor_c": 12.0}, {"reservoir_stands": "indoors"},
    {"air_kg_s": 0.01, "air_pump_w": 300.0}, {"open_share": 1.0, "air_speed_m_s": 0.5}, {"on_legs": False},
    {"bath_m3": 0.02, "reservoir_m3": 0.01, "depth_m": 0.03}])
def test_the_day_is_the_one_a_general_solver_settles_to(change):
    place = replace(SOME, **change)
    day = water_day.simulate(place)
    bath, reservoir = followed(place, 12)
    for values, expected in ((day.bath, bath), (day.reservoir, reservoir)):
        assert water_day.peak(values)[1] == pytest.approx(max(expected), abs=PRINTED_K)
        assert water_day.peak(values, -1.0)[1] == pytest.approx(min(expected), abs=PRINTED_K)
    hour = water_day.peak(day.bath)[0]
    assert hour == pytest.approx(max(range(len(bath)), key=lambda n: bath[n]) * 120.0 / 3600.0, abs=0.35)


@settings(max_examples=100)
@given(places(sun_w_m2=0.0), st.floats(0.05, MOST_ADDED_R))
def test_insulation_of_the_walls_never_widens_the_swing_without_sun(place, more):
    # The floor's steady warmth would be shut out by the same foam, and with sun the foam keeps its heat in.
    place = replace(place, on_legs=True)
    swings = []
    for r in (place.wall_r, place.wall_r + more):
        day = water_day.simulate(replace(place, wall_r=r))
        swings.append(water_day.peak(day.bath)[1] - water_day.peak(day.bath, -1.0)[1])
    assert swings[1] <= swings[0] + 1e-3


@settings(max_examples=100)
@given(places())
def test_in_air_that_never_changes_water_settles_between_wet_bulb_and_air(place):
    place = bare(place)
    day = water_day.simulate(place)
    least = psychrolib.GetTWetBulbFromRelHum(
        place.low_c, min(place.vapour_pa / psychrolib.GetSatVapPres(place.low_c), 1.0), place.pressure_pa)
    for values in (day.bath, day.reservoir):
        assert max(values) - min(values) < 1e-6
        # The psychrometric constant and the ASHRAE balance differ by about a percent.
        assert least - 0.15 <= values[0] <= place.low_c + 1e-6


def test_open_water_alone_in_still_room_air_lies_nearer_the_wet_bulb_than_covered_water():
    covered, uncovered = (water_day.simulate(replace(bare(SOME), air_kg_s=0.0, open_share=share)).bath[0]
                          for share in (0.0, 1.0))
    assert uncovered < covered - 0.5 and covered == pytest.approx(SOME.low_c, abs=1e-6)


def test_much_air_blown_in_brings_the_water_to_the_wet_bulb():
    place = replace(bare(SOME), air_kg_s=5.0, open_share=0.0, low_c=25.0, high_c=25.0, floor_c=25.0)
    expected = psychrolib.GetTWetBulbFromRelHum(25.0, 1500.0 / psychrolib.GetSatVapPres(25.0), 101325.0)
    assert water_day.simulate(place).bath[0] == pytest.approx(expected, abs=0.05)


@pytest.mark.parametrize("steps", [12, 24, 48])
def test_a_day_has_all_of_its_sun_however_it_is_cut(steps):
    # Half a sine from 6 to 20 o'clock has 2/pi of its top on the mean: 300 W/m2 for 14 h are 2,673.8 Wh/m2.
    assert sum(now[2] for now in water_day.forcing(SOME, steps)) * 24.0 / steps == pytest.approx(2673.8, abs=0.1)


@settings(max_examples=150)
@given(places())
def test_low_is_never_above_high_and_the_hours_are_of_the_clock(place):
    day = water_day.simulate(place)
    for values in (day.bath, day.reservoir):
        (hour, high), (other, low) = water_day.peak(values), water_day.peak(values, -1.0)
        assert low <= high and 0.0 <= hour < 24.0 and 0.0 <= other < 24.0


@settings(max_examples=60)
@given(places())
def test_changes_are_ranked_and_differ_by_what_a_finer_day_says(place):
    try:
        today = water_day.simulate(place, 48)
    except OutOfRange:
        # A day on the edge of freezing may be worked out in rough steps only.
        reject()
    rows = {row[0]: row for row in water_day.what_ifs(place, False)}
    for words, other in water_day.changes(place):
        if words not in rows:
            continue
        day = water_day.simulate(other, 48)
        assert rows[words][1] - rows[words][3] == pytest.approx(water_day.peak(water_day.simulate(place).bath)[1])
        finer = water_day.peak(day.bath)[1] - water_day.peak(today.bath)[1]
        assert rows[words][3] == pytest.approx(finer, abs=2 * PRINTED_K)
    ordered = [row[3] for row in water_day.what_ifs(place, False)]
    assert ordered == sorted(ordered)
    ordered = [row[4] for row in water_day.what_ifs(place, True)]
    assert ordered == sorted(ordered, reverse=True)


@settings(max_examples=60)
@given(places(), st.floats(1.0, 8.0))
def test_the_least_power_just_holds_the_level(place, kelvin):
    day = water_day.simulate(place)
    for sign in (1.0, -1.0):
        level = water_day.peak(day.bath, sign)[1] - sign * kelvin
        power = water_day.steady_power(place, day, level, sign)
        assert power * sign < 0.0
        held = water_day.simulate(replace(place, extra_w=power))
        # The power is sought on a rough day; a finer one lands within a few tenths of a degree F.
        assert water_day.peak(held.bath, sign)[1] == pytest.approx(level, abs=4 * PRINTED_K)


@pytest.mark.parametrize("steps", [12, 24, 48, 96])
def test_the_night_fan_runs_ten_hours_however_the_day_is_cut(steps):
    now = water_day.forcing(replace(SOME, night_fan=True), steps)
    assert sum(one[3] for one in now) * 24.0 / steps == pytest.approx(10.0)
    assert now[0][3] == 1.0 and now[steps // 2][3] == 0.0


def test_the_guides_worked_case_is_what_is_worked_out():
    guide = " ".join((ROOT / "site_src/guides/warm-and-cold-water.md").read_text(encoding="utf-8").split())
    # A garage in August: the air goes from 68 to 90 F, no sun, and the rest is as the example has it.
    design = solve(Plan({"place.setting": "heated room", "place.air_high": "90 F", "place.air_low": "68 F"}))
    rows = {row["change"]: row for row in design.value("heat.what_ifs")}
    high, low = (design.value(key) for key in ("heat.high", "heat.low"))
    assert f"from {low * 1.8 + 32:.1f} to {high * 1.8 + 32:.1f} °F ({low:.1f} to {high:.1f} °C)" in guide
    assert f"about {design.value('heat.cool_least'):.0f} W" in guide
    assert f"so {design.value('heat.bottles')} bottles" in guide
    for change, words in (("Foam, 2 in (50 mm), round", "{} off the high"), ("Night cooling", "at night takes {} off")):
        kelvin = -next(row["high_by"] for name, row in rows.items() if name.startswith(change))
        assert words.format(f"{kelvin * 1.8:.1f} °F ({kelvin:.1f} °C)") in guide, change
    assert list(rows)[0].startswith("Foam")
    # About nine in the evening.
    assert design.value("heat.high_hour") == pytest.approx(21.0, abs=0.25)


@pytest.mark.parametrize("change", [{"sun_w_m2": 100.0}, {"air_kg_s": 0.0}, {"floor_c": 10.0}, {"pump_w": 0.0}])
def test_taking_warmth_away_or_giving_it_moves_the_water_that_way(change):
    before, after = (water_day.peak(water_day.simulate(place).bath)[1] for place in (SOME, replace(SOME, **change)))
    assert (after > before) == ("air_kg_s" in change)


@given(st.floats(0.5, 49.5), st.floats(0.05, 1.0), st.floats(60000.0, 105000.0))
def test_humid_air_follows_a_general_library(air, humidity, pressure):
    vapour = humidity * psychrolib.GetSatVapPres(air)
    assert physics.saturation_pressure(air) == pytest.approx(psychrolib.GetSatVapPres(air), rel=2e-3)
    if vapour < 0.998 * physics.saturation_pressure(air):
        expected = psychrolib.GetTWetBulbFromRelHum(air, humidity, pressure)
        if expected > 0.1:
            assert physics.wet_bulb(air, vapour, pressure) == pytest.approx(expected, abs=0.06)


@pytest.mark.parametrize("temperature", [0.5, 4, 10, 15, 20, 25, 30, 35, 39.9])
def test_heat_held_by_water_follows_iapws(temperature):
    state = IAPWS95(T=temperature + 273.15, P=0.101325)
    assert water_physics.water_heat_capacity(temperature) == pytest.approx(state.cp * 1000.0, rel=1e-4)


def test_frozen_bottles_carry_what_they_take_up():
    design = solve(Plan({"place.setting": "summer greenhouse", "heat.crop": "lettuce", "units": "metric"}))
    least, bottles = design.value("heat.cool_least"), design.value("heat.bottles")
    each = physics.bottle_cold(mass_kg=2.0, freezer_c=-18.0, water_c=25.0)
    assert (bottles - 1) * each < least * 86400.0 <= bottles * each
    assert design.value("heat.cool_peak") >= least > 0.0
    # Nobody carries more than a couple of dozen a day: then it says so, and gives no number to shop for.
    much = solve(Plan({"place.setting": "summer greenhouse", "heat.crop": "spinach"}))
    assert much.value("heat.bottles") is None and "will not do" in codes(much)["heat-bottles"]
    assert design.value("heat.cooler_draw") * 2.5 == pytest.approx(design.value("heat.cool_peak"))


@pytest.mark.parametrize("system", ["us", "metric"])
@pytest.mark.parametrize("setting", SETTINGS)
def test_every_setting_answers_and_shows_what_it_assumes(setting, system):
    design = solve(Plan({"place.setting": setting, "units": system}))
    assert design.faults == {} and design.limits == {} and "heat" not in design.waiting
    one = weather.BY_KEY[setting]
    assert design.value("place.day_high") == design.value("heat.warmest_air") == one.air_high_c
    assert design.value("place.floor") == one.floor_c
    assert one.name in design.answers["place.day_high"].note
    assert one.name in FIELDS["place.setting"].why
    assert design.value("heat.low") <= design.value("heat.mean") <= design.value("heat.high")
    assert {"high", "low", "change"} <= set(design.value("heat.what_ifs")[0])
    assert "Where the heat comes from" in extra.extra(design)
    assert all("wanted, " in extra.day(design, wide) for wide in (True, False))


def test_a_typed_figure_overrules_the_setting_and_nothing_else():
    design = solve(Plan({"units": "metric", "place.setting": "open yard", "place.air_high": "40 C",
                         "place.high_hour": "13:00", "place.sun": "none"}))
    assert design.value("place.day_high") == 40.0 and design.value("place.day_low") == 17.0
    assert design.value("place.day_high_hour") == 13.0 and design.value("place.sun_peak") == 0.0


def test_both_systems_give_the_same_day():
    sizes = {"bath.length": "120 cm", "bath.width": "60 cm", "bath.depth": "30 cm", "bath.water_depth": "25 cm",
             "reservoir.known_volume": "60 L", "reservoir.water_depth": "25 cm", "circulation.hose_bore": "12 mm",
             "circulation.hose_length": "3 m", "circulation.lift": "60 cm", "board.thickness": "40 mm",
             "place.altitude": "100 m", "place.setting": "open yard", "board.clearance": "6 mm",
             "water.temperature": "20 C", "bath.tank_mass": "9 kg", "air.hose_length": "2 m", "air.hose_bore": "9.5 mm",
             "air.stone_height": "25 mm", "reservoir.depth": "40 cm", "bath.film": "12 mm"}
    us, metric = (solve(Plan({**sizes, "units": system})) for system in ("us", "metric"))
    assert us.shown("heat.high").endswith("F") and metric.shown("heat.high").endswith("C")
    assert us.value("heat.high") == pytest.approx(metric.value("heat.high"), abs=0.02)


@pytest.mark.parametrize(("typed", "key", "words"), [
    ({"place.setting": "own"}, "place.air_high", "Air, daily high is empty"),
    ({"place.setting": "own", "place.air_high": "90 F", "place.air_low": "60 F"}, "place.floor_temperature",
     "Floor or ground is empty"),
    ({"place.air_low": "90 F"}, "place.air_low", "enter 71.6 °F or less"),
    ({"place.air_high": "50 F"}, "place.air_high", "enter 64.4 °F or more"),
    ({"place.high_hour": "5 am"}, "place.high_hour", "enter another hour"),
    ({"place.low_hour": "noon"}, "place.low_hour", "Hour of the low must be an hour of the day"),
    ({"place.air_high": "200 F"}, "place.air_high", "must be between"),
    ({"heat.keep_low": "90 F"}, "heat.keep_low", "must be below 77 °F"),
    ({"heat.keep_high": "50 F"}, "heat.keep_high", "must be above 59 °F"),
    ({"heat.freezer": "40 F"}, "heat.freezer", "must be between"),
])
def test_a_bad_answer_is_told_beside_its_field(typed, key, words):
    assert words in solve(Plan(typed)).faults[key]


def test_without_its_inputs_the_day_waits_and_says_for_what():
    design = solve(Plan({"bath.length": "wet"}))
    assert "heat" in design.waiting and design.value("heat.high") is None
    assert design.value("heat.band_high") is not None


def codes(design):
    return {caution.code: caution.text for caution in design.cautions}


def test_water_warmer_than_oxygen_was_worked_out_for_is_told_with_what_to_type():
    hot = {"place.setting": "summer greenhouse", "oxygen.hottest": "70 F"}
    design = solve(Plan(hot))
    text = codes(design)["heat-oxygen"]
    assert design.shown("heat.high") in text and "70 °F" in text and "Empty" in text
    assert design.shown("oxygen.hottest_used") == "70 °F"
    # Left empty, it is the day's own.
    own = solve(Plan({"place.setting": "summer greenhouse"}))
    assert "heat-oxygen" not in codes(own)
    assert own.value("oxygen.hottest_used") == pytest.approx(own.value("heat.high"), abs=0.06)


def test_both_ends_of_the_band_are_watched_and_explained():
    warm = codes(solve(Plan({"place.setting": "summer greenhouse", "heat.crop": "spinach"})))
    cold = codes(solve(Plan({"place.setting": "cool basement", "heat.crop": "basil"})))
    assert "Pythium" in warm["heat-too-warm"] and "basil is hurt" in cold["heat-too-cold"]
    assert "GFCI" in warm["heat-appliance"] and "GFCI" in cold["heat-appliance"]
    assert "heat-too-warm" not in codes(solve(Plan({})))


def test_frost_says_so_and_still_tells_the_heating():
    design = solve(Plan({"place.air_high": "20 F", "place.air_low": "0 F", "place.floor_temperature": "20 F",
                         "air.rule": "own", "air.own_rate": "0.02 L/min/gal"}))
    assert "heat-freezes" in codes(design) and design.value("heat.high") is None
    assert any("freeze" in text for text in design.limits["heat"])
    assert design.value("heat.warm_peak") > 50.0


EXTREMES = [key for key in FIELDS if key.startswith(("heat.", "place.")) and (
    FIELDS[key].minimum is not None and FIELDS[key].maximum is not None)]


@settings(max_examples=60)
@given(st.dictionaries(st.sampled_from(EXTREMES), st.booleans(), max_size=6),
       st.sampled_from([*SETTINGS, "own"]), st.sampled_from(["beside", "shaded", "buried", "indoors"]),
       st.sampled_from([{}, {"bath.water_depth": "0.5 in"}, {"bath.count": "200"}, {"bath.legs": "0"},
                        {"oxygen.reservoir_open": "1000 ft2"}, {"reservoir.known_volume": "1 L"},
                        {"air.rule": "own", "air.own_rate": "0.001 L/min/gal"}, {"bath.length": "100 ft"}]))
def test_extreme_answers_never_raise_and_stay_finite(ends, setting, stands, sizes):
    typed = {"units": "metric", "place.setting": setting, "place.reservoir": stands, **sizes}
    for key, top in ends.items():
        field = FIELDS[key]
        unit = {"temperature": "C", "length": "m", "pressure": "Pa", "ratio": "", "thermal_resistance": "m2K/W",
                "irradiance": "W/m2", "volume": "m3", "number": "", "power": "W"}[field.kind]
        typed[key] = f"{field.maximum if top else field.minimum} {unit}".strip()
    design = solve(Plan(typed))
    for name, answer in design.answers.items():
        if isinstance(answer.value, float):
            assert isfinite(answer.value), name
    for name in ("heat.day", "heat.streams", "heat.what_ifs"):
        for row in design.value(name) or []:
            assert all(isfinite(value) for value in row.values() if isinstance(value, float)), name
    extra.extra(design)


@pytest.mark.parametrize("wrong", [
    lambda: physics.saturation_pressure(61.0), lambda: physics.humidity_ratio(60000.0, 101325.0),
    lambda: physics.wet_bulb(2.0, 50.0, 101325.0), lambda: physics.wet_bulb(20.0, 3000.0, 101325.0),
    lambda: physics.latent_heat(70.0), lambda: physics.transmittance(1.0, 0.0),
    lambda: physics.bottle_cold(1.0, 5.0, 20.0), lambda: physics.cooler_power(100.0, 0.0),
    lambda: water_physics.water_heat_capacity(41.0), lambda: water_day.simulate(replace(SOME, sun_w_m2=1e7)),
])
def test_outside_its_range_a_relation_says_so(wrong):
    with pytest.raises(OutOfRange, match="[a-z] .*\\.$"):
        wrong()


def test_a_degree_outside_the_band_is_a_note_and_asks_for_no_appliance():
    def levels(keep_low):
        found = solve(Plan({"heat.keep_low": keep_low, "heat.keep_high": "30 C", "units": "metric"}))
        return {one.code: one.level for one in found.cautions if one.code.startswith("heat-")}
    low = solve(Plan({"units": "metric"})).value("heat.low")
    assert levels(f"{low + 0.4:.2f} C") == {"heat-too-cold": "note"}
    assert levels(f"{low + 3:.2f} C")["heat-too-cold"] == "warning"
    assert levels(f"{low + 3:.2f} C")["heat-appliance"] == "danger"
