"""The power cut: against general solvers, and what must hold for any bath, any plan and any words."""

from dataclasses import replace
from math import floor, isfinite, log10
from pathlib import Path

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from calc.models import balance, oxygen_fall
from calc.data import roots as data
from calc.declare import Result
from calc.errors import OutOfRange
from calc.plan import Plan
from calc.relations import outage as physics
from calc.relations import oxygen as oxygen_physics
from calc.relations import roots as root_physics
from calc.render.extras import outage as shown
from calc.sheet import Answer, Sheet
from calc.solve import SPECS, Design, solve
from calc.topics import TOPICS, outage

BATH = balance.Bath(temperature_c=25.0, pressure_pa=101325.0, salinity=0.8, beta=None, plants=24, bath_l=180.0,
                   reservoir_l=60.0, bath_open_m2=0.05, reservoir_open_m2=0.02, depth_m=0.23, bath_share=0.75,
                   exchange_l_h=200.0, return_fall_m=0.1, air_oxygen_mg_l=275.0)
SLACK = 1e-9


def three(bath, crop="head"):
    return balance.guesses(crop, "stone", "still", bath.depth_m, bath.temperature_c)


def times(marked=8.0, steps=oxygen_fall.STEPS_OF_TIME, horizon=oxygen_fall.LONGEST_H):
    return oxygen_fall.nodes(horizon, marked, steps)


def start_of(bath, guess, air=2000.0):
    return balance.steady(bath, guess, air)


def rank(path, level=oxygen_fall.ALARM_MG_L):
    return path.reached[level].rank()


def alone(bath):
    return oxygen_fall.stopped(bath, oxygen_fall.BOTH, bath.bath_l, 0.0)


def sealed_alarm(bath, guess, start, drift=None):
    return rank(oxygen_fall.run(alone(bath), guess, 0.0, start, drift, times(), 0.0))


@st.composite
def baths(draw):
    return replace(
        BATH, temperature_c=draw(st.floats(5.0, 38.0)), pressure_pa=draw(st.floats(70000.0, 105000.0)),
        plants=draw(st.integers(0, 300)), bath_l=draw(st.floats(10.0, 5000.0)),
        reservoir_l=draw(st.floats(1.0, 2000.0)), bath_open_m2=draw(st.floats(0.0, 3.0)),
        reservoir_open_m2=draw(st.floats(0.0, 1.0)), depth_m=draw(st.floats(0.0, 1.5)),
        bath_share=draw(st.floats(0.2, 1.0)), exchange_l_h=draw(st.floats(0.0, 5000.0)),
        return_fall_m=draw(st.floats(0.0, 1.0)))


CROPS = st.sampled_from(sorted(data.ROOT_MASS_G))
AIR = st.floats(0.0, 1e5)
DRIFTS = st.none() | st.tuples(st.floats(0.0, 40.0), st.floats(0.5, 300.0))


def drift_of(bath, given_drift):
    return None if given_drift is None else oxygen_fall.Drift(bath.temperature_c, *given_drift)


def whole(bath, guesses, case, air, drift=None, until=0.0):
    after = oxygen_fall.stopped(bath, case, bath.bath_l, 0.0)
    starts = balance.band(bath, guesses, air)
    blown = air if case == oxygen_fall.PUMP else 0.0
    return oxygen_fall.Three({which: oxygen_fall.run(after, guess, blown, starts[which], drift, times(), until)
                              for which, guess in guesses.items()})


# Against general solvers

