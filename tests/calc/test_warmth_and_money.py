"""A unit that pulls the water into its band, a shade cloth, and lamps in the cheap hours; worked by hand."""

from math import log

import pytest

from calc import Plan, solve
from calc.mends import mends
from calc.render.by_hand import by_hand

SUMMER = {"place.setting": "summer greenhouse"}


def design(units="metric", **answers):
    return solve(Plan.from_mapping({"units": units, **answers}))


def said(found, code):
    return next((one for one in found.cautions if one.code == code), None)


# --- chiller and heater ---------------------------------------------------------------------------------------------


def test_a_chiller_moves_the_heat_of_all_the_water():
    found = design(**SUMMER, **{"heat.unit_power": "1500 W", "heat.unit_start": "32 C", "heat.keep_high": "24 C",
                                "heat.keep_low": "16 C"})
    held = found.answers["heat.pull_least"].inputs["heat_j_k"]
    # Some 4.18 kJ for each litre and kelvin, bath and reservoir.
    assert held == pytest.approx(4170 * found.value("water.working_volume") * 1000, rel=0.01)
    assert found.value("heat.pull_to") == 24.0
    assert found.value("heat.pull_heat") == pytest.approx(held * 8 / 3.6e6)
    assert found.value("heat.pull_least") == pytest.approx(held * 8 / 1500)
    constant, mean = found.answers["heat.pull_time"].inputs["time_constant_s"], found.value("heat.mean")
    final = mean - 1500 * constant / held
    assert found.value("heat.pull_time") == pytest.approx(constant * log((32 - final) / (24 - final)))
    assert by_hand("heat.pull_least", found).endswith(found.shown("heat.pull_least"))


def test_a_unit_that_the_day_outdoes_never_gets_there():
    weak = design(**SUMMER, **{"heat.unit_power": "5 W", "heat.unit_start": "32 C", "heat.keep_high": "18 C",
                               "heat.keep_low": "12 C"})
    assert weak.value("heat.pull_time") is None and weak.value("heat.pull_least") is not None
    assert said(weak, "unit-weak").lead == "Chiller too weak"


def test_a_heater_warms_to_the_cold_end_and_water_in_the_band_is_there_already():
    cold = design(**{"heat.unit_power": "300 W", "heat.unit_start": "8 C", "heat.keep_low": "18 C",
                     "heat.keep_high": "26 C"})
    assert cold.value("heat.pull_to") == 18.0 and cold.value("heat.pull_time") > 0.0
    there = design(**{"heat.unit_power": "300 W", "heat.unit_start": "20 C", "heat.keep_low": "18 C",
                      "heat.keep_high": "26 C"})
    assert there.value("heat.pull_to") == 20.0 and there.value("heat.pull_time") == 0.0
    assert design().value("heat.pull_least") is None


WINTER = {"units": "metric", "place.air_high": "10 C", "place.air_low": "2 C", "place.floor_temperature": "6 C",
          "heat.keep_low": "18 C", "heat.keep_high": "24 C"}


def test_a_heater_that_is_there_and_strong_enough_is_no_cold_bath():
    bare = design(**WINTER)
    most = bare.value("heat.warm_peak")
    assert bare.verdicts["heat"].state == "fails" and said(bare, "heat-too-cold").level == "warning"
    strong = design(**WINTER, **{"heat.unit_power": f"{most * 1.01:.1f} W", "heat.unit_start": "8 C",
                                 "heat.unit_kind": "heater"})
    assert strong.verdicts["heat"].state == "fits" and strong.verdicts["heat"].lead == "Your heater holds it."
    assert strong.shown("heat.warm_peak") in strong.verdicts["heat"].text
    codes = {one.code for one in strong.cautions}
    assert "heat-unit-alone" in codes and "heat-too-cold" not in codes
    weak = design(**WINTER, **{"heat.unit_power": f"{most * 0.99:.1f} W", "heat.unit_start": "8 C",
                               "heat.unit_kind": "heater"})
    assert weak.verdicts["heat"].state == "fails" and said(weak, "heat-too-cold").level == "warning"


def test_a_chiller_that_holds_the_band_sends_its_owner_to_the_oxygen():
    hot = {"place.air_high": "100 F", "place.air_low": "80 F", "heat.keep_high": "72 F", "heat.keep_low": "64 F",
           "heat.unit_power": "600 W", "heat.unit_kind": "chiller", "units": "us"}
    found = design(**hot)
    assert found.value("heat.cool_peak") < 600 and found.verdicts["heat"].state == "fits"
    assert "type 72 °F as the water in the hottest hour" in found.verdicts["heat"].text
    told = design(**hot, **{"oxygen.hottest": "72 F"})
    assert told.verdicts["heat"].state == "fits" and "oxygen" not in told.verdicts["heat"].text
    assert told.verdicts["oxygen"].state == "fits" and "heat-oxygen" not in {one.code for one in told.cautions}


