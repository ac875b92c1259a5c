"""Corners of relations: where two formulas meet, at nothing, and helpers that a search leans on."""

import pytest

from calc.errors import OutOfRange
from calc.relations import layout, outage, oxygen


def test_one_hole_stands_where_only_its_center_fits():
    assert layout.square_size(0.0, 0.0, 0.2) == (1, 1) and layout.square_size(0.4, 0.0, 0.2) == (3, 1)
    assert layout.square_size(-0.001, 0.4, 0.2) == layout.square_size(0.4, -0.001, 0.2) == (0, 0)
    assert layout.staggered_size(0.0, 0.0, 0.2, 0.17)[::2] == (1, 1)
    assert layout.staggered_size(-0.001, 0.4, 0.2, 0.17) == layout.staggered_size(0.4, -0.001, 0.2, 0.17) == (0, 0, 0)


def test_up_to_three_and_a_half_meters_a_second_wind_counts_straight():
    # 0.2 x 3.5 = 0.7, and 0.057 x 3.5^2 = 0.698 just above.
    assert oxygen.surface_coefficient(wind_m_s=3.5) == pytest.approx(0.7, abs=1e-9)
    assert oxygen.surface_coefficient(wind_m_s=3.6) == pytest.approx(0.7387, abs=1e-4)


@pytest.mark.parametrize("z", [-30.0, -2.0, -0.4, -0.0015, -0.0005, 0.0, 0.0005, 0.0015, 1.3])
def test_the_slope_of_phi_is_its_slope(z):
    step = 1e-4
    slope = (outage._phi(z + step) - outage._phi(z - step)) / (2 * step)
    assert outage._phi_slope(z) == pytest.approx(slope, abs=2e-8)


@pytest.mark.parametrize("box", [0, 1])
def test_oxygen_is_worked_out_as_far_as_the_time_was_parted(box, monkeypatch):
    # One box falls from 0.9 to its critical 0.5 mg/L, the other gives it a little. Parted once and no further, both
    # stand as they do at that moment, which the whole sum gives for that many hours.
    one, other = (100.0, 1.0, 0.0, 60.0), (400.0, 1.0, 0.0, 1.0)
    boxes = (one, other) if box == 0 else (other, one)
    numbers = (boxes[0][0], boxes[1][0], *boxes[0][1:], *boxes[1][1:], 5.0, 0.0, 8.0, 0.5)
    start = (0.9, 0.7) if box == 0 else (0.7, 0.9)
    low, high = 0.0, 3.0
    for _ in range(60):
        hours = (low + high) / 2
        low, high = (hours, high) if outage._levels_after(hours, *start, numbers)[box] > 0.5 else (low, hours)
    whole = outage._levels_after(low, *start, numbers)
    monkeypatch.setattr(outage, "MOST_SPLITS", 1)
    parted = outage._levels_after(3.0, *start, numbers)
    assert 0.5 < whole[1 - box] < 0.7 and parted == pytest.approx(whole, abs=1e-6)


def test_oxygen_that_is_there_already_takes_no_time():
    usual = dict(volume_l=100.0, demand_mg_h=50.0, surface_l_h=2.0, saturation_mg_l=9.0)
    assert oxygen.time_to_level(start_mg_l=4.0, level_mg_l=4.0, **usual) == 0.0
    assert oxygen.time_to_level(start_mg_l=3.0, level_mg_l=4.0, **usual) == 0.0


def test_roots_stop_below_the_critical_level_and_below_what_the_water_holds():
    oxygen.check_stop(0.0, 2.0, 8.0)
    oxygen.check_stop(0.5, 2.0, 0.5, 8.0)
    with pytest.raises(OutOfRange, match="holds less oxygen than roots leave"):
        oxygen.check_stop(0.5, 2.0, 0.4, 8.0)
    for stop in (-0.1, 2.0):
        with pytest.raises(OutOfRange, match="below the critical level"):
            oxygen.check_stop(stop, 2.0, 8.0)


@pytest.mark.parametrize("exchange", [0.0, 1.0, 30.0])
def test_a_hair_more_exchange_moves_the_oxygen_by_a_hair(exchange):
    def after(flow):
        return outage.levels_after(3.0, 6.0, 3.0, (100.0, 300.0, 1.0, 8.0, 40.0, 3.0, 8.0, 10.0, flow, 0.2, 8.0, 2.0,
                                                   0.1))
    found = after(exchange)
    assert found == pytest.approx(after(exchange + 1e-7), abs=1e-6)
    # One liter an hour from 300 L at 3 mg/L already pulls the bath's 6 mg/L down by a hundredth in three hours.
    assert exchange == 0.0 or after(0.0)[0] - found[0] > 0.01


def test_a_bath_that_rises_from_the_critical_level_rises_as_from_a_hair_above():
    # (10 L/h by 6 mg/L, less 10 mg/h) over 100 L: half a milligram an hour to begin with.
    numbers = (100.0, 300.0, 10.0, 8.0, 10.0, 3.0, 8.0, 10.0, 5.0, 0.0, 8.0, 2.0, 0.0)
    found = outage.levels_after(1.0, 2.0, 2.0, numbers)
    assert found == pytest.approx(outage.levels_after(1.0, 2.0 + 1e-9, 2.0 + 1e-9, numbers), abs=1e-7)
    assert found[0] > 2.4
