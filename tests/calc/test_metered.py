"""A reading of dissolved oxygen: beside random draws, and what the plan makes of it."""

from math import exp

import numpy as np
import pytest

from calc import Plan, solve
from calc.models import balance, calibration
from calc.topics.breathing import bath_of, guesses_of
from calc.sheet import Sheet
from calc.solve import SPECS

DRAWS = 6000


def design(**answers):
    given = {key.replace("__", "."): text for key, text in answers.items()}
    return solve(Plan.from_mapping({"units": "metric", **given}))


def scene():
    """The example's bath, its guesses and its air."""
    found = design()
    sheet = Sheet(found.plan, SPECS, given=dict(found.answers))
    bath = bath_of(sheet, 20.0)
    return bath, guesses_of(sheet, bath), found.value("air.delivered") * balance.M3_S_IN_L_H


@pytest.mark.parametrize("reading", [5.0, 6.5, 7.8])
def test_the_band_is_that_of_random_draws_weighed_by_the_reading(reading):
    bath, ends, air = scene()
    found = calibration.calibrate(ends, calibration.Measured(reading, 0.3, bath, air))
    low, likely, high = calibration.band(found, bath, air)
    dice = np.random.default_rng(7)
    start = ends[balance.LIKELY]
    levels, weights = [], []
    for _ in range(DRAWS):
        guess = calibration._moved(start, {name: float(dice.normal(0.0, spread))
                                           for name, spread in found.spreads.items()})
        level = balance.steady(bath, guess, air)[0]
        levels.append(level)
        weights.append(exp(-0.5 * ((level - reading) / 0.3) ** 2))
    order = np.argsort(levels)
    shares = np.cumsum(np.array(weights)[order])
    at = [float(np.array(levels)[order][np.searchsorted(shares / shares[-1], share)]) for share in (0.05, 0.5, 0.95)]
    for one, drawn in zip((low, likely, high), at, strict=True):
        # Half the meter's own error: bands are told in logarithms of what is lacking.
        assert one == pytest.approx(drawn, abs=0.2)


def test_a_reading_narrows_the_band_and_lies_within_it():
    before, after = design(), design(oxygen__reading="6.5 mg/L")
    wide = before.value("oxygen.bath_high") - before.value("oxygen.bath_low")
    narrow = after.value("oxygen.metered_high") - after.value("oxygen.metered_low")
    assert narrow < wide / 2
    assert after.value("oxygen.metered_low") < 6.5 < after.value("oxygen.metered_high")
    # What was guessed is still shown as it was.
    assert after.value("oxygen.bath") == before.value("oxygen.bath")
    # Worse than guessed: weaker stones, hungrier roots, and more air wanted.
    assert after.value("oxygen.metered_transfer") < 1.0 < after.value("oxygen.metered_demand")
    assert after.value("oxygen.metered_air") > after.value("air.oxygen_need")


def test_a_sure_meter_is_followed_and_a_poor_one_less():
    sure, poor = (design(oxygen__reading="5 mg/L", oxygen__reading_error=error) for error in ("0.05 mg/L", "3 mg/L"))
    assert sure.value("oxygen.metered") == pytest.approx(5.0, abs=0.02)
    assert poor.value("oxygen.metered") > 5.5
    assert sure.value("oxygen.metered_weight") > 0.99 > poor.value("oxygen.metered_weight")


def test_a_reading_of_young_plants_tells_of_the_stones():
    # No root breathed: what is missing is the water's own use, so the stones must be weak, and full plants fare worse.
    young, grown = (design(oxygen__reading="7 mg/L", oxygen__reading_plants=plants) for plants in ("1", "18"))
    assert young.value("oxygen.metered_transfer") < grown.value("oxygen.metered_transfer")
    assert young.value("oxygen.metered") < grown.value("oxygen.metered")


@pytest.mark.parametrize("reading, state, words", [
    ("7.5 mg/L", "fits", "Your meter read 7.5 mg/L"), ("5 mg/L", "tight", "is your aim"),
    ("2 mg/L", "fails", "growers act at")])
def test_the_verdict_takes_the_meters_word(reading, state, words):
    given = design(oxygen__reading=reading).verdict("oxygen")
    assert given.state == state and words in given.text


def test_more_than_water_can_hold_is_told():
    found = design(oxygen__reading="12 mg/L")
    assert "more than such water can hold" in found.faults["oxygen.reading"]
    assert found.value("oxygen.metered") is None and found.value("oxygen.bath") is not None


def test_a_reading_that_nothing_explains_is_doubted():
    found = design(water__scheme="still", oxygen__reading="6 mg/L")
    assert any(one.code == "oxygen-reading-far" for one in found.cautions)
    assert found.value("oxygen.metered_transfer") is None


def test_without_a_reading_nothing_is_said_of_it():
    found = design()
    assert not [key for key in found.answers if "metered" in key]