def test_a_unit_that_nobody_named_is_asked_for_and_the_wrong_one_is_no_help():
    hot = {"place.air_high": "100 F", "place.air_low": "80 F", "heat.keep_high": "72 F", "heat.keep_low": "64 F",
           "heat.unit_power": "1200 W", "units": "us"}
    unsaid, heater = design(**hot), design(**hot, **{"heat.unit_kind": "heater", "heat.unit_start": "90 F"})
    assert unsaid.verdicts["heat"].state == "open" and "if it is a chiller" in unsaid.verdicts["heat"].text
    assert heater.verdicts["heat"].state == "fails" and heater.value("heat.pull_time") is None
    for found in (unsaid, heater):
        assert said(found, "heat-too-warm").level == "warning" and said(found, "heat-unit-alone") is None
    # A heater of 1200 W is off on such a day: the circuit carries what a chiller would draw, which is not there yet.
    assert heater.value("energy.circuit_load") < design(**hot, **{"heat.unit_kind": "chiller"}).value(
        "energy.circuit_load")


def test_a_heater_loads_its_circuit_with_all_it_draws():
    # 1500 W on a thermostat beside 13 W of pumps: 1513 W, on a breaker that should carry 80 % of 120 V x 15 A, 1440 W.
    found = design(**{**WINTER, "units": "us"}, **{"heat.unit_power": "1500 W"})
    assert found.value("heat.warm_peak") < 300
    assert found.value("energy.circuit_load") == pytest.approx(1500 + found.value("energy.power"))
    assert found.verdicts["energy"].state == "fails" and "circuit" in {one.code for one in found.cautions}


# --- shade ----------------------------------------------------------------------------------------------------------

SUN = {"light.sun": "dli", "light.outdoor": "60 mol/m2/d", "light.cover": "80 %", "light.target": "14 mol/m2/d"}


def test_shade_is_what_the_sun_brings_too_much():
    found = design(**SUN)
    most = found.value("crops.dli_high")
    assert found.value("light.dli") == pytest.approx(48.0)
    assert found.value("light.shade_needed") == pytest.approx(1 - most / 48)
    # The thinnest of those sold that leaves at most a tenth too much.
    thin = next(one for one in (0.3, 0.4, 0.5, 0.6, 0.7, 0.8) if 48 * (1 - one) <= 1.1 * most)
    assert found.value("light.cloth") == thin
    assert "Hang shade cloth of" in found.verdict("light").text
    assert "Shade cloth of" in said(found, "light-high").text
    offered = mends(Plan.from_mapping({"units": "metric", **SUN}), "light")
    assert offered and offered[0].act.startswith("Hang shade cloth of")


def test_a_cloth_that_hangs_keeps_its_share_out():
    found = design(**SUN, **{"light.shade": "50 %"})
    assert found.value("light.dli") == pytest.approx(24.0)
    # Without the cloth it would be 48 still, so what is needed stays the same.
    assert found.value("light.shade_needed") == pytest.approx(design(**SUN).value("light.shade_needed"))


def test_no_shade_where_lamps_alone_or_a_dull_sun_bring_little():
    assert design(**{**SUN, "light.outdoor": "15 mol/m2/d"}).value("light.shade_needed") is None
    assert design(**{"light.by": "lamp"}).value("light.shade_needed") is None


# --- cheap hours ----------------------------------------------------------------------------------------------------

LAMPS = {"light.by": "lamp", "light.have": "2", "light.lamp_power": "65 W", "light.hours": "16 h",
         "energy.tariff": "0.30", "energy.low_tariff": "0.12"}


def test_half_of_the_lamp_hours_are_cheap():
    found = design(**LAMPS)
    # 2 x 65 W x 16 h x 365 d = 759.2 kWh; 8 of the 16 hours are cheap.
    assert found.value("energy.lamps_low_cost") == pytest.approx(759.2 * (0.5 * 0.12 + 0.5 * 0.30))
    assert found.value("energy.lamps_low_saving") == pytest.approx(759.2 * 0.5 * 0.18)
    assert found.value("energy.lamps_timer") == "on at 23:00, off at 15:00"
    assert by_hand("energy.lamps_low_cost", found).startswith("Cheap part of it: 759.2 x 8 / 16 = 379.6 kWh")


def test_short_days_are_wholly_cheap_and_us_clocks_say_pm():
    found = design("us", **{**LAMPS, "light.hours": "6 h"})
    assert found.value("energy.lamps_low_cost") == pytest.approx(0.13 * 6 * 365 * 0.12)
    assert found.value("energy.lamps_timer") == "on at 11:00 pm, off at 5:00 am"


def test_lamps_by_night_and_sun_by_day_leave_no_darkness():
    assert said(design(**LAMPS, **{"light.sun": "dli"}), "lamps-no-night") is not None
    assert said(design(**LAMPS), "lamps-no-night") is None
    assert design(**{**LAMPS, "energy.low_tariff": ""}).value("energy.lamps_low_cost") is None