@pytest.mark.parametrize("case", [oxygen_fall.PUMP, oxygen_fall.AIR, oxygen_fall.BOTH])
@pytest.mark.parametrize("air_c", [36.0, 12.0])
def test_a_run_follows_a_general_solver_while_the_water_warms(case, air_c):
    guess = three(BATH)["likely"]
    start = start_of(BATH, guess)
    after = oxygen_fall.stopped(BATH, case, 170.0, 0.01)
    drift = oxygen_fall.Drift(BATH.temperature_c, air_c, 15.0)
    blown = 300.0 if case == oxygen_fall.PUMP else 0.0

    def rates(t, levels):
        warmth = air_c + (BATH.temperature_c - air_c) * 2.718281828459045 ** (-t / 15.0)
        n = balance.boxes(replace(after, temperature_c=warmth), guess, blown)
        b, r = levels
        q, g, critical, stop = n["exchange_l_h"], n["return_gain"], n["critical_mg_l"], n["stop_mg_l"]
        eased = [min(1.0, (level - stop) / (critical - stop)) for level in (b, r)]
        return [(n["intake_bath_l_h"] * (n["limit_bath_mg_l"] - b) - n["demand_bath_mg_h"] * eased[0]
                 + q * (r - b)) / after.bath_l,
                (n["intake_reservoir_l_h"] * (n["limit_reservoir_mg_l"] - r)
                 - n["demand_reservoir_mg_h"] * eased[1]
                 + q * ((1 - g) * b + g * n["return_limit_mg_l"] - r)) / after.reservoir_l]

    def down_to(level):
        def event(t, levels):
            return levels[0] - level
        event.direction = -1
        return event
    solved = solve_ivp(rates, (0.0, 24.0), start, method="LSODA", rtol=1e-9, atol=1e-10, t_eval=times()[:8],
                       events=[down_to(level) for level in oxygen_fall.LEVELS_MG_L])
    path = oxygen_fall.run(after, guess, blown, start, drift, times(), 24.0)
    for mine, theirs in zip(path.levels, solved.y[0], strict=False):
        assert mine == pytest.approx(theirs, abs=0.005)
    reached = 0
    for level, found in zip(oxygen_fall.LEVELS_MG_L, solved.t_events, strict=True):
        if len(found):
            reached += 1
            assert path.reached[level].kind == oxygen_fall.REACHED
            assert path.reached[level].hours == pytest.approx(found[0], rel=2e-3)
        else:
            assert path.reached[level].kind != oxygen_fall.REACHED or path.reached[level].hours > 24.0
    assert reached or case != oxygen_fall.BOTH


def test_both_stopped_without_drift_is_the_closed_form():
    for guess in three(BATH).values():
        path = oxygen_fall.run(alone(BATH), guess, 0.0, (8.0, 8.0), None, times(), 0.0)
        n = balance.boxes(alone(BATH), guess, 0.0)
        for level in oxygen_fall.LEVELS_MG_L:
            expected = oxygen_physics.time_to_level(
                volume_l=BATH.bath_l, start_mg_l=8.0, level_mg_l=level, demand_mg_h=n["demand_bath_mg_h"],
                surface_l_h=n["intake_bath_l_h"], saturation_mg_l=n["limit_bath_mg_l"])
            assert path.reached[level].hours == pytest.approx(expected, rel=1e-7)


@settings(max_examples=100, deadline=None)
@given(st.floats(0.0, 12.0), st.floats(0.0, 12.0), st.floats(0.01, 100.0), st.floats(0.0, 200.0),
       st.floats(0.0, 200.0), st.floats(0.0, 2000.0), st.floats(0.0, 500.0), st.floats(0.0, 2000.0),
       st.floats(0.0, 0.9))
def test_one_long_step_is_many_short_ones(bath, reservoir, hours, k1, k2, d1, d2, exchange, gain):
    numbers = (180.0, 60.0, k1, 8.3, d1, k2, 8.1, d2, exchange, gain, 8.0, 2.0, 0.0)
    long = physics.levels_after(hours, bath, reservoir, numbers)
    short = bath, reservoir
    for _ in range(16):
        short = physics.levels_after(hours / 16, *short, numbers)
    assert long == pytest.approx(short, abs=1e-6)
    assert min(long) >= 0.0
    assert max(long) <= max(bath, reservoir, 8.3) + 1e-9


@settings(max_examples=50, deadline=None)
@given(baths(), CROPS, st.tuples(st.floats(0.0, 40.0), st.floats(8.0, 300.0)),
       st.sampled_from([oxygen_fall.PUMP, oxygen_fall.AIR, oxygen_fall.BOTH]))
