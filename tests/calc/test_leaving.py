"""What evaporates counts in the days to a top-up: beside arithmetic, and where it is in the reader's own figure."""

import pytest

from calc.plan import Plan
from calc.solve import solve

OVAL = {"place.setting": "summer greenhouse", "bath.shape": "oval", "bath.length": "6 ft", "bath.width": "3 ft"}


def design(**answers):
    return solve(Plan.from_mapping({key.replace("__", "."): text for key, text in answers.items()}))


def test_open_water_in_a_hot_greenhouse_shortens_the_days_to_a_top_up():
    found = solve(Plan.from_mapping(OVAL))
    drunk, lost, gone = (found.value(key) for key in ("use.per_day", "heat.evaporated", "use.gone"))
    assert gone == pytest.approx(drunk + lost) and lost > drunk
    # 16 gal in the reservoir, of which 30 % stays: 11.2 gal, at all that goes in a day.
    gallon = 3.785411784e-3
    assert found.value("use.days_to_top_up") / 86400.0 == pytest.approx(11.2 * gallon / gone)
    assert found.value("use.holiday_reservoir") == pytest.approx(14 * gone / 0.7)
    # Drink alone would have lasted longer than the 14 days away.
    assert 11.2 * gallon / drunk > 14.0 > found.value("use.days_to_top_up") / 86400.0
    said = found.verdicts["use"]
    assert said.state == "tight" and f"{found.shown('heat.evaporated')} evaporates" in said.text


def test_a_vessel_by_itself_falls_by_what_is_drunk_and_what_evaporates():
    found = design(water__scheme="aerated", place__setting="summer greenhouse")
    fall = found.value("use.gone") / found.value("water.surface_area")
    assert found.value("use.fall_per_day") == pytest.approx(fall)
    # 2 in at that fall.
    assert found.value("use.days_to_top_up") / 86400.0 == pytest.approx(0.0508 / fall)


def test_what_a_reader_measured_holds_the_evaporation_already():
    found = design(use__basis="own", use__litres_per_plant="200 mL")
    assert found.value("heat.evaporated") > 0.0
    assert found.value("use.gone") == found.value("use.per_day")
    assert "evaporates" not in found.verdicts["use"].text


def test_salts_gather_with_all_water_that_is_topped_up():
    found = solve(Plan.from_mapping({**OVAL, "use.sodium": "40 mg/L"}))
    # 30 mg/L to the limit of 70; each liter leaves 40 less the 5 that plants take of it.
    days = found.value("water.working_volume") / found.value("use.gone") * 30.0 / 35.0
    assert found.value("use.sodium_after") / 86400.0 == pytest.approx(days)


def test_what_evaporates_while_nobody_tops_up_leaves_its_salts():
    found = solve(Plan.from_mapping({**OVAL, "use.source_ec": "0.2", "use.target_ec": "1.6", "use.uptake": "1.4"}))
    days, water = 14.0, found.value("water.working_volume")
    drunk, gone = days * found.value("use.per_day"), days * found.value("use.gone")
    # 1.4 mS/cm of nutrients, of which each liter drunk takes 1.4, and 0.2 of other salts that all stay.
    nutrients = (1.4 * water - 1.4 * drunk) / (water - gone)
    assert found.value("use.holiday_nutrients") == pytest.approx(nutrients)
    assert found.value("use.holiday_ec") == pytest.approx(nutrients + 0.2 * water / (water - gone))
    assert nutrients > 1.5  # uptake as thin as the solution would have kept 1.4 but for the air
