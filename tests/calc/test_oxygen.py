"""Oxygen: what water can hold, what the balance settles at, and what must hold for any bath at all."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.models import balance
from calc.data import roots as data
from calc.errors import OutOfRange
from calc.relations import atmosphere
from calc.relations import oxygen as physics
from calc.relations import roots as root_physics

TEMPERATURES = st.floats(0.0, 40.0)
PRESSURES = st.floats(55000.0, 108000.0)
SALINITIES = st.floats(0.0, 10.0)
AIR_L_H = st.floats(0.0, 1e6)
SLACK = 1e-9


@st.composite
def baths(draw):
    """Any bath of the trade, from a tote to a pond."""
    pressure, temperature = draw(PRESSURES), draw(TEMPERATURES)
    return balance.Bath(
        temperature_c=temperature, pressure_pa=pressure, salinity=draw(SALINITIES),
        beta=draw(st.none() | st.floats(0.9, 1.0)),
        plants=draw(st.integers(0, 500)), bath_l=draw(st.floats(5.0, 20000.0)),
        reservoir_l=draw(st.floats(1.0, 5000.0)),
        bath_open_m2=draw(st.floats(0.0, 10.0)), reservoir_open_m2=draw(st.floats(0.0, 3.0)),
        depth_m=draw(st.floats(0.0, 2.0)), bath_share=draw(st.floats(0.05, 1.0)),
        exchange_l_h=draw(st.floats(0.0, 10000.0)), return_fall_m=draw(st.floats(0.0, 2.0)),
        air_oxygen_mg_l=atmosphere.oxygen_in_air(temperature_c=20.0, pressure_pa=pressure, humidity=0.5))


def three(bath, crop="head", stones="stone", surface="still"):
    return balance.guesses(crop, stones, surface, bath.depth_m, bath.temperature_c)


CROPS, STONES, SURFACES = (st.sampled_from(sorted(table)) for table in (
    data.ROOT_MASS_G, data.STONE_PER_METRE, data.SURFACE_M_D))
SOME_BATH = balance.Bath(temperature_c=22.0, pressure_pa=101325.0, salinity=0.8, beta=None, plants=24, bath_l=180.0,
                        reservoir_l=60.0, bath_open_m2=0.05, reservoir_open_m2=0.0, depth_m=0.23, bath_share=0.75,
                        exchange_l_h=200.0, return_fall_m=0.0, air_oxygen_mg_l=275.0)


@given(TEMPERATURES, TEMPERATURES, PRESSURES, SALINITIES)
def test_warmer_water_never_holds_more(one, other, pressure, salinity):
    cool, warm = sorted((one, other))
    assert (physics.saturation(warm, pressure, salinity) <= physics.saturation(cool, pressure, salinity) + SLACK)


@given(TEMPERATURES, PRESSURES, PRESSURES, SALINITIES, SALINITIES)
def test_thinner_air_and_more_salt_never_let_water_hold_more(temperature, one, other, salt, more_salt):
    thin, thick = sorted((one, other))
    fresh, salty = sorted((salt, more_salt))
    assert physics.saturation(temperature, thin, salty) <= physics.saturation(temperature, thick, fresh) + SLACK


@settings(max_examples=300, deadline=None)
@given(baths(), AIR_L_H, CROPS, STONES, SURFACES)
def test_oxygen_is_never_negative_nor_above_what_the_depth_allows(bath, air, crop, stones, surface):
    limit = balance.limits(bath)[1]
    for guess in three(bath, crop, stones, surface).values():
        for level in balance.steady(bath, guess, air):
            assert -SLACK <= level <= limit * (1 + SLACK)


@settings(max_examples=300, deadline=None)
@given(baths(), AIR_L_H, AIR_L_H, CROPS, STONES)
def test_more_air_never_lowers_oxygen_in_the_bath(bath, one, other, crop, stones):
    less, more = sorted((one, other))
    guess = three(bath, crop, stones)["likely"]
    # Near the limit the bath can gain only rounding.
    assert balance.steady(bath, guess, less)[0] <= balance.steady(bath, guess, more)[0] + 1e-7


@given(st.floats(1.0, 1e5), st.floats(1.0, 1e5), st.floats(0.0, 1e5), st.floats(0.0, 0.9), st.floats(3.0, 15.0))
def test_no_demand_gives_saturation(bath_intake, reservoir_intake, exchange, gain, saturation):
    found = physics.two_boxes(bath_intake, saturation, 0.0, reservoir_intake, saturation, 0.0, exchange, gain,
                              saturation, 2.0)
    assert found == pytest.approx((saturation, saturation), rel=1e-9)


@settings(max_examples=300, deadline=None)
@given(baths(), AIR_L_H, CROPS, STONES, SURFACES)
def test_low_is_never_above_likely_nor_likely_above_high(bath, air, crop, stones, surface):
    guesses = three(bath, crop, stones, surface)
    band = balance.band(bath, guesses, air)
    for place in (0, 1):
        assert band["low"][place] <= band["likely"][place] <= band["high"][place]
    wanted = [sum(balance.demands(bath, guesses[which])) for which in ("high", "likely", "low")]
    assert wanted == sorted(wanted)


@settings(max_examples=300, deadline=None)
@given(baths(), AIR_L_H, CROPS)
def test_the_steady_balance_closes_in_both_boxes(bath, air, crop):
    guess = three(bath, crop)["likely"]
    n = balance.boxes(bath, guess, air)
    b, r = physics.two_boxes(**n)
    q, g, critical, stop = n["exchange_l_h"], n["return_gain"], n["critical_mg_l"], n["stop_mg_l"]
    eased_bath, eased_reservoir = (min(1.0, (level - stop) / (critical - stop)) for level in (b, r))
    into_bath = (n["intake_bath_l_h"] * (n["limit_bath_mg_l"] - b)
                 - n["demand_bath_mg_h"] * eased_bath + q * (r - b))
    into_reservoir = (n["intake_reservoir_l_h"] * (n["limit_reservoir_mg_l"] - r)
                      - n["demand_reservoir_mg_h"] * eased_reservoir
                      + q * ((1 - g) * b + g * n["return_limit_mg_l"] - r))
    size = (20.0 * (n["intake_bath_l_h"] + n["intake_reservoir_l_h"] + q)
            + n["demand_bath_mg_h"] + n["demand_reservoir_mg_h"])
    assert abs(into_bath) <= 1e-8 * size
    assert abs(into_reservoir) <= 1e-8 * size


@settings(max_examples=60, deadline=None)
@given(baths(), st.floats(1.0, 8.0), CROPS)
def test_the_air_needed_holds_the_target_and_no_less_does(bath, target, crop):
    guess = three(bath, crop)["likely"]
    air = balance.air_needed(bath, guess, target)
    if air is None:
        assert balance.steady(bath, guess, 1e6)[0] < target
    else:
        assert balance.steady(bath, guess, air)[0] >= target - 1e-9
        if air > 0.0:
            assert balance.steady(bath, guess, air * 0.999)[0] < target + 1e-9


def test_the_air_needed_agrees_with_the_field_equation_for_a_lone_bath():
    bath = replace(SOME_BATH, reservoir_l=1e-9, exchange_l_h=0.0, bath_open_m2=0.0, bath_share=1.0, salinity=0.0)
    guess = three(bath)["likely"]
    bubbles_20 = physics.saturation_at_depth(physics.saturation_one_atmosphere(20.0, 0.0), bath.depth_m, 101325.0)
    # The field equation as it is printed, with the bubbles' level by tau and omega, at sea level: omega is 1.
    tau = physics.saturation_one_atmosphere(bath.temperature_c, 0.0) / physics.saturation_one_atmosphere(20.0, 0.0)
    factor = (guess.alpha * guess.fouling * 1.024 ** (bath.temperature_c - 20.0)
              * (tau * bubbles_20 - 6.0) / bubbles_20)
    expected = physics.air_for_demand(balance.demands(bath, guess)[0], factor, guess.efficiency, bath.air_oxygen_mg_l)
    assert balance.air_needed(bath, guess, 6.0) == pytest.approx(expected, rel=1e-9)


def test_what_matters_is_ranked_by_its_own_swing():
    rows = balance.ranking(SOME_BATH, three(SOME_BATH), 300.0)
    swings = [row["swing"] for row in rows]
    assert swings == sorted(swings, reverse=True) and swings[0] > 0.0
    for row in rows:
        assert row["swing"] == pytest.approx(row["bath_high"] - row["bath_low"])
    assert len({row["input"] for row in rows}) == len(rows) == 12


@given(st.floats(10.0, 2000.0), st.floats(4.5, 9.0), st.floats(0.1, 4.0), st.floats(1.0, 3000.0),
       st.floats(1.0, 3000.0), st.floats(0.0, 50.0))
def test_more_demand_never_gives_more_time(volume, start, level, one, other, surface):
    less, more = sorted((one, other))
    slow, fast = (physics.time_to_level(volume, start, level, demand, surface, 9.0) for demand in (less, more))
    assert 0.0 < fast <= slow * (1 + 1e-9)


def test_time_says_never_and_at_once():
    assert physics.time_to_level(100.0, 8.0, 4.0, 1.0, 50.0, 9.0) == float("inf")
    assert physics.time_to_level(100.0, 3.0, 4.0, 1.0, 0.0, 9.0) == 0.0


@pytest.mark.parametrize("wrong", [
    lambda: physics.saturation(41.0, 101325.0, 0.0), lambda: physics.saturation(20.0, 40000.0, 0.0),
    lambda: physics.saturation(20.0, 101325.0, 41.0), lambda: physics.fall_gain(4.0, 20.0, 1.8, 1.0),
    lambda: physics.standard_efficiency(7.0, 0.03), lambda: physics.surface_coefficient(-1.0),
    lambda: physics.air_for_demand(100.0, -0.1, 0.01, 276.0), lambda: physics.salinity_from_conductivity(-1.0),
    lambda: physics.two_boxes(0.0, 9.0, 0.0, 0.0, 9.0, 0.0, 0.0, 0.0, 9.0, 2.0),
    lambda: atmosphere.pressure_at_altitude(9000.0), lambda: atmosphere.vapour_pressure(50.0),
    lambda: atmosphere.oxygen_in_air(20.0, 101325.0, 1.1), lambda: root_physics.warmth_factor(45.0, 20.0, 2.0),
    lambda: root_physics.root_demand(-1.0, 1.0, 1.0, 20.0, 20.0, 2.0),
])
def test_outside_its_range_a_relation_says_so(wrong):
    with pytest.raises(OutOfRange, match="[a-z] .*\\.$"):
        wrong()


def test_the_falling_return_counts_when_no_air_is_blown():
    bath = replace(SOME_BATH, plants=0, bath_open_m2=0.0, return_fall_m=1.0)
    assert balance.air_needed(bath, three(bath)["likely"], 4.0) == 0.0