def test_half_the_step_moves_no_answer_by_more_than_its_printed_digit(bath, crop, warming, case):
    # Open water shallower than 10 cm, or turned over more than three times an hour through a fall, follows its
    # temperature faster than the steps do; no bath of the trade is like that.
    assume(bath.bath_open_m2 <= bath.bath_l / 100 and bath.reservoir_open_m2 <= bath.reservoir_l / 100)
    assume(bath.exchange_l_h <= 3.0 * bath.bath_l)
    guess = three(bath, crop)["likely"]
    drift = oxygen_fall.Drift(bath.temperature_c, *warming)
    after = oxygen_fall.stopped(bath, case, bath.bath_l, 0.0)
    start = start_of(bath, guess)
    coarse, fine = (oxygen_fall.run(after, guess, 0.0, start, drift, times(steps=steps), 48.0)
                    for steps in (oxygen_fall.STEPS_OF_TIME, 2 * oxygen_fall.STEPS_OF_TIME))
    marked = times().index(8.0), times(steps=2 * oxygen_fall.STEPS_OF_TIME).index(8.0)
    assert coarse.levels[marked[0]] == pytest.approx(fine.levels[marked[1]], abs=0.01)
    for level in oxygen_fall.LEVELS_MG_L:
        one, other = coarse.reached[level], fine.reached[level]
        if one.kind == other.kind == oxygen_fall.REACHED and one.hours > 0.0:
            digit = 10.0 ** (floor(log10(one.hours)) - 2)
            # Where oxygen hardly falls, a hundredth of a mg/L is hours: there the level must agree to its own digit.
            fall = oxygen_fall.nodes(oxygen_fall.LONGEST_H, one.hours, 2 * oxygen_fall.STEPS_OF_TIME)
            near = oxygen_fall.run(after, guess, 0.0, start, drift, fall, oxygen_fall.LONGEST_H)
            assert (abs(one.hours - other.hours) <= digit
                    or near.levels[fall.index(one.hours)] == pytest.approx(level, abs=0.01))


# What must hold for any bath

@settings(max_examples=150, deadline=None)
@given(baths(), CROPS, AIR, DRIFTS, st.sampled_from([oxygen_fall.PUMP, oxygen_fall.AIR, oxygen_fall.BOTH]))
def test_oxygen_stays_between_nothing_and_what_the_water_held_or_can_hold(bath, crop, air, drifting, case):
    drift = drift_of(bath, drifting)
    found = whole(bath, three(bath, crop), case, air, drift, until=48.0)
    warmths = [bath.temperature_c] + ([drift.air_c] if drift else [])
    most = max(balance.limits(replace(bath, temperature_c=warmth))[1] for warmth in warmths)
    for path in found.paths.values():
        assert all(isfinite(level) and -SLACK <= level <= most * (1 + 1e-9) for level in path.levels)
        for reach in path.reached.values():
            assert isfinite(reach.hours) and reach.hours >= 0.0


@settings(max_examples=150, deadline=None)
@given(baths(), CROPS, AIR, DRIFTS, st.sampled_from([oxygen_fall.PUMP, oxygen_fall.AIR, oxygen_fall.BOTH]))
def test_low_comes_no_later_than_likely_nor_likely_than_high(bath, crop, air, drifting, case):
    found = whole(bath, three(bath, crop), case, air, drift_of(bath, drifting), until=48.0)
    for level in oxygen_fall.LEVELS_MG_L:
        reach = found.reach(level)
        assert reach["low"].rank() <= reach["likely"].rank() <= reach["high"].rank()
    for step in range(4):
        levels = found.levels(step)
        assert levels["low"] <= levels["likely"] <= levels["high"]
    for lower, upper in zip(oxygen_fall.LEVELS_MG_L[1:], oxygen_fall.LEVELS_MG_L, strict=False):
        assert found.reach(upper)["likely"].rank() <= found.reach(lower)["likely"].rank()


@settings(max_examples=150, deadline=None)
@given(baths(), CROPS, st.integers(0, 300), st.floats(5.0, 12.0))
def test_more_plants_never_give_more_time(bath, crop, plants, start):
    guess = three(bath, crop)["likely"]
    few, many = sorted((bath.plants, plants))
    assert (sealed_alarm(replace(bath, plants=many), guess, (start, start))
            <= sealed_alarm(replace(bath, plants=few), guess, (start, start)))


@settings(max_examples=150, deadline=None)
@given(baths(), CROPS, st.floats(4.0, 12.0), st.floats(4.0, 12.0))
def test_a_lower_start_never_gives_more_time(bath, crop, one, other):
    guess = three(bath, crop)["likely"]
    low, high = sorted((one, other))
    assert sealed_alarm(bath, guess, (low, low)) <= sealed_alarm(bath, guess, (high, high))


@settings(max_examples=150, deadline=None)
@given(baths(), CROPS, st.floats(0.0, 40.0))
def test_warmer_water_without_open_surface_never_gives_more_time(bath, crop, other):
    guess = three(bath, crop)["likely"]
    cool, warm = (replace(bath, temperature_c=t, bath_open_m2=0.0) for t in sorted((bath.temperature_c, other)))
    assert sealed_alarm(warm, guess, (7.0, 7.0)) <= sealed_alarm(cool, guess, (7.0, 7.0))
    for air in (cool.temperature_c, warm.temperature_c):
        warming = oxygen_fall.Drift(cool.temperature_c, warm.temperature_c, 10.0)
        cooling = oxygen_fall.Drift(cool.temperature_c, min(air, cool.temperature_c), 10.0)
        assert sealed_alarm(cool, guess, (7.0, 7.0), warming) <= sealed_alarm(cool, guess, (7.0, 7.0), cooling)


@settings(max_examples=150, deadline=None)
@given(baths(), CROPS, AIR)
def test_stopping_both_is_never_slower_than_stopping_one(bath, crop, air):
    # A reservoir that is poorer in oxygen than the bath harms it by being pumped round: so it is a fair one here, with
    # as much of the air and of open surface for its water as the bath.
    share = bath.bath_l / (bath.bath_l + bath.reservoir_l)
    bath = replace(bath, bath_share=share, reservoir_open_m2=bath.bath_open_m2 * bath.reservoir_l / bath.bath_l)
    guesses = three(bath, crop)
    cases = (oxygen_fall.BOTH, oxygen_fall.AIR, oxygen_fall.PUMP)
    both, no_air, no_pump = (whole(bath, guesses, case, air) for case in cases)
    for which, path in both.paths.items():
        for level in oxygen_fall.LEVELS_MG_L:
            kind, hours = path.reached[level].rank()
            for other in (no_air, no_pump):
                # An alarm that is there from the start is there in all.
                other_kind, other_hours = other.paths[which].reached[level].rank()
                assert (kind, hours * (1 - 1e-6) - 1e-6) <= (other_kind, other_hours)


@settings(max_examples=100, deadline=None)
@given(baths(), CROPS, st.floats(1.0, 6.0))
def test_the_air_that_holds_a_level_is_that_of_the_steady_balance(bath, crop, level):
    bath = replace(alone(bath), bath_share=1.0)
    assume(bath.depth_m > 0.01 and bath.reservoir_open_m2 > 0.0)
    guess = three(bath, crop)["likely"]
    mine, theirs = oxygen_fall.air_to_hold(bath, guess, level), balance.air_needed(bath, guess, level)
    assume(level >= data.CRITICAL_MG_L and (theirs is None or theirs < 1e6) and (mine is None or mine < 1e6))
    assert (mine is None) == (theirs is None)
    if mine is not None:
        assert mine == pytest.approx(theirs, rel=1e-6, abs=1e-6)


@given(st.floats(0.0, 500.0), st.floats(0.0, 48.0), st.floats(0.0, 48.0), st.floats(0.05, 1.0), st.floats(0.2, 1.0))
def test_a_battery_grows_with_hours_and_an_inverter_never_shrinks_it(watts, one, other, depth, efficiency):
    short, long = sorted((one, other))
    assert (physics.battery_charge(watts, short, 12.0, depth, 1.0, 1.25)
            <= physics.battery_charge(watts, long, 12.0, depth, 1.0, 1.25)
            <= physics.battery_charge(watts, long, 12.0, depth, efficiency, 1.25))


def test_a_run_says_never_and_at_once():
    sparing = replace(BATH, plants=0, bath_open_m2=1.0)
    path = oxygen_fall.run(alone(sparing), three(sparing)["likely"], 0.0, (8.0, 8.0), None, times(), 0.0)
    assert {reach.kind for reach in path.reached.values()} == {oxygen_fall.NEVER}
    path = oxygen_fall.run(alone(BATH), three(BATH)["likely"], 0.0, (3.5, 3.5), None, times(), 0.0)
    assert path.reached[4.0] == oxygen_fall.Reach(oxygen_fall.REACHED, 0.0)
    assert path.reached[3.0].hours > 0.0


def test_water_that_leaves_the_tables_ends_the_run_there():
    drift = oxygen_fall.Drift(30.0, 50.0, 10.0)
    assert drift.at(drift.horizon()) == pytest.approx(40.0)
    assert oxygen_fall.Drift(30.0, 40.0, 10.0).horizon() == oxygen_fall.LONGEST_H
    cold = oxygen_fall.Drift(10.0, -10.0, 10.0)
    assert cold.at(cold.horizon()) == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize("wrong", [
    lambda: physics.water_after(45.0, 20.0, 10.0, 1.0), lambda: physics.water_after(20.0, 20.0, 0.0, 1.0),
    lambda: physics.ice_to_cool(100.0, 20.0, 25.0), lambda: physics.pouring_rate(100.0, 0.0, 0.2, 4.0, 4.0),
    lambda: physics.battery_charge(10.0, 8.0, 12.0, 0.0, 1.0, 1.0),
    lambda: physics.battery_charge(10.0, 8.0, 12.0, 0.5, 1.2, 1.0),
    lambda: physics.battery_charge(10.0, 8.0, 12.0, 0.5, 1.0, 0.5)])
def test_outside_its_range_a_relation_says_so(wrong):
    with pytest.raises(OutOfRange, match="[A-Z][a-z ]+ must be .*\\.$"):
        wrong()


# The topic on a plan

def design(**plan):
    return solve(Plan({name.replace("__", "."): text for name, text in plan.items()}))


def heated(warmest_air, hours, **plan):
    """A design with what the heat topic would have answered."""
    whole_plan = Plan({"oxygen.hottest": "25 C", **{name.replace("__", "."): text for name, text in plan.items()}})
    ready = solve(whole_plan)
    given = {key: answer for key, answer in ready.answers.items() if not key.startswith("outage.")}
    for key, kind, value in (("heat.warmest_air", "temperature", warmest_air),
                             ("heat.time_constant", "time", hours * 3600.0)):
        given[key] = Answer(Result(key, kind, key), value)
    sheet = Sheet(whole_plan, SPECS, given)
    for step in outage.STEPS:
        step(sheet)
    return Design(whole_plan, sheet.written())


def row(one, what, level=4.0):
    return next(row for row in one.value("outage.times") if row["what"] == what and row["level"] == level)


def test_the_topic_stands_in_its_place():
    names = [topic.NAME for topic in TOPICS]
    assert names.index("oxygen") < names.index("energy") < names.index("outage") < names.index("parts")


def test_a_plan_tells_the_time_in_three_ways():
    one = design(air__rule="optimum")
    low, likely, high = (one.value(f"outage.hours_to_alarm{end}") for end in ("_low", "", "_high"))
    assert 0.0 < low < likely < high
    assert row(one, "both")["likely"] == likely
    assert row(one, "pump")["likely_words"] == "never"
    assert likely < row(one, "air")["likely"]
    assert one.shown("outage.hours_to_alarm") in one.value("outage.in_words")


def test_less_air_beforehand_leaves_less_time():
    balance_rule, practice = design(), design(air__rule="optimum")
    for end in ("_low", "", "_high"):
        assert balance_rule.value(f"outage.hours_to_alarm{end}") <= practice.value(f"outage.hours_to_alarm{end}")
    low, likely, high = (balance_rule.value(f"outage.hours_to_alarm{end}") for end in ("_low", "", "_high"))
    assert 0.0 <= low < likely < high


def test_warming_leaves_less_time_and_cooling_more():
    warm, same, cool = (heated(air, 12.0).value("outage.hours_to_alarm") for air in (35.0, 25.0, 10.0))
    assert warm < same < cool
    assert heated(35.0, 12.0).value("outage.temperature_end") == pytest.approx(35 - 10 * 2.718281828459045**(-8 / 12))


def test_shade_buys_what_the_warming_takes():
    steps = {row["step"].split()[0]: row["buys"] for row in heated(38.0, 6.0).value("outage.steps")}
    assert "longer" in steps["Shade"] and "stayed as cool" in steps["Shade"]
    assert "cooler than the water" in next(row["buys"] for row in heated(15.0, 6.0).value("outage.steps")
                                           if row["step"].startswith("Shade"))


def test_water_too_hot_for_the_tables_is_told_in_words():
    one = heated(55.0, 5.0, oxygen__plants="1", oxygen__hottest="38 C")
    assert "passes 104 °F" in one.value("outage.in_words")
    assert one.value("outage.hours_to_alarm") is None


def test_never_and_already_below_are_said_in_words():
    never = design(oxygen__plants="0", board__boards="1", oxygen__crop="young", bath__water_depth="5 in",
                   bath__length="8 ft", oxygen__surface="windy", board__gap="6 in", oxygen__hottest="20 C")
    assert "never falls" in never.value("outage.in_words")
    assert never.value("outage.hours_to_alarm") is None and never.value("outage.hours_to_alarm_high") is None
    slow = design(oxygen__plants="0", oxygen__hottest="5 C", water__temperature="5 C", air__rule="optimum",
                  place__air_high="5 C", place__air_low="4 C")
    assert "more than a week" in slow.value("outage.in_words")
    starved = design(oxygen__crop="fruiting", oxygen__plants="5000", oxygen__hottest="35 C", oxygen__stones="bare hose",
                     air__rule="optimum")
    assert "before anything stops" in starved.value("outage.in_words")
    assert starved.value("outage.hours_to_alarm") == 0.0
    assert row(starved, "both")["likely_words"] == "at once"
    assert "outage-short" in {one.code for one in starved.cautions if one.level == "warning"}


def test_a_bath_that_drains_dry_has_no_time_to_tell():
    one = design(bath__fill="floor")
    assert "outage-dry" in {caution.code for caution in one.cautions}
    assert one.value("outage.bath_kept") == 0.0
    assert one.value("outage.hours_to_alarm") is None and one.value("outage.steps") is None
    assert {row["what"] for row in one.value("outage.times")} == {"air"}
    # An inlet half way up keeps half of the water, and with it less of the time.
    kept = design(bath__fill="floor", bath__inlet_height="5 in")
    assert kept.value("outage.hours_to_alarm") < design().value("outage.hours_to_alarm")


def test_a_reservoir_too_full_for_the_water_that_runs_back_is_a_danger():
    full = design(reservoir__brim_volume="17 gal")
    assert "outage-flood" in {one.code for one in full.cautions}
    assert full.value("outage.room_left") is None


def test_the_battery_follows_its_own_questions():
    one = design(outage__pump_watts="10 W", outage__margin="100 %")
    assert one.value("outage.battery") == pytest.approx(10 * 8 / (12 * 0.5))
    other = design(outage__pump_watts="10 W", outage__margin="100 %", outage__backup="inverter",
                   outage__inverter_idle="0")
    assert other.value("outage.battery") == pytest.approx(15.69, abs=0.01)
    assert other.value("outage.battery_energy") == pytest.approx(0.08 / 0.85)
    every = design(outage__backup="inverter", air__rule="optimum")
    assert every.value("outage.power") == every.value("air.power")
    assert "outage-heavy-current" in {caution.code for caution in every.cautions}
    assert design(outage__hours="4 h").value("outage.battery") < design().value("outage.battery")


def test_people_are_warned_of_batteries_and_generators():
    said = {one.code: one for one in design(outage__pump_watts="5 W").cautions if one.topic == "outage"}
    assert said["outage-battery"].level == said["outage-generator"].level == "danger"
    for words in ("fuse", "hydrogen", "lithium", "splashes"):
        assert words in said["outage-battery"].text
    assert "carbon monoxide" in said["outage-generator"].text


def test_both_systems_of_units_agree():
    hot = {"oxygen__hottest": "77 F"}
    us, metric = design(**hot), design(units="metric", bath__length="121.92 cm", **hot)
    assert us.shown("outage.hours_to_alarm").endswith(" h")
    steps = " ".join(one["buys"] for one in us.value("outage.steps"))
    assert "gph" in steps and "lb of ice" in steps
    steps = " ".join(one["buys"] for one in metric.value("outage.steps"))
    assert "L/h" in steps and "kg of ice" in steps


@pytest.mark.parametrize(("key", "typed", "words"), [
    ("outage.hours", "9 d", "7 d"), ("outage.voltage", "400 V", "60 V"), ("outage.depth_of_discharge", "0 %", "5 %"),
    ("outage.margin", "50 %", "100 %"), ("outage.pump_watts", "many", "not a number"),
    ("outage.hours", "0 h", "")])
def test_bad_input_is_told_beside_its_field(key, typed, words):
    one = solve(Plan({key: typed}))
    assert one.faults[key].startswith(outage.FIELDS[[field.key for field in outage.FIELDS].index(key)].label)
    if "hours" not in key:
        assert words.split()[0] in one.faults[key]
        assert one.value("outage.hours_to_alarm") > 0.0
    assert one.value("outage.battery") is None


def test_the_topic_waits_for_what_it_lacks():
    one = solve(Plan({"bath.count": "none"}))
    assert "bath.count" in one.waiting["outage"]
    assert one.value("outage.hours_to_alarm") is None and one.value("outage.times") is None
    assert shown.extra(one) == ""


@pytest.mark.parametrize("plan", [
    {}, {"outage.what": "pump"}, {"outage.what": "air", "outage.hours": "7 d"}, {"outage.hours": "1 min"},
    {"oxygen.hottest": "40 C"}, {"oxygen.hottest": "0 C", "water.temperature": "0 C"}, {"place.altitude": "5500 m"},
    {"place.altitude": "5500 m", "oxygen.hottest": "40 C"}, {"oxygen.plants": "100000", "oxygen.crop": "fruiting"},
    {"oxygen.plants": "0"}, {"oxygen.reservoir_open": "1000 m2", "oxygen.surface": "windy"},
    {"oxygen.return_fall": "3 m"}, {"oxygen.conductivity": "20000"}, {"oxygen.beta": "90 %"}, {"bath.count": "3"},
    {"bath.fill": "floor"}, {"bath.fill": "floor", "bath.inlet_height": "1 cm"}, {"air.aerated": "bath"},
    {"outage.backup": "inverter", "outage.inverter_efficiency": "20 %", "outage.margin": "500 %"},
    {"outage.voltage": "3 V", "outage.pump_watts": "100 kW"}, {"oxygen.transfer": "50 %"}, {"units": "metric"}])
def test_any_allowed_plan_gives_finite_answers_and_a_drawing(plan):
    # The rule of practice always has an answer; the oxygen balance may say that no air is enough.
    one = solve(Plan({"air.rule": "optimum", **plan}))
    assert not {key: text for key, text in one.faults.items() if key in plan}
    mine = {key: answer.value for key, answer in one.answers.items() if key.startswith("outage.")}
    assert ("outage.battery" in mine) == ("outage.air_to_hold" in mine)
    for key, value in mine.items():
        for number in ([value] if not isinstance(value, list) else [cell for line in value for cell in line.values()]):
            assert not isinstance(number, float) or (isfinite(number) and number >= 0.0), key
    html = shown.extra(one)
    assert "Time to each level" in html
    for bad in ("nan", "inf ", "None", "not a number"):
        assert bad not in html + mine.get("outage.in_words", "")


def test_the_guide_works_its_case_with_these_numbers():
    roots_and_water = 18 * 4.6 * 2.2**0.5 + 179 * 0.05 * 2.2**0.5
    assert root_physics.root_demand(18, 1.0, 4.6, 25.0, 20.0, 2.2) == pytest.approx(123, abs=0.5)
    assert roots_and_water == pytest.approx(136, abs=0.5)
    held = oxygen_physics.saturation(25.0, 101325.0, 0.8)
    assert physics.bath_after(3.6, 179.0, 60.0, 6.7, 6.7, 0.0, held, roots_and_water, 0.0, held, 0.0, 0.0, 0.0,
                              held, 2.0) == pytest.approx(4.0, abs=0.1)
    gain = oxygen_physics.fall_gain(0.3, 25.0, 1.8, 1.0)
    assert physics.pouring_rate(roots_and_water, 0.0, gain, held, 4.0) == pytest.approx(111, abs=4)
    assert physics.battery_charge(4.0, 8.0, 12.0, 0.5, 1.0, 1.25) == pytest.approx(6.7, abs=0.05)
    # The inverter's own 5 W run on its battery's side.
    assert physics.battery_charge(6.0 / 0.85 + 5.0, 8.0, 12.0, 0.5, 1.0, 1.25) == pytest.approx(20.1, abs=0.05)
    words = (Path(__file__).parents[2] / "site_src" / "guides" / "the-power-cut.md").read_text(encoding="utf-8")
    words = " ".join(words.split())
    for said in ("= 123 mg an hour", "together 136", "3.6 hours", "= 111 L an hour", "= 6.7 Ah", "= 20.1 Ah"):
        assert said in words
